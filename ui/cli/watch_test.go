//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/procedures/session"
	"evenpull/procedures/walk"
	"evenpull/ui/internal/term"
)

const coverSheet = `format = 1
[procedure]
name      = "Close the cover"
direction = "close"
source    = "Osier sheet 3 (invented)"
[group.rim]
title  = "rim bolts"
thread = "M6x1"
class  = "8.8"
torque = "8 N·m"
[group.rim.at]
R1 = [0, 0]
R2 = [70, 0]
R3 = [70, 50]
R4 = [0, 50]
[[pass]]
name   = "Final"
groups = ["rim"]
torque = "100 %"
order  = "cross"
[[check]]
before = "Final"
ask    = "Both dowels in place?"
[[check]]
after = "Final"
ask   = "Shaft turns freely?"
`

// A second terminal waits for a walk, follows it through a kill, a line cut off and a
// return to its end, and never gets in its way.
func TestASecondTerminalFollowsAWalkLive(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	other := func(arguments ...string) *term.Term {
		return term.Start(t, term.Options{Home: home, Clock: b.Clock}, b.program, append(arguments, "--watch", "--records", b.records)...)
	}
	sheet := filepath.Join(home, "cover.toml")
	if err := os.WriteFile(sheet, []byte(coverSheet), 0o600); err != nil {
		t.Fatal(err)
	}
	watch := other("walk", sheet, "--engine", "stand 2")
	watch.WaitText("is open on engine stand 2", "begun with", "waiting for that")
	if _, err := os.Stat(b.records); err == nil {
		t.Error("waiting has made the folder of records")
	}

	b.start("walk", sheet, "--engine", "stand 2")
	b.WaitText("0 of 4 stages", "enter yes")
	watch.WaitText("Close the cover, engine stand 2", "WATCHING", "Both dowels", "q leave")
	for range 3 { // the question, the wrench set, a bolt
		b.step()
	}
	watch.WaitText("confirmed: Final: R1, 8 N·m")
	watch.Press("enter", "d", "s")
	second := other("walk", "--resume", "last")
	second.WaitText("WATCHING", "last: ")

	b.Kill()
	watch.WaitText("LEFT", "left open: nobody walks it now")
	files, _ := filepath.Glob(filepath.Join(b.records, "*.jsonl"))
	record, err := os.OpenFile(files[0], os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := record.WriteString(`{"seq":4,"at":"2026-11-2`); err != nil {
		t.Fatal(err)
	}
	record.Close()
	third := other("walk", "--resume", "last")
	third.WaitText("LEFT", "rim bolts, M6x1")

	b.start("walk", sheet, "--engine", "stand 2")
	b.comesBack()
	for _, s := range []*term.Term{watch, second, third} {
		s.WaitText("WATCHING", "somebody walks it again")
	}
	for b.state().CurrentItem() != nil {
		b.step()
	}
	b.Press("d")
	for _, s := range []*term.Term{watch, second, third} {
		s.WaitText("CLOSED", "All 4 stages confirmed")
		s.Press("q")
		if code := s.WaitExit(); code != ExitDone {
			t.Errorf("exit code %d", code)
		}
	}
	b.WaitText("CLOSED")
	if s := b.state(); s.Phase != walk.IsDone {
		t.Errorf("the walk is %s", s.Phase)
	}
	torn, _ := filepath.Glob(filepath.Join(b.records, "*.torn"))
	if len(torn) != 1 {
		t.Errorf("%d lines were put aside, want the one that was cut off", len(torn))
	}
}

// Where another walk may be meant, each answer is a command that watches it.
func TestWhichWalkIsWatchedIsAsked(t *testing.T) {
	a := &app{}
	which := &session.WhichError{Candidates: []session.Candidate{{ID: "2026-1"}, {ID: "2026-2"}}, Request: session.Request{Procedure: "cover.toml"}}
	text := strings.Join(a.whichLines(which, again{Request: which.Request, watch: true}), "\n")
	for _, want := range []string{"evenpull walk --watch --resume 2026-1", "evenpull walk --watch --resume 2026-2"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Contains(text, "a new walk") {
		t.Errorf("who watches is offered a new walk:\n%s", text)
	}
}

// A screen that finds a walk open elsewhere goes on with it.
func TestASecondScreenThatIsReadOnlyGoesOn(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.WaitText("0 of 37 stages")
	first := b.Term
	b.walk()
	second := b.Term
	second.WaitText("READ ONLY", "Both faces")
	b.Term = first
	at := b.state().CurrentItem().Text()
	b.step()
	second.WaitText("READ ONLY", ("confirmed: " + at)[:40])
	if screen := second.Screen(); !strings.Contains(screen, "READ ONLY") {
		t.Errorf("the second screen shows\n%s", screen)
	}
}
