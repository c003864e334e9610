package walk

import (
	"slices"
	"strings"
	"testing"

	"evenpull/spec/ident"
)

const dismantle = `format = 1
[procedure]
name = "Open the cam cover"
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
name = "cover"
[[part]]
name = "sprocket"
`

func foundNew(name string, facts Facts) Command { return Command{Do: Find, New: name, Facts: facts} }

// partLine is a line of the agenda that stands for a part, or fails.
func partLine(t *testing.T, s *State, id string) (Item, Mark) {
	t.Helper()
	i, ok := s.PlaceOf(id)
	if !ok {
		t.Fatalf("%s has no place", id)
	}
	return s.Items[i], s.Mark(i)
}

func TestAThingThatNoSheetHasIsRecordedAtAnyMoment(t *testing.T) {
	s, now := walked(t, dismantle, foundNew("old seal ring", nil), ok(), ok(),
		Command{Do: Find, New: "thin washer", Count: 2, Facts: Facts{Condition: "good", Box: "3", Where: "under the sprocket"}})
	it, m := partLine(t, s, "thin-washer")
	if !it.Unforeseen || it.Part.Count != 2 || !m.Closed || s.FoundOf(it.Thing()).Text() != "good, under the sprocket, box 3" {
		t.Errorf("kept as %+v, %+v, %q", it.Part, m, s.FoundOf(it.Thing()).Text())
	}
	if got := order(s); got != "part:old-seal-ring Out/M1 part:cover part:thin-washer part:sprocket" || !s.MayFindNew() {
		t.Errorf("where they were found: %s", got)
	}
	if said := s.Deviations[len(s.Deviations)-1].Text; said != "found, on no sheet: 2 × thin washer" {
		t.Errorf("said %q", said)
	}
	next(t, s, "part: sprocket")
	must(t, s, Command{Do: Find, Target: "thin washer", Facts: Facts{Condition: "worn"}, Text: "seen in daylight"}, now)
	must(t, s, Command{Do: Undo, Text: "it is good"}, now)
	must(t, s, Command{Do: Undo, Text: "there is one only"}, now)
	if _, ok := s.PlaceOf("thin-washer"); ok || len(s.FoundOf(ident.Part("thin-washer"))) > 0 {
		t.Error("after undo it is still there")
	}
	must(t, s, ok(), now)
	must(t, s, foundNew("last of all", nil), now)
	must(t, s, Command{Do: FinishUp}, now)
	again := New(s.Plan)
	if findings := Replay(again, s.Events); len(findings) > 0 {
		t.Errorf("replayed: %v", findings[0].Refusal)
	}
}

func TestANewThingHasANameOfItsOwn(t *testing.T) {
	s, now := walked(t, dismantle, foundNew("thin washer", nil))
	s.InUse([]string{"key", "key-2"})
	for _, c := range []struct {
		do   Command
		want string
	}{
		{foundNew("Cover", nil), "there is one called Cover already"},
		{foundNew("thin washer", nil), "there is one called thin washer already"},
		{foundNew("m1", nil), "there is one called m1 already"},
		{foundNew("x", Facts{"colour": "red"}), `"colour" is not kept of a thing`},
		{foundNew("x", Facts{Condition: "cracked at the root"}), "cracked at the root: is it to be used again?"},
		{Command{Do: Find, New: "x", Count: 1001}, "1001 is no number of things"},
	} {
		if r := refuse(t, s, c.do, now); !strings.Contains(r.Error(), c.want) {
			t.Errorf("%+v refused with %q", c.do, r)
		}
	}
	must(t, s, foundNew("Key", nil), now)
	if _, ok := s.PlaceOf("key-3"); !ok {
		t.Error("an id in use was given again")
	}
	for _, e := range []Event{
		{Item: "part:cover", Facts: Facts{NewName: "cover"}}, {Item: "part:", Facts: Facts{NewName: "x"}}, {Fastener: "M9", Facts: Facts{NewName: "x"}},
		{Item: "part:y", Facts: Facts{NewName: " "}}, {Item: "part:y", Facts: Facts{NewName: "y", NewCount: "0"}}, {Item: "part:y", Facts: Facts{NewName: "y", NewCount: "two"}},
		{Item: "part:y", Facts: Facts{NewCount: "2", Condition: "good"}}, {Item: "part:cover", Facts: Facts{NewCount: "2"}},
	} {
		e.Seq, e.At, e.Kind = len(s.Events)+1, now, Found
		if s.Judge(e) == nil {
			t.Errorf("a forged %+v counts", e)
		}
	}
	old := CourseOf(s.Plan, readyRules).Start()
	if _, r := Decide(old, foundNew("thin washer", nil), now); r == nil || old.MayFindNew() {
		t.Error("under the rules of before a thing that no sheet has is taken")
	}
}

const assemble = `format = 1
[procedure]
name = "Close the cam cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[part]]
name = "sprocket"
[[part]]
name = "cover"
[[pass]]
name = "Snug"
groups = ["main"]
torque = "10 N·m"
[[pass]]
name = "Final"
groups = ["main"]
torque = "20 N·m"
`

func order(s *State) string {
	var list []string
	for _, it := range s.Items {
		if !it.Later {
			list = append(list, it.Key().String())
		}
	}
	return strings.Join(list, " ")
}

func TestTheCloseUpAsksForItAtItsPlace(t *testing.T) {
	thin := Carried{ID: "thin", Name: "thin washer", Count: 1, New: true, Facts: Facts{Condition: "good", Box: "3"}, Record: "r1"}
	for _, c := range []struct{ before, want string }{
		{"part:cover", "part:sprocket part:thin part:cover Snug/M1 Snug/M2 Final/M1 Final/M2"},
		{"M2", "part:thin part:sprocket part:cover Snug/M1 Snug/M2 Final/M1 Final/M2"},
		{"", "part:sprocket part:cover Snug/M1 Snug/M2 Final/M1 Final/M2 part:thin"},
		{"part:nowhere", "part:sprocket part:cover Snug/M1 Snug/M2 Final/M1 Final/M2 part:thin"},
		{"M9", "part:sprocket part:cover Snug/M1 Snug/M2 Final/M1 Final/M2 part:thin"},
	} {
		thin.Before = c.before
		s, _ := walked(t, assemble, bring(thin))
		if got := order(s); got != c.want {
			t.Errorf("before %q: %s\nwant %s", c.before, got, c.want)
		}
	}
	if s, _ := walked(t, assemble, bring(Carried{ID: "cover", Name: "cover", Count: 1, New: true, Record: "r1"})); order(s) != "part:sprocket part:cover Snug/M1 Snug/M2 Final/M1 Final/M2" || s.CanPutOff() {
		t.Errorf("what has a place here: %s", order(s))
	}
	thin.Before = "part:cover"
	s, now := walked(t, assemble, bring(thin), ok())
	if next(t, s, "part: thin washer"); !s.CanPutOff() {
		t.Error("it cannot be put off")
	}
	must(t, s, Command{Do: Later, Text: "it sits on the other side"}, now)
	next(t, s, "part: cover")
	must(t, s, Command{Do: Undo, Text: "no, here"}, now)
	must(t, s, ok(), now)
	for range 5 {
		must(t, s, ok(), now)
	}
	must(t, s, Command{Do: FinishUp}, now)
}

// It goes in where the hands say; what condemned it or where it is away counts as
// of any other part.
func TestAThingPutOffCanGoInAtAnyMoment(t *testing.T) {
	thin := Carried{ID: "thin", Name: "thin washer", Count: 1, New: true, Facts: Facts{Condition: "scored"}, Record: "r1"}
	key := Carried{ID: "key", Name: "key", Count: 1, New: true, Away: "blasting", Record: "r1"}
	s, now := walked(t, assemble, bring(thin, key), ok())
	refuse(t, s, Command{Do: Refit, Target: "thin washer"}, now) // a new one is due
	refuse(t, s, Command{Do: Refit, Target: "key"}, now)         // it is away
	must(t, s, Command{Do: Account, Target: "key", Text: "the gear has one of its own"}, now)
	for range 5 {
		must(t, s, ok(), now)
	}
	next(t, s, "part: thin washer")
	if r := refuse(t, s, Command{Do: Later, Text: "x"}, now); !strings.Contains(r.Error(), "asked for last already") || s.CanPutOff() {
		t.Error(r)
	}
	refuse(t, s, ok(), now)
	must(t, s, Command{Do: Renew, Target: "thin washer", Number: NoNumber}, now)
	must(t, s, Command{Do: Refit, Target: "thin washer"}, now)
	must(t, s, Command{Do: FinishUp}, now)
}

// What turns up on the way together goes somewhere before done.
func TestAThingFoundOnTheWayTogetherIsAskedForBeforeDone(t *testing.T) {
	s, now := walked(t, assemble, ok(), foundNew("loose clip", Facts{Where: "in the sump"}), bring())
	if r := refuse(t, s, Command{Do: FinishUp}, now); !slices.Contains(r.Outstanding, "part: loose clip: not accounted for") {
		t.Errorf("outstanding %q", r.Outstanding)
	}
	must(t, s, Command{Do: Account, Target: "loose clip", Text: "off the wiring, hung back"}, now)
	for range 5 {
		must(t, s, ok(), now)
	}
	must(t, s, Command{Do: FinishUp}, now)
	s, now = walked(t, assemble, foundNew("loose clip", nil))
	must(t, s, Command{Do: Undo, Text: "it is the old one"}, now)
	if _, known := s.CarriedOf(ident.Part("loose-clip")); known || order(s) != "part:sprocket part:cover Snug/M1 Snug/M2 Final/M1 Final/M2" {
		t.Errorf("after undo: %s", order(s))
	}
}

// What is off no longer has no line here, and then no new one of it can be fitted either.
func TestWhatWentBackElsewhereIsNoPieceHere(t *testing.T) {
	clip := Carried{ID: "clip", Name: "clip", Count: 1, New: true, Before: "part:cover", Facts: Facts{Condition: "good"}, Record: "r4"}
	s, now := walked(t, assemble, bring(clip), bring())
	renewed := Event{Seq: s.events + 1, At: now, Kind: Renewed, Item: "part:clip", Piece: "clip", Facts: Facts{"number": NoNumber}}
	if r := s.Judge(renewed); r == nil || !strings.Contains(r.What, `no "clip`) {
		t.Errorf("a record that fits a new one is refused with %v", r)
	}
}

// A line that was put in belongs to the pass of the one it stands beside.
func TestALinePutInIsOfThePassBesideIt(t *testing.T) {
	clip := Carried{ID: "clip", Name: "clip", Count: 1, New: true, Record: "r4"}
	thin := Carried{ID: "thin", Name: "thin washer", Count: 1, New: true, Before: "part:cover", Record: "r4"}
	s, _ := walked(t, assemble, Command{Do: Bring, Brought: []Carried{clip, thin}, Faults: []Fault{pits}})
	for step, pass := range map[string]string{pits.Step().String(): "Snug", "part:thin": "Snug", "part:clip": "Final"} {
		if i, ok := s.Find(step); !ok || s.Items[i].Pass == nil || s.Items[i].Pass.Name != pass {
			t.Errorf("%s is there: %v, of %+v; want %s", step, ok, s.Items[i].Pass, pass)
		}
	}
}
