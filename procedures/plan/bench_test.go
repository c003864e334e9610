package plan_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/read"
)

// ring is a procedure of n bolts in one group on a grid, in passes of every order.
func ring(b *testing.B, n int) *spec.Procedure {
	var s strings.Builder
	s.WriteString("format = 1\n[procedure]\nname = \"Close a large cover\"\ndirection = \"close\"\nsource = \"invented for this benchmark\"\n" +
		"[group.rim]\nthread = \"M8x1.25\"\nclass = \"8.8\"\ntorque = \"22 N·m\"\n[group.rim.at]\n")
	for i := range n {
		fmt.Fprintf(&s, "B%d = [%d, %d]\n", i, i%100*20, i/100*20)
	}
	for i, order := range []string{"listed", "cross", "spiral", "reverse"} {
		fmt.Fprintf(&s, "[[pass]]\nname = %q\ngroups = [\"rim\"]\ntorque = \"%d %%\"\norder = %q\n", order, 25*(i+1), order)
	}
	p, problems := read.Procedure("ring.toml", []byte(s.String()))
	if p == nil {
		b.Fatal(problems)
	}
	return p
}

// BenchmarkPlan plans 1 000 and 10 000 bolts in all four orders and gives the
// cost of a stage of the large one in stages of the small one: 1 is linear.
func BenchmarkPlan(b *testing.B) {
	small, large := ring(b, 1000), ring(b, 10_000)
	var of1k, of10k time.Duration
	for b.Loop() {
		for range 10 {
			start := time.Now()
			plan.Of(small)
			of1k += time.Since(start)
		}
		start := time.Now()
		plan.Of(large)
		of10k += time.Since(start)
	}
	b.ReportMetric(float64(of10k.Microseconds())/1000/float64(b.N), "ms-40k-stages")
	b.ReportMetric(of10k.Seconds()/of1k.Seconds(), "×stage-of-1k")
	b.ReportMetric(0, "ns/op")
}
