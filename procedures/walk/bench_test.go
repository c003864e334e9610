package walk_test

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/growth"
	"evenpull/spec/read"
)

// walked plans n bolts in two passes and gives the events of a whole walk.
func walked(b *testing.B, n int) (*plan.Plan, []walk.Event) {
	text := strings.NewReplacer("[group.rim]", "[sealant]\nname = \"film\"\nwork_time = \"300 days\"\n[group.rim]", "torque = \"22 N·m\"", "torque = \"22 N·m\"\none_use = true").Replace(growth.Sheet(n, "listed", "listed"))
	p, problems := read.Procedure("rim.toml", []byte(text))
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

// BenchmarkGrowthOfEvents folds the events of a walk of so many bolts, each renewed.
func BenchmarkGrowthOfEvents(b *testing.B) {
	growth.Exponent(b, []int{150, 600, 2_400, 9_600}, func(n int) func() {
		p, events := walked(b, n)
		return func() {
			state := walk.New(p)
			if findings := walk.Replay(state, events); findings != nil || state.Phase != walk.IsDone {
				b.Fatalf("%s, %v", state.Phase, findings)
			}
		}
	})
}
