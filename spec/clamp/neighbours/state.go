package neighbours

import "errors"

// A bolt is out (or never yet snugged), carrying, or slack: in, but hanging loose
// because the cover sank below its head.
type hold byte

const (
	out hold = iota
	carrying
	slack
)

// state is the joint at one moment of a history.
//
// The law between bolt forces F and thread travels u (how far each bolt was drawn,
// mm) is (C + G)·F = u over the bolts that carry, with C the bolts' own give and G
// the influence matrix. swept holds C + G swept on the carrying bolts A (the
// symmetric sweep operator of statistics, a principal pivot): its A block is then
// −(C+G)⁻¹, its rows for the others tell how the cover sinks at them. One bolt
// more or fewer costs one sweep, n²; drawing a bolt that already carries reads one
// row, n. So the first pass costs n³ and each later one n².
type state struct {
	n     int
	swept []float64 // n×n, symmetric
	hold  []hold
	force []float64 // N, zero unless carrying
	gap   []float64 // mm between head and cover, zero unless slack
}

func (m *Model) newState() *state {
	n := len(m.bolts)
	s := &state{
		n: n, swept: append([]float64(nil), m.influence...),
		hold: make([]hold, n), force: make([]float64, n), gap: make([]float64, n),
	}
	for i, b := range m.bolts {
		s.swept[i*n+i] += 1 / b.StiffnessNPerMM
	}
	return s
}

func (s *state) row(i int) []float64 { return s.swept[i*s.n : (i+1)*s.n] }

// sweep moves bolt k into the carrying block, or out of it if it was in.
func (s *state) sweep(k int) {
	pivotRow := s.row(k)
	pivot := pivotRow[k]
	for i := range s.n {
		if i == k || pivotRow[i] == 0 {
			continue
		}
		row, f := s.row(i), pivotRow[i]/pivot
		for j, p := range pivotRow {
			row[j] -= f * p
		}
	}
	sign := 1.0
	if s.hold[k] == carrying {
		sign = -1
	}
	for i := range s.n {
		if i != k {
			pivotRow[i] *= sign / pivot
			s.swept[i*s.n+k] = pivotRow[i]
		}
	}
	pivotRow[k] = -1 / pivot
}

// set changes what bolt k is and keeps swept in step with it.
func (s *state) set(k int, to hold) {
	if s.hold[k] == to {
		return
	}
	if s.hold[k] == carrying || to == carrying {
		s.sweep(k)
	}
	s.hold[k], s.force[k], s.gap[k] = to, 0, 0
}

var errUnsettled = errors.New("the slack bolts of this joint did not settle; check stiffnesses and face modulus")

// drawTo turns bolt k until it carries targetN, over 0; the travels of all other
// bolts stay.
func (s *state) drawTo(k int, targetN float64) error {
	s.set(k, carrying)
	for range s.eventLimit() {
		rate := -s.row(k)[k] // N per mm of travel, over 0
		travel := (targetN - s.force[k]) / rate
		if event := s.advance(k, travel); event.bolt < 0 || event.bolt == k {
			s.force[k] = targetN // not a rounding error away
			return nil
		}
	}
	return errUnsettled
}

// turn moves the thread of bolt k by travelMM, tightening if over 0. A bolt loosened
// past nothing hangs slack by the travel that was left; one that is out and is
// tightened starts from snug.
func (s *state) turn(k int, travelMM float64) error {
	if s.hold[k] != carrying {
		if travelMM -= s.gap[k]; travelMM <= 0 { // the gap is not taken up yet
			if s.hold[k] == slack {
				s.gap[k] = -travelMM
			}
			return nil
		}
		s.set(k, carrying)
	}
	for range s.eventLimit() {
		event := s.advance(k, travelMM)
		if event.bolt < 0 {
			return nil
		}
		if travelMM *= 1 - event.fraction; event.bolt == k {
			s.set(k, slack)
			s.gap[k] = -travelMM
			return nil
		}
	}
	return errUnsettled
}

// eventLimit bounds the times bolts fall slack or catch again during one step.
// Each does so once or twice; rounding must not be able to make it for ever.
func (s *state) eventLimit() int { return 20*s.n + 20 }

// event is the first change on the way: the bolt and how much of the way was gone;
// bolt −1 if nothing happened.
type event struct {
	bolt     int
	fraction float64
}

// advance draws bolt k by travelMM or as far as the first bolt that falls slack or
// catches again, and changes that one over. Bolt k itself, loosened to nothing, is
// reported but left carrying.
func (s *state) advance(k int, travelMM float64) event {
	first := s.firstEvent(k, travelMM)
	used := travelMM * first.fraction
	for i, r := range s.row(k) {
		switch s.hold[i] {
		case carrying:
			s.force[i] -= r * used
		case slack:
			s.gap[i] += r * used
		}
	}
	if i := first.bolt; i >= 0 && i != k {
		if s.hold[i] == carrying {
			s.set(i, slack)
		} else {
			s.set(i, carrying)
		}
	}
	return first
}

func (s *state) firstEvent(k int, travelMM float64) event {
	first := event{bolt: -1, fraction: 1}
	for i, r := range s.row(k) {
		var have, change float64
		switch s.hold[i] {
		case carrying:
			have, change = s.force[i], -r*travelMM
		case slack:
			have, change = s.gap[i], r*travelMM
		default:
			continue
		}
		if have+change >= 0 || change >= 0 {
			continue
		}
		if f := max(have, 0) / -change; f < first.fraction {
			first = event{bolt: i, fraction: f}
		}
	}
	return first
}
