package bolt

import (
	"fmt"
	"math"
)

// Engagement is a bolt screwed into a hole: what strips, and at what pull. Like is
// compared with like: the pulls are all at minimum strengths.
//
// Shear areas follow the unified form of FED-STD-H28/2B (structure read in print): each thread is
// sheared at the crest of the other, worst case inside the tolerances.
type Engagement struct {
	Thread     Thread
	Class      Class
	BoreMM     float64 // 0: solid bolt
	LengthMM   float64 // full threads engaged
	Hole       Material
	WireInsert bool // a wire thread insert: the hole is cut larger, see HoleShearMM2
}

const (
	// boltShearRatio is shear over tensile strength of bolt steel (VDI 2230: 0.60 to 0.65; from memory).
	boltShearRatio = 0.60
	// boltTypical is the typical over the minimum tensile strength of a bolt: the middle of the
	// hardness that ISO 898-1 allows a class lies about a tenth over its minimum (from memory).
	boltTypical = 1.10
)

// shearTangent is tan 30°, the flank's.
var shearTangent = 1 / math.Sqrt(3)

// perMM is the bolt-thread shear area for each mm of engagement.
func (e Engagement) boltPerMM() float64 {
	l := e.Thread.Limits()
	return math.Pi / e.Thread.PitchMM * l.MinorInternalMaxMM * (e.Thread.PitchMM/2 + shearTangent*(l.PitchMinMM-l.MinorInternalMaxMM))
}

func (e Engagement) holePerMM() float64 {
	l := e.Thread.Limits()
	// A wire insert of round section sits in a thread whose every diameter is larger by
	// 1.299038·P, one and a half sharp triangles (the usual tap for inserts, from memory).
	larger := 0.0
	if e.WireInsert {
		larger = 2 * pitchDrop * e.Thread.PitchMM
	}
	return math.Pi / e.Thread.PitchMM * (l.MajorMinMM + larger) * (e.Thread.PitchMM/2 + shearTangent*(l.MajorMinMM-l.PitchInternalMaxMM))
}

// Check says what is missing or impossible.
func (e Engagement) Check() error {
	if _, err := ProofLoad(e.Thread, e.Class, e.BoreMM); err != nil {
		return err
	}
	if !(e.LengthMM > 0) || math.IsInf(e.LengthMM, 0) {
		return fmt.Errorf("engagement is %v mm; give the length of full threads, over 0 mm", e.LengthMM)
	}
	return e.Hole.check()
}

// BoltShearMM2 is the area that must shear for the bolt's thread to strip, in mm².
func (e Engagement) BoltShearMM2() float64 { return e.LengthMM * e.boltPerMM() }

// HoleShearMM2 is the area that must shear for the hole's thread to strip, in mm². With
// a wire insert it is the larger thread the insert sits in.
func (e Engagement) HoleShearMM2() float64 { return e.LengthMM * e.holePerMM() }

// BoltStripN is the pull that strips the bolt's thread: its area × 0.60 × tensile strength.
func (e Engagement) BoltStripN() float64 {
	_, _, tensile, _ := e.Class.Strength(e.Thread)
	return e.BoltShearMM2() * boltShearRatio * tensile
}

// HoleStripN is the pull that strips the hole's thread: its area × the material's shear
// strength, both at their minimum.
func (e Engagement) HoleStripN() float64 { return e.HoleShearMM2() * e.Hole.LeastShearMPa() }

// BreakN is the pull that breaks the bolt: minimum tensile strength × (stress area − bore area).
func (e Engagement) BreakN() float64 {
	_, _, tensile, _ := e.Class.Strength(e.Thread)
	return tensile * (e.Thread.StressAreaMM2() - math.Pi/4*e.BoreMM*e.BoreMM)
}

// MinimumMM is the engagement at which the bolt breaks before either thread strips, a weakest
// bolt in a weakest hole and a typical one in a typical one, whichever is longer.
func (e Engagement) MinimumMM() float64 {
	breaks := e.BreakN()
	_, _, tensile, _ := e.Class.Strength(e.Thread)
	return max(breaks/(e.boltPerMM()*boltShearRatio*tensile),
		breaks/(e.holePerMM()*e.Hole.LeastShearMPa()),
		boltTypical*breaks/(e.holePerMM()*e.Hole.ShearMPa))
}
