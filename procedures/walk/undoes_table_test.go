package walk

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/read"
)

// joint has one of everything that an act can undo: a bolt prepared with its
// group, one-use washers, a question before the first pass and after each, a
// wait, a gasket, a stretch and a sealant.
const joint = `format = 1
[procedure]
name = "Joint"
direction = "close"
source = "invented"
[sealant]
name = "flange sealant"
work_time = "2h"
[group.main]
thread = "M8x1.25"
class = "8.8"
with = [{ part = "copper washer", count = 1, one_use = true, number = "OS-5" }]
prep = "oil the threads"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Snug"
groups = ["main"]
torque = "9 N·m"
[[pass]]
name = "Turn"
groups = ["main"]
turn = "90° to 94°"
[[pass]]
name = "Settle"
wait = "1h"
[[pass]]
name = "Felt"
groups = ["main"]
verify = "at least 15 N·m"
[[part]]
name = "gasket"
kind = "gasket"
one_use = true
[[check]]
before = "Snug"
ask = "Faces clean?"
[[check]]
after = "Snug"
ask = "No gap?"
[[check]]
after = "Turn"
ask = "Turns freely?"
`

// closedUp is the joint with everything confirmed but the last stage.
func closedUp(t *testing.T) (*State, time.Time) {
	t.Helper()
	return closedUpBut(t, joint)
}

// closedUpBut is a sheet with everything confirmed but its last item, after the commands.
func closedUpBut(t *testing.T, text string, before ...Command) (*State, time.Time) {
	t.Helper()
	s, now := walked(t, text, before...)
	for s.Current() < len(s.Items)-1 {
		now = now.Add(time.Minute)
		if it := s.CurrentItem(); it.Kind == WaitItem {
			now = now.Add(time.Hour)
		}
		forward(t, s, now)
	}
	return s, now
}

// forward records what is due new, or else confirms what is in hand.
func forward(t *testing.T, s *State, now time.Time) {
	t.Helper()
	it := s.CurrentItem()
	switch {
	case len(s.DueNow()) > 0:
		must(t, s, Command{Do: Renew, Number: "lot 1"}, now)
	case it.Kind == AskItem:
		must(t, s, Command{Do: Yes}, now)
	case it.Kind == StageItem && it.Stage.Action == spec.Stretch:
		must(t, s, Command{Do: Confirm, Reading: "0.13 mm"}, now)
	default:
		must(t, s, Command{Do: Confirm}, now)
	}
}

// opened says which steps an act opened again, by the text a record has of them.
func opened(before, after *State) string {
	var list []string
	for i, it := range after.Items {
		if before.Mark(i).Closed && !after.Mark(i).Closed {
			list = append(list, it.Key().String())
		}
	}
	for i, p := range after.pieces {
		if p.due() && !before.pieces[i].due() {
			list = append(list, "new:"+p.Fastener+p.Part+":"+p.Name)
		}
	}
	return strings.Join(list, " ")
}

// What each act opens, as the table says it, on one joint.
func TestEachActUndoesWhatTheTableSays(t *testing.T) {
	bolt := Carried{ID: "M1", Fastener: true, Thread: "M8x1.25", Name: "M1", Count: 1, Record: "r2"}
	stretched := bolt
	stretched.Facts = Facts{Condition: "stretched"}
	last := func(does string) *strings.Replacer { return strings.NewReplacer(`verify = "at least 15 N·m"`, does) }
	for _, c := range []struct {
		name   string
		do     Command
		want   string
		change *strings.Replacer // of the joint; nil: none
		before Command           // of everything else
		undo   string            // why it is refused; empty: it gives all back
	}{
		{name: "pulled over", do: Command{Do: Confirm, Reading: "30 N·m"}, change: last(`torque = "22 N·m"`), undo: "stays used",
			want: "slacken:M2 Snug/M2 check:no-gap Turn/M2 check:turns-freely Settle new:M2:copper washer"},
		{name: "pulled over, and nothing of it is used once", do: Command{Do: Confirm, Reading: "30 N·m"}, change: strings.NewReplacer(`verify = "at least 15 N·m"`, `torque = "22 N·m"`, "one_use = true, number", "number"),
			want: "slacken:M2 Snug/M2 check:no-gap Turn/M2 check:turns-freely Settle"},
		{name: "stretched too far", do: Command{Do: Confirm, Reading: "0.2 mm"}, change: last(`stretch = "0.12 mm to 0.15 mm"`), undo: "stays used",
			want: "check:faces-clean prep:main/M2 Snug/M2 check:no-gap Turn/M2 check:turns-freely Settle new:M2:fastener new:M2:copper washer"},
		{name: "came loose", do: Command{Do: No, Restarts: []string{"M1"}, Text: "turns"}, change: strings.NewReplacer(`ask = "Turns freely?"`, "ask = \"Turns freely?\"\n[[check]]\nafter = \"Felt\"\nask = \"All hold?\""),
			want: "slacken:M1 Snug/M1 check:no-gap Turn/M1 check:turns-freely Settle Felt/M1 new:M1:copper washer"},
		{name: "condemned late", do: bring(stretched), before: bring(bolt), undo: "nothing to undo",
			want: "check:faces-clean prep:main/M1 Snug/M1 check:no-gap Turn/M1 check:turns-freely Settle Felt/M1 new:M1:fastener new:M1:copper washer"},
		{name: "angle lost", do: Command{Do: Lose, Target: "M1", Text: "slipped"},
			want: "slacken:M1 Snug/M1 check:no-gap Turn/M1 check:turns-freely Settle Felt/M1 new:M1:copper washer"},
		{name: "a problem", do: Command{Do: Problem, Target: "M1", Text: "bent"},
			want: "check:faces-clean prep:main/M1 Snug/M1 check:no-gap Turn/M1 check:turns-freely Settle Felt/M1 new:M1:fastener new:M1:copper washer"},
		{name: "the thread in the case", do: Command{Do: Problem, Target: "M1", Text: "stripped", Facts: Facts{StrippedAt: InCase}},
			want: "check:faces-clean repair:M1 prep:main/M1 Snug/M1 check:no-gap Turn/M1 check:turns-freely Settle Felt/M1 new:M1:copper washer"},
		{name: "did not hold", do: Command{Do: Confirm, Reading: "9 N·m"},
			want: "slacken:M2 Snug/M2 check:no-gap Turn/M2 check:turns-freely Settle new:M2:copper washer"},
		{name: "a new bolt in hand", do: Command{Do: Renew, Piece: "fastener", Number: "lot 2"},
			want: "check:faces-clean prep:main/M2 Snug/M2 check:no-gap Turn/M2 check:turns-freely Settle new:M2:copper washer"},
		{name: "a new washer in hand", do: Command{Do: Renew, Piece: "copper washer", Number: "lot 2"},
			want: "Snug/M2 check:no-gap Turn/M2 check:turns-freely Settle"},
		{name: "sealed afresh", do: Command{Do: Reseal, Text: "smeared off"}, want: "part:gasket check:faces-clean prep:main sealant Snug/M1 Snug/M2 check:no-gap Turn/M1 Turn/M2 check:turns-freely Settle Felt/M1 new:M1:copper washer new:M2:copper washer new:gasket:gasket"},
		{name: "taken apart elsewhere", do: bring(Carried{ID: "M1", Fastener: true, Thread: "M8x1.25", Name: "M1", Count: 1, Record: "r2"}), undo: "nothing to undo",
			want: "check:faces-clean prep:main/M1 Snug/M1 check:no-gap Turn/M1 check:turns-freely Settle Felt/M1 new:M1:copper washer"},
		{name: "let go elsewhere", do: bring(Carried{ID: "M1", Fastener: true, Thread: "M8x1.25", Name: "M1", Count: 1, Loose: true, Record: "r2"}), undo: "nothing to undo",
			want: "check:faces-clean prep:main/M1 Snug/M1 check:no-gap Turn/M1 check:turns-freely Settle Felt/M1 new:M1:copper washer"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text, first := joint, []Command{}
			if c.change != nil {
				text = c.change.Replace(text)
			}
			if c.before.Do != "" {
				first = append(first, c.before)
			}
			before, now := closedUpBut(t, text, first...)
			after := New(before.Plan)
			Replay(after, before.Events)
			e, _ := Decide(after, c.do, now)
			if e == nil {
				t.Fatal("it was refused and left nothing")
			}
			after.Apply(*e)
			got := strings.Fields(opened(before, after))
			want := strings.Fields(c.want)
			for _, w := range want {
				if !contains(got, w) {
					t.Errorf("%s is not open again", w)
				}
			}
			for _, g := range got {
				if !contains(want, g) {
					t.Errorf("%s is open again", g)
				}
			}
			if c.undo != "" {
				if r := refuse(t, after, Command{Do: Undo, Text: "not so"}, now); !strings.Contains(r.Error(), c.undo) {
					t.Errorf("undo is refused with %q, want %q", r, c.undo)
				}
				return
			}
			must(t, after, Command{Do: Undo, Text: "not so"}, now)
			if differs := strings.Join(before.left(), "\n"); differs != strings.Join(after.left(), "\n") {
				t.Errorf("undone, there is left\n%s\nand was\n%s", strings.Join(after.left(), "\n"), differs)
			}
		})
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// tableText gives the table as Markdown, for people.
func tableText() string {
	var b strings.Builder
	b.WriteString("| act | of | stages | let go first | thread repaired first | threads made ready | checks | heated again | waits | due new | undo |\n|---|---|---|---|---|---|---|---|---|---|---|\n")
	yes := map[bool]string{true: "yes", false: "–"}
	for _, r := range Table {
		of, undo := "it alone", "gives all back"
		if r.Whole {
			of = "the joint from the smear on"
		}
		if r.Final {
			undo = "refused once a one-use piece is spent"
		}
		if r.Stays {
			undo = "refused"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", r.Act, of, yes[r.Stages], yes[r.Slacken], yes[r.Repair], r.Prep, r.Checks, yes[r.Heat], yes[r.Waits], r.New, undo)
	}
	return b.String()
}

// The table stands in the developers' page as it is in the code.
func TestTheTableIsInTheDevelopersPage(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), tableText()) {
		t.Errorf("DEVELOPERS.md lacks the table of what an act undoes:\n%s", tableText())
	}
}

// A sheet of then may have a bolt that no pass touches: it holds nothing, whatever opens the joint.
func TestABoltThatNothingTouchesHoldsNothing(t *testing.T) {
	sheet := strings.Replace(joint, "[[pass]]", "[group.idle]\nthread = \"M6x1\"\nclass = \"8.8\"\nat = { I1 = [0, 70] }\n[[pass]]", 1)
	p, problems := read.Recorded("joint.toml", []byte(sheet))
	if p == nil {
		t.Fatal(problems)
	}
	s := New(plan.Of(p))
	now := start
	for s.Current() < len(s.Items)-1 {
		now = now.Add(time.Hour)
		if s.CurrentItem().Kind == SealItem {
			break
		}
		forward(t, s, now)
	}
	forward(t, s, now)
	if r := refuse(t, s, Command{Do: Problem, Target: "I1", Text: "bent"}, now); !strings.Contains(r.Error(), `no "I1"`) {
		t.Errorf("refused with %q", r)
	}
	must(t, s, bring(Carried{ID: "gasket", Name: "gasket", Count: 1, Record: "r1"}), now) // nothing is tight, so nothing holds the joint
	if closed(s, "sealant") || closed(s, "part:gasket") {
		t.Error("nothing holds the joint and its sealant counts as whole")
	}
	for len(s.DueNow()) > 0 || s.CurrentItem().Kind != StageItem {
		forward(t, s, now)
	}
	must(t, s, Command{Do: Reseal, Text: "smeared off"}, now)
	if closed(s, "sealant") || closed(s, "part:gasket") {
		t.Error("sealed afresh, and the old film counts")
	}
}
