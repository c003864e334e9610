package walk

import (
	"strings"
	"testing"
	"time"
)

const waiting = `format = 1
[procedure]
name = "Settle first"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
[[pass]]
name = "Warm through"
wait = "1h"
[[pass]]
name = "Snug"
groups = ["main"]
torque = "9 N·m"
[[pass]]
name = "Settle"
wait = "4h"
[[pass]]
name = "Final"
groups = ["main"]
torque = "22 N·m"
`

// A wait begins when all before it is confirmed; the first of all when the walk
// was begun.
func TestAWaitBeginsWithWhatCameLast(t *testing.T) {
	s := New(planOf(t, waiting))
	must(t, s, Command{Do: Note, Text: "heater on"}, start)
	must(t, s, Command{Do: Note, Text: "kettle on"}, start.Add(30*time.Minute))
	refuse(t, s, ok(), start.Add(59*time.Minute))
	must(t, s, ok(), start.Add(time.Hour))
	must(t, s, ok(), start.Add(2*time.Hour))
	if r := refuse(t, s, ok(), start.Add(5*time.Hour)); !strings.Contains(r.Error(), "1 h to go") {
		t.Errorf("refused with %q, want an hour to go", r)
	}
	if left := s.WaitLeft(s.Current(), start.Add(2*time.Hour)); left != 4*time.Hour {
		t.Errorf("at its start %s are left", left)
	}
	if left := s.WaitLeft(s.Current(), start); left != 4*time.Hour {
		t.Errorf("with the clock set back %s are left, want all of it", left)
	}
	must(t, s, ok(), start.Add(6*time.Hour))
	must(t, s, ok(), start.Add(6*time.Hour))
	must(t, s, Command{Do: FinishUp}, start.Add(6*time.Hour))
}

// What is under the sealant's clock, and what is not.
func TestTheClockHoldsToTheLastStageUnderIt(t *testing.T) {
	s, now := walked(t, sealed, ok(), ok())
	late := now.Add(20*time.Minute - time.Minute) // twenty minutes after the smear, to the second
	if left, running := s.SealantLeft(late); left != 0 || !running {
		t.Errorf("left %s, running %v", left, running)
	}
	must(t, s, ok(), late) // on the last second
	if _, running := s.SealantLeft(late); running {
		t.Error("the clock runs on past its last stage")
	}
	if at, ok := s.CuredAt(); !ok || at != late.Add(12*time.Hour) {
		t.Errorf("cured at %s, %v", at, ok)
	}
	fresh := New(planOf(t, sealed))
	if _, running := fresh.SealantLeft(start); running {
		t.Error("a clock runs before the first smear")
	}
	if _, ok := fresh.CuredAt(); ok {
		t.Error("it cures before it is smeared")
	}
}

// Under the first rules a stretch beyond its limit was slackened, not replaced,
// and a clock set back gave time.
func TestTheFirstRulesHoldForWhatWasWalkedByThem(t *testing.T) {
	old := CourseOf(planOf(t, stretching), FirstRules).Start()
	events := []Event{
		{Seq: 1, At: start, Kind: Rejected, Item: "Stretch/A1", Reading: "0.2 mm", Text: "beyond"},
		{Seq: 2, At: start, Kind: Confirmed, Item: "Stretch/A1"},
		{Seq: 3, At: start, Kind: Done},
	}
	if findings := Replay(old, events); len(findings) > 0 || old.Phase != IsDone {
		t.Errorf("phase %s, %v", old.Phase, findings)
	}
	old = CourseOf(planOf(t, stretching), FirstRules).Start()
	if findings := Replay(old, []Event{{Seq: 1, At: start, Kind: Confirmed, Item: "Stretch/A1", Reading: "0.13 mm"}}); len(findings) > 0 {
		t.Errorf("a stretch without its torque: %v", findings)
	}
	old = CourseOf(planOf(t, stretching), FirstRules).Start()
	if findings := Replay(old, []Event{{Seq: 1, At: start, Kind: Confirmed, Item: "Stretch/A1", Reading: "0.2 mm"}}); len(findings) != 1 {
		t.Error("a stretch out of its window is earned")
	}
	seal := CourseOf(planOf(t, sealed), FirstRules).Start()
	back := []Event{{Seq: 1, At: start, Kind: Confirmed, Item: "sealant"}, {Seq: 2, At: start.Add(-time.Hour), Kind: Confirmed, Item: "Snug/M1"}}
	if findings := Replay(seal, back); len(findings) > 0 {
		t.Errorf("a clock set back: %v", findings)
	}
	part := CourseOf(planOf(t, joint), FirstRules).Start()
	fitted := []Event{{Seq: 1, At: start, Kind: Renewed, Item: "part:gasket", Piece: "gasket"}}
	if Replay(part, fitted); !closed(part, "part:gasket") {
		t.Error("a part renewed under the first rules was fitted in the same breath")
	}
	words := CourseOf(planOf(t, closing), FirstRules).Start()
	bolt := Carried{ID: "M1", Fastener: true, Name: "M1", Count: 1, Facts: Facts{Condition: "stretched"}}
	Replay(words, []Event{{Seq: 1, At: start, Kind: Brought, Brought: []Carried{bolt}}, {Seq: 2, At: start, Kind: Accounted, Fastener: "M1", Text: "it looks fine"}})
	if len(words.Due(m1)) > 0 {
		t.Error("under the first rules words lifted a renewal")
	}
}
