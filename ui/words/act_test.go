package words

import (
	"reflect"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/read"
)

const acts = `format = 1
[procedure]
name = "Nut"
direction = "close"
source = "invented"
[group.nut]
thread = "M16x1.5"
class = "8.8"
drive = "24 mm hex"
torque = "40 N·m"
[group.nut.at]
P1 = [0, 0]
[[pass]]
name = "All"
groups = ["nut"]
each = [{ torque = "40 N·m" }, { loosen = "90°" }, { loosen = "fully" }, { remove = true }, { torque = "37 N·m to 43 N·m" }, { turn = "90° to 94°" }, { stretch = "0.12 mm" }, { torque = "40 N·m" }, { verify = "at least 35 N·m" }]
`

// What is asked of the hand; on a left-hand thread the way is said (definition:
// it tightens anticlockwise).
func TestTasks(t *testing.T) {
	p, problems := read.Procedure("nut.toml", []byte(acts))
	if p == nil {
		t.Fatal(problems)
	}
	right := []string{
		"tighten to 40 N·m", "loosen by 90°", "loosen until it is free", "remove, keep its place", "tighten to 37 to 43 N·m",
		"tighten by 90° to 94°", "stretch by 0.12 mm", "tighten to 40 N·m", "feel, do not move it: at least 35 N·m",
	}
	left := []string{
		"tighten anticlockwise to 40 N·m", "loosen clockwise by 90°", "loosen clockwise until it is free", "remove clockwise, keep its place",
		"tighten anticlockwise to 37 to 43 N·m", "tighten anticlockwise by 90° to 94°", "stretch anticlockwise by 0.12 mm",
		"tighten anticlockwise to 40 N·m", "feel anticlockwise, do not move it: at least 35 N·m",
	}
	for _, want := range [][]string{right, left} {
		var got []string
		for _, st := range plan.Of(p).Stages {
			got = append(got, Task(st))
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("got  %q\nwant %q", got, want)
		}
		p.Groups[0].LeftHand = true
	}
}

// Flats where there is a hexagon, points where there are twelve, else neither.
func TestTurnsCountWhatTheDriveHas(t *testing.T) {
	p, _ := read.Procedure("nut.toml", []byte(acts))
	turn := p.Passes[0].Steps[5].Target(p.Groups[0]).Turn
	for drive, want := range map[string][]string{
		"24 mm hex":          {"90° to 94°", "1.5 to 1.567 flats", "1/4 to 0.261 turns"},
		"24 mm twelve-point": {"90° to 94°", "3 to 3.133 points", "1/4 to 0.261 turns"},
		"24 mm socket":       {"90° to 94°", "1/4 to 0.261 turns"},
	} {
		if got := Turns(turn, &spec.Group{Drive: drive}); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %q, want %q", drive, got, want)
		}
	}
}
