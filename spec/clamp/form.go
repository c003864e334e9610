package clamp

import (
	"fmt"
	"math"
	"strconv"

	"evenpull/spec/bolt"
)

// Form names a torque-to-preload formula. They differ by under half a percent, but for
// the short one; a result always says which was used.
type Form string

// The forms. T torque, F preload, P pitch, d2 pitch diameter, D mean bearing diameter,
// µ friction in the thread (µG) and under the head (µK).
const (
	VDI     Form = "VDI 2230"         // T = F·(P/2π + d2·µG/(2·cos 30°) + µK·D/2)
	Tangent Form = "exact tangent"    // T = F·((d2/2)·tan-of-the-sum + µK·D/2) (Shigley)
	Rounded Form = "VDI 2230 rounded" // T = F·(0.16·P + 0.58·d2·µG + µK·D/2) (VDI 2230:2003, from memory)
	Short   Form = "K·F·d"            // T = K·F·d, K the nut factor
)

// cosFlank is the cosine of half the thread angle, 30°.
var cosFlank = math.Sqrt(3) / 2

// threadLeverMM is the torque in the thread for each newton of preload, in N·mm/N.
// The short form has no thread term of its own and takes that of VDI 2230.
func (f Form) threadLeverMM(t bolt.Thread, muThread float64) float64 {
	d2, p := t.PitchDiameterMM(), t.PitchMM
	switch f {
	case Tangent:
		return tangentLever(d2, p, muThread)
	case Rounded:
		return 0.16*p + 0.58*d2*muThread
	}
	return p/(2*math.Pi) + d2*muThread/(2*cosFlank)
}

// tangentLever is (dm/2)·(tan φ + µ/cos 30°)/(1 − tan φ·µ/cos 30°), exact for a square-on helix.
func tangentLever(dm, pitch, mu float64) float64 {
	tan, sec := pitch/(math.Pi*dm), mu/cosFlank
	return dm / 2 * (tan + sec) / (1 - tan*sec)
}

// NutFactor is the K of T = K·F·d from a thread's own sizes (Shigley's long form), for
// a mean thread diameter dm and a mean bearing diameter of 1.25·d. All lengths in one unit.
func NutFactor(d, dm, pitch, muThread, muHead float64) float64 {
	return tangentLever(dm, pitch, muThread)/d + 0.625*muHead
}

// ShortTorque is T = K·F·d, in the units of F times those of d.
func ShortTorque(nutFactor, force, d float64) float64 { return nutFactor * force * d }

// check names the forms if this is none of them.
func (f Form) check() error {
	switch f {
	case VDI, Tangent, Rounded, Short:
		return nil
	}
	return fmt.Errorf("no torque formula %.40q; give %q, %q, %q or %q", string(f), VDI, Tangent, Rounded, Short)
}

func (f Form) describe() string {
	switch f {
	case Tangent:
		return "exact tangent torque formula (Shigley)"
	case Rounded:
		return "VDI 2230 torque formula with its rounded constants 0.16 and 0.58"
	case Short:
		return "short torque formula T = K·F·d"
	}
	return "VDI 2230 torque formula with exact constants 1/(2π) and 1/(2·cos 30°)"
}

// Digits prints a figure to that many significant digits, never with an exponent: 1120, 24.5.
func Digits(v float64, digits int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64) // its own print
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
