package report

import (
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
)

// walked is a state of n fasteners in two passes, all confirmed.
func walked(tb testing.TB, n int) *walk.State {
	tb.Helper()
	var text strings.Builder
	text.WriteString("format = 1\n[procedure]\nname = \"Close the lid\"\nengine = \"Osier\"\ndirection = \"close\"\n[group.rim]\ntitle = \"rim\"\nthread = \"M6x1\"\nclass = \"8.8\"\ntorque = \"9 N·m\"\n[group.rim.at]\n")
	for i := range n {
		fmt.Fprintf(&text, "R%d = [%d, %d]\n", i, i%100*20, i/100*20)
	}
	for _, pass := range []string{"One", "Two"} {
		fmt.Fprintf(&text, "[[pass]]\nname = %q\ngroups = [\"rim\"]\ntorque = \"100 %%\"\norder = \"listed\"\n", pass)
	}
	p, problems := read.Procedure("big.toml", []byte(text.String()))
	if p == nil {
		tb.Fatal(problems)
	}
	s := walk.New(plan.Of(p))
	for s.CurrentItem() != nil {
		e, refusal := walk.Decide(s, walk.Command{Do: walk.Confirm}, start.Add(time.Duration(len(s.Events))*time.Second))
		if refusal != nil {
			tb.Fatal(refusal)
		}
		s.Apply(*e)
	}
	return s
}

// BenchmarkReport prints what a sheet and each format cost a stage at two
// sizes, and the ratio of the two: about 1 when the cost is linear.
func BenchmarkReport(b *testing.B) {
	write := func(w func(io.Writer, Sheet) error) func(*walk.State) {
		return func(s *walk.State) {
			if err := w(io.Discard, New(Input{ID: "x", Whole: true, State: s})); err != nil {
				b.Fatal(err)
			}
		}
	}
	jobs := map[string]func(*walk.State){"sheet": func(s *walk.State) { New(Input{State: s}) }}
	for name, w := range Formats {
		jobs[name] = write(func(out io.Writer, s Sheet) error { return w(out, s, A4) })
	}
	small, large := walked(b, 1000), walked(b, 10000)
	for name, job := range jobs {
		b.Run(name, func(b *testing.B) {
			var took [2]time.Duration
			for b.Loop() {
				for i, s := range []*walk.State{small, large} {
					from := time.Now()
					job(s)
					took[i] += time.Since(from)
				}
			}
			b.ReportMetric(float64(took[1].Microseconds())/float64(b.N)/20000, "µs/stage")
			b.ReportMetric(float64(took[1])/float64(took[0])/10, "ratio-10k/1k")
		})
	}
}
