package walk

import (
	"reflect"
	"strings"
	"testing"
)

const takingApart = `format = 1
[procedure]
name = "Open the head"
direction = "open"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
[[pass]]
name = "Out"
groups = ["main"]
remove = true
[[part]]
name = "head"
[[check]]
after = "Out"
measure = "guide clearance"
min = "0.02 mm"
max = "0.08 mm"
readings = 2
spread = "0.01 mm"
of = ["head"]
[[check]]
after = "Out"
ask = "Seats free of pits?"
`

// On the way apart a no and a figure out of its limits are findings, and the walk goes on.
func TestAFindingHoldsNothingUpOnTheWayApart(t *testing.T) {
	s, now := walked(t, takingApart, ok(), ok())
	if r := refuse(t, s, take("0.05 mm; 0.12 mm"), now); !strings.Contains(r.Error(), "measure again") {
		t.Errorf("scattered readings refused with %q", r)
	}
	must(t, s, take("0.11 mm; 0.12 mm"), now)
	refuse(t, s, Command{Do: No}, now) // without a reason
	must(t, s, Command{Do: No, Text: "two pits in the left one"}, now)
	want := []Fault{
		{ID: "guide-clearance", What: "guide clearance", Found: "is 0.12 mm, over the limit of 0.08 mm", Where: "head", Reading: "0.11 mm; 0.12 mm", Min: "0.02 mm", Max: "0.08 mm", At: now},
		{ID: "seats-free-of-pits", What: "Seats free of pits?", Found: "two pits in the left one", Where: "after Out", At: now},
	}
	if got := s.Faults(); !reflect.DeepEqual(got, want) {
		t.Errorf("found\n%+v, want\n%+v", got, want)
	}
	must(t, s, Command{Do: Undo, Text: "it was the lamp"}, now)
	if got := s.Faults(); !reflect.DeepEqual(got, want[:1]) {
		t.Errorf("after undo found %+v", got)
	}
	must(t, s, Command{Do: Yes}, now)
	must(t, s, Command{Do: FinishUp}, now)
}

// A bolt may be tightened on the way apart, to hold something. A no that says it came loose is a
// finding as any other, and sends nothing back.
func TestOnTheWayApartANoSendsNoBoltBack(t *testing.T) {
	const held = "[[pass]]\nname = \"Hold\"\ngroups = [\"main\"]\ntorque = \"9 N·m\"\n[[check]]\nafter = \"Hold\"\nask = \"Puller square?\"\nno_restarts = [\"M1\"]\n"
	s, now := walked(t, strings.Replace(takingApart, "[[pass]]", held+"[[pass]]", 1), ok())
	must(t, s, Command{Do: No, Text: "it slipped"}, now)
	if got := s.Faults(); len(got) != 1 || got[0].Found != "it slipped" || !closed(s, "check:puller-square") || !closed(s, "Hold/M1") {
		t.Errorf("found %+v, the question closed: %v, the bolt tight: %v", got, closed(s, "check:puller-square"), closed(s, "Hold/M1"))
	}
}

// Under the rules of before they held it up; opened again it goes on by these.
func TestFindingsAreOfTheFourthRules(t *testing.T) {
	p := planOf(t, takingApart)
	s := CourseOf(p, strictRules).Start()
	must(t, s, ok(), start)
	must(t, s, ok(), start)
	refuse(t, s, take("0.11 mm; 0.12 mm"), start)
	must(t, s, Command{Do: Resume}, start)
	must(t, s, take("0.11 mm; 0.12 mm"), start)
	again := CourseOf(p, strictRules).Start()
	if findings := Replay(again, s.Events); len(findings) > 0 || len(again.Faults()) != 1 {
		t.Errorf("replayed: %v, found %v", findings, again.Faults())
	}
}

var (
	clearance = Fault{ID: "guide-clearance", What: "guide clearance", Found: "is 0.12 mm, over the limit of 0.08 mm", Min: "0.02 mm", Max: "0.08 mm", Record: "r1", At: start}
	pits      = Fault{ID: "seats", What: "Seats free of pits?", Found: "two pits", Record: "r1", At: start}
)

func answer(how string, more ...string) Command {
	c := Command{Do: Settle, Facts: Facts{How: how}}
	if len(more) > 0 {
		c.Facts[By] = more[0]
	}
	return c
}

func TestTheCloseUpAnswersWhatWasFound(t *testing.T) {
	for _, c := range []struct {
		name    string
		found   Fault
		refused []Command // each with its reason
		why     []string
		taken   Command
		said    string
	}{
		{"never by an empty enter", pits, []Command{ok(), {Do: Yes}, {Do: Settle}, {Do: No, Text: "x"}}, []string{"found at strip-down: Seats free of pits? no: two pits; say what was done about it"}, answer(ByRepair, "the shop"), "repaired by the shop"},
		{"repaired needs a name", pits, []Command{answer(ByRepair), answer(ByRepair, " ")}, []string{"repaired by whom?"}, answer(ByNew), "replaced"},
		{"a question has no figure", pits, []Command{take("0.05 mm"), measured("0.05 mm")}, []string{"nothing was measured there"}, answer(ByNew), "replaced"},
		{"measured again within its limits", clearance, []Command{take("0.09 mm"), take("0.05"), take("5 N·m"), take("")}, []string{"guide clearance is 0.09 mm, over the limit of 0.08 mm", "no unit", "length is measured", "empty"}, take("0.05 mm"), "measured again, 0.05 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, now := walked(t, joint, Command{Do: Bring, Faults: []Fault{c.found}})
			for i, cmd := range c.refused {
				if r := refuse(t, s, cmd, now); !strings.Contains(r.Error(), c.why[min(i, len(c.why)-1)]) {
					t.Errorf("%+v refused with %q", cmd, r)
				}
			}
			must(t, s, c.taken, now)
			if said := s.Deviations[len(s.Deviations)-1].Text; said != "found at strip-down: "+c.found.Text()+": "+c.said {
				t.Errorf("said %q", said)
			}
			if s.CurrentItem().Kind == FaultItem || len(s.FaultsOpen()) > 0 {
				t.Errorf("answered, and next is %s", s.CurrentItem().Text())
			}
			refuse(t, s, Command{Do: Settle, Target: c.found.ID, Facts: Facts{How: ByNew}}, now) // it has been
		})
	}
}

// What can be answered only once it is together is put off, and holds done up.
func TestAFindingPutOffIsAskedAtTheEnd(t *testing.T) {
	s, now := walked(t, closing, Command{Do: Bring, Faults: []Fault{pits, clearance}})
	refuse(t, s, Command{Do: Later}, now) // why?
	must(t, s, Command{Do: Later, Text: "the seats are cut tomorrow"}, now)
	must(t, s, Command{Do: Later, Text: "measured once it is in"}, now)
	refuse(t, s, Command{Do: Later, Text: "x"}, now) // what the sheet lays out comes when it says
	must(t, s, Command{Do: Undo, Text: "it can be measured now"}, now)
	if it := s.CurrentItem(); it.Kind != FaultItem || it.Fault.ID != clearance.ID {
		t.Fatalf("after undo next is %s", it.Text())
	}
	must(t, s, Command{Do: Settle, Target: "seats", Facts: Facts{How: ByNew}}, now) // by its name, though not in hand
	must(t, s, take("0.05 mm"), now)
	for range 3 {
		must(t, s, ok(), now)
	}
	must(t, s, Command{Do: FinishUp}, now)

	s, now = walked(t, closing, Command{Do: Bring, Faults: []Fault{pits}}, Command{Do: Later, Text: "x"}, ok(), ok(), ok())
	r := refuse(t, s, Command{Do: FinishUp}, now)
	if got := strings.Join(r.Outstanding, "|"); got != "found at strip-down: Seats free of pits? no: two pits: not answered" {
		t.Errorf("outstanding %s", got)
	}
	refuse(t, s, Command{Do: Later, Text: "x"}, now) // once only
	refuse(t, s, ok(), now)
	must(t, s, answer(ByNew), now)
	must(t, s, Command{Do: FinishUp}, now)
}

// A check of the close-up that measures the same answers the finding, if the
// figure keeps to the limits of then as well: nothing is typed twice.
func TestTheSameCheckInRangeAnswersTheFinding(t *testing.T) {
	float := Fault{ID: "crank-end-float", What: "crank end float", Found: "is 0.32 mm, over the limit of 0.2 mm", Min: "0.10 mm", Max: "0.20 mm", Record: "r1"}
	s, now := walked(t, measuring, Command{Do: Bring, Faults: []Fault{float}}, ok(), ok())
	must(t, s, take("0.06 mm"), now) // in range here, but not then
	if it := s.CurrentItem(); it.Kind != FaultItem {
		t.Fatalf("next is %s", it.Text())
	}
	must(t, s, Command{Do: Undo, Text: "measured again"}, now)
	must(t, s, take("0.12 mm"), now)
	if it := s.CurrentItem(); it.Check == nil || it.Check.Measure != "runout" || len(s.FaultsOpen()) > 0 {
		t.Errorf("next is %s, open %v", it.Text(), s.FaultsOpen())
	}
	must(t, s, Command{Do: Undo, Text: "x"}, now)
	if len(s.FaultsOpen()) != 1 {
		t.Error("the undo of the figure left its answer standing")
	}
}

// A figure on the very limit of then keeps to it; one past it, on either side, does not.
func TestAFigureOnTheLimitOfThenAnswersTheFinding(t *testing.T) {
	for _, c := range []struct {
		min, max string // of then; the check of now takes 0.05 mm to 0.20 mm
		figure   string
		answers  bool
	}{
		{"0.10 mm", "0.15 mm", "0.10 mm", true}, {"0.10 mm", "0.15 mm", "0.15 mm", true}, {"0.10 mm", "0.15 mm", "0.09 mm", false}, {"0.10 mm", "0.15 mm", "0.16 mm", false},
		{"0.10 mm", "", "0.10 mm", true}, {"0.10 mm", "", "0.20 mm", true}, {"", "0.15 mm", "0.15 mm", true}, {"", "0.15 mm", "0.16 mm", false},
	} {
		then := Fault{ID: "crank-end-float", What: "crank end float", Found: "is wrong", Min: c.min, Max: c.max, Record: "r1"}
		s, _ := walked(t, measuring, Command{Do: Bring, Faults: []Fault{then}}, ok(), ok(), take(c.figure))
		if answered := len(s.FaultsOpen()) == 0; answered != c.answers {
			t.Errorf("%s against %s: answered %v, want %v", c.figure, then.Limits(), answered, c.answers)
		}
	}
}

// Put off to the end it stays there, however often it is brought.
func TestAFindingPutOffStaysPutOffWhenBroughtAgain(t *testing.T) {
	s, now := walked(t, closing, Command{Do: Bring, Faults: []Fault{pits}}, Command{Do: Later, Text: "x"}, Command{Do: Bring, Faults: []Fault{pits}})
	if it := s.CurrentItem(); it.Kind == FaultItem {
		t.Errorf("next is %s", it.Text())
	}
	for range 3 {
		must(t, s, ok(), now)
	}
	if it := s.CurrentItem(); it == nil || it.Kind != FaultItem {
		t.Errorf("at the end it is not asked: %s", s.nextText())
	}
}

// Brought again an answer stands; found anew, or dropped by its strip-down, it does not.
func TestAnAnswerStandsUntilItIsFoundAnew(t *testing.T) {
	s, now := walked(t, closing, Command{Do: Bring, Faults: []Fault{pits}}, answer(ByNew), Command{Do: Bring, Faults: []Fault{pits}})
	if len(s.FaultsOpen()) != 0 {
		t.Error("the same finding is asked twice")
	}
	anew := pits
	anew.At = now
	must(t, s, Command{Do: Bring, Faults: []Fault{anew}}, now)
	if len(s.FaultsOpen()) != 1 {
		t.Error("found anew, it is not asked")
	}
	must(t, s, Command{Do: Bring}, now)
	if len(s.FaultsOpen()) != 0 || s.CurrentItem().Kind != PartItem {
		t.Errorf("undone where it was found, it is still asked: %s", s.CurrentItem().Text())
	}
	forged := Event{Seq: len(s.Events) + 1, At: now, Kind: Settled, Item: pits.Step().String(), Facts: Facts{How: ByNew}}
	if r := s.Judge(forged); r == nil {
		t.Error("an answer to what is not asked counts")
	}
}

// A finding that is about nothing in particular lies where it was asked.
func TestWhereAFindingLies(t *testing.T) {
	p := planOf(t, joint).Procedure
	var got []string
	for _, c := range p.Checks {
		got = append(got, New(planOf(t, joint)).whereOf(c))
	}
	if strings.Join(got, "|") != "before Snug|after Snug|after Turn" {
		t.Errorf("where: %q", got)
	}
}

func TestAFindingIsSaidWithItsLimits(t *testing.T) {
	for _, c := range []struct {
		f            Fault
		text, limits string
	}{
		{Fault{What: "Flat?", Found: "hollow"}, "Flat? no: hollow", ""},
		{Fault{What: "runout", Found: "is 1 mm", Max: "0.1 mm"}, "runout is 1 mm", "at most 0.1 mm"},
		{Fault{What: "float", Found: "is 0 mm", Min: "0.1 mm"}, "float is 0 mm", "at least 0.1 mm"},
		{Fault{What: "float", Found: "is 0 mm", Min: "0.1 mm", Max: "0.2 mm"}, "float is 0 mm", "0.1 mm to 0.2 mm"},
	} {
		if c.f.Text() != c.text || c.f.Measured() && c.f.Limits() != c.limits || c.f.Measured() != (c.limits != "") {
			t.Errorf("%+v: %q, %q", c.f, c.f.Text(), c.f.Limits())
		}
	}
}

// What is wrong with putting off or answering is said, with what to do instead.
func TestAnAnswerOutOfPlaceSaysSo(t *testing.T) {
	s, now := walked(t, closing, Command{Do: Bring, Faults: []Fault{pits}})
	event := func(k Kind, item string) Event {
		return Event{Seq: len(s.Events) + 1, At: now, Kind: k, Item: item, Text: "x", Facts: Facts{How: ByNew}}
	}
	step := pits.Step().String()
	for _, c := range []struct {
		e    Event
		want string
	}{
		{event(PutOff, "nowhere"), `the procedure has no "nowhere"`},
		{event(PutOff, "part:cover"), "part:cover is not what comes next; next is found at strip-down"},
		{event(Settled, "part:cover"), `the procedure has no "part:cover"`},
		{event(Confirmed, step), "say what was done about it"},
	} {
		if r := s.Judge(c.e); r == nil || !strings.Contains(r.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.e, r, c.want)
		}
	}
	must(t, s, Command{Do: Later, Text: "x"}, now)
	if s.CanPutOff() {
		t.Error("a part of the sheet can be put off")
	}
	if r := refuse(t, s, Command{Do: Settle, Target: "nobody"}, now); r.What != `no finding is open here of the name "nobody"` {
		t.Error(r)
	}
	must(t, s, Command{Do: Settle, Facts: Facts{How: ByNew}}, now)
	if r := s.Judge(event(Settled, step)); r == nil || !strings.Contains(r.What, "has been answered") {
		t.Errorf("answered twice: %v", r)
	}
	if r := refuse(t, s, Command{Do: Settle}, now); r.What != "no finding is open here" {
		t.Error(r)
	}
	s, now = walked(t, closing, Command{Do: Bring, Faults: []Fault{pits}}, Command{Do: Later, Text: "x"}, ok(), ok(), ok())
	if r := refuse(t, s, Command{Do: Later, Text: "x"}, now); len(r.Ways) != 3 || s.CanPutOff() {
		t.Errorf("put off twice: %+v", r)
	}
}

// What is on record of the work is not said again; what somebody else did is not taken
// from it.
func TestARepairOnRecordAnswersWithoutMoreWords(t *testing.T) {
	done := Fault{Work: "a new seat", By: "the head shop"}
	for _, c := range []struct {
		of       Fault
		by, text string
		want     [2]string
	}{
		{done, "", "", [2]string{"the head shop", "a new seat"}},
		{done, "The Head Shop", "", [2]string{"The Head Shop", "a new seat"}},
		{done, "", "recut", [2]string{"the head shop", "recut"}},
		{done, "me", "", [2]string{"me", ""}},
		{Fault{Work: "a new seat"}, "", "", [2]string{"", "a new seat"}},
		{Fault{}, "", "", [2]string{"", ""}},
	} {
		e := Event{Text: c.text, Facts: map[string]string{How: ByRepair, By: c.by}}
		c.of.knownRepair(&e)
		if got := [2]string{e.Facts[By], e.Text}; got != c.want {
			t.Errorf("%q, %q: %q, want %q", c.by, c.text, got, c.want)
		}
	}
	e := Event{Facts: map[string]string{How: ByNew}}
	if done.knownRepair(&e); e.Text != "" || e.Facts[By] != "" {
		t.Errorf("replaced: %+v", e)
	}
}

// A lot that arrived is kept with what is fitted, unless the person says otherwise, or
// it takes the place of one that was fitted.
func TestALotOnTheShelfIsKeptWithThePiece(t *testing.T) {
	fit := func(number string) *State {
		s, now := walked(t, puttingOn)
		must(t, s, Command{Do: Bring, Brought: []Carried{{ID: "M1", Fastener: true, Thread: "M8x1.25", Name: "M8x1.25", Count: 1, Record: "r", At: start, Facts: Facts{Condition: "bent", Again: "no"}, Lots: Facts{Itself: "lot 3"}}}}, now)
		if due := s.Due(s.CurrentItem().Thing()); len(due) != 1 || due[0].Lot != "lot 3" {
			t.Errorf("due: %+v", due)
		}
		must(t, s, Command{Do: Renew, Number: number}, now)
		return s
	}
	for given, want := range map[string]string{"": "lot 3", "lot 4": "lot 4", NoNumber: ""} {
		s := fit(given)
		if p, ok := s.Fitted(s.CurrentItem().Thing()); !ok || p.Number != want {
			t.Errorf("given %q: fitted %v, number %q, want %q", given, ok, p.Number, want)
		}
	}
	s := fit("")
	must(t, s, ok(), start)
	must(t, s, Command{Do: Problem, Target: "M1", Text: "bent"}, start)
	if due := s.Due(s.CurrentItem().Thing()); len(due) == 1 && due[0].Lot != "" {
		t.Errorf("the second one is out of the same bag: %+v", due)
	}
}

const puttingOn = `format = 1
[procedure]
name = "Fit the cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
[[pass]]
name = "Once more"
groups = ["main"]
torque = "100 %"
`

// What undo would take back is said with what was answered.
func TestAnAnswerIsNamedByWhatItWas(t *testing.T) {
	s, now := walked(t, takingApart, ok(), ok(), take("0.05 mm; 0.05 mm"), Command{Do: No, Text: "two pits"})
	if got := s.LastUndoable(); got != "check: Seats free of pits? answered no" {
		t.Errorf("undo would take back %q", got)
	}
	must(t, s, Command{Do: Undo, Text: "the lamp"}, now)
	if got := s.Deviations[len(s.Deviations)-1].Text; got != "undone: check: Seats free of pits? answered no (the lamp)" {
		t.Errorf("said %q", got)
	}
	s, _ = walked(t, joint, Command{Do: Bring, Faults: []Fault{pits}}, answer(ByRepair, "the shop"))
	if got := s.LastUndoable(); got != "found at strip-down: Seats free of pits? no: two pits repaired" {
		t.Errorf("undo would take back %q", got)
	}
}
