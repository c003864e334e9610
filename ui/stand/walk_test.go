package stand

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/internal/anysize"
)

func TestWalksToARefusedDoneAndAnEarnedOne(t *testing.T) {
	r := newRig(t, caseText(t))
	r.shows("Both dowels in place?", "enter yes")
	r.press("enter").wrote(walk.Answered)
	r.press("d").wrote(walk.Refused).shows("Not done: 18 outstanding", "renew: P1: the fastener itself")
	r.press("esc").shows("thrust washer", "chamfer towards the case")
	r.toStage("").shows("EVERY STAGE IS CONFIRMED", "d closes the walk as done")
	r.press("enter").shows("d closes the walk")
	r.press("d").wrote(walk.Done).shows("All 12 stages confirmed", "no oil before", "evenpull show 20260304-093000-osier")
	if r.model.Phase() != walk.IsDone {
		t.Errorf("phase is %s, want done", r.model.Phase())
	}
	before := len(r.events)
	r.press("n", "u", "m", "d", "r", "s").count(before)
	if r.press("q"); !r.quit || !r.model.Going() {
		t.Error("q does not leave the done screen at once")
	}
}

func TestNothingIsConfirmedWhileItsPieceIsDueNew(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Final/F1")
	r.press("enter").shows("F1 must have new:", "2 × sealing washer")
	r.press("esc").shows("nothing here is confirmed before it is")
	n := len(r.events)
	r.press("enter", "enter").count(n).shows("F1 must have new:").press("esc") // no way round it
	r.press("d").wrote(walk.Refused).shows("F1: 2 × sealing washer")
	r.press("esc", "enter", "enter", "n").write("batch 4471").press("enter").wrote(walk.Renewed)
	if got := r.events[len(r.events)-1].Number; got != "batch 4471" {
		t.Errorf("number %q was kept, want batch 4471", got)
	}
	r.press("enter").count(n + 2).press("enter").wrote(walk.Confirmed) // the first only goes back to the figure
	r.press("enter").wrote(walk.Changed).press("enter").shows("P1 must have new:").press("enter").wrote(walk.Renewed)
	r.toStage("").press("d").wrote(walk.Done)
}

func TestARepeatedConfirmIsIgnored(t *testing.T) {
	for _, key := range []string{"enter", "space", "pgdown"} {
		r := newRig(t, caseText(t)).toStage("Draw down/M1")
		n := len(r.events)
		r.press(key).count(n + 1)
		r.now = r.now.Add(399 * time.Millisecond)
		r.send(keyMsg(key))
		r.count(n + 1)
		r.now = r.now.Add(time.Second)
		r.send(keyMsg(key))
		r.count(n + 2)
	}
}

// The Enter that chose a walk on the start screen may bounce, too.
func TestARepeatOfTheEnterThatOpenedTheScreenConfirmsNothing(t *testing.T) {
	r := newRig(t, caseText(t))
	for _, key := range []string{"enter", "space", "pgdown"} {
		r.now = r.now.Add(399 * time.Millisecond)
		r.send(keyMsg(key))
		r.count(0)
	}
	r.press("enter").count(1)
}

func TestEnterAfterTypingIsNoRepeat(t *testing.T) {
	quick := func(r *rig, names ...string) {
		for _, name := range names {
			r.now = r.now.Add(60 * time.Millisecond)
			r.send(keyMsg(name))
		}
	}
	tests := []struct {
		name, stage string
		keys        []string
		events      int
	}{
		{"a figure after the enter that asked for it", "measure", []string{"enter", "0", ".", "0", "3", "tab", "enter"}, 1},
		{"a reading begun by its first digit", "Draw down/M4", []string{"8", "tab", "enter"}, 1},
		{"a reason by its number key", "Draw down/M4", []string{"p", "1", "enter"}, 1},
		{"a repeat of the enter that sent it off", "Draw down/M4", []string{"8", "tab", "enter", "enter"}, 1},
		{"a repeat with nothing typed", "measure", []string{"enter", "enter"}, 0},
		{"typing that was given up", "Draw down/M4", []string{"8", "tab", "esc", "enter"}, 0},
		{"a number of a new piece", "Final/F1", []string{"enter", "n", "7", "enter"}, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := newRig(t, caseText(t)).toStage(tt.stage)
			n := len(r.events)
			r.now = r.now.Add(time.Second)
			if tt.keys[0] != "enter" { // a confirmation just before has armed the guard
				r.model.guard, _ = r.model.guard.Press(r.now)
			}
			quick(r, tt.keys...)
			r.count(n + tt.events)
		})
	}
}

func TestARepeatDoesNotConfirmWhatIsBehindAPanel(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Final/F1")
	r.press("enter", "enter").wrote(walk.Renewed).shows("✓ new: 2 × sealing washer")
	n := len(r.events)
	r.now = r.now.Add(200 * time.Millisecond)
	r.send(keyMsg("enter"))
	r.count(n)
}

func TestReadingsAreHeldAgainstTheirLimits(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Final/M1")
	n := len(r.events)
	r.press("2", "1").shows("Reading; it has to be 21.12 to 22.88 N·m", "> 21")
	r.press("enter").count(n).shows("it has no unit; tab adds N·m")
	r.press("tab", "tab").shows("21 lbf·ft").press("tab", "tab", "tab", "tab", "tab", "tab", "tab", "tab", "tab", "tab").shows("21 N·m")
	r.press("enter").wrote(walk.Rejected).shows("REFUSED", "go on until it is reached", "refused before: 21 N·m")
	r.press("r").write("22,1 Nm").press("enter").wrote(walk.Confirmed).shows("read 22,1 Nm")
}

func TestBeyondTheAngleStartsTheFastenerAgain(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Primary nut/P1/2").shows("= 1/4 to 0.261 turns")
	r.press("r").write("120°").press("enter").wrote(walk.Rejected).shows("REFUSED", "start it again")
	r.shows("SLACKEN IT FULLY", "enter dismiss").press("enter").shows("enter it is slack").press("enter").wrote(walk.Confirmed)
	if at := r.model.facts.item.Key().String(); at != "Primary nut/P1/1" {
		t.Errorf("in hand is %s, want the nut's first stage", at)
	}
	r.shows("NEW: the fastener itself")
}

func TestReasonsGoByNumberKeysAlone(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Primary nut/P1/2")
	r.press("l").shows("1 phone rang", "2 socket slipped").press("2").shows("> socket slipped").press("1", "enter").wrote(walk.Lost)
	if e := r.events[len(r.events)-1]; e.Text != "phone rang" || e.Fastener != "P1" {
		t.Errorf("lost %s because %q, want P1 because phone rang", e.Fastener, e.Text)
	}
	r.press("u").shows("Take back").press("1", "enter").wrote(walk.Undone)
	r.press("p", "4", "enter").wrote(walk.Trouble).shows("NEW: the fastener itself")
	r.press("p").write("M2: thread pulled").press("enter").wrote(walk.Trouble)
	if e := r.events[len(r.events)-1]; e.Fastener != "M2" || e.Text != "thread pulled" {
		t.Errorf("problem with %s: %q, want M2: thread pulled", e.Fastener, e.Text)
	}
	r.press("y").wrote(walk.Answered) // what was asked before its pass is asked again
	if at := r.model.facts.item.Key().String(); at != "Draw down/M2" {
		t.Errorf("in hand is %s, want M2's first stage", at)
	}
}

func TestLettersAreTextWhileAFieldHasTheKeys(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	n := len(r.events)
	r.press("m").write("sounds dry, q d u ?").press("space").shows("sounds dry, q d u ?").count(n)
	r.press("enter").wrote(walk.Noted)
	if got := r.events[n].Text; got != "sounds dry, q d u ?" {
		t.Errorf("note %q was kept", got)
	}
	r.press("m", "enter").count(n + 1).shows("a few words are needed").press("esc").hides("Note")
}

func TestNoAsksWhyAndKeepsTheQuestion(t *testing.T) {
	r := newRig(t, caseText(t))
	r.press("n").shows("No, because").press("2", "enter").wrote(walk.Answered).shows("put it right, then answer yes", "Both dowels")
	if e := r.events[0]; e.Answer != "no" || e.Text != "missing" {
		t.Errorf("answer %q because %q, want no because missing", e.Answer, e.Text)
	}
	r.press("y").wrote(walk.Answered).shows("GOES ON NOW")
}

func TestReadOnlyShowsAndRefuses(t *testing.T) {
	r := newRig(t, caseText(t), func(c *Config) { c.ReadOnly = "process 4711 on bench has it open" })
	r.shows("READ ONLY", "Both dowels", "read only: process 4711 on bench has it open")
	for _, key := range []string{"enter", "y", "n", "d", "s", "m", "p"} {
		r.press(key).count(0).shows("read only: process 4711 on bench has it open")
	}
	r.press("o").shows("outstanding").press("esc", "c").write("22 Nm").shows("lbf·ft").press("esc", "q", "enter")
	if !r.quit {
		t.Error("a read-only screen can't be left")
	}
}

func TestLeavingSaysHowToComeBack(t *testing.T) {
	for _, key := range []string{"q", "ctrl+c"} {
		r := newRig(t, caseText(t)).toStage("Draw down/M1")
		r.press(key).shows("LEAVE?", "on disk", "evenpull walk crankcase-close --engine A12")
		if r.quit {
			t.Errorf("%s left without a word", key)
		}
		r.press("esc").hides("LEAVE?").press(key, key)
		if !r.quit {
			t.Errorf("%s twice does not leave", key)
		}
	}
}

func TestStopNeedsAReasonAndAYes(t *testing.T) {
	r := newRig(t, caseText(t))
	r.press("s", "enter").count(0).press("1", "enter").shows("STOP FOR GOOD?").press("enter").count(0).shows("not stopped")
	r.press("s", "2", "enter", "y").wrote(walk.Stopped).shows("ENDED UNFINISHED", "Because: wrong procedure", "this is not done")
	if r.model.Phase() != walk.IsStopped {
		t.Errorf("phase is %s, want stopped", r.model.Phase())
	}
}

func TestWhyTellsOrderSourceAndRange(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Final/F1")
	r.press("w").shows("hollow: last in", "Osier sheet 12", "25 to 29 N·m", "service manual governs").press("esc").shows("= 19.9 ± 1.475 lbf·ft")
}

func TestLongListsScroll(t *testing.T) {
	r := newRig(t, caseText(t))
	r.size(40, 10)
	r.press("o").shows("19 outstanding").hides("renew: P1")
	for range 12 {
		r.press("enter")
	}
	r.shows("renew: P1").count(0)
	for range 40 {
		r.press("up")
	}
	for range 40 {
		r.press("down")
	}
	r.shows("renew: P1")
	for range 40 {
		r.press("up")
	}
	r.shows("check: Both dowels")
}

func TestTextFromOutsideCannotReachTheTerminal(t *testing.T) {
	r := newRig(t, caseText(t), func(c *Config) {
		c.Engine, c.Notices, c.Back = "A\x1b[2J", []string{"torn\x1b]0;x\a"}, "\x1b[31mback"
	})
	for _, view := range []string{r.model.View(), r.press("q").model.View()} {
		if strings.Contains(view, "\x1b[2J") || strings.Contains(view, "\x1b]0;") || strings.Contains(view, "\x1b[31mback") {
			t.Errorf("an escape sequence got through: %q", view)
		}
	}
}

func TestSuspendAndResume(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	_, cmd := r.model.Update(keyMsg("ctrl+z"))
	if cmd == nil {
		t.Fatal("ctrl+z gives no command")
	}
	if _, ok := cmd().(tea.SuspendMsg); !ok {
		t.Fatalf("ctrl+z gives %T, want a suspend", cmd())
	}
	r.now = r.now.Add(time.Minute)
	r.send(tea.ResumeMsg{})
	r.shows("19:00 of 20 min left")
}

func TestALeftHandThreadIsSaidAtEverySize(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Primary nut/P1/1")
	for s := range anysize.Between(anysize.Size{W: 20, H: 2}, anysize.Size{W: 129, H: 39}) {
		r.size(s.W, s.H)
		if !strings.Contains(r.screen(), "LEFT-HAND") {
			t.Fatalf("at %v nothing says LEFT-HAND:\n%s", s, r.screen())
		}
	}
}

const oneAtATime = `format = 1
[procedure]
name      = "Re-torque"
direction = "close"
source    = "figures invented for this test"
[group.head]
title  = "head bolts"
thread = "M10x1.5"
with   = [{ part = "copper washer", count = 1, one_use = true }]
[group.head.at]
H1 = [0, 0]
[[pass]]
name   = "One at a time"
groups = ["head"]
each   = [{ loosen = "90°" }, { torque = "40 N·m" }]
`

func TestNewPiecesAreAskedForBeforeTighteningOnly(t *testing.T) {
	r := newRig(t, oneAtATime).press("enter").wrote(walk.Changed).shows("= 1/4 turn", "NEW: copper washer", "enter confirm")
	r.press("enter").wrote(walk.Confirmed).shows("= 29.5 lbf·ft", "enter new pieces first")
	r.press("enter").shows("H1 must have new:").press("enter").wrote(walk.Renewed)
}

// What has to be read first has a page of its own; the key that closes it
// confirms nothing, and no escape sequence gets through it.
func TestWhatHasToBeReadFirstStandsBeforeTheFigure(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {40, 15}} {
		r := newRig(t, caseText(t), func(c *Config) {
			c.Heed = []string{"this clock says 2025-03-02 09:00:05\x1b[2J, and an entry of 2026-03-02 09:00:01 is on record", "the procedure file has changed since"}
		})
		r.size(size[0], size[1])
		r.shows("Read this first", "this clock says 2025-03-02", "has changed since")
		if strings.Contains(r.model.View(), "\x1b[2J") {
			t.Error("an escape sequence got through")
		}
		r.now = r.now.Add(time.Second)
		r.press("enter")
		if len(r.events) > 0 {
			t.Fatalf("closing the page recorded %+v", r.events)
		}
		if view := r.model.View(); strings.Contains(view, "Read this first") {
			t.Errorf("the page is still there:\n%s", view)
		}
	}
}

// Of what is asked for in one go, the first that is refused ends the rest, be the refusal
// kept in the record or not.
func TestARefusalEndsWhatWasAskedForWithIt(t *testing.T) {
	note := walk.Command{Do: walk.Note, Text: "behind it"}
	for name, tt := range map[string]struct {
		first walk.Command
		kept  int
	}{
		"kept":     {walk.Command{Do: walk.Confirm, Reading: "40 N·m"}, 1},
		"not kept": {walk.Command{Do: walk.Confirm, Reading: "40"}, 0},
	} {
		r := newRig(t, caseText(t)).toStage("Final/M1")
		n := len(r.events)
		next, cmd := r.model.order(tt.first, note)
		r.model = next
		r.run(cmd)
		r.count(n + tt.kept)
		if len(r.model.queue) > 0 || r.model.say.tone != refuse {
			t.Errorf("%s: still to do %v, said %q", name, r.model.queue, r.model.say.text)
		}
	}
}
