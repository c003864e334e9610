package stand

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// asked opens the case on an engine whose strip-down found something wrong.
func asked(t *testing.T, faults ...walk.Fault) *rig {
	t.Helper()
	return bringing(t, walk.Command{Faults: faults})
}

func TestAFindingIsAnsweredInWordsNeverByEnter(t *testing.T) {
	r := asked(t, walk.Fault{ID: "seat", What: "bearing seat", Found: "is 0.05 mm, over the limit of 0.03 mm", Max: "0.03 mm", Where: "crank", Reading: "0.05 mm", Record: "down", At: time.Date(2025, 3, 2, 9, 0, 0, 0, time.UTC)})
	n := len(r.events)
	r.press("?", "esc", "enter").shows("WHAT WAS DONE ABOUT IT?", "bearing seat is 0.05 mm, over the limit of", "crank", "read 0.05 mm, limits at most 0.03 mm", "say what was done")
	r.press("enter").count(n).shows("repaired by whom", "1 repaired by me", "3 measured")
	r.press("enter").count(n).shows("REFUSED").write("repaired").press("enter").count(n).shows("repaired by whom?").press("esc")
	r.press("enter", "enter").write("measured 0.04 mm").press("enter").wrote(walk.Rejected).shows("over the limit of 0.03 mm")
	r.press("enter", "b").shows("Asked at the end instead, because").press("1", "enter").wrote(walk.PutOff).shows("asked for at the end").hides("WHAT WAS DONE")
	r.press("u").press("1", "enter").wrote(walk.Undone).shows("WHAT WAS DONE")
	r.press("enter").write("repaired by the machine shop, new seat").press("enter").wrote(walk.Settled).shows("repaired by the machine shop, new seat")
	if e := r.events[len(r.events)-1]; e.Facts[walk.By] != "the machine shop" || e.Text != "new seat" {
		t.Errorf("kept as %+v", e)
	}
}

// Work that is on record answers by one key, in the words that were said when it was sent.
func TestARepairOnRecordIsOneKey(t *testing.T) {
	f := walk.Fault{ID: "seat", What: "Seat sound?", Found: "scored", Where: "crank", Record: "down", At: time.Date(2025, 3, 2, 9, 0, 0, 0, time.UTC), Work: "a new seat", By: "the head shop"}
	r := asked(t, f)
	r.press("?", "esc", "enter").shows("since then a new seat, by the head shop").press("enter").shows("1 repaired ", "2 repaired by me")
	r.press("1", "enter").wrote(walk.Settled).shows("repaired by the head shop, a new seat")
	if e := r.events[len(r.events)-1]; e.Facts[walk.By] != "the head shop" || e.Text != "a new seat" {
		t.Errorf("kept as %+v", e)
	}
}

// Whatever a finding can be answered by, one key leads on to it, and it is named once.
func TestTheWayOnFromAFindingIsNamed(t *testing.T) {
	for name, f := range map[string]walk.Fault{
		"a figure":               {ID: "seat", What: "bearing seat", Found: "is 0.05 mm, over the limit of 0.03 mm", Max: "0.03 mm", Record: "down"},
		"a no":                   {ID: "studs", What: "Studs sound?", Found: "no: two pulled", Record: "down"},
		"something may be in it": {ID: "clip inside", What: "clip", Found: "missing", Where: "place not known", Inside: true, Record: "down"},
	} {
		r := asked(t, f)
		r.press("?", "esc", "enter").shows("WHAT WAS DONE ABOUT IT?")
		_, refusal := walk.Decide(r.model.cfg.State, walk.Command{Do: walk.Confirm}, r.now)
		if refusal == nil {
			t.Fatalf("%s: confirmed without a word", name)
		}
		if text := r.model.refusalText(refusal); strings.Count(text, "enter says what was done") != 1 {
			t.Errorf("%s: the way on is %q", name, text)
		}
	}
}
