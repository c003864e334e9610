package clamping

import (
	"evenpull/spec/estimate"
	"math"
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec/read"
)

const loadSheet = `format = 1
[procedure]
name = "Fit the head"
direction = "close"
source = "invented"
[group.head]
thread = "M10x1.25"
class = "10.9"
friction = "oiled"
grip = "112 mm"
torque = "30 N·m"
[group.head.at]
H1 = [0, 0]
[group.bare]
thread = "M6x1"
[group.bare.at]
N1 = [10, 0]
[group.short]
thread = "M8x1.25"
class = "8.8"
friction = "oiled"
[group.short.at]
S1 = [20, 0]
[[pass]]
name = "Torque"
groups = ["head"]
torque = "100 %"
[[pass]]
name = "First turn"
groups = ["head"]
turn = "30°"
[[pass]]
name = "Second turn"
groups = ["head"]
turn = "30°"
[[pass]]
name = "Slacken"
groups = ["head"]
loosen = "90°"
[[pass]]
name = "Again"
groups = ["head"]
torque = "40 N·m"
[[pass]]
name = "Once more"
groups = ["head"]
turn = "20°"
[[pass]]
name = "Felt"
groups = ["head"]
verify = "at least 60 N·m"
[[pass]]
name = "Bare"
groups = ["bare"]
torque = "5 N·m"
[[pass]]
name = "Short"
groups = ["short"]
torque = "40 N·m"
[[pass]]
name = "Short turn"
groups = ["short"]
turn = "20°"
`

func stages(t *testing.T) (*plan.Plan, map[string]*plan.Stage) {
	t.Helper()
	p, problems := read.Procedure("head.toml", []byte(loadSheet))
	if p == nil {
		t.Fatal(problems)
	}
	pl, by := plan.Of(p), map[string]*plan.Stage{}
	for _, st := range pl.Stages {
		by[st.Pass.Name] = st
	}
	return pl, by
}

func loadOf(t *testing.T, pass string) Load {
	t.Helper()
	p, by := stages(t)
	l, err := Alone(p, by[pass])
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestATorqueIsClampsOwnEstimate(t *testing.T) {
	p, by := stages(t)
	joint, _ := estimate.Joint(by["Torque"].Fastener.Group)
	a, err := joint.Assess(30)
	if err != nil {
		t.Fatal(err)
	}
	l, err := Alone(p, by["Torque"])
	if err != nil {
		t.Fatal(err)
	}
	if l.NominalN != a.PreloadN || l.LowN != a.PreloadLowN || l.HighN != a.PreloadHighN || l.YieldN != a.YieldPreloadN || math.Abs(l.Share()-a.Utilisation) > 1e-9 {
		t.Errorf("got %+v, want %+v", l, a)
	}
}

func TestTurnsCountFromTheLastTorque(t *testing.T) {
	for pass, want := range map[string][2]float64{"First turn": {30, 30}, "Second turn": {30, 60}, "Once more": {40, 20}} {
		l := loadOf(t, pass)
		if l.TorqueNm != want[0] || l.Degrees != want[1] {
			t.Errorf("%s: %v° after %v N·m, want %v° after %v", pass, l.Degrees, l.TorqueNm, want[1], want[0])
		}
		if !(l.LowN < l.NominalN && l.NominalN <= l.HighN && l.HighN <= l.YieldN) {
			t.Errorf("%s: band %v %v %v of %v", pass, l.LowN, l.NominalN, l.HighN, l.YieldN)
		}
	}
	if first, second := loadOf(t, "First turn"), loadOf(t, "Second turn"); second.NominalN <= first.NominalN {
		t.Errorf("the second turn leaves %v after %v", second.NominalN, first.NominalN)
	}
}

func TestPastYieldIsHeldAndSaid(t *testing.T) {
	l := loadOf(t, "Short") // M8 8.8 oiled yields at about 27 N·m
	if !l.Yields || !l.MayYield || l.NominalN != l.YieldN || l.HighN != l.YieldN {
		t.Errorf("got %+v", l)
	}
}

func TestOnlyTheLastStageDoubtsTheFinalFigure(t *testing.T) {
	if l := loadOf(t, "Torque"); len(l.Doubts) != 0 {
		t.Errorf("a first stage is doubted: %v", l.Doubts)
	}
	p, by := stages(t)
	final := by["Short turn"]
	final.Fastener.Group.Grip = by["Torque"].Fastener.Group.Grip
	l, err := Alone(p, final)
	if err != nil || len(l.Doubts) == 0 {
		t.Errorf("40 N·m on M8 8.8 is not doubted: %+v, %v", l, err)
	}
}

func TestWhatCannotBeEstimatedSaysWhy(t *testing.T) {
	p, by := stages(t)
	for pass, want := range map[string]string{
		"Slacken":    "no torque, turn or stretch",
		"Bare":       `group "bare" has no class; give one`,
		"Short turn": `group "short" has no grip; give the clamp length`,
	} {
		if _, err := Alone(p, by[pass]); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %q in it", pass, err, want)
		}
	}
	if l, err := Alone(p, by["Felt"]); err != nil || l.TorqueNm != 60 {
		t.Errorf("a verified torque: %+v, %v", l, err)
	}
}

// Running is said at the last stage alone, and only where the sheet says what is clamped.
func TestRunningIsSaidWhereWhatIsClampedIsKnown(t *testing.T) {
	text := strings.Replace(loadSheet, `grip = "112 mm"`, "grip = \"112 mm\"\nclamps = \"cast aluminium\"", 1)
	p, problems := read.Procedure("head.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	pl := plan.Of(p)
	for _, st := range pl.Stages {
		l, err := Alone(pl, st)
		if err != nil {
			continue
		}
		if last := st.Pass.Name == "Once more"; (l.Warm != nil) != last {
			t.Errorf("%s: warm is %+v", st.Pass.Name, l.Warm)
		} else if last {
			all := strings.Join(l.Assumptions, "\n")
			if !(l.Warm.GainN > 0 && l.Warm.WarmC == 90 && math.Abs(l.Warm.PreloadN-l.NominalN-l.Warm.GainN) < 1e-6) || strings.Count(all, "estimate only") != 1 || !strings.Contains(all, "where an engine runs") {
				t.Errorf("%+v, assumed:\n%s", l.Warm, all)
			}
		}
	}
}
