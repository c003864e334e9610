package stand

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/ui/words"
)

// Setting the wrench is a step of its own: one Enter says that it is done, and confirms
// nothing; the stage comes behind it.
func TestTheWrenchIsSetInAStepOfItsOwn(t *testing.T) {
	r := newRig(t, caseText(t), func(c *Config) {
		c.Wrench = func(st *plan.Stage) string { return "click wrench: set " + st.Target.Torque.Text() }
		c.FactsOf = func(st *plan.Stage) map[string]string { return map[string]string{"wrench": "click wrench"} }
	}).toChange("Final/M1")
	n := len(r.events)
	r.shows("set the wrench 8.8 → 22 N·m", "click wrench: set 22 N·m", "enter it is set", "then     M1 22 N·m").hides("TIGHTEN")
	r.press("r", "7").count(n).shows(strings.Fields(r.model.notYet())[0]) // no reading of it yet
	r.press("enter").count(n+1).wrote(walk.Changed).shows("the wrench is set", "wrench   12 mm hex", "M1")
	if facts := r.events[n].Facts; facts["wrench"] != "click wrench" || facts[walk.SetFor] != "22 N·m" || facts[walk.SocketOn] != "12 mm hex" {
		t.Errorf("kept %v", facts)
	}
	r.press("enter").count(n + 2).wrote(walk.Confirmed).hides("set the wrench") // the next takes the same
	r.press("u", "1", "enter").wrote(walk.Undone)
	if it := r.model.facts.item; it.Key().String() != "Final/M1" {
		t.Errorf("undone, %s is in hand", it.Text())
	}
}

// With an adapter on, what is large is what the scale shows, not the sheet's figure.
func TestAnAdapterChangesWhatIsSet(t *testing.T) {
	set := words.Setting{Mark: "17.5", Unit: "N·m", With: "crowfoot 12"}
	at := func(text, stage string) *rig {
		return newRig(t, text, func(c *Config) { c.Scale = func(*plan.Stage) words.Setting { return set } }).toChange(stage)
	}
	r := at(caseText(t), "Final/M1").shows("set the wrench to 17.5 N·m with crowfoot 12, for 22 N·m", "= 22 N·m at the bolt").hides("lbf")
	if a := r.model.asked(); a.figure != "17.5" || a.unit != "N·m" {
		t.Errorf("large: %s %s", a.figure, a.unit)
	}
	r.size(40, 15)
	r.shows("SET THE WRENCH to 17.5 N·m", "= 22 N·m at the bolt")
	r = at(sheet(t, "turns"), "Together/A2")
	r.shows("! wrench to 17.5 N·m with crowfoot 12, for 20")
	set.Mark = "" // no wrench of the drawer fits
	at(caseText(t), "Final/M1").shows("set the wrench for 22 N·m with crowfoot 12", "! with crowfoot 12 on, the scale shows", "another figure than this")
}

// What a gauge sends before the wrench is said to be set may be of the bolt before.
func TestAFigureIsNotTakenBeforeTheWrenchIsSet(t *testing.T) {
	for _, gap := range gaps {
		r := newRig(t, caseText(t)).toChange("Final/M1")
		n := len(r.events)
		r.now = r.now.Add(time.Second)
		r.sends("22.1 N·m\r", gap).count(n).shows("a figure came in before the wrench was set")
		r.press("enter").count(n + 1).wrote(walk.Changed)
	}
}

// A refusal, or what lay over the step, is dismissed before it is said to be done.
func TestTheStepIsDismissedToFirst(t *testing.T) {
	r := newRig(t, caseText(t)).toChange("Final/M1").press("o", "esc")
	n := len(r.events)
	r.shows("enter dismiss").press("enter").count(n).shows("enter it is set").press("enter").count(n + 1)
}

// A work card was ticked long after, and who looks on sets no wrench.
func TestNoStepForACardOrForWhoLooksOn(t *testing.T) {
	paper := newRig(t, caseText(t), func(c *Config) { c.Paper = true })
	paper.toStage("Final/M1")
	for _, e := range paper.events {
		if e.Kind == walk.Changed {
			t.Error("a work card sets wrenches")
		}
	}
	looked := newRig(t, twoBolts).press("y")
	over := newRig(t, twoBolts, func(c *Config) { c.State, c.ReadOnly = looked.model.cfg.State, "another program" })
	over.shows("M1", "! set the wrench to 9 N·m").press("enter").count(0).shows("read only")
}

// Where bolts take turns the first of each is a step, and the others are reminded of.
func TestBoltsThatTakeTurnsDoNotDoubleTheWork(t *testing.T) {
	r := newRig(t, sheet(t, "turns")).toStage("")
	changed := 0
	for _, e := range r.events {
		if e.Kind == walk.Changed {
			changed++
		}
	}
	if changed != 2 || len(r.events) != 6 {
		t.Errorf("%d changes in %d events for four bolts", changed, len(r.events))
	}
	r = newRig(t, sheet(t, "turns")).toStage("Together/A2")
	for _, size := range [][2]int{{40, 15}, {80, 24}, {120, 40}, {60, 12}} {
		r.size(size[0], size[1])
		r.shows("wrench 8 → 20 N·m")
	}
}

// Who comes back reads first where the walk was left; closing that confirms nothing.
func TestWhoComesBackReadsFirstWhereItWasLeft(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {40, 15}} {
		r := newRig(t, caseText(t)).toStage("Primary nut/P1/2")
		n := len(r.events)
		r.size(size[0], size[1])
		r.comeBack(2*time.Hour).shows("Coming back", "P1 is half done", "2 hours ago")
		r.press("enter", "enter", "enter", "enter", "enter")
		if r.model.overlay() != nil {
			t.Fatalf("still there:\n%s", r.screen())
		}
		r.count(n)
	}
	r := newRig(t, caseText(t), func(c *Config) {
		c.Heed = []string{"the procedure file has changed since"}
		c.Return = &walk.Return{Last: "Final: M1, 22 N·m\x1b[2J"}
	})
	r.shows("Read this first", "has changed since", "Final: M1, 22 N·m").hides("Coming back")
	if strings.Contains(r.model.View(), "\x1b[2J") {
		t.Error("an escape sequence got through")
	}
}

// The steps before the first bolt have their own count, and so have those after the last.
func TestStepsAroundTheBoltsAreCountedOnTheScreen(t *testing.T) {
	r := newRig(t, sheet(t, "close")).shows("before the first bolt: 0 of 7")
	r.press("enter").shows("before the first bolt: 1 of 7", "0 of 32 stages")
	r.size(40, 15)
	r.shows("before 1 of 7")
	r.size(80, 24)
	r.toStage("Snug/C1").hides("before the first bolt").shows("of 10")
}

// Another socket alone is a step as well, and says that it is on.
func TestASocketAloneIsAStepToo(t *testing.T) {
	r := newRig(t, sheet(t, "open")).toChange("Slacken/C4").shows("socket 24 mm socket → 12 mm hex", "enter it is on")
	if a := r.model.asked(); a.verb != "SOCKET" || a.figure != "12" || a.unit != "mm hex" {
		t.Errorf("large: %s %s %s", a.verb, a.figure, a.unit)
	}
	if a := newRig(t, twoBolts).toChange("Final/M1").model.asked(); a.verb != "SET" || a.topic != "the wrench" {
		t.Errorf("without a socket: %s %s", a.verb, a.topic)
	}
	r.press("enter").wrote(walk.Changed).shows("the socket is on", "C4")
	r.toStage("").shows("EVERY STAGE IS CONFIRMED")
}

// Where a thread in the case was repaired, what holds now in place of the sheet is said
// before the wrench is set.
func TestARepairedThreadIsSaidBeforeTheWrenchIsSet(t *testing.T) {
	text := strings.Replace(twoBolts, "torque = \"9 N·m\"", "torque = \"9 N·m\"\ndrive = \"8 mm hex\"", 1)
	r := newRig(t, text).toChange("Final/M1").hides("repaired thread").press("enter", "enter")
	r.press("p").write("M1: stripped, case").press("enter").wrote(walk.Trouble).press("y")
	r.press("enter").write("insert coil, size M6, by shop, torque 8 N·m, engagement 12 mm, drive 10 mm hex").press("enter").wrote(walk.Repaired)
	r.comeBack(time.Minute).press("x", "enter").shows("set the wrench to 9 N·m", "! repaired thread:", "torque 8 N·m")
}

// One thing to be read is read first as well.
func TestOneThingIsReadFirst(t *testing.T) {
	newRig(t, twoBolts, func(c *Config) { c.Heed = []string{"the clock is behind"} }).shows("Read this first", "the clock is behind")
	newRig(t, twoBolts).hides("Read this first").hides("Coming back")
}

// What a thread was repaired with is taken as it is said, a bag of the kit with it: that is
// no slip in a reason.
func TestARepairIsTakenAsItIsSaid(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1").press("p").write("stripped, case").press("enter", "enter")
	r.shows("THE THREAD IN THE CASE IS STRIPPED").press("enter").write("insert coil, bag 7 of the kit, size 3/8-16 UNC, by shop, torque 8 N·m, engagement 12 mm, drive 10 mm hex")
	r.press("enter").wrote(walk.Repaired)
	if e := r.events[len(r.events)-1]; e.Facts["size"] != "3/8-16 UNC" || e.Facts["insert"] != "coil, bag 7 of the kit" {
		t.Errorf("kept %+v", e.Facts)
	}
}
