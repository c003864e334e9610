package walk

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"evenpull/spec/ident"
)

func TestANoSendsBackWhatItNamesAndWhatTheSheetSays(t *testing.T) {
	text := strings.Replace(joint, `ask = "Turns freely?"`, "ask = \"Turns freely?\"\nno_restarts = [\"M2\"]", 1)
	s := New(planOf(t, text))
	now := start
	for s.CurrentItem().Kind != AskItem || s.CurrentItem().Check.Ask != "Turns freely?" {
		now = now.Add(time.Minute)
		forward(t, s, now)
	}
	refuse(t, s, Command{Do: No, Restarts: []string{"M9"}, Text: "x"}, now)
	refuse(t, s, Command{Do: Yes, Restarts: []string{"M1"}}, now)
	must(t, s, Command{Do: No, Text: "tight spot"}, now)
	if e := s.Events[len(s.Events)-1]; len(e.Restarts) != 1 || e.Restarts[0] != "M2" {
		t.Errorf("the record names %v as loose, want M2 as the sheet says", e.Restarts)
	}
	if i, _ := s.Find("check:turns-freely"); s.Mark(i).Answer != "no" || s.Mark(i).Closed {
		t.Errorf("what was answered is kept as %+v", s.Mark(i))
	}
	next(t, s, "slacken M2 fully, before it starts again")
	if closed(s, "Snug/M2") || !closed(s, "Snug/M1") {
		t.Error("M2 alone should start again")
	}
	must(t, s, Command{Do: Undo, Text: "not so"}, now)
	must(t, s, Command{Do: No, Restarts: []string{"m1"}, Text: "tight spot"}, now)
	if closed(s, "Snug/M2") || closed(s, "Snug/M1") {
		t.Error("M1, named, and M2, of the sheet, should both start again")
	}
	for s.CurrentItem() != nil && s.CurrentItem().Kind != WaitItem {
		forward(t, s, now)
	}
	refuse(t, New(planOf(t, joint)), Command{Do: No, Restarts: []string{"M1"}, Text: "x"}, start) // not tightened yet
}

// A check that says what it is about is asked again for that and nothing else.
func TestACheckIsAskedAgainForWhatItIsAbout(t *testing.T) {
	text := strings.Replace(joint, `ask = "Faces clean?"`, "ask = \"Faces clean?\"\nof = [\"gasket\"]", 1)
	text = strings.Replace(text, `ask = "No gap?"`, "ask = \"No gap?\"\nof = [\"M2\"]", 1)
	s := New(planOf(t, text))
	for s.Current() < len(s.Items)-1 {
		forward(t, s, start.Add(time.Duration(len(s.Events))*10*time.Minute/4))
		if it := s.CurrentItem(); it.Kind == WaitItem {
			break
		}
	}
	must(t, s, Command{Do: Problem, Target: "M1", Text: "bent"}, s.LastAt())
	if !closed(s, "check:faces-clean") || !closed(s, "check:no-gap") || closed(s, "check:turns-freely") {
		t.Error("M1 replaced: only the question that is about nothing in particular is asked again")
	}
	must(t, s, Command{Do: Problem, Target: "M2", Text: "bent"}, s.LastAt())
	if !closed(s, "check:faces-clean") || closed(s, "check:no-gap") {
		t.Error("M2 replaced: the question about M2 is asked again, the one about the gasket is not")
	}
}

func TestAOneUseBoltPulledBeyondItsFigureIsNotGivenBack(t *testing.T) {
	s, now := walked(t, twoBolts, fit(), ok(), fit(), ok())
	refuse(t, s, measured("97°"), now)
	r := refuse(t, s, Command{Do: Undo, Text: "misread"}, now)
	if !strings.Contains(r.Error(), "stays used") {
		t.Errorf("refused with %q", r)
	}
	must(t, s, ok(), now) // slackened
	refuse(t, s, ok(), now)
	must(t, s, Command{Do: Renew, Number: "lot 2"}, now)
	must(t, s, Command{Do: Undo, Text: "wrong bag"}, now)
	if len(s.Due(m1)) != 1 {
		t.Error("the bolt that was pulled too far counts as new")
	}
	must(t, s, Command{Do: Undo, Text: "not slack"}, now)
	refuse(t, s, Command{Do: Undo, Text: "misread"}, now)
}

func TestANewPieceIsRecordedWhereItGoesInAndNotAfter(t *testing.T) {
	s, now := walked(t, twoBolts)
	if r := refuse(t, s, Command{Do: Renew, Target: "M2"}, now); !strings.Contains(r.What, "where it goes in, at: Snug: M2") {
		t.Errorf("refused with %q", r)
	}
	must(t, s, fit(), now)
	must(t, s, ok(), now)
	if r := refuse(t, s, Command{Do: Renew, Target: "M1"}, now); len(r.Ways) != 1 || r.Ways[0].Do != Problem || r.Ways[0].Target != "M1" {
		t.Errorf("a tightened bolt: refused with %q, ways %v", r, r.Ways)
	}
	must(t, s, Command{Do: Problem, Target: "M1", Text: "bent"}, now)
	next(t, s, "Snug: M1, 8.8 N·m")
}

// While the old bolt is still in, a new one cannot have gone in.
func TestANewPieceIsNotRecordedWhileTheOldOneIsIn(t *testing.T) {
	s, now := walked(t, twoBolts, fit(), ok(), fit(), ok())
	refuse(t, s, measured("97°"), now)
	next(t, s, "slacken M1 fully, before it starts again")
	if r := refuse(t, s, Command{Do: Renew, Number: "lot 2"}, now); !strings.Contains(r.What, "first this: slacken M1") || !strings.Contains(r.What, "at: Snug: M1") {
		t.Errorf("before it is slack: refused with %q", r)
	}
	must(t, s, ok(), now)
	must(t, s, Command{Do: Renew, Number: "lot 2"}, now)

	must(t, s, Command{Do: Confirm}, now)
	must(t, s, Command{Do: Problem, Target: "M1", Text: "stripped, case", Facts: map[string]string{StrippedAt: InCase}}, now)
	if r := refuse(t, s, Command{Do: Renew, Number: "lot 3"}, now); !strings.Contains(r.What, "first this: repair the thread") {
		t.Errorf("before the thread is good: refused with %q", r)
	}

	s, now = walked(t, strings.Replace(twoBolts, "[[pass]]", "[[pass]]\nname = \"Back off\"\ngroups = [\"main\"]\nloosen = \"fully\"\n[[pass]]", 1))
	next(t, s, "Back off: M1, loosen fully")
	if r := refuse(t, s, Command{Do: Renew, Number: "lot 1"}, now); !strings.Contains(r.What, "first this: Back off: M1") {
		t.Errorf("before it is loosened: refused with %q", r)
	}
}

func TestTheNumberOfAReplacedPieceIsAskedFor(t *testing.T) {
	s, now := walked(t, twoBolts, Command{Do: Renew, Number: "lot 1"}, ok())
	must(t, s, Command{Do: Problem, Target: "M1", Text: "bent"}, now)
	r := refuse(t, s, Command{Do: Renew}, now)
	if !strings.Contains(r.What, "lot 1") {
		t.Errorf("refused with %q", r)
	}
	must(t, s, Command{Do: Renew, Number: "none"}, now)
	if p := s.Pieces()[0]; p.Number != "" || !p.Renewed {
		t.Errorf("a piece without a number is kept as %+v", p)
	}
	s, now = walked(t, twoBolts, Command{Do: Renew, Number: "lot 1"}, ok(), fit(), ok())
	refuse(t, s, Command{Do: Renew}, now) // of one that is in hand and tightened
	must(t, s, Command{Do: Renew, Number: "lot 2"}, now)
	if p := s.Pieces()[0]; p.Number != "lot 2" {
		t.Errorf("number is %q", p.Number)
	}
	next(t, s, "Snug: M1, 8.8 N·m")
}

// A part number is the sheet's, a batch number the bag's: only the second is
// asked for again.
func TestAPartNumberIsNoBatchNumber(t *testing.T) {
	s, now := closedUp(t)
	must(t, s, Command{Do: Lose, Target: "M1", Text: "slipped"}, now)
	if due := s.Due(m1); len(due) != 1 || due[0].Number != "OS-5" || due[0].Was != "lot 1" {
		t.Errorf("due: %+v, want OS-5 again, and that the last was of lot 1", due)
	}
	plain := New(planOf(t, joint))
	for plain.CurrentItem().Kind != StageItem {
		if len(plain.DueNow()) > 0 {
			must(t, plain, Command{Do: Renew}, start)
			continue
		}
		forward(t, plain, start)
	}
	must(t, plain, Command{Do: Renew}, start) // by the sheet's number alone
	must(t, plain, ok(), start)
	must(t, plain, Command{Do: Problem, Target: "M1", Text: "bent"}, start)
	if due := plain.Due(m1); len(due) != 2 || due[0].Was != "" || due[1].Was != "" {
		t.Errorf("due: %+v, and no batch number was ever given", due)
	}
}

func TestAStrippedThreadInTheCaseIsRepairedFirst(t *testing.T) {
	s, now := walked(t, twoBolts, fit(), ok())
	r := refuse(t, s, Command{Do: Problem, Target: "M1", Text: "Stripped"}, now)
	if len(r.Ways) != 2 || !strings.Contains(r.What, "which thread stripped") {
		t.Errorf("refused with %q, ways %v", r, r.Ways)
	}
	refuse(t, s, Command{Do: Problem, Target: "M1", Text: "stripped", Facts: Facts{StrippedAt: "head"}}, now)
	must(t, s, Command{Do: Problem, Target: "M1", Text: "stripped", Facts: Facts{StrippedAt: InCase}}, now)
	next(t, s, "repair the thread in the case at M1")
	refuse(t, s, ok(), now)
	some := Facts{"insert": "wire coil", "size": "M8x1.25", "by": "the shop", "torque": "as the sheet", "engagement": "14 mm"}
	if r := refuse(t, s, Command{Do: Repair, Facts: some}, now); !strings.Contains(r.What, "said: drive") {
		t.Errorf("refused with %q", r)
	}
	some["colour"] = "blue"
	some["drive"] = "as the sheet"
	refuse(t, s, Command{Do: Repair, Facts: some}, now)
	delete(some, "colour")
	must(t, s, Command{Do: Repair, Facts: some}, now)
	if s.RepairOf("M1")["by"] != "the shop" {
		t.Errorf("kept of the repair: %v", s.RepairOf("M1"))
	}
	next(t, s, "Snug: M1, 8.8 N·m")
	must(t, s, Command{Do: Problem, Target: "M1", Text: "stripped", Facts: Facts{StrippedAt: InBolt}}, now)
	next(t, s, "Snug: M1, 8.8 N·m")
}

const stretching = `format = 1
[procedure]
name = "Rods"
direction = "close"
source = "invented"
[group.rod]
thread = "M8x1"
class = "10.9"
[group.rod.at]
A1 = [0, 0]
[[pass]]
name = "Stretch"
groups = ["rod"]
stretch = "0.12 mm to 0.15 mm"
ceiling = "45 N·m"
`

func TestAStretchNeedsItsReadingAndItsTorque(t *testing.T) {
	a1 := ident.Fastener("A1", "M8x1")
	for _, c := range []struct {
		name, reading, want string
		newBolt             bool
	}{
		{"nothing read", "", "known by measuring alone", false},
		{"the stretch and the torque", "0.13 mm at 40 N·m", "", false},
		{"both lengths", "free 65,20 mm, now 65,33 mm, at 40 N·m", "", false},
		{"no torque where there is a ceiling", "0.13 mm", "the torque it took is missing", false},
		{"short", "0.10 mm at 40 N·m", "go on until it is reached, but never over 45 N·m", false},
		{"beyond", "0.16 mm at 40 N·m", "fit a new bolt", true},
		{"in range, over the ceiling", "0.13 mm at 46 N·m", "over the ceiling of 45 N·m", true},
		{"short, over the ceiling", "0.05 mm at 46 N·m", "over the ceiling of 45 N·m", true},
		{"shorter than free", "free 65.33 mm, now 65.20 mm, at 40 N·m", "shorter than", false},
		{"a length for a stretch", "65.33 mm at 40 N·m", "not what it stretched", false},
		{"a torque for a stretch", "40 N·m", "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, now := walked(t, stretching)
			if c.want == "" && !strings.Contains(c.reading, "mm") {
				refuse(t, s, measured(c.reading), now)
				return
			}
			if c.want == "" {
				must(t, s, measured(c.reading), now)
				must(t, s, Command{Do: FinishUp}, now)
				return
			}
			if r := refuse(t, s, measured(c.reading), now); !strings.Contains(r.Error(), c.want) || strings.Contains(r.Error(), "slacken it and start") {
				t.Errorf("refused with %q, want %q", r, c.want)
			}
			if due := s.Due(a1); (len(due) == 1) != c.newBolt {
				t.Errorf("due: %+v, want a new bolt: %v", due, c.newBolt)
			}
		})
	}
}

func TestOnlyWhatAnItemTakesIsAccepted(t *testing.T) {
	s := New(planOf(t, joint))
	for _, want := range []string{"part: gasket", "check: Faces clean?", "threads of main: oil the threads", "first smear of sealant"} {
		if len(s.DueNow()) > 0 {
			must(t, s, fit(), start)
		}
		if got := s.nextText(); got != want {
			t.Fatalf("next is %q, want %q", got, want)
		}
		if r := refuse(t, s, measured("20 N·m"), start); len(s.Events) > 0 && s.Events[len(s.Events)-1].Kind == Rejected {
			t.Errorf("a torque at %q was kept: %v", s.nextText(), r)
		}
		refuse(t, s, Command{Do: Measure, Reading: "0.1 mm"}, start)
		if s.CurrentItem().Kind != AskItem {
			refuse(t, s, Command{Do: Yes}, start)
			refuse(t, s, Command{Do: No, Text: "x"}, start)
		}
		forward(t, s, start)
	}
}

func TestWordsLiftNoRenewal(t *testing.T) {
	bolt := Carried{ID: "M1", Fastener: true, Name: "M1", Count: 1, Facts: Facts{Condition: "stretched"}}
	s, now := walked(t, closing, bring(bolt))
	if r := refuse(t, s, Command{Do: Account, Target: "M1", Text: "it looks fine"}, now); !strings.Contains(r.Error(), "a new one goes in") {
		t.Errorf("refused with %q", r)
	}
	gasket := Carried{ID: "gasket", Name: "gasket", Count: 1}
	s, now = walked(t, joint, bring(gasket))
	refuse(t, s, Command{Do: Account, Target: "gasket", Text: "left out"}, now)
}

func TestACorrectedCondemnationLiftsWhatItAskedFor(t *testing.T) {
	bolt := Carried{ID: "M1", Fastener: true, Thread: "M8x1.25", Name: "M1", Count: 1, Facts: Facts{Condition: "stretched"}, Record: "r1"}
	s, now := walked(t, closing, bring(bolt))
	if len(s.Due(m1)) != 1 {
		t.Fatal("a stretched bolt is not due new")
	}
	bolt.Facts = Facts{Condition: "good"}
	must(t, s, bring(bolt), now)
	if due := s.Due(m1); len(due) != 0 {
		t.Errorf("corrected to good, and still due: %+v", due)
	}
	bolt.Facts = Facts{Condition: "stretched"}
	must(t, s, bring(bolt), now)
	must(t, s, bring(), now) // another walk has had it since
	if due := s.Due(m1); len(due) != 0 {
		t.Errorf("no longer off, and still due: %+v", due)
	}
}

// What another walk took off is open again here, once, and the person is told.
func TestAJointTakenApartElsewhereIsOpenAgain(t *testing.T) {
	gasket := Carried{ID: "gasket", Name: "gasket", Count: 1, Record: "r1"}
	s, now := closedUp(t)
	must(t, s, bring(gasket), now)
	if closed(s, "part:gasket") || len(s.Due(ident.Part("gasket"))) != 1 {
		t.Error("the gasket came off again and counts as in")
	}
	if d := s.Deviations[len(s.Deviations)-1].Text; !strings.Contains(d, "taken apart again by another walk: gasket") {
		t.Errorf("said: %s", d)
	}
	must(t, s, Command{Do: Renew, Number: "lot 3"}, now)
	must(t, s, ok(), now)
	must(t, s, bring(gasket), now) // the same record: no news
	if !closed(s, "part:gasket") {
		t.Error("the same strip-down opened it twice")
	}
	both := []Carried{{ID: "M1", Fastener: true, Name: "M1", Count: 1, Record: "r2"}, {ID: "M2", Fastener: true, Name: "M2", Count: 1, Record: "r2"}}
	must(t, s, bring(both...), now)
	if closed(s, "sealant") {
		t.Error("nothing holds the joint and its sealant counts as whole")
	}
}

// Only what is on the joint can be sealed afresh.
func TestNothingIsSealedAfreshBeforeItIsSealed(t *testing.T) {
	for _, sheet := range []string{sealed, twoBolts} {
		if r := refuse(t, New(planOf(t, sheet)), Command{Do: Reseal, Text: "smeared off"}, start); r.What != "no sealant is on the joint" {
			t.Errorf("refused with %q", r)
		}
	}
	s, now := walked(t, sealed, ok(), Command{Do: Undo, Text: "not yet"})
	refuse(t, s, Command{Do: Reseal, Text: "smeared off"}, now)
}

func TestTheSealantIsSpentWhenTheClockGoesBehindIt(t *testing.T) {
	s, now := walked(t, sealed, ok(), ok())
	r := refuse(t, s, ok(), start.Add(-time.Hour))
	if !strings.Contains(r.What, "set back behind the first smear") {
		t.Errorf("refused with %q", r)
	}
	must(t, s, Command{Do: Note, Text: "clock set"}, now.Add(19*time.Minute+30*time.Second))
	if r := refuse(t, s, ok(), now); r == nil {
		t.Error("setting the clock back gave work time back")
	}
	if left, _ := s.SealantLeft(now); left >= 0 {
		t.Errorf("left %s", left)
	}
}

// A record walked under the rules of before is read by them, up to where it is
// opened again.
func TestOldRecordsAreReadByTheirOwnRules(t *testing.T) {
	p := planOf(t, twoBolts)
	late := []Event{
		{Kind: Confirmed, Item: "Snug/M1"}, {Kind: Confirmed, Item: "Snug/M2"}, {Kind: Confirmed, Item: "Turn/M1"}, {Kind: Confirmed, Item: "Turn/M2"},
		{Kind: Answered, Item: "check:turns-freely", Answer: "yes"}, {Kind: Renewed, Fastener: "M1", Piece: Itself}, {Kind: Renewed, Fastener: "M2", Piece: Itself}, {Kind: Done},
	}
	for i := range late {
		late[i].Seq, late[i].At = i+1, start.Add(time.Duration(i)*time.Minute)
	}
	old := CourseOf(p, 0).Start()
	if findings := Replay(old, late); len(findings) > 0 || old.Phase != IsDone {
		t.Errorf("an old done: %s, %v", old.Phase, findings)
	}
	if findings := Replay(New(p), late); len(findings) == 0 {
		t.Error("the same events are earned under the rules of today")
	}
	half := CourseOf(p, FirstRules).Start()
	Replay(half, late[:1])
	must(t, half, Command{Do: Resume}, start.Add(time.Hour))
	if half.Rules() != Rules {
		t.Errorf("opened again, it goes on under rules %d", half.Rules())
	}
	refuse(t, half, ok(), start.Add(time.Hour)) // M2 is due new
	again := CourseOf(p, FirstRules).Start()
	if findings := Replay(again, half.Events); len(findings) > 0 || again.Rules() != Rules {
		t.Errorf("replayed: rules %d, %v", again.Rules(), findings)
	}
	must(t, half, Command{Do: Renew, Target: "M2"}, start.Add(time.Hour))
	for _, c := range []Command{ok(), {Do: Renew, Target: "M1"}} { // M1 was recorded late: it starts again
		must(t, half, c, start.Add(time.Hour))
	}
	next(t, half, "Snug: M1, 8.8 N·m")
}

// Opened again by the same rules, or by a program of before, a walk goes on as it did and nothing is said of it.
func TestRulesNeverGoBack(t *testing.T) {
	p := planOf(t, twoBolts)
	for _, c := range []struct{ walked, opened, goesOn, said int }{{FirstRules, FirstRules, FirstRules, 0}, {FirstRules, Rules, Rules, 1}, {Rules, Rules, Rules, 0}, {Rules, FirstRules, Rules, 0}, {findRules, Rules, Rules, 0}} {
		s := CourseOf(p, c.walked).Start()
		s.Apply(Event{Seq: 1, At: start, Kind: Resumed, Facts: map[string]string{rulesFact: strconv.Itoa(c.opened)}})
		if s.Rules() != c.goesOn || len(s.Deviations) != c.said {
			t.Errorf("walked by %d and opened by %d it goes on by %d, and is said: %v", c.walked, c.opened, s.Rules(), s.Deviations)
		}
	}
}
