package procedures

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Every bundled procedure can be walked to a done that is earned: nothing in
// it contradicts itself, and done is refused up to the last thing asked.
func TestEveryBundledProcedureCanBeWalkedToAnEarnedDone(t *testing.T) {
	for _, name := range Bundled() {
		p := load(t, name)
		w := &walker{t: t, s: walk.New(plan.Of(p)), now: time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)}
		renewals := 0
		for item := w.s.CurrentItem(); item != nil; item = w.s.CurrentItem() {
			w.refusedDone()
			for range w.s.DueNow() {
				w.do(walk.Command{Do: walk.Renew})
				renewals++
			}
			if item.Kind == walk.WaitItem {
				w.now = w.now.Add(item.Pass.Wait)
			}
			w.do(answerTo(item))
		}
		w.do(walk.Command{Do: walk.FinishUp})
		if w.s.Phase != walk.IsDone {
			t.Errorf("%s: walk is %s, want done", name, w.s.Phase)
		}
		if wantsNew := p.Direction == spec.Close && strings.Contains(string(p.Text), "one_use  "); wantsNew && renewals == 0 {
			t.Errorf("%s: it names one-use pieces, but none had to be renewed", name)
		}
	}
}

// answerTo gives the straight answer: yes, in range, confirmed.
func answerTo(item *walk.Item) walk.Command {
	switch item.Kind {
	case walk.AskItem:
		return walk.Command{Do: walk.Yes}
	case walk.MeasureItem:
		return walk.Command{Do: walk.Measure, Reading: item.Check.How.Example()}
	case walk.StageItem:
		if item.Stage.Action == spec.Stretch {
			return walk.Command{Do: walk.Confirm, Reading: walk.WindowOf(item.Stage).Example()}
		}
	}
	return walk.Command{Do: walk.Confirm}
}

type walker struct {
	t   *testing.T
	s   *walk.State
	now time.Time
}

// do carries a command out at ten seconds a step, an easy pace for the stand.
func (w *walker) do(c walk.Command) {
	w.t.Helper()
	w.now = w.now.Add(10 * time.Second)
	e, refusal := walk.Decide(w.s, c, w.now)
	if refusal != nil {
		w.t.Fatalf("%s: %s refused: %v", w.s.Plan.Procedure.File, c.Do, refusal)
	}
	w.s.Apply(*e)
}

func (w *walker) refusedDone() {
	w.t.Helper()
	if _, refusal := walk.Decide(w.s, walk.Command{Do: walk.FinishUp}, w.now); refusal == nil || len(refusal.Outstanding) == 0 {
		w.t.Fatalf("%s: done was not refused with something open", w.s.Plan.Procedure.File)
	}
}
