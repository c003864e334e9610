package bolt

import (
	"fmt"
	"math"
)

// Section is one cross-section that carries the bolt's load: round, perhaps bored,
// perhaps cut by a radial hole. Make it with ThreadSection, WaistSection or CrossHoleSection.
type Section struct {
	What        string  // "thread", "waist", "cross-hole"
	OuterMM     float64 // stress diameter of a thread, or the plain diameter
	BoreMM      float64 // 0: solid
	CrossHoleMM float64 // diameter of a radial hole through both walls; 0: none
	areaMM2     float64 // solid area when the standard gives its own; 0: π/4·outer²
}

// ThreadSection is the thread at its stress diameter, less a bore along the axis in mm
// (0: solid). A bore as wide as the thread root or wider is an error.
func ThreadSection(t Thread, boreMM float64) (Section, error) {
	if err := t.check(); err != nil {
		return Section{}, err
	}
	if err := checkBore(boreMM, t.RootDiameterMM(), t.Name+" root"); err != nil {
		return Section{}, err
	}
	return Section{What: "thread", OuterMM: t.StressDiameterMM(), BoreMM: boreMM, areaMM2: t.StressAreaMM2()}, nil
}

// WaistSection is a shank turned down to waistMM, less the bore.
func WaistSection(waistMM, boreMM float64) (Section, error) {
	if !(waistMM > 0) || math.IsInf(waistMM, 0) {
		return Section{}, fmt.Errorf("waist is %v mm; give a diameter over 0 mm", waistMM)
	}
	if err := checkBore(boreMM, waistMM, "waist"); err != nil {
		return Section{}, err
	}
	return Section{What: "waist", OuterMM: waistMM, BoreMM: boreMM}, nil
}

// CrossHoleSection is the section through the radial hole of an oil-feed bolt: outer
// diameter there, bore, and hole diameter, all in mm. What is left is the ring less hole
// width × wall, twice (common practice, no source).
func CrossHoleSection(outerMM, boreMM, holeMM float64) (Section, error) {
	s, err := WaistSection(outerMM, boreMM)
	if err != nil {
		return Section{}, fmt.Errorf("at the cross-hole: %w", err)
	}
	if !(holeMM > 0) || holeMM >= outerMM {
		return Section{}, fmt.Errorf("cross-hole is %v mm in a section of %.4g mm; give a diameter over 0 and under it", holeMM, outerMM)
	}
	s.What, s.CrossHoleMM = "cross-hole", holeMM
	if s.AreaMM2() <= 0 {
		return Section{}, fmt.Errorf("cross-hole of %v mm leaves nothing of a %.4g mm section with a %.4g mm bore; give a smaller hole", holeMM, outerMM, boreMM)
	}
	return s, nil
}

func checkBore(boreMM, limitMM float64, what string) error {
	if !(boreMM >= 0) {
		return fmt.Errorf("bore is %v mm; give 0 for a solid bolt, or its diameter", boreMM)
	}
	if boreMM >= limitMM {
		return fmt.Errorf("bore of %v mm is as wide as the %s (%.3f mm) or wider; give a bore under it", boreMM, what, limitMM)
	}
	return nil
}

// ringMM2 is the area before a cross-hole is taken off.
func (s Section) ringMM2() float64 {
	solid := s.areaMM2
	if solid == 0 {
		solid = math.Pi / 4 * s.OuterMM * s.OuterMM
	}
	return solid - math.Pi/4*s.BoreMM*s.BoreMM
}

// left is the part of the ring that a cross-hole leaves, 0 to 1.
func (s Section) left() float64 {
	cut := s.CrossHoleMM * (s.OuterMM - s.BoreMM) // width × wall, both walls
	return (s.ringMM2() - cut) / s.ringMM2()
}

// AreaMM2 is the area that carries tension.
func (s Section) AreaMM2() float64 { return s.ringMM2() * s.left() }

// ElasticTorsionMM3 is the torsion modulus at first yield of the surface,
// (π/16)(D⁴−d⁴)/D (strength of materials). A cross-hole takes off the same share as of
// the area (common practice, no source; its stress peak is not counted).
func (s Section) ElasticTorsionMM3() float64 {
	return math.Pi / 16 * (math.Pow(s.OuterMM, 4) - math.Pow(s.BoreMM, 4)) / s.OuterMM * s.left()
}

// PlasticTorsionMM3 is the torsion modulus with the whole section at yield,
// (π/12)(D³−d³) (strength of materials; VDI 2230 from 2001 uses it for solid bolts).
func (s Section) PlasticTorsionMM3() float64 {
	return math.Pi / 12 * (math.Pow(s.OuterMM, 3) - math.Pow(s.BoreMM, 3)) * s.left()
}

// ProofLoad is what a fastener can carry in newtons without lasting stretch: proof
// stress × (tensile stress area − bore area). Torsion from tightening is not in it. A
// bore as wide as the root, a negative one or an unknown class is an error.
func ProofLoad(t Thread, c Class, boreMM float64) (newtons float64, err error) {
	section, err := ThreadSection(t, boreMM)
	if err != nil {
		return 0, err
	}
	proof, _, _, _ := c.Strength(t)
	if proof == 0 {
		return 0, fmt.Errorf("property class %s is not known; write one such as 8.8, A2-70 or SAE 5", quoted(c.Name))
	}
	return proof * section.AreaMM2(), nil
}
