package walk

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

// drives has two groups of other figures and sockets.
const drives = `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.a]
thread = "M8x1.25"
class = "8.8"
torque = "20 N·m"
drive = "12 mm hex"
at = { A1 = [0, 0], A2 = [40, 0] }
[group.b]
thread = "M6x1"
class = "8.8"
torque = "8 N·m"
drive = "8 mm hex"
at = { B1 = [0, 40], B2 = [40, 40] }
`

// changes walks straight on and says before each step that changes something what,
// in the words of the test.
func changes(t *testing.T, s *State) string {
	t.Helper()
	var list []string
	for now := start; s.CurrentItem() != nil; now = now.Add(time.Minute) {
		if c, needed := s.Changeover(); needed {
			what := c.Stage.Fastener.ID + ":"
			if c.Wrench && c.SetTo != nil {
				what += " " + c.SetTo.Text()
			}
			if c.Wrench {
				what += " > " + c.Pull.Target.Torque.Text()
			}
			if c.Socket {
				what += " " + c.On + " > " + c.Stage.Fastener.Group.Drive
			}
			if c.Again {
				what += " again"
			}
			if s.CurrentItem().Kind == SealItem {
				what += " before the smear"
			}
			list = append(list, strings.Join(strings.Fields(what), " "))
		}
		must(t, s, straightOn(s, now), now)
	}
	return strings.Join(list, "; ")
}

func TestWhatIsChangedBeforeWhichStage(t *testing.T) {
	const weakFirst = "first = \"weak\"\n"
	for _, c := range []struct{ name, passes, want string }{
		{"the first of all, then each figure and socket once", "groups = [\"b\", \"a\"]\ntorque = \"50 %\"\n" + weakFirst + "[[pass]]\nname = \"Final\"\ngroups = [\"b\", \"a\"]\ntorque = \"100 %\"\n" + weakFirst,
			"B1: > 4 N·m > 8 mm hex; A1: 4 N·m > 10 N·m 8 mm hex > 12 mm hex; B1: 10 N·m > 8 N·m 12 mm hex > 8 mm hex; A1: 8 N·m > 20 N·m 8 mm hex > 12 mm hex"},
		{"an angle is no setting, and what follows it at the same figure none either", "groups = [\"a\"]\neach = [{ loosen = \"90°\" }, { torque = \"20 N·m\" }, { turn = \"90°\" }]\n[[pass]]\nname = \"Turn\"\ngroups = [\"a\"]\nturn = \"30°\"\n[[pass]]\nname = \"Felt\"\ngroups = [\"a\"]\nverify = \"at least 30 N·m\"\n",
			"A1: > 20 N·m > 12 mm hex; A1: 20 N·m > at least 30 N·m"},
		{"bolts that take turns are reminded of", "groups = [\"a\", \"b\"]\ntorque = \"100 %\"\norder = [\"A1\", \"B1\", \"A2\", \"B2\"]\n",
			"A1: > 20 N·m > 12 mm hex; B1: 20 N·m > 8 N·m 12 mm hex > 8 mm hex; A2: 8 N·m > 20 N·m 8 mm hex > 12 mm hex again; B2: 20 N·m > 8 N·m 12 mm hex > 8 mm hex again"},
		{"a wrench is set before the bolt is let go", "groups = [\"a\"]\neach = [{ loosen = \"90°\" }, { torque = \"10 N·m\" }, { torque = \"20 N·m\" }, { turn = \"30°\" }, { verify = \"at least 30 N·m\" }]\n",
			"A1: > 10 N·m > 12 mm hex; A1: 10 N·m > 20 N·m; A1: 20 N·m > at least 30 N·m; A2: at least 30 N·m > 10 N·m again; A2: 10 N·m > 20 N·m again; A2: 20 N·m > at least 30 N·m again"},
		{"let go in between, it is set where it is pulled", "groups = [\"a\"]\neach = [{ torque = \"10 N·m\" }, { loosen = \"90°\" }, { torque = \"20 N·m\" }]\n",
			"A1: > 10 N·m > 12 mm hex; A1: 10 N·m > 20 N·m; A2: 20 N·m > 10 N·m again; A2: 10 N·m > 20 N·m again"},
		{"let go and pulled", "groups = [\"a\"]\neach = [{ loosen = \"90°\" }, { torque = \"10 N·m\" }]\n", "A1: > 10 N·m > 12 mm hex"},
		{"sockets alone, where all is let go", "groups = [\"a\", \"b\"]\nloosen = \"90°\"\n" + weakFirst + "[[pass]]\nname = \"Final\"\ngroups = [\"a\"]\ntorque = \"100 %\"\n", "A1: 8 mm hex > 12 mm hex; A1: > 20 N·m"},
		{"two figures on each bolt", "groups = [\"a\"]\neach = [{ torque = \"10 N·m\" }, { torque = \"20 N·m\" }]\n",
			"A1: > 10 N·m > 12 mm hex; A1: 10 N·m > 20 N·m; A2: 20 N·m > 10 N·m again; A2: 10 N·m > 20 N·m again"},
		{"the same figure on another socket", "groups = [\"a\", \"b\"]\ntorque = \"8 N·m\"\n" + weakFirst, "B1: > 8 N·m > 8 mm hex; A1: 8 mm hex > 12 mm hex"},
		{"a middle is what a wrench is set to", "groups = [\"a\"]\ntorque = \"18 N·m to 22 N·m\"\n[[pass]]\nname = \"Again\"\ngroups = [\"a\"]\ntorque = \"20 N·m\"\n", "A1: > 18 to 22 N·m > 12 mm hex"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := changes(t, New(planOf(t, drives+"[[pass]]\nname = \"First\"\n"+c.passes))); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

// The wrench is set before the smear, not while the sealant skins; said to be set, it
// is not asked for again; and after a pause nobody knows how it is set.
func TestTheWrenchIsSetBeforeTheSmearAndAfterAPause(t *testing.T) {
	s := New(planOf(t, strings.Replace(cases, "prep = \"oil the threads\"", "drive = \"8 mm hex\"", 1)))
	for s.CurrentItem().Kind != SealItem {
		if _, needed := s.Changeover(); needed {
			t.Errorf("to be changed at %s", s.nextText())
		}
		must(t, s, ok(), start)
	}
	c, needed := s.Changeover()
	if !needed || !c.Wrench || c.Stage.Fastener.ID != "R1" || c.SetTo != nil {
		t.Fatalf("before the smear: %+v", c)
	}
	left := s.left()
	must(t, s, Command{Do: Change, Facts: map[string]string{"wrench": "small"}}, start)
	e := s.Events[len(s.Events)-1]
	if e.Kind != Changed || e.Item != "Draw down/R1" || fmt.Sprint(e.Facts) != "map[drive:8 mm hex torque:4 N·m wrench:small]" {
		t.Errorf("kept as %+v", e)
	}
	if _, needed := s.Changeover(); needed || !slices.Equal(left, s.left()) {
		t.Error("said to be set, it is asked for again, or something else has changed")
	}
	if s.LastUndoable() != "threads of feed: blow the bore through confirmed" {
		t.Errorf("undo would take back %q", s.LastUndoable())
	}
	must(t, s, ok(), start)
	must(t, s, Command{Do: Resume}, start)
	if c, needed := s.Changeover(); !needed || c.SetTo != nil || c.On != "" {
		t.Errorf("after a pause: %v %+v", needed, c)
	}
}

// What is said of a wrench is of the stage that comes next and of its figure.
func TestAChangeIsOfTheStageAhead(t *testing.T) {
	s := New(planOf(t, drives+"[[check]]\nbefore = \"First\"\nask = \"Clean?\"\n[[pass]]\nname = \"First\"\ngroups = [\"a\"]\ntorque = \"100 %\"\n"))
	refuse(t, s, Command{Do: Change}, start)
	must(t, s, ok(), start)
	for facts, want := range map[string]string{"First/A1 20 N·m": "", "First/A1 ": "", "First/A2 20 N·m": "not what comes next", "First/A1 8 N·m": "not the figure", "nowhere ": "not what comes next"} {
		item, torque, _ := strings.Cut(facts, " ")
		e := Event{Seq: len(s.Events) + 1, At: start, Kind: Changed, Item: item, Facts: map[string]string{SetFor: torque}}
		if r := s.Judge(e); (r == nil) != (want == "") || r != nil && !strings.Contains(r.What, want) {
			t.Errorf("%s: %v, want %q", facts, r, want)
		}
	}
	must(t, s, ok(), start)
	must(t, s, ok(), start)
	refuse(t, s, Command{Do: Change}, start)
	if r := s.Judge(Event{Seq: len(s.Events) + 1, Kind: Changed, Item: "First/A1"}); r == nil {
		t.Error("a change for nothing counts")
	}
}
