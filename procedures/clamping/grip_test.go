package clamping

import (
	"evenpull/spec/estimate"
	"strings"
	"testing"

	"evenpull/spec/read"
)

// The seating torque before a loosening is not the snug torque of the turn after it, and
// what is clamped is of the cover's material, screwed into what the group names.
func TestFinalAfterALoosening(t *testing.T) {
	text := strings.NewReplacer(
		"[group.head]", "[cover]\npart = \"head\"\nmaterial = \"cast aluminium\"\nthickness = \"30 mm\"\nface = \"bare metal\"\ngroups = [\"head\"]\n[group.head]\nengagement = \"25 mm\"\ninto = \"cast iron\"",
		"torque = \"40 N·m\"\n[[pass]]\nname = \"Once more\"", "torque = \"20 N·m\"\n[[pass]]\nname = \"Once more\"",
	).Replace(loadSheet)
	p, problems := read.Procedure("head.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	final, given := estimate.Final(p, p.Groups[0])
	if !given || final.TorqueNm != 20 || final.TurnDegrees != 20 {
		t.Errorf("final is %v N·m and %v° (%v), want 20 N·m and 20°: what came before the loosening is gone", final.TorqueNm, final.TurnDegrees, given)
	}
	if g := final.Grip; g.LengthMM != 112 || g.PartsGPa != 71.7 || g.HoleGPa != 110 || !g.Tapped {
		t.Errorf("grip is %+v, want 112 mm of 71.7 GPa tapped into 110 GPa", g)
	}
	if other := estimate.Grip(p, p.Groups[1]); other.PartsGPa != 0 || other.Tapped {
		t.Errorf("a group that does not hold the cover has grip %+v, want the usual", other)
	}
}
