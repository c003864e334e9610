package neighbours

import (
	"fmt"
	"math"
	"strings"
)

// Plate is the cover or head, taken as a thin plate of one thickness.
type Plate struct {
	ElasticMPa  float64 // modulus of elasticity, over 0
	Poisson     float64 // Poisson's ratio, 0 to under 0.5
	ThicknessMM float64 // over 0
}

// RigidityNMM returns the flexural rigidity D = E·t³/(12·(1−ν²)) in N·mm
// (thin-plate theory, in every textbook on plates).
func (p Plate) RigidityNMM() float64 {
	return p.ElasticMPa * math.Pow(p.ThicknessMM, 3) / (12 * (1 - p.Poisson*p.Poisson))
}

// Face is the joint face: bare metal, a gasket, a sealant film.
type Face struct {
	ModulusNPerMM3 float64 // pressure per closing, over 0
}

// Bolt is one fastener as the cover feels it.
type Bolt struct {
	ID              string
	XMM, YMM        float64 // place on the joint face
	StiffnessNPerMM float64 // axial spring rate of the bolt, over 0
}

// Joint is a cover on an elastic face, held by bolts.
type Joint struct {
	Plate Plate
	Face  Face
	Bolts []Bolt
}

// check reports every problem of the joint.
func (j Joint) check() []string {
	problems := append(j.Plate.check(), j.Face.check()...)
	return append(problems, checkBolts(j.Bolts)...)
}

// check reports every problem of the plate by field.
func (p Plate) check() []string {
	problems := positive(nil, "plate modulus", p.ElasticMPa, "MPa")
	problems = positive(problems, "plate thickness", p.ThicknessMM, "mm")
	if !(p.Poisson >= 0 && p.Poisson < 0.5) {
		problems = append(problems, fmt.Sprintf("Poisson's ratio is %v; give 0 to under 0.5", p.Poisson))
	}
	return problems
}

func (f Face) check() []string {
	return positive(nil, "joint-face modulus", f.ModulusNPerMM3, "N/mm³")
}

// maxBolts bounds the work (n³) and the memory (n²) of one joint.
const maxBolts = 1000

// checkBolts reports every problem of the bolts: none or too many, no or repeated id,
// figures that are not finite or not over 0, two bolts on one spot.
func checkBolts(bolts []Bolt) []string {
	if len(bolts) == 0 {
		return []string{"no bolts; give at least one with id, place and stiffness"}
	}
	if len(bolts) > maxBolts {
		return []string{fmt.Sprintf("%d bolts; at most %d can be estimated together", len(bolts), maxBolts)}
	}
	var problems []string
	seen := make(map[string]bool, len(bolts))
	at := make(map[[2]float64]string, len(bolts))
	for i, b := range bolts {
		name := fmt.Sprintf("bolt %q", b.ID)
		switch {
		case b.ID == "":
			problems = append(problems, fmt.Sprintf("bolt number %d has no id; give it one", i+1))
		case seen[b.ID]:
			problems = append(problems, name+" is given twice; every id must differ")
		}
		seen[b.ID] = true
		problems = positive(problems, name+" stiffness", b.StiffnessNPerMM, "N/mm")
		if !finite(b.XMM) || !finite(b.YMM) {
			problems = append(problems, fmt.Sprintf("%s is at (%v, %v); give a finite place in mm", name, b.XMM, b.YMM))
			continue
		}
		place := [2]float64{b.XMM, b.YMM}
		if other, taken := at[place]; taken {
			problems = append(problems, fmt.Sprintf("%s and %q are both at (%v, %v); give each its own place", name, other, b.XMM, b.YMM))
		}
		at[place] = b.ID
	}
	return problems
}

func positive(problems []string, what string, v float64, unit string) []string {
	if v > 0 && finite(v) {
		return problems
	}
	return append(problems, fmt.Sprintf("%s is %v; give a finite number over 0 %s", what, v, unit))
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// asError joins problems into one error, nil when there is none.
func asError(problems []string) error {
	if len(problems) == 0 {
		return nil
	}
	return fmt.Errorf("joint cannot be estimated: %s", strings.Join(problems, "; also "))
}
