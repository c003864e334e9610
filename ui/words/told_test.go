package words

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// hand walks a state on by commands.
type hand struct {
	*testing.T
	s   *walk.State
	now time.Time
}

func inHand(t *testing.T, text string) *hand {
	return &hand{t, stateOf(t, text), time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)}
}

func (h *hand) does(commands ...walk.Command) *hand {
	h.Helper()
	for _, c := range commands {
		h.now = h.now.Add(time.Minute)
		e, refusal := walk.Decide(h.s, c, h.now)
		if refusal != nil {
			h.Fatalf("%+v: %v", c, refusal)
		}
		h.s.Apply(*e)
	}
	return h
}

func note(target, text string) walk.Command {
	return walk.Command{Do: walk.Note, Target: target, Text: text}
}

const closedAgain = `format = 1
[procedure]
name = "Close the cover"
engine = "Osier 125 single"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[part]]
name = "camshaft"
[[check]]
before = "Snug"
ask = "Seats clean?"
[[pass]]
name = "Snug"
groups = ["main"]
torque = "9 N·m"
order = "listed"
[[pass]]
name = "Turn"
groups = ["main"]
turn = "90°"
order = "listed"
`

// What was said is told where the thing is in hand: at strip-down and since, and of a bolt that has been begun only
// what was said in this walk.
func TestWhatWasSaidIsToldWhereItIsInHand(t *testing.T) {
	ok := walk.Command{Do: walk.Confirm}
	at := time.Date(2025, 3, 2, 9, 0, 0, 0, time.UTC)
	before := func(text string) []walk.Said { return []walk.Said{{At: at, Text: text}} }
	found := walk.Fault{ID: "seats-clean", What: "Seats clean?", Found: "pits", Record: "r1", At: at, Said: before("two pits")}
	h := inHand(t, closedAgain).does(walk.Command{Do: walk.Bring, Faults: []walk.Fault{found}, Brought: []walk.Carried{
		{ID: "camshaft", Name: "camshaft", Count: 1, Record: "r1", Said: before("lobes \x1bgood")},
		{ID: "M1", Fastener: true, Thread: "M8x1.25", Name: "M1", Count: 1, Record: "r1", Said: before("dry")},
	}}, note("", "the shop is shut"))
	told := func(want ...string) {
		t.Helper()
		if got := ToldOf(h.s, h.s.CurrentItem()); strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("told of %s %q, want %q", h.s.CurrentItem().Text(), got, want)
		}
	}
	told("2025-03-02: two pits", "2026-03-01: the shop is shut")
	h.does(walk.Command{Do: walk.Settle, Facts: walk.Facts{walk.How: walk.ByNew}})
	told("2025-03-02: lobes \ufffdgood")
	h.does(ok, note("", "wiped"))
	told("2026-03-01: wiped")
	h.does(walk.Command{Do: walk.Yes})
	told("2025-03-02: dry")
	h.does(note("", "oiled"))
	told("2025-03-02: dry", "2026-03-01: oiled")
	h.does(ok, ok)
	told("2026-03-01: oiled")
	if ToldOf(h.s, nil) != nil {
		t.Error("something is told of nothing in hand")
	}
	if got := Answered(inHand(t, closedAgain).does(walk.Command{Do: walk.Bring, Faults: []walk.Fault{found}}, walk.Command{Do: walk.Settle, Facts: walk.Facts{walk.How: walk.ByRepair, walk.By: "the shop"}}).s); got != "repaired by the shop" {
		t.Errorf("answered %q", got)
	}
}

// Found late, a thing lies under what is in already: a part, or a bolt that is tight.
func TestWhatLiesOverAThingFoundLate(t *testing.T) {
	ok := walk.Command{Do: walk.Confirm}
	clip := func(before string) walk.Command {
		return walk.Command{Do: walk.Bring, Brought: []walk.Carried{{ID: "clip", Name: "clip", Count: 1, New: true, Before: before, Record: "r1"}}}
	}
	for _, c := range []struct {
		did    []walk.Command
		before string
		want   string
	}{
		{nil, "part:camshaft", ""},
		{[]walk.Command{ok}, "part:camshaft", "before camshaft, which is in already"},
		{[]walk.Command{ok, {Do: walk.Yes}}, "M1", "before camshaft, which is in already"},
		{[]walk.Command{ok, {Do: walk.Yes}, ok}, "M2", "before camshaft, which is in already"},
	} {
		h := inHand(t, closedAgain).does(c.did...).does(clip(c.before))
		if got := Buried(h.s, h.s.CurrentItem()); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("before %s, after %d steps: %q", c.before, len(c.did), got)
		}
	}
	h := inHand(t, closedAgain).does(ok, walk.Command{Do: walk.Yes})
	if got := Buried(h.s, h.s.CurrentItem()); got != "" || Buried(h.s, nil) != "" {
		t.Errorf("a bolt of the sheet lies under something: %q", got)
	}
}

// What was found of the thing in hand is told back as it was recorded last.
func TestTheLastThingRecordedIsToldBack(t *testing.T) {
	h := inHand(t, strippedDown+"[[check]]\nafter = \"Out\"\nask = \"Seats clean?\"\n")
	find := walk.Command{Do: walk.Find, Facts: walk.Facts{walk.Condition: "good"}}
	if got := Found(h.does(note("", "looks dry"), find).s, find); got != "found M1: good" {
		t.Errorf("told back %q", got)
	}
	for h.s.CurrentItem().Check == nil {
		h.does(walk.Command{Do: walk.Confirm})
	}
	i := h.s.Current()
	if FoundAt(h.s, h.s.CurrentItem()) != "" || FoundAt(h.s, nil) != "" || FoundAt(h.s, &h.s.Items[0]) != "" {
		t.Error("something is found before it is answered")
	}
	h.does(walk.Command{Do: walk.No, Text: "pits"})
	if got := FoundAt(h.s, &h.s.Items[i]); got != "Seats clean? no: pits" {
		t.Errorf("found %q", got)
	}
}

func TestAFindingsAnswerIsReadByItsFirstWord(t *testing.T) {
	for text, want := range map[string]string{
		"repaired by the machine shop, seat recut": "map[by:the machine shop how:repaired]  seat recut", "Repaired, by me": "map[by:me how:repaired]  ", "repaired": "map[how:repaired]  ", "repaired somehow": "map[how:repaired]  ",
		"replaced, new guide from lot 7": "map[how:replaced]  new guide from lot 7", "measured 0.12 mm": "map[how:measured] 0.12 mm ", "measure 0.12 mm": "map[how:measured] 0.12 mm ",
		"not inside, it was counted": "map[how:not inside]  it was counted", "not there": `refused: "not there" does not say what was done; write it like: not inside, HOW YOU KNOW`,
		"found in the sump": "map[how:found]  in the sump",
		"mended":            `refused: "mended" does not say what was done; write it like: ` + AnswerExample,
	} {
		c, err := AnswerIn(text)
		if got := said(err, fmt.Sprint(c.Facts)+" "+c.Reading+" "+c.Text); got != want || c.Do != walk.Settle {
			t.Errorf("%q is %s\nwant %s", text, got, want)
		}
	}
	open := []walk.Fault{{ID: "float", What: "float"}, {ID: "crank-float", What: "crank float"}}
	for text, want := range map[string]string{
		"crank float: replaced": "crank float|replaced", "crank-float repaired by me": "crank-float|repaired by me", "float replaced": "float|replaced", "float": "float|", "replaced float": "|replaced float", "": "|",
	} {
		target, rest := AnswerOf(text, open)
		if got := target + "|" + rest; got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

func TestWhatAFindingAndAnInspectionSay(t *testing.T) {
	at := time.Date(2025, 3, 2, 9, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		f    walk.Fault
		want string
	}{
		{walk.Fault{Where: "head", At: at}, "found 2025-03-02, head"},
		{walk.Fault{Where: "head", At: at, Reading: "0.12 mm", Max: "0.08 mm", Work: "boring"}, "found 2025-03-02, head|read 0.12 mm, limits at most 0.08 mm|since then boring; if that answers it, say no more than: repaired by WHOM"},
		{walk.Fault{Where: "head", At: at, Work: "boring", By: "the shop"}, "found 2025-03-02, head|since then boring, by the shop; if that answers it, say no more than: repaired"},
	} {
		if got := strings.Join(FindingLines(c.f), "|"); got != c.want {
			t.Errorf("got %q\nwant %q", got, c.want)
		}
	}
	for _, c := range []struct {
		look, condemn []string
		measure, want string
	}{
		{nil, nil, "", ""}, {[]string{"scores", "blue"}, nil, "", "look for: scores, blue"}, {nil, []string{"cracks"}, "", "condemned by: cracks"}, {nil, nil, "lift", "measure: lift"},
		{[]string{"a"}, []string{"b"}, "c", "look for: a|condemned by: b|measure: c"},
	} {
		if got := strings.Join(Inspection(c.look, c.condemn, c.measure), "|"); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	r := walk.Resheeting{Open: []string{"Snug: M1"}, Gone: []string{"a\x1bb"}, Kept: 3}
	if got := strings.Join(Resheeting(r), "|"); got != "nothing differs on the sheet that is read from it|confirmed, and to be done again:|  Snug: M1|confirmed, and no longer asked for:|  a\ufffdb|stages that stay confirmed: 3" {
		t.Errorf("an edit says %q", got)
	}
	r = walk.Resheeting{Changes: []spec.Change{{}}}
	if got := Resheeting(r); got[0] != "what differs on the sheet:" || len(got) != 3 || got[2] != "stages that stay confirmed: 0" {
		t.Errorf("a change says %q", got)
	}
}

// The other units of a stage, of an angle in flats or points of its drive.
func TestOtherUnits(t *testing.T) {
	s := stateOf(t, acts)
	var got []string
	for i := range s.Items {
		if st := s.Items[i].Stage; st != nil {
			got = append(got, OtherUnits(st))
		}
	}
	want := []string{"40 N·m = 29.5 lbf·ft = 4.08 kgf·m", "90° = 1.5 flats = 1/4 turn", "", "", "37 to 43 N·m = 27.3 to 31.7 lbf·ft = 3.77 to 4.385 kgf·m", "90° to 94° = 1.5 to 1.567 flats = 1/4 to 0.261 turns", "", "40 N·m = 29.5 lbf·ft = 4.08 kgf·m",
		"at least 35 N·m = at least 25.8 lbf·ft = at least 3.57 kgf·m"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
