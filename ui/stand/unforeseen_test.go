package stand

import (
	"testing"

	"evenpull/procedures/walk"
)

func TestWhatNoSheetHasIsRecordedAtAnyMoment(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("part")
	n := len(r.events)
	r.press("F").shows("Found, and on no sheet", "thin washer under the cam sprocket")
	r.press("enter").count(n).shows("REFUSED", "say what it is").write(`"loose clip" good, box 3`).press("enter").wrote(walk.Found).shows("loose clip, good, box 3; it is on no sheet")
	if e := r.events[len(r.events)-1]; e.Item != "part:loose-clip" || e.Facts[walk.NewName] != "loose clip" || e.Facts[walk.Box] != "3" {
		t.Errorf("kept as %+v", e)
	}
	r.press("o").shows("part: loose clip: not accounted for").press("esc")
}

func TestAThingThatNoSheetHasCanBePutOff(t *testing.T) {
	r := brought(t, walk.Carried{ID: "thin", Name: "thin washer", Count: 1, New: true, Before: "M1", Facts: walk.Facts{walk.Box: "3"}, Record: "down"})
	r.press("?", "esc", "enter").shows("GOES ON NOW", "thin washer", "box 3", "no sheet has it", "b ask at the end")
	r.press("b").write("it sits on the other side").press("enter").wrote(walk.PutOff).shows("asked for at the end").hides("GOES ON NOW")
}
