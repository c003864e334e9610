package walk

import (
	"strings"
	"testing"
	"time"

	"evenpull/spec/ident"
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

// fit records the new pieces of what is in hand.
func fit() Command { return Command{Do: Renew} }

func measured(figure string) Command { return Command{Do: Confirm, Reading: figure} }

var m1 = ident.Fastener("M1", "M8x1.25")

// next checks what is asked for now.
func next(t *testing.T, s *State, want string) {
	t.Helper()
	if got := s.nextText(); got != want {
		t.Errorf("next is %q, want %q", got, want)
	}
}

func closed(s *State, step string) bool {
	i, ok := s.Find(step)
	return ok && s.Mark(i).Closed
}

func TestDoneIsRefusedWithTheFullListUntilNothingIsOpen(t *testing.T) {
	s, now := walked(t, twoBolts, fit(), ok())
	r := refuse(t, s, Command{Do: FinishUp}, now)
	want := []string{"Snug: M2, 8.8 N·m: not confirmed", "Turn: M1, turn 90° to 94°: not confirmed", "Turn: M2, turn 90° to 94°: not confirmed", "check: Turns freely? not answered", "renew: M2: the fastener itself (one-use)"}
	if strings.Join(r.Outstanding, "|") != strings.Join(want, "|") {
		t.Errorf("got  %q\nwant %q", r.Outstanding, want)
	}
	if last := s.Events[len(s.Events)-1]; last.Kind != Refused || len(last.Outstanding) != 5 {
		t.Errorf("the refused done is not kept: %+v", last)
	}
	must(t, s, Command{Do: Renew, Target: "m2", Number: "batch 4471"}, now)
	for range 3 {
		must(t, s, ok(), now)
		refuse(t, s, Command{Do: FinishUp}, now)
	}
	must(t, s, Command{Do: Yes}, now)
	must(t, s, Command{Do: FinishUp}, now)
	if s.Phase != IsDone {
		t.Errorf("phase is %s", s.Phase)
	}
	refuse(t, s, ok(), now)
}

func TestALostAngleSendsTheFastenerBackAndAsksForANewOne(t *testing.T) {
	s, now := walked(t, twoBolts, fit(), ok(), fit(), ok())
	must(t, s, Command{Do: Lose, Text: "socket slipped"}, now)
	next(t, s, "slacken M1 fully, before it starts again")
	must(t, s, ok(), now)
	next(t, s, "Snug: M1, 8.8 N·m")
	refuse(t, s, ok(), now)
	if due := s.Due(m1); len(due) != 1 || due[0].Why != "its angle was lost" {
		t.Errorf("due: %+v", due)
	}
	if !closed(s, "Snug/M2") {
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
		{"over is to be slackened, at a first stage too", "10 N·m", "slacken it", "slacken M1 fully, before it starts again"},
		{"another kind of unit is refused", "9 mm", "", "Snug: M1, 8.8 N·m"},
		{"a bare number is refused", "8.8", "unit", "Snug: M1, 8.8 N·m"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := walked(t, twoBolts, fit())
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
	s, now := walked(t, strings.Replace(twoBolts, "one_use = true", "", 1), ok(), ok())
	if r := refuse(t, s, measured("89°"), now); !strings.Contains(r.Remedy, "go on") {
		t.Errorf("short: %v", r)
	}
	next(t, s, "Turn: M1, turn 90° to 94°")
	if r := refuse(t, s, measured("97°"), now); r.Remedy != "slacken it and start it again from its first stage" || !strings.Contains(r.What, "beyond 90 to 94 °") {
		t.Errorf("beyond: %v", r)
	}
	next(t, s, "slacken M1 fully, before it starts again")
	must(t, s, Command{Do: Undo, Text: "misread the gauge"}, now)
	next(t, s, "Turn: M1, turn 90° to 94°")
}

func TestTroubleBlocksDoneUntilThePieceIsReplacedAndItsStagesRedone(t *testing.T) {
	s, now := walked(t, twoBolts, fit(), ok(), fit(), ok(), ok(), ok(), Command{Do: Yes})
	must(t, s, Command{Do: Problem, Target: "M1", Text: "bent"}, now)
	r := refuse(t, s, Command{Do: FinishUp}, now)
	if len(r.Outstanding) != 4 { // two stages, the check made after them, the piece
		t.Errorf("outstanding: %q", r.Outstanding)
	}
	for _, c := range []Command{fit(), ok(), ok(), {Do: Yes}, {Do: FinishUp}} {
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
	must(t, s, Command{Do: Problem, Target: "M1", Text: "seized"}, later)
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
	s, now := walked(t, twoBolts, fit(), ok(), fit(), ok(), ok(), ok())
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
		{"no at a stage", Command{Do: No, Text: "x"}, "no question"},
		{"yes at a stage", Command{Do: Yes}, "no question"},
		{"measure at a stage", Command{Do: Measure, Reading: "0.1 mm"}, "nothing is measured here"},
		{"repaired where nothing is", Command{Do: Repair, Target: "M1"}, "not what comes next"},
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
	s, now := walked(t, text, fit(), ok(), fit(), ok())
	r := refuse(t, s, Command{Do: Confirm, Reading: "6 N·m"}, now)
	if want := "M1 at 6 N·m is below 7 N·m (the sheet's limits)"; r.What != want {
		t.Errorf("got %q, want %q", r.What, want)
	}
	if due := s.Due(m1); len(due) != 1 || due[0].Why != "it did not hold its figure" {
		t.Errorf("due: %+v", due)
	}
}
