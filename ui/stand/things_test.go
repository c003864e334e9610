package stand

import (
	"testing"

	"evenpull/procedures/walk"
)

// brought opens the case on an engine that brings things from an earlier walk.
func brought(t *testing.T, things ...walk.Carried) *rig {
	t.Helper()
	r := newRig(t, caseText(t))
	e, refusal := walk.Decide(r.model.cfg.State, walk.Command{Do: walk.Bring, Brought: things}, r.now)
	if refusal != nil {
		t.Fatal(refusal)
	}
	r.model.cfg.State.Apply(*e)
	r.events = append(r.events, *e)
	r.model.gather()
	return r
}

func TestWhatCameOffEarlierKeepsDoneAwayUntilItIsAccountedFor(t *testing.T) {
	r := brought(t, walk.Carried{ID: "drum-shim", Name: "selector drum shim", Count: 1, Facts: walk.Facts{walk.Size: "0.8 mm", walk.Box: "2"}},
		walk.Carried{ID: "dowel", Name: "case dowel", Count: 2})
	r.toStage("").shows("BUT", "Left over from taking it apart: 2")
	r.press("d").wrote(walk.Refused).shows("left over: selector drum shim, 0.8 mm, box 2").press("esc")
	r.press("enter").shows("not accounted for", "▶ selector drum shim", "2 × case dowel")
	r.press("enter").wrote(walk.Refitted).shows("▶ 2 × case dowel").hides("drum shim,")
	r.press("x").shows("does not go back, because").press("1", "enter").wrote(walk.Accounted)
	if e := r.events[len(r.events)-1]; e.Text != "lost" || e.Item != "part:dowel" {
		t.Errorf("accounted for %s because %q, want part:dowel because lost", e.Item, e.Text)
	}
	r.shows("d closes the walk as done").press("d").wrote(walk.Done)
}

func TestAPartBackFromWorkAsksToBeCleaned(t *testing.T) {
	id := newRig(t, caseText(t)).model.cfg.State.Plan.Procedure.Parts[0].ID
	r := brought(t, walk.Carried{ID: id, Name: "thrust washer", Count: 1, Unclean: "blasting"})
	r.toStage("part").shows("came off")
	n := len(r.events)
	r.press("enter").count(n).shows("REFUSED", "came back from blasting", "a and k for")
	r.press("a").shows("to be cleaned after blasting", "k cleaned").press("esc").shows("GOES ON NOW")
}

func TestHowSomethingWasFoundGoesByNumberKeysToo(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("part")
	r.press("f").shows("How was", "1 good", "3 pitted", "9 missing").press("6").write(", box 2").press("enter").wrote(walk.Found)
	if f := r.events[len(r.events)-1].Facts; f["condition"] != "scored" || f["box"] != "2" {
		t.Errorf("facts are %v, want scored in box 2", f)
	}
	n := len(r.events)
	r.press("f").shows("So far: scored, box 2").write("shiny").press("enter").count(n).shows("REFUSED", "shiny").press("esc")
}
