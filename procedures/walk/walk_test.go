package walk

import (
	"strings"
	"testing"
	"time"
)

const twoBolts = `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
one_use = true
with = [{ part = "plain washer", count = 1 }]
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Snug"
groups = ["main"]
torque = "40 %"
[[pass]]
name = "Turn"
groups = ["main"]
turn = "90° to 94°"
[[check]]
after = "Turn"
ask = "Turns freely?"
`

// walked gives a state after the commands, one a minute.
func walked(t *testing.T, text string, commands ...Command) (*State, time.Time) {
	t.Helper()
	s := New(planOf(t, text))
	now := start
	for _, c := range commands {
		now = now.Add(time.Minute)
		must(t, s, c, now)
	}
	return s, now
}

func ok() Command { return Command{Do: Confirm} }

func TestDoneIsRefusedWithTheFullListUntilNothingIsOpen(t *testing.T) {
	s, now := walked(t, twoBolts, ok(), ok(), ok())
	r := refuse(t, s, Command{Do: FinishUp}, now)
	want := []string{"Turn: M2, turn 90° to 94°: not confirmed", "check: Turns freely? not answered", "renew: M1: the fastener itself (one-use)", "renew: M2: the fastener itself (one-use)"}
	if strings.Join(r.Outstanding, "|") != strings.Join(want, "|") {
		t.Errorf("got  %q\nwant %q", r.Outstanding, want)
	}
	if last := s.Events[len(s.Events)-1]; last.Kind != Refused || len(last.Outstanding) != 4 {
		t.Errorf("the refused done is not kept: %+v", last)
	}
	must(t, s, ok(), now)
	must(t, s, Command{Do: Yes}, now)
	must(t, s, Command{Do: Renew, Target: "M1"}, now)
	refuse(t, s, Command{Do: FinishUp}, now)
	must(t, s, Command{Do: Renew, Target: "m2", Number: "batch 4471"}, now)
	must(t, s, Command{Do: FinishUp}, now)
	if s.Phase != IsDone {
		t.Errorf("phase is %s", s.Phase)
	}
	refuse(t, s, ok(), now)
}

func TestALostAngleSendsTheFastenerBackAndAsksForANewOne(t *testing.T) {
	s, now := walked(t, twoBolts, Command{Do: Renew, Target: "M1"}, ok(), ok())
	must(t, s, Command{Do: Lose, Text: "socket slipped"}, now)
	if it := s.CurrentItem(); it.Text() != "Snug: M1, 8.8 N·m" {
		t.Errorf("next is %s", it.Text())
	}
	if due := s.Due("M1"); len(due) != 1 || due[0].Why != "its angle was lost" {
		t.Errorf("due: %+v", due)
	}
	if s.Mark(1).Closed != true {
		t.Error("M2's stage was opened too")
	}
}

func TestReadingsAreHeldAgainstTheirWindow(t *testing.T) {
	for _, c := range []struct {
		name, reading, remedy, next string
	}{
		{"in range is accepted", "9.1 N·m", "", "Snug: M2, 8.8 N·m"},
		{"in range in another unit is accepted", "6.5 lbf·ft", "", "Snug: M2, 8.8 N·m"},
		{"short is to be gone on with", "8 N·m", "go on until", "Snug: M1, 8.8 N·m"},
		{"over is to be slackened", "10 N·m", "slacken it", "Snug: M1, 8.8 N·m"},
		{"another kind of unit is refused", "9 mm", "", "Snug: M1, 8.8 N·m"},
		{"a bare number is refused", "8.8", "unit", "Snug: M1, 8.8 N·m"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := New(planOf(t, twoBolts))
			e, refusal := Decide(s, Command{Do: Confirm, Reading: c.reading}, start)
			if e != nil {
				s.Apply(*e)
			}
			if refusal != nil && !strings.Contains(refusal.Error(), c.remedy) {
				t.Errorf("refused with %q, want %q in it", refusal.Error(), c.remedy)
			}
			if got := s.CurrentItem().Text(); got != c.next {
				t.Errorf("next is %q, want %q", got, c.next)
			}
		})
	}
}

func TestAnAngleBeyondItsRangeStartsTheFastenerAgain(t *testing.T) {
	s, now := walked(t, twoBolts, ok(), ok())
	r := refuse(t, s, Command{Do: Confirm, Reading: "89°"}, now)
	if !strings.Contains(r.Remedy, "go on") || s.Current() != 2 {
		t.Errorf("short: %v, at %d", r, s.Current())
	}
	r = refuse(t, s, Command{Do: Confirm, Reading: "97°"}, now)
	if !strings.Contains(r.Remedy, "slacken") || s.CurrentItem().Text() != "Snug: M1, 8.8 N·m" {
		t.Errorf("beyond: %v, at %s", r, s.CurrentItem().Text())
	}
	must(t, s, Command{Do: Undo, Text: "misread the gauge"}, now)
	if s.Current() != 2 {
		t.Errorf("after undo at %d", s.Current())
	}
}

func TestTroubleBlocksDoneUntilThePieceIsReplacedAndItsStagesRedone(t *testing.T) {
	s, now := walked(t, twoBolts, Command{Do: Renew, Target: "M1"}, Command{Do: Renew, Target: "M2"}, ok(), ok(), ok(), ok(), Command{Do: Yes})
	must(t, s, Command{Do: Problem, Target: "M1", Text: "stripped"}, now)
	r := refuse(t, s, Command{Do: FinishUp}, now)
	if len(r.Outstanding) != 4 { // two stages, the check made after them, the piece
		t.Errorf("outstanding: %q", r.Outstanding)
	}
	for _, c := range []Command{ok(), ok(), {Do: Yes}, {Do: Renew, Target: "M1"}, {Do: FinishUp}} {
		must(t, s, c, now)
	}
	refuse(t, New(s.Plan), Command{Do: Problem, Target: "M1"}, now) // a reason is needed
}

const sealed = `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[sealant]
name = "flange sealant"
work_time = "20m"
cure_time = "12h"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
[[pass]]
name = "Snug"
groups = ["main"]
torque = "9 N·m"
[[pass]]
name = "Final"
groups = ["main"]
torque = "22 N·m"
[[pass]]
name = "Settle"
wait = "4h"
[[pass]]
name = "Repeat"
groups = ["main"]
torque = "22 N·m"
`

func TestTheSealantClockRunsFromSmearToTheLastStageBeforeAWait(t *testing.T) {
	s, now := walked(t, sealed, ok(), ok())
	if left, running := s.SealantLeft(now); !running || left != 19*time.Minute {
		t.Errorf("left %s, running %v", left, running)
	}
	late := now.Add(25 * time.Minute)
	r := refuse(t, s, ok(), late)
	if !strings.Contains(r.Error(), "past its work time by 6 min") {
		t.Errorf("refused with %q", r)
	}
	must(t, s, Command{Do: Reseal, Text: "skinned over"}, late)
	if s.Current() != 0 {
		t.Errorf("after sealing afresh at %d", s.Current())
	}
	for range 3 {
		must(t, s, ok(), late)
	}
	if at, set := s.CuredAt(); !set || at != late.Add(12*time.Hour) {
		t.Errorf("cured at %s, %v", at, set)
	}
	refuse(t, s, ok(), late.Add(time.Hour)) // the wait is not over
	must(t, s, ok(), late.Add(4*time.Hour))
	must(t, s, ok(), late.Add(5*time.Hour)) // the clock does not run past the wait
	must(t, s, Command{Do: FinishUp}, late.Add(5*time.Hour))
}

func TestABoltDoneAgainLaterIsNotHeldToTheSealantsClock(t *testing.T) {
	s, now := walked(t, sealed, ok(), ok(), ok())
	later := now.Add(3 * time.Hour)
	must(t, s, Command{Do: Problem, Target: "M1", Text: "stripped"}, later)
	if at, set := s.CuredAt(); !set || at != now.Add(12*time.Hour) {
		t.Errorf("while it is open again, cured at %s, %v", at, set)
	}
	must(t, s, Command{Do: Renew, Target: "M1"}, later)
	must(t, s, ok(), later)
	must(t, s, Command{Do: Undo, Text: "not yet"}, later)
	must(t, s, ok(), later)
	must(t, s, ok(), later)
	if at, set := s.CuredAt(); !set || at != now.Add(12*time.Hour) {
		t.Errorf("cured at %s, %v", at, set)
	}
}

func TestAClockThatRunsBackwardsIsNotedAndShortensNoWait(t *testing.T) {
	s, now := walked(t, sealed, ok(), ok(), ok())
	back := now.Add(-time.Hour)
	must(t, s, Command{Do: Note, Text: "battery swapped"}, back)
	if len(s.Deviations) != 1 || !strings.Contains(s.Deviations[0].Text, "backwards by 1h") {
		t.Errorf("deviations: %+v", s.Deviations)
	}
	refuse(t, s, ok(), back.Add(4*time.Hour))
	must(t, s, ok(), now.Add(4*time.Hour))
}

func TestNoKeepsTheQuestionOpen(t *testing.T) {
	s, now := walked(t, twoBolts, ok(), ok(), ok(), ok())
	refuse(t, s, Command{Do: No}, now) // no needs a reason
	must(t, s, Command{Do: No, Text: "tight spot at 40°"}, now)
	if s.CurrentItem().Kind != AskItem {
		t.Error("a no closed the question")
	}
	must(t, s, Command{Do: Yes}, now)
}

func TestRefusalsSayWhatToDo(t *testing.T) {
	for _, c := range []struct {
		name    string
		command Command
		want    string
	}{
		{"undo of nothing", Command{Do: Undo, Text: "x"}, "nothing to undo"},
		{"yes is fine at a stage, measure is not a question", Command{Do: No, Text: "x"}, "no question"},
		{"renew of nobody", Command{Do: Renew, Target: "M9"}, "no fastener or part"},
		{"renew of a piece it has not", Command{Do: Renew, Target: "M1", Piece: "nut"}, "its pieces: fastener"},
		{"renew of a washer that may be used again", Command{Do: Renew, Target: "M1", Piece: "plain washer"}, "no piece"},
		{"lost where no angle is turned", Command{Do: Lose, Text: "x"}, "not at an angle"},
		{"reseal without sealant", Command{Do: Reseal, Text: "x"}, "no sealant"},
		{"stop without a reason", Command{Do: Stop}, "a reason is needed"},
		{"control characters are made harmless", Command{Do: Renew, Target: "\x1b[2J"}, "\uFFFD[2J"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := refuse(t, New(planOf(t, twoBolts)), c.command, start)
			if !strings.Contains(r.Error(), c.want) {
				t.Errorf("refused with %q, want %q in it", r.Error(), c.want)
			}
		})
	}
}

func TestAFigureThatIsNotFeltSendsTheFastenerBackInItsOwnWords(t *testing.T) {
	text := strings.Replace(twoBolts, `turn = "90° to 94°"`, `verify = "at least 7 N·m"`, 1)
	s, now := walked(t, text, Command{Do: Renew, Target: "M1"}, ok(), ok())
	r := refuse(t, s, Command{Do: Confirm, Reading: "6 N·m"}, now)
	if want := "M1 at 6 N·m is below 7 N·m (the sheet's limits)"; r.What != want {
		t.Errorf("got %q, want %q", r.What, want)
	}
	if due := s.Due("M1"); len(due) != 1 || due[0].Why != "it did not hold its figure" {
		t.Errorf("due: %+v", due)
	}
}
