package stand

import (
	"os"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
)

// bringing opens the case on an engine that brings something from an earlier walk.
func bringing(t *testing.T, c walk.Command) *rig {
	t.Helper()
	r := newRig(t, caseText(t))
	c.Do = walk.Bring
	e, refusal := walk.Decide(r.model.cfg.State, c, r.now)
	if refusal != nil {
		t.Fatal(refusal)
	}
	r.model.cfg.State.Apply(*e)
	r.events = append(r.events, *e)
	r.model.gather()
	return r
}

func brought(t *testing.T, things ...walk.Carried) *rig {
	t.Helper()
	return bringing(t, walk.Command{Brought: things})
}

func TestWhatCameOffEarlierKeepsDoneAwayUntilItIsAccountedFor(t *testing.T) {
	r := brought(t, walk.Carried{ID: "drum-shim", Name: "selector drum shim", Count: 1, Facts: walk.Facts{walk.Size: "0.8 mm", walk.Box: "2"}},
		walk.Carried{ID: "dowel", Name: "case dowel", Count: 2})
	r.toStage("").shows("BUT", "Left over from taking it apart: 2")
	r.press("d").wrote(walk.Refused).shows("left over: selector drum shim, 0.8 mm, box 2").press("esc")
	r.press("enter", "enter").shows("not accounted for", "▶ selector drum shim", "2 × case dowel")
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
	r.press("enter").count(n).shows("QUESTION", "came back from blasting: no media in oilways", "y yes", "n no").press("enter").count(n).shows("QUESTION")
	r.press("n").count(n + 1).wrote(walk.Noted).press("enter").shows("QUESTION").press("esc")
	n++
	r.press("a").shows("TO BE CLEANED after blasting", "c cleaned").press("k").count(n).press("c").wrote(walk.Cleaned).shows("✓ noted", "c cleaned").hides("TO BE CLEANED")
	r.press("esc").shows("GOES ON NOW")
}

func TestHowSomethingWasFoundGoesByNumberKeysToo(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("part")
	r.press("f").shows("thrust washer under the clutch basket, found how?", "1 good", "3 pitted", "9 missing").press("6").write(", box 2").press("enter").wrote(walk.Found)
	if f := r.events[len(r.events)-1].Facts; f["condition"] != "scored" || f["box"] != "2" {
		t.Errorf("facts are %v, want scored in box 2", f)
	}
	n := len(r.events)
	r.press("f").shows("So far: scored, box 2").write("shiny").press("enter").count(n).shows("REFUSED", "described before")
}

// What to look for and what condemns a piece stands on the screen at the moment
// it comes free, in the sheet's words.
func TestAPieceThatComesOffShowsWhatToLookFor(t *testing.T) {
	file, err := os.ReadFile("../../procedures/crankcase-open.toml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(file)
	r := newRig(t, text).toStage("part:clutch-thrust-washer")
	r.shows("look for: blue colour, grooves", "condemned by: a groove that a fingernail", "measure: thickness")
	r.press("f", "6", "enter").wrote(walk.Found).shows("found: scored")
	r.press("u").shows("thin thrust washer behind the clutch gear found").hides("part:clutch").press("esc")
	r = newRig(t, text)
	r.press("enter", "enter", "enter")
	r.press("f").shows("look for: blocked bore or cross hole", "condemned by: any crack", "F1, found how?")
}

// On the smallest screen the size of the wrench gets a line rather than half a word.
func TestTheWrenchIsNeverCutShort(t *testing.T) {
	file, err := os.ReadFile("../../procedures/top-end-open.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := newRig(t, string(file)).toStage("stage")
	r.size(40, 15)
	r.shows("top row, left one", "8 mm hex")
}

// Every piece that has to be new is named whole beside the figure.
func TestPiecesThatMustBeNewAreNamedWhole(t *testing.T) {
	file, err := os.ReadFile("../../procedures/crankcase-close.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := newRig(t, string(file)).toStage("Final/F1")
	r.model.cfg.State.Apply(walk.Event{Kind: walk.Trouble, Fastener: "F1", Text: "stripped", At: r.now})
	r.model.gather()
	for r.model.facts.item.Key().String() != "Final/F1" {
		r.onward()
	}
	r.size(80, 24)
	r.shows("NEW: the fastener itself, 2 × sealing", "washer")
	r.hides("wash…")
}

// The mark of what is done stands beside nothing that was not recorded.
func TestAKeyThatDoesNothingIsNotMarkedAsDone(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("stage")
	r.size(40, 15)
	r.press("y").shows("y does nothing here; ? lists the keys").hides("✓ y")
}

// What may condemn a thing is asked plainly; only y and n answer.
func TestWhatMayCondemnAThingIsAsked(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("part")
	n := len(r.events)
	r.press("f").write("cracked at the root, box 2").press("enter").count(n).shows("QUESTION", "cracked at the root: is it to be used again?")
	r.press("enter", " ").count(n).shows("QUESTION").press("esc").count(n).shows("nothing was recorded of it")
	r.press("enter", "f").write("cracked at the root, box 2").press("enter").count(n).press("n").wrote(walk.Found)
	if f := r.events[len(r.events)-1].Facts; f["condition"] != "cracked at the root" || f["again"] != "no" || f["box"] != "2" {
		t.Errorf("kept as %v", f)
	}
}

// N shows the new pieces of what is in hand, or of the whole walk where that has none.
func TestNewPiecesOfWhatIsInHandComeFirst(t *testing.T) {
	newRig(t, caseText(t)).toStage("Final/M1").press("N").shows("F1: 2 × sealing washer", "P1: the fastener itself")
	newRig(t, caseText(t)).toStage("Final/F1").press("N").shows("2 × sealing washer").hides("P1: the fastener itself").press("tab").shows("P1: the fastener itself")
}

// What the drawer has for a figure stands beside the bolt, as it stood where the wrench was
// set.
func TestTheWrenchFromTheDrawerStandsBesideTheBolt(t *testing.T) {
	r := newRig(t, caseText(t), func(c *Config) {
		c.Wrench = func(st *plan.Stage) string { return "click wrench: set " + st.Target.Torque.Text() }
	})
	r.toStage("Final/M1").shows("wrench   12 mm hex, click wrench: set").toStage("Final/F1").shows("click wrench: set 27")
	r.toStage("measure").hides("click wrench")
}

// Of readings that were refused the last three are shown, and no more.
func TestTheLastReadingsRefusedAreShown(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("measure")
	for _, figure := range []string{"0.31 mm", "0.32 mm", "0.33 mm", "0.34 mm"} {
		r.press("r").write(figure).press("enter").wrote(walk.Rejected).press("enter")
	}
	r.shows("refused before: 0.32 mm, 0.33 mm, 0.34 mm").hides("0.31 mm")
}
