package estimate_test

import (
	"strings"
	"testing"

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
		{pass("A", "side", `torque = "8 N·m"`), 0, 0, 0, 0, 0, 25, false},
	} {
		passes := c.passes
		if !strings.Contains(passes, `"side"`) {
			passes += pass("Side", "side", `torque = "8 N·m"`)
		}
		if !strings.Contains(passes, `"head"`) {
			passes += pass("Head", "head", `verify = "at least 25 N·m"`)
		}
		p, problems := read.Procedure("head.toml", []byte(twoGroups+passes))
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
