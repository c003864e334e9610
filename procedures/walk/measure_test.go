package walk

import (
	"strings"
	"testing"
)

const measuring = `format = 1
[procedure]
name = "Lay the crank in"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "22 N·m"
[[part]]
name = "end float shim"
kind = "shim"
before = "Final"
[[check]]
after = "Final"
measure = "crank end float"
min = "0.05 mm"
max = "0.20 mm"
remedy = "look at the thrust faces too"
shim = { part = "end float shim", stock = ["0.80 mm", "0.90 mm", "1.00 mm"] }
[[check]]
after = "Final"
measure = "runout"
max = "0.03 mm"
readings = 3
spread = "0.01 mm"
[[check]]
after = "Final"
measure = "primary backlash"
kind = "backlash"
pitch_radius = "32 mm"
dial_radius = "40 mm"
max = "0.12 mm"
`

func take(reading string) Command { return Command{Do: Measure, Reading: reading} }

func TestAFloatOutOfRangeChoosesAShimAndIsMeasuredAgain(t *testing.T) {
	s, now := walked(t, measuring, ok(), ok())
	r := refuse(t, s, take("0.32 mm; 0.80 mm"), now)
	if r.What != "crank end float is 0.32 mm, over the limit of 0.2 mm" || !strings.HasPrefix(r.Remedy, "fit 1 mm in place of 0.8 mm: it comes to 0.12 mm (estimate)") || !strings.HasSuffix(r.Remedy, "; look at the thrust faces too") {
		t.Errorf("refused with %q, %q", r.What, r.Remedy)
	}
	last := s.Events[len(s.Events)-1]
	if last.Kind != Rejected || last.Reading != "0.32 mm; 0.80 mm" || last.Facts["result"] != "0.32 mm" || last.Facts["choice"] != "1 mm" || last.Facts["resulting"] != "0.12 mm (estimate)" {
		t.Errorf("kept as %+v", last)
	}
	if s.CurrentItem().Kind != MeasureItem || s.CurrentItem().Check.Measure != "crank end float" {
		t.Errorf("a choice closed the check: next is %s", s.CurrentItem().Text())
	}
	must(t, s, take("float 0.12 mm, shim 1.00 mm"), now)
	if got := s.CurrentItem().Check.Measure; got != "runout" {
		t.Errorf("next is %s", got)
	}
}

func TestRepeatedReadingsAreKeptWithTheirSpread(t *testing.T) {
	s, now := walked(t, measuring, ok(), ok(), take("0.12 mm"))
	for _, c := range []struct{ reading, want string }{
		{"0.02 mm", "runout: it gives 1 of 3: reading; give all of them together: 0.015 mm; 0.015 mm; 0.015 mm"},
		{"0.01 mm; 0.02 mm; 0.03 mm", "runout is 0.01 mm to 0.03 mm, mean 0.02 mm: 0.02 mm apart, over the 0.01 mm allowed; measure again"},
		{"0.03 mm; 0.03 mm; 0.04 mm", "runout is 0.04 mm, over the limit of 0.03 mm; put it right and measure again"},
		{"0.02 N·m; 0.02 mm; 0.02 mm", "runout: 0.02 N·m is torque, and length is measured; give it in a unit like 0.015 mm"},
	} {
		if r := refuse(t, s, take(c.reading), now); r.Error() != c.want {
			t.Errorf("%s\ngot  %s\nwant %s", c.reading, r.Error(), c.want)
		}
	}
	kept := 0
	for _, e := range s.Events {
		if e.Kind == Rejected {
			kept++
		}
	}
	if kept != 2 { // what was understood, not what was not
		t.Errorf("%d refused readings kept", kept)
	}
	must(t, s, take("0.02 mm; 0.03 mm; 0.02 mm"), now)
	facts := s.Events[len(s.Events)-1].Facts
	if facts["spread"] != "0.01 mm" || !strings.HasPrefix(facts["result"], "0.02 mm to 0.03 mm, mean 0.0233") {
		t.Errorf("facts: %v", facts)
	}
}

// What is worked out is judged, not what was read: 0.15 mm on the dial is
// 0.12 mm at the pitch circle. The facts given along stay, and are not written to.
func TestTheResultIsJudgedAndKeptBesideTheFactsGiven(t *testing.T) {
	s, now := walked(t, measuring, ok(), ok(), take("0.12 mm"), take("0.02 mm; 0.02 mm; 0.02 mm"))
	r := refuse(t, s, take("0.16 mm"), now)
	if !strings.HasPrefix(r.What, "primary backlash works out at 0.128 mm, over the limit of 0.12 mm") {
		t.Errorf("refused with %q", r.What)
	}
	given := map[string]string{"gauge": "dial 2"}
	must(t, s, Command{Do: Measure, Reading: "0.15 mm", Facts: given}, now)
	facts := s.Events[len(s.Events)-1].Facts
	if facts["result"] != "0.12 mm" || facts["why"] == "" || facts["gauge"] != "dial 2" || len(given) != 1 {
		t.Errorf("facts %v, given %v", facts, given)
	}
	must(t, s, Command{Do: FinishUp}, now)
}

// A record that claims a result its reading does not come to is not believed.
func TestAForgedResultDoesNotCount(t *testing.T) {
	s, now := walked(t, measuring, ok(), ok())
	forged := Event{Seq: len(s.Events) + 1, At: now, Kind: Measured, Item: s.CurrentItem().Key().String(), Reading: "0.32 mm; 0.80 mm", Facts: map[string]string{"result": "0.12 mm"}}
	read := New(s.Plan)
	if findings := Replay(read, append(append([]Event{}, s.Events...), forged)); len(findings) != 1 || read.CurrentItem().Check.Measure != "crank end float" {
		t.Errorf("findings %v", findings)
	}
}

func TestASingleFigureAsReadNeedsNoFacts(t *testing.T) {
	s, _ := walked(t, measuring, ok(), ok(), take("0.12 mm"))
	if facts := s.Events[len(s.Events)-1].Facts; facts != nil {
		t.Errorf("facts: %v", facts)
	}
}

// A figure that was refused and sent nothing back is no step: undo takes back the one before it.
// Where the sheet says what starts again by it, that is what is given back.
func TestUndoPassesOverAFigureThatWasRefused(t *testing.T) {
	s, now := walked(t, measuring, ok(), ok())
	refuse(t, s, take("0.3 mm"), now)
	must(t, s, Command{Do: Undo, Text: "not pulled"}, now)
	next(t, s, "Final: M1, 22 N·m")

	s, now = walked(t, strings.Replace(measuring, "remedy =", "no_restarts = [\"M1\"]\nremedy =", 1), ok(), ok())
	refuse(t, s, take("0.3 mm"), now)
	next(t, s, "slacken M1 fully, before it starts again")
	must(t, s, Command{Do: Undo, Text: "misread"}, now)
	if !closed(s, "Final/M1") || s.CurrentItem().Kind != MeasureItem {
		t.Errorf("undone, next is %s", s.nextText())
	}
}
