package neighbours

import (
	"fmt"
	"math"
)

// Model is a joint ready to be walked through passes. It never changes once
// made, so several goroutines may use one.
type Model struct {
	bolts       []Bolt
	index       map[string]int
	sag         sagging
	face        Face
	influence   []float64 // row-major n×n, mm of sinking per N
	assumptions []string
}

// sagging tells how far the cover sinks at one place, in mm, for 1 N pulled down
// at another.
type sagging interface {
	perNewton(x1, y1, x2, y2 float64) float64
}

// New prepares a thin cover without end. It fails, naming every problem at once,
// on no bolts or over 1000, ids or places used twice, and figures not finite or
// not over 0.
// Cost: n²/2 Kelvin functions for n bolts.
func New(j Joint) (*Model, error) {
	problems := append(j.Plate.check(), j.Face.check()...)
	problems = append(problems, checkBolts(j.Bolts)...)
	if err := asError(problems); err != nil {
		return nil, err
	}
	p := newEndlessPlate(j.Plate, j.Face)
	return newModel(p, j.Face, j.Bolts, p.assumptions(j.Plate))
}

// NewRigid prepares a cover that cannot bend, of the given outline, on an elastic
// face. It fails as New does.
func NewRigid(c RigidCover, f Face, bolts []Bolt) (*Model, error) {
	problems := append(c.check(), f.check()...)
	problems = append(problems, checkBolts(bolts)...)
	if err := asError(problems); err != nil {
		return nil, err
	}
	return newModel(newRigidPlate(c, f), f, bolts, []string{
		"estimate: a cover that cannot bend on an elastic joint face",
	})
}

func newModel(s sagging, f Face, bolts []Bolt, assumptions []string) (*Model, error) {
	n := len(bolts)
	m := &Model{
		bolts: append([]Bolt(nil), bolts...), index: make(map[string]int, n),
		sag: s, face: f, influence: make([]float64, n*n),
		assumptions: append(assumptions,
			"joint face linear, able to pull as well as push; nothing settles or creeps",
			"bolts elastic, each acting at a point; the sheet's figure governs"),
	}
	for i, b := range bolts {
		m.index[b.ID] = i
		for j, c := range bolts[:i+1] {
			w := s.perNewton(b.XMM, b.YMM, c.XMM, c.YMM)
			if !finite(w + 1/b.StiffnessNPerMM) {
				return nil, asError([]string{"the figures are too far apart to compute with; check their units"})
			}
			m.influence[i*n+j], m.influence[j*n+i] = w, w
		}
	}
	return m, nil
}

// Assumptions returns what the estimate rests on, a line each, to be shown
// wherever a figure of this model is.
func (m *Model) Assumptions() []string { return append([]string(nil), m.assumptions...) }

// Influence returns the influence matrix in mm/N: row i, column j is how far the
// cover sinks at bolt i for 1 N of pull by bolt j. It is symmetric.
func (m *Model) Influence() [][]float64 {
	n := len(m.bolts)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = append([]float64(nil), m.influence[i*n:(i+1)*n]...)
	}
	return rows
}

// SinkMM returns how far the cover sinks at (x, y) mm under bolt forces in N, in
// the order of the joint's bolts. It fails if their number differs.
func (m *Model) SinkMM(xMM, yMM float64, forcesN []float64) (float64, error) {
	if len(forcesN) != len(m.bolts) {
		return 0, fmt.Errorf("%d forces for %d bolts; give one for each bolt", len(forcesN), len(m.bolts))
	}
	sum := 0.0
	for i, b := range m.bolts {
		sum += forcesN[i] * m.sag.perNewton(xMM, yMM, b.XMM, b.YMM)
	}
	return sum, nil
}

// FacePressureMPa returns the pressure on the joint face at (x, y) mm under bolt
// forces in N. Negative means that the face would part there, which the model
// leaves out. It fails as SinkMM does.
func (m *Model) FacePressureMPa(xMM, yMM float64, forcesN []float64) (float64, error) {
	w, err := m.SinkMM(xMM, yMM, forcesN)
	return w * m.face.ModulusNPerMM3, err
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

func (e endlessPlate) assumptions(p Plate) []string {
	lines := []string{
		fmt.Sprintf("estimate: thin plate without end on an elastic joint face; a bolt is felt to about %.3g mm away (3 ℓ)", 3*e.lengthMM),
		"edge, ribs and walls of the cover are not modelled",
	}
	if p.ThicknessMM > e.lengthMM {
		lines = append(lines, fmt.Sprintf(
			"cover is %.3g mm thick and ℓ only %.3g mm: outside thin-plate theory, true interaction reaches further than shown",
			p.ThicknessMM, e.lengthMM))
	}
	return lines
}

// rigidPlate moves as one: w = a + b·(x−xc) + c·(y−yc), and balance of force and
// moments on the face (w·k integrated over it) gives the closed form
//
//	w₁₂ = [1/A + (x₁ y₁)·(second moments)⁻¹·(x₂ y₂)ᵀ]/k
type rigidPlate struct {
	x, y          float64 // centroid
	each          float64 // 1/(kA)
	ixx, iyy, ixy float64 // inverse second moments over k
}

func newRigidPlate(c RigidCover, f Face) rigidPlate {
	k := f.ModulusNPerMM3
	det := (c.SecondXXMM4*c.SecondYYMM4 - c.SecondXYMM4*c.SecondXYMM4) * k
	return rigidPlate{
		x: c.CentreXMM, y: c.CentreYMM, each: 1 / (k * c.AreaMM2),
		ixx: c.SecondYYMM4 / det, iyy: c.SecondXXMM4 / det, ixy: -c.SecondXYMM4 / det,
	}
}

func (r rigidPlate) perNewton(x1, y1, x2, y2 float64) float64 {
	x1, y1, x2, y2 = x1-r.x, y1-r.y, x2-r.x, y2-r.y
	return r.each + r.ixx*x1*x2 + r.iyy*y1*y2 + r.ixy*(x1*y2+x2*y1)
}
