package estimate_test

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/spec"
	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
	"evenpull/spec/estimate"
	"evenpull/spec/read"
)

const twoGroups = `format = 1
[procedure]
name = "Fit the head"
direction = "close"
source = "invented"
[group.head]
thread = "M10x1.25"
class = "10.9"
friction = "oiled"
grip = "112 mm"
one_use = true
[group.head.at]
H1 = [0, 0]
H2 = [80, 0]
[group.side]
thread = "M6x1"
[group.side.at]
S1 = [0, 80]
`

// What other groups do is not what this one ends at, and what a loosening undoes is gone.
func TestFinalOfAGroupIsItsOwn(t *testing.T) {
	pass := func(name, group, does string) string {
		return "[[pass]]\nname = \"" + name + "\"\ngroups = [\"" + group + "\"]\n" + does + "\n"
	}
	for _, c := range []struct {
		passes                              string
		torque, turn, low, high, ceil, felt float64
		tightened                           bool
	}{
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "side", `torque = "8 N·m"`) + pass("C", "side", `loosen = "fully"`) + pass("D", "side", `torque = "8 N·m"`), 30, 0, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `turn = "90° to 94°"`) + pass("C", "head", `turn = "1/4 turn"`), 30, 184, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `turn = "at least 90°"`), 30, 90, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `turn = "90°"`) + pass("C", "head", `loosen = "fully"`) + pass("D", "head", `torque = "20 N·m"`), 20, 0, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `torque = "20 N·m"`) + pass("C", "head", `torque = "30 N·m"`), 30, 0, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "10 N·m"`) + pass("B", "head", `stretch = "0.2 mm to 0.25 mm"`+"\nceiling = \"60 N·m\""), 10, 0, 0.2, 0.25, 60, 0, true},
		{pass("A", "head", `torque = "10 N·m"`) + pass("B", "head", `stretch = "at most 0.25 mm"`), 10, 0, 0.25, 0.25, 0, 0, true},
		{pass("A", "head", `torque = "10 N·m"`) + pass("B", "head", `stretch = "0.25 mm"`) + pass("C", "head", `loosen = "fully"`) + pass("D", "head", `torque = "30 N·m"`), 30, 0, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `verify = "at least 25 N·m"`), 30, 0, 0, 0, 0, 25, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `verify = "at least 25 N·m"`) + pass("C", "head", `turn = "90°"`), 30, 90, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `verify = "at least 25 N·m"`) + pass("C", "head", `torque = "40 N·m"`), 40, 0, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `verify = "at least 25 N·m"`) + pass("C", "head", `torque = "30 N·m"`), 30, 0, 0, 0, 0, 0, true},
		{pass("A", "head", `torque = "30 N·m"`) + pass("B", "head", `loosen = "fully"`) + pass("C", "head", `torque = "20 N·m"`) + pass("D", "head", `torque = "10 N·m"`), 20, 0, 0, 0, 0, 0, true},
		{pass("A", "side", `torque = "8 N·m"`), 0, 0, 0, 0, 0, 25, false},
	} {
		passes := c.passes
		if !strings.Contains(passes, `"side"`) {
			passes += pass("Side", "side", `torque = "8 N·m"`)
		}
		if !strings.Contains(passes, `"head"`) {
			passes += pass("Head", "head", `verify = "at least 25 N·m"`)
		}
		p, problems := read.Recorded("head.toml", []byte(twoGroups+passes)) // what no sheet may end at now, one of then may
		if p == nil {
			t.Fatal(problems)
		}
		s, tightened := estimate.Final(p, p.Groups[0])
		got := [...]float64{s.TorqueNm, s.TurnDegrees, s.StretchLowMM, s.StretchHighMM, s.CeilingNm, s.VerifyNm}
		if want := [...]float64{c.torque, c.turn, c.low, c.high, c.ceil, c.felt}; got != want || tightened != c.tightened {
			t.Errorf("%s\nends at %v (%v), want %v", c.passes, got, tightened, want)
		}
	}
}

// What the thread is cut in comes along to the estimate, and nothing where the sheet is silent.
func TestFinalSaysWhatABoltGoesInto(t *testing.T) {
	sheet := strings.Replace(twoGroups, "one_use = true", "one_use = true\nengagement = \"16 mm\"\ninto = \"cast iron\"", 1) + `
[[pass]]
name = "Torque"
groups = ["head"]
torque = "30 N·m"
[[pass]]
name = "Side"
groups = ["side"]
torque = "8 N·m"
`
	p, problems := read.Procedure("head.toml", []byte(sheet))
	if p == nil {
		t.Fatal(problems)
	}
	iron, err := bolt.ParseMaterial("cast iron")
	if err != nil {
		t.Fatal(err)
	}
	if s, _ := estimate.Final(p, p.Groups[0]); s.Into != iron || s.LengthMM != 16 || !s.OneUse {
		t.Errorf("head: %+v", s)
	}
	if s, _ := estimate.Final(p, p.Groups[1]); s.Into != (bolt.Material{}) || s.LengthMM != 0 || s.OneUse {
		t.Errorf("side: %+v", s)
	}
}

func TestVerdictsSayWhatTheyRestOn(t *testing.T) {
	p, problems := read.Procedure("head.toml", []byte(twoGroups+`
[[pass]]
name = "Torque"
groups = ["head"]
torque = "300 N·m"
[[pass]]
name = "Turn"
groups = ["head"]
turn = "900°"
[[pass]]
name = "Feel"
groups = ["side"]
verify = "at least 5 N·m"
`))
	if p == nil {
		t.Fatal(problems)
	}
	head, side := estimate.Verdicts(p)[0], estimate.Verdicts(p)[1]
	if head.Group != p.Groups[0] || !head.Whole() || len(head.Doubts) < 2 || !strings.HasPrefix(head.Text(), "doubted: several figures, see the warnings") {
		t.Errorf("head: %s", head.Text())
	}
	if side.Whole() || side.Text() != "not judged: nothing here tightens it" {
		t.Errorf("side: %s", side.Text())
	}
}

// Each group has one verdict, its own, also behind one that nothing tightens.
func TestEveryGroupHasOneVerdict(t *testing.T) {
	p, problems := read.Procedure("head.toml", []byte(twoGroups+`
[[pass]]
name = "Feel"
groups = ["head"]
verify = "at least 5 N·m"
[[pass]]
name = "Torque"
groups = ["side"]
torque = "8 N·m"
`))
	if p == nil {
		t.Fatal(problems)
	}
	list := estimate.Verdicts(p)
	if len(list) != 2 || list[0].Group != p.Groups[0] || list[1].Group != p.Groups[1] {
		t.Fatalf("%+v", list)
	}
	if list[0].Text() != "not judged: nothing here tightens it" || list[1].Text() == list[0].Text() {
		t.Errorf("%q, %q", list[0].Text(), list[1].Text())
	}
	p.Direction = spec.Open
	for _, v := range estimate.Verdicts(p) {
		if v.Text() != "not judged: nothing here tightens it" {
			t.Errorf("%s on the way apart: %s", v.Group.ID, v.Text())
		}
	}
}

func TestAVerdictInALine(t *testing.T) {
	one := []clamp.Doubt{{Text: "too much"}}
	for _, c := range []struct {
		j    clamp.Judgement
		want string
	}{
		{clamp.Judgement{Judged: []string{"8 N·m"}}, "judged: 8 N·m"},
		{clamp.Judgement{Doubts: one}, "doubted: 1 figure, see the warning"},
		{clamp.Judgement{Doubts: append(one, one...)}, "doubted: several figures, see the warnings"},
		{clamp.Judgement{Doubts: one, NotJudged: []string{"the turn"}}, "doubted: 1 figure, see the warning; not judged: the turn"},
	} {
		if got := (estimate.Verdict{Judgement: c.j}).Text(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.j, got, c.want)
		}
	}
}

// Groups of one bolt and one figure are judged once: eight alike ask for less than half of
// what eight that differ do.
func TestAlikeGroupsAreJudgedOnce(t *testing.T) {
	asks := func(more string) float64 {
		var sheet strings.Builder
		sheet.WriteString("format = 1\n[procedure]\nname = \"Lids\"\ndirection = \"close\"\nsource = \"invented\"\n")
		for i := range 8 {
			extra := strings.Repeat(more, i)
			fmt.Fprintf(&sheet, "[group.g%d]\nthread = \"M10x1.25\"\nclass = \"10.9\"\nat = { G%d = [%d, 0] }\n[[pass]]\nname = \"P%d\"\ngroups = [\"g%d\"]\ntorque = \"5%s N·m\"\n", i, i, i*60, i, i, ".0"+extra)
		}
		p, problems := read.Recorded("lids.toml", []byte(sheet.String()))
		if p == nil {
			t.Fatal(problems)
		}
		return testing.AllocsPerRun(5, func() { estimate.Verdicts(p) })
	}
	if alike, unlike := asks(""), asks("1"); alike >= unlike/2 {
		t.Errorf("%v allocations for eight alike, %v for eight that differ", alike, unlike)
	}
}
