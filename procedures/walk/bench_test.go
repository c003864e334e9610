package walk_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
)

// walked plans n bolts in two passes and gives the events of a whole walk.
func walked(b *testing.B, n int) (*plan.Plan, []walk.Event) {
	var s strings.Builder
	s.WriteString("format = 1\n[procedure]\nname = \"Close a large cover\"\ndirection = \"close\"\nsource = \"invented for this benchmark\"\n" +
		"[sealant]\nname = \"film\"\nwork_time = \"300 days\"\n" +
		"[group.rim]\nthread = \"M8x1.25\"\nclass = \"8.8\"\ntorque = \"22 N·m\"\none_use = true\n[group.rim.at]\n")
	for i := range n {
		fmt.Fprintf(&s, "B%d = [%d, %d]\n", i, i%100*20, i/100*20)
	}
	for _, share := range []string{"40 %", "100 %"} {
		fmt.Fprintf(&s, "[[pass]]\nname = %q\ngroups = [\"rim\"]\ntorque = %q\norder = \"listed\"\n", share, share)
	}
	p, problems := read.Procedure("rim.toml", []byte(s.String()))
	if p == nil {
		b.Fatal(problems)
	}
	pl := plan.Of(p)
	at := time.Date(2026, 3, 4, 9, 30, 0, 0, time.UTC)
	var events []walk.Event
	live := &walk.Live{State: walk.New(pl), Now: func() time.Time { at = at.Add(time.Second); return at },
		Append: func(e walk.Event) error { events = append(events, e); return nil }}
	do := func(c walk.Command) {
		if refusal, err := live.Do(c); refusal != nil || err != nil {
			b.Fatalf("%+v: %v, %v", c, refusal, err)
		}
	}
	for live.State.Phase == walk.IsOpen {
		switch {
		case live.State.CurrentItem() == nil:
			do(walk.Command{Do: walk.FinishUp})
		case len(live.State.DueNow()) > 0:
			do(walk.Command{Do: walk.Renew})
		default:
			do(walk.Command{Do: walk.Confirm})
		}
	}
	return pl, events
}

// BenchmarkReplay folds the events of 1 000 and 10 000 bolts and gives the cost
// of an event of the large walk in events of the small one: 1 is linear.
func BenchmarkReplay(b *testing.B) {
	small, few := walked(b, 1000)
	large, many := walked(b, 10_000)
	replay := func(p *plan.Plan, events []walk.Event) time.Duration {
		start := time.Now()
		state := walk.New(p)
		if findings := walk.Replay(state, events); findings != nil || state.Phase != walk.IsDone {
			b.Fatalf("%s, %v", state.Phase, findings)
		}
		return time.Since(start)
	}
	var of1k, of10k time.Duration
	for b.Loop() {
		for range 10 {
			of1k += replay(small, few)
		}
		of10k += replay(large, many)
	}
	b.ReportMetric(float64(of10k.Microseconds())/1000/float64(b.N), "ms-20k-stages")
	b.ReportMetric(of10k.Seconds()/of1k.Seconds(), "×event-of-1k")
	b.ReportMetric(0, "ns/op")
}
