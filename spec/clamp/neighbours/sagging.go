package neighbours

import "math"

// sagging tells how far the cover sinks at one place, in mm, for 1 N pulled down
// at another.
type sagging interface {
	perNewton(x1, y1, x2, y2 float64) float64
}

// endlessPlate is the point-load solution of a thin plate without end on an
// elastic face (Hertz 1884; Timoshenko & Woinowsky-Krieger, Theory of Plates and
// Shells, chapter 8; from memory):
//
//	w(r) = −P·ℓ²/(2πD)·kei(r/ℓ),  ℓ = (D/k)^¼,  w(0) = P·ℓ²/(8D)
type endlessPlate struct {
	lengthMM float64 // ℓ
	factor   float64 // −ℓ²/(2πD), mm/N
}

func newEndlessPlate(p Plate, f Face) endlessPlate {
	d := p.RigidityNMM()
	// ℓ²/D = 1/√(k·D) keeps the range of the figures small.
	return endlessPlate{
		lengthMM: math.Sqrt(math.Sqrt(d / f.ModulusNPerMM3)),
		factor:   -1 / (2 * math.Pi * math.Sqrt(d) * math.Sqrt(f.ModulusNPerMM3)),
	}
}

func (e endlessPlate) perNewton(x1, y1, x2, y2 float64) float64 {
	_, kei := kelvinK(math.Hypot(x1-x2, y1-y2) / e.lengthMM)
	return e.factor * kei
}

// rimBeam is the point-load solution of a beam without end on an elastic face: a
// strip of the cover along the bolts, as wide as the face under it (Winkler 1867;
// Hetényi, Beams on Elastic Foundation, 1946; from memory):
//
//	w(r) = P/(2·k·b·λ)·exp(−r/λ)·(cos r/λ + sin r/λ),  λ = (4EI/(k·b))^¼ = (E·t³/(3k))^¼
//
// Bolts that are not in one line are taken as far apart along the strip as they are
// straight across, which tells too much of those on opposite sides, not too little.
type rimBeam struct {
	lengthMM float64 // λ
	factor   float64 // 1/(2·k·b·λ), mm/N
}

func newRimBeam(p Plate, f Face, widthMM float64) rimBeam {
	length := math.Sqrt(math.Sqrt(p.ElasticMPa * math.Pow(p.ThicknessMM, 3) / 3 / f.ModulusNPerMM3))
	return rimBeam{length, 1 / (2 * f.ModulusNPerMM3 * widthMM * length)}
}

func (b rimBeam) perNewton(x1, y1, x2, y2 float64) float64 {
	r := math.Hypot(x1-x2, y1-y2) / b.lengthMM
	sin, cos := math.Sincos(r)
	return b.factor * math.Exp(-r) * (cos + sin)
}

// halfway is the mean of two.
type halfway struct{ one, other sagging }

func (h halfway) perNewton(x1, y1, x2, y2 float64) float64 {
	return (h.one.perNewton(x1, y1, x2, y2) + h.other.perNewton(x1, y1, x2, y2)) / 2
}
