package neighbours

import "fmt"

// Model is a joint ready to be walked through passes. It never changes once
// made, so several goroutines may use one.
type Model struct {
	bolts       []Bolt
	index       map[string]int
	sag         sagging
	influence   []float64 // row-major n×n, mm of sinking per N
	assumptions []string
}

// New prepares a joint face without end about the bolts. It fails, naming every
// problem at once, on no bolts or over 1000, ids or places used twice, and figures
// not finite or not over 0.
// Cost: n²/2 Kelvin functions for n bolts.
func New(j Joint) (*Model, error) {
	if err := asError(j.check()); err != nil {
		return nil, err
	}
	return newModel(newEndlessPlate(j.Plate, j.Face), j, "a joint face without end")
}

// NewRim prepares a joint face that is a strip of widthMM along the bolts. It fails
// as New does, also on a width that is not over 0.
func NewRim(j Joint, widthMM float64) (*Model, error) {
	if err := asError(positive(j.check(), "rim width", widthMM, "mm")); err != nil {
		return nil, err
	}
	return newModel(newRimBeam(j.Plate, j.Face, widthMM), j, fmt.Sprintf("a joint face %.3g mm wide along the bolts", widthMM))
}

// NewBetween prepares a face half way between one without end and a rim of widthMM:
// the middle of what is to be expected where the outline is not known. It fails as
// NewRim does.
func NewBetween(j Joint, rimMM float64) (*Model, error) {
	if err := asError(positive(j.check(), "rim width", rimMM, "mm")); err != nil {
		return nil, err
	}
	s := halfway{newEndlessPlate(j.Plate, j.Face), newRimBeam(j.Plate, j.Face, rimMM)}
	return newModel(s, j, fmt.Sprintf("a joint face half way between %.3g mm wide along the bolts and one without end", rimMM))
}

func newModel(s sagging, joint Joint, face string) (*Model, error) {
	bolts, n := joint.Bolts, len(joint.Bolts)
	m := &Model{
		bolts: append([]Bolt(nil), bolts...), index: make(map[string]int, n),
		sag: s, influence: make([]float64, n*n),
		assumptions: []string{
			"estimate: a flat cover of one thickness bends on " + face + "; ribs, walls and corners are not modelled",
			"joint face linear, able to pull as well as push; nothing settles or creeps",
			"bolts elastic, each acting at a point",
		},
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
