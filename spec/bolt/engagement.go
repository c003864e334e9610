package bolt

import (
	"fmt"
	"math"
)

// Engagement is a bolt screwed into a hole: what strips, and at what pull.
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

// boltShearRatio is shear over tensile strength of bolt steel (VDI 2230: 0.60 to 0.65; from memory).
const boltShearRatio = 0.60

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
	if _, err := Strength(e.Thread, e.Class, e.BoreMM); err != nil {
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

// HoleStripN is the pull that strips the hole's thread: its area × the material's shear strength.
func (e Engagement) HoleStripN() float64 { return e.HoleShearMM2() * e.Hole.ShearMPa }

// BreakN is the pull that breaks the bolt: tensile strength × (stress area − bore area).
func (e Engagement) BreakN() float64 {
	_, _, tensile, _ := e.Class.Strength(e.Thread)
	return tensile * e.areaMM2()
}

func (e Engagement) areaMM2() float64 {
	return e.Thread.StressAreaMM2() - math.Pi/4*e.BoreMM*e.BoreMM
}

// J is how much weaker the hole's thread is than the bolt's:
// (bolt area × bolt Rm)/(hole area × hole Rm) (FED-STD-H28/2B). Under 1 it changes nothing.
func (e Engagement) J() float64 {
	_, _, tensile, _ := e.Class.Strength(e.Thread)
	return e.boltPerMM() * tensile / (e.holePerMM() * e.Hole.TensileMPa)
}

// MinimumMM is the engagement at which the bolt breaks before either thread strips: the
// length whose bolt-thread area is twice the tensile area, times J if over 1 (FED-STD-H28/2B).
func (e Engagement) MinimumMM() float64 {
	return 2 * e.areaMM2() / e.boltPerMM() * max(1, e.J())
}
