package bolt

import "math"

// Limits are the worst cases of a thread pair inside its tolerances, in mm: the
// thinnest bolt thread in the widest hole thread.
type Limits struct {
	MajorMinMM         float64 // d min, bolt
	PitchMinMM         float64 // d2 min, bolt
	PitchInternalMaxMM float64 // D2 max, hole
	MinorInternalMaxMM float64 // D1 max, hole
	Basis              string
}

// Limits returns the tolerance limits of the thread: ISO 965-1 6g/6H for a metric one,
// ASME B1.1 2A/2B for a Unified one.
func (t Thread) Limits() Limits {
	if t.Inch {
		return t.unifiedLimits()
	}
	return t.metricLimits()
}

// pitchTolerance holds what ISO 965-1 gives by pitch alone, in µm: fundamental deviation g,
// bolt major tolerance grade 6, hole minor tolerance grade 6.
type pitchTolerance struct{ g, major, minor float64 }

// Held against print (limits_test.go) but for g from 3 mm up and the hole's minor diameter under 0.75 mm. Those are
// from memory: preferred numbers within one step of the standard's own formulae.
var pitchTolerances = bySize[pitchTolerance]{
	{0.35, pitchTolerance{19, 85, 100}}, {0.4, pitchTolerance{19, 95, 112}}, {0.45, pitchTolerance{20, 100, 125}}, {0.5, pitchTolerance{20, 106, 140}}, {0.6, pitchTolerance{21, 125, 160}},
	{0.7, pitchTolerance{22, 140, 180}}, {0.75, pitchTolerance{22, 140, 190}}, {0.8, pitchTolerance{24, 150, 200}}, {1, pitchTolerance{26, 180, 236}}, {1.25, pitchTolerance{28, 212, 265}},
	{1.5, pitchTolerance{32, 236, 300}}, {1.75, pitchTolerance{34, 265, 335}}, {2, pitchTolerance{38, 280, 375}}, {2.5, pitchTolerance{42, 335, 450}}, {3, pitchTolerance{48, 375, 500}},
	{3.5, pitchTolerance{53, 425, 560}}, {4, pitchTolerance{60, 475, 600}}, {4.5, pitchTolerance{63, 500, 670}}, {5, pitchTolerance{71, 530, 710}}, {5.5, pitchTolerance{75, 560, 750}}, {6, pitchTolerance{80, 600, 800}},
}

// diameterRange is one row of ISO 965-1 by diameter, with pitch-diameter tolerances grade 6
// in µm, bolt then hole, by pitch.
type diameterRange struct {
	overMM, upToMM float64
	byPitch        bySize[[2]float64]
}

// Checked as pitchTolerances; from memory are the fine pitches of bolts over 22.4 mm.
var diameterRanges = []diameterRange{
	{0.99, 1.4, nil},
	{1.4, 2.8, nil},
	{2.8, 5.6, bySize[[2]float64]{{0.5, [2]float64{75, 100}}, {0.6, [2]float64{85, 112}}, {0.7, [2]float64{90, 118}}, {0.75, [2]float64{90, 118}}, {0.8, [2]float64{95, 125}}}},
	{5.6, 11.2, bySize[[2]float64]{{0.75, [2]float64{100, 132}}, {1, [2]float64{112, 150}}, {1.25, [2]float64{118, 160}}, {1.5, [2]float64{132, 180}}}},
	{11.2, 22.4, bySize[[2]float64]{{1, [2]float64{118, 160}}, {1.25, [2]float64{132, 180}}, {1.5, [2]float64{140, 190}}, {1.75, [2]float64{150, 200}}, {2, [2]float64{160, 212}}, {2.5, [2]float64{170, 224}}}},
	{22.4, 45, bySize[[2]float64]{{1, [2]float64{125, 170}}, {1.5, [2]float64{150, 200}}, {2, [2]float64{170, 224}}, {3, [2]float64{200, 265}}, {3.5, [2]float64{212, 280}}, {4, [2]float64{224, 300}}, {4.5, [2]float64{236, 315}}}},
	{45, 90, bySize[[2]float64]{{1.5, [2]float64{160, 212}}, {2, [2]float64{180, 236}}, {3, [2]float64{212, 280}}, {4, [2]float64{236, 315}}, {5, [2]float64{250, 335}}, {5.5, [2]float64{265, 355}}, {6, [2]float64{280, 375}}}},
	{90, 180, nil},
}

// byFormula is what ISO 965-1 computes its table from, before rounding to preferred
// numbers (from memory): µm for a pitch in mm.
func byFormula(pitch float64) pitchTolerance {
	tol := pitchTolerance{g: 15 + 11*pitch, major: 180*math.Cbrt(pitch*pitch) - 3.15/math.Sqrt(pitch), minor: 230 * math.Pow(pitch, 0.7)}
	if pitch < 1 {
		tol.minor = 433*pitch - 190*math.Pow(pitch, 1.22)
	}
	return tol
}

// pitchDiameterFormula is ISO 965-1's 90·P^0.4·d^0.1 µm for the bolt (d the geometric mean
// of the range) and 1.32 times that for the hole.
func (r diameterRange) pitchDiameterFormula(pitch float64) [2]float64 {
	bolt := 90 * math.Pow(pitch, 0.4) * math.Pow(math.Sqrt(r.overMM*r.upToMM), 0.1)
	return [2]float64{bolt, 1.32 * bolt}
}

// micron rounds a basic size to 0.001 mm, as ISO 724 tables it before ISO 965 adds tolerances.
func micron(mm float64) float64 { return math.Round(mm*1000) / 1000 }

func (t Thread) metricLimits() Limits {
	basis := "ISO 965-1 6g/6H"
	tol, listed := pitchTolerances.at(t.PitchMM)
	if !listed {
		tol = byFormula(t.PitchMM)
	}
	row := diameterRanges[len(diameterRanges)-1]
	for _, r := range diameterRanges {
		if t.DiameterMM > r.overMM && t.DiameterMM <= r.upToMM {
			row = r
		}
	}
	onPitch, tabled := row.byPitch.at(t.PitchMM)
	if !tabled {
		onPitch = row.pitchDiameterFormula(t.PitchMM)
	}
	if !listed || !tabled {
		basis += " by its formulae, not rounded to its table"
	}
	const um = 1e-3
	return Limits{
		MajorMinMM:         t.DiameterMM - um*(tol.g+tol.major),
		PitchMinMM:         micron(t.PitchDiameterMM()) - um*(tol.g+onPitch[0]),
		PitchInternalMaxMM: micron(t.PitchDiameterMM()) + um*onPitch[1],
		MinorInternalMaxMM: micron(t.MinorInternalMM()) + um*tol.minor,
		Basis:              basis,
	}
}

// unifiedLimits follows the tolerance formulae of ASME B1.1, in inches, for an engagement
// of one diameter (from memory).
func (t Thread) unifiedLimits() Limits {
	d, p := t.DiameterMM/inchMM, t.PitchMM/inchMM
	p23 := math.Cbrt(p * p)
	pitch2A := 0.0015*math.Cbrt(d) + 0.0015*math.Sqrt(d) + 0.015*p23
	allowance := 0.3 * pitch2A
	minor2B := 0.25*p - 0.4*p*p
	if d < 0.25 {
		minor2B = min(max(0.05*p23+0.03*p/d-0.002, minor2B), 0.394*p)
	}
	return Limits{
		MajorMinMM:         t.DiameterMM - inchMM*(allowance+0.06*p23),
		PitchMinMM:         t.PitchDiameterMM() - inchMM*(allowance+pitch2A),
		PitchInternalMaxMM: t.PitchDiameterMM() + inchMM*1.3*pitch2A,
		MinorInternalMaxMM: t.MinorInternalMM() + inchMM*minor2B,
		Basis:              "ASME B1.1 2A/2B by its formulae, from memory",
	}
}
