package report

import (
	"fmt"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// bundled is a walk through a bundled procedure, a reading at every last pass,
// up to the item called stop.
func bundled(t *testing.T, name, stop string) *bench {
	t.Helper()
	p, _, err := procedures.Library{}.Load(name)
	if err != nil || p == nil {
		t.Fatalf("%s: %v", name, err)
	}
	b := newBench(t, p.Text)
	b.onTo(stop)
	return b
}

// onTo walks on with a small wrench and readings a little off the figure.
func (b *bench) onTo(stop string) {
	b.t.Helper()
	last := len(b.live.State.Plan.Procedure.Passes) - 1
	for it := b.live.State.CurrentItem(); it != nil && it.Key().String() != stop; it = b.live.State.CurrentItem() {
		for len(b.live.State.DueNow()) > 0 {
			b.must(walk.Command{Do: walk.Renew, Number: "lot 19"})
			if now := b.live.State.CurrentItem(); now == nil || now.Key() != it.Key() {
				break
			}
		}
		if now := b.live.State.CurrentItem(); now == nil || now.Key() != it.Key() {
			continue
		}
		c := walk.Command{Do: walk.Confirm}
		switch it.Kind {
		case walk.MeasureItem:
			c = walk.Command{Do: walk.Measure, Reading: it.Check.How.Example()}
		case walk.AskItem:
			c.Do = walk.Yes
		case walk.WaitItem:
			b.now = b.now.Add(it.Pass.Wait)
		case walk.StageItem:
			if tt := it.Stage.Target.Torque; it.Stage.Action == spec.Torque && it.Pass.Index == last && tt.Low != nil {
				c.Reading = fmt.Sprintf("%.1f N·m", tt.Low.Nm()*(1+0.002*float64(it.Stage.Number%5)))
				c.Facts = map[string]string{"wrench": "3/8 click"}
			}
		}
		b.now = b.now.Add(-20 * time.Second)
		b.must(c)
	}
}

// crankcase is the bundled crankcase closed with what goes other than straight.
func crankcase(t *testing.T) *bench {
	b := bundled(t, "crankcase-close", "Final/B4")
	b.do(walk.Command{Do: walk.Confirm, Reading: "23.5 N·m"}) // over: B4 starts again
	b.onTo("Final/B8")
	b.must(walk.Command{Do: walk.Note, Target: walk.Whole, Text: "phone rang"})
	b.must(walk.Command{Do: walk.Undo, Text: "wrong socket on it"})
	b.onTo("check:crank-float")
	b.do(walk.Command{Do: walk.Measure, Reading: "0.24 mm"})
	b.must(walk.Command{Do: walk.Measure, Reading: "0.14 mm"})
	b.onTo("")
	b.must(walk.Command{Do: walk.FinishUp})
	return b
}
