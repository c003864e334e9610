package read

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
)

// sheetOf is a procedure of n bolts on round covers of 200, in two passes.
func sheetOf(n int) []byte {
	var b strings.Builder
	b.WriteString(`format = 1
[procedure]
name      = "Close many covers"
engine    = "Osier 380 parallel twin"
direction = "close"
source    = "figures invented for this benchmark"
`)
	var groups []string
	for g := 0; g*200 < n; g++ {
		groups = append(groups, fmt.Sprintf("%q", fmt.Sprintf("g%d", g)))
		fmt.Fprintf(&b, "[group.g%d]\nthread = \"M8x1.25\"\nclass = \"8.8\"\ntorque = \"22 N·m\"\n[group.g%d.at]\n", g, g)
		for i := g * 200; i < min(n, g*200+200); i++ {
			fmt.Fprintf(&b, "B%d = [%d, %d.5]\n", i+1, i%50*20, i/50*20)
		}
	}
	for _, share := range []string{"40 %", "100 %"} {
		fmt.Fprintf(&b, "[[pass]]\nname = %q\ngroups = [%s]\ntorque = %q\norder = \"cross\"\n", share, strings.Join(groups, ", "), share)
	}
	return []byte(b.String())
}

// BenchmarkCheck reads a file of 10 000 fasteners, turn and turn about with a
// bare TOML decode of the same file into maps.
func BenchmarkCheck(b *testing.B) {
	text := sheetOf(MaxFasteners)
	var ours, plain time.Duration
	for b.Loop() {
		start := time.Now()
		if p, problems := Procedure("big.toml", text); p == nil {
			b.Fatal(problems)
		}
		ours += time.Since(start)

		start = time.Now()
		var into map[string]any
		if err := toml.Unmarshal(text, &into); err != nil {
			b.Fatal(err)
		}
		plain += time.Since(start)
	}
	b.ReportMetric(float64(ours.Microseconds())/1000/float64(b.N), "ms")
	b.ReportMetric(ours.Seconds()/plain.Seconds(), "×bare-decode")
}
