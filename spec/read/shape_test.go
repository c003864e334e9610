package read

import (
	"strings"
	"testing"

	"evenpull/spec/estimate"
)

const shapely = `format = 1
[procedure]
name = "Fit the rods"
direction = "close"
source = "invented"
[group.rod]
thread = "M8x1"
class = "12.9"
grip = "40 mm"
bore = "2 mm"
shank = "30 mm"
waist = "6.5 mm"
waist_length = "20 mm"
cross_hole = "1 mm"
clamps = "magnesium"
torque = "20 N·m"
[group.rod.at]
A1 = [0, 0]
[group.stud]
thread = "M8x1"
class = "12.9"
grip = "40 mm"
torque = "20 N·m"
[group.stud.at]
S1 = [10, 0]
[[pass]]
name = "Torque"
groups = ["rod", "stud"]
torque = "100 %"
first = "weak"
[cover]
material = "cast aluminium"
thickness = "20 mm"
face = "metal"
`

// The keys of a bolt's shape reach the estimates, and what is not given is known not to be.
func TestTheShapeOfABoltReachesItsEstimate(t *testing.T) {
	p, problems := Procedure("rods.toml", []byte(shapely))
	if p == nil {
		t.Fatal(problems)
	}
	rod, _ := estimate.Joint(p.Groups[0])
	if rod.WaistMM != 6.5 || rod.CrossHoleMM != 1 || rod.BoreMM != 2 {
		t.Errorf("joint %+v", rod)
	}
	g := estimate.Grip(p, p.Groups[0])
	if g.LengthMM != 40 || g.ShankMM != 30 || !g.ShankKnown || g.WaistMM != 20 || g.Parts != "magnesium" || g.PartsGPa != 45 || g.PartsPerMK != 26 {
		t.Errorf("grip %+v", g)
	}
	g = estimate.Grip(p, p.Groups[1])
	if g.ShankKnown || g.ShankMM != 0 || g.WaistMM != 0 || g.Parts != "aluminium" || g.PartsGPa != 71.7 || g.PartsPerMK != 21.5 {
		t.Errorf("grip with nothing but its length, on the cover: %+v", g)
	}
	p, problems = Procedure("rods.toml", []byte(strings.Replace(shapely, `shank = "30 mm"
waist = "6.5 mm"
waist_length = "20 mm"`, `shank = "0 mm"`, 1)))
	if p == nil {
		t.Fatal(problems)
	}
	if g = estimate.Grip(p, p.Groups[0]); !g.ShankKnown || g.ShankMM != 0 {
		t.Errorf("thread up to the head is read as %+v", g)
	}
}

// A length that just fits is no problem.
func TestShapesThatJustFit(t *testing.T) {
	for _, change := range []*strings.Replacer{
		strings.NewReplacer(`shank = "30 mm"`, `shank = "40 mm"`),
		strings.NewReplacer(`waist_length = "20 mm"`, `waist_length = "30 mm"`),
		strings.NewReplacer(`shank = "30 mm"`, ``, `waist_length = "20 mm"`, `waist_length = "40 mm"`),
		strings.NewReplacer(`waist = "6.5 mm"`, `waist = "8 mm"`),
	} {
		if p, problems := Procedure("rods.toml", []byte(change.Replace(shapely))); p == nil {
			t.Error(problems)
		}
	}
}

// What is wrong with the thread is said alone; a shank may be given without a grip.
func TestShapesOfWhatIsNotKnown(t *testing.T) {
	_, problems := Procedure("rods.toml", []byte(strings.NewReplacer("M8x1", "M8x7", `waist = "6.5 mm"`, `waist = "0.5 mm"`).Replace(shapely)))
	if errors := problems.Errors(); len(errors) != 2 || !strings.Contains(errors[0].Error(), "M8x7") || !strings.Contains(errors[1].Error(), "M8x7") {
		t.Errorf("two bad threads and a waist under the bore give %v", errors)
	}
	if p, problems := Procedure("rods.toml", []byte(strings.ReplaceAll(shapely, `grip = "40 mm"`, ""))); p == nil {
		t.Errorf("no grip: %v", problems)
	}
	if p, problems := Procedure("rods.toml", []byte(strings.NewReplacer(`grip = "40 mm"`, "", `shank = "30 mm"`, "").Replace(shapely))); p == nil {
		t.Errorf("a waist with neither grip nor shank: %v", problems)
	}
	if p, problems := Procedure("rods.toml", []byte(strings.Replace(shapely, `shank = "30 mm"`, `shank = "0 mm"`, 1))); p != nil {
		t.Errorf("a waist of 20 mm in no shank at all is accepted: %v", problems)
	}
	if p, problems := Procedure("rods.toml", []byte(strings.ReplaceAll(shapely, `grip = "40 mm"`, `grip = "0.5 mm"`))); p != nil {
		t.Errorf("a shank of 30 mm in a grip of 0.5 mm is accepted: %v", problems)
	}
}
