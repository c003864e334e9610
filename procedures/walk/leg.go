package walk

import "evenpull/spec"

// Leg is where in its pass a walk stands.
type Leg int

const (
	AmongBolts  Leg = iota // at a stage, or at what belongs to one
	BeforeFirst            // at what comes before the first stage of the pass
	AfterLast              // at what comes after its last
)

// span is where the items of a pass lie: from…to, and its stages among them.
type span struct{ from, first, last, to int }

// legsOf finds the spans of all passes.
func legsOf(items []Item) map[*spec.Pass]span {
	legs := map[*spec.Pass]span{}
	for i, it := range items {
		at, begun := legs[it.Pass]
		if !begun {
			at = span{i, -1, -1, i}
		}
		at.to = i + 1
		if it.Kind == WaitItem || it.Thing().IsFastener() {
			at.last = i
			if at.first < 0 {
				at.first = i
			}
		}
		legs[it.Pass] = at
	}
	return legs
}

// Leg says where in its pass the item in hand stands, and how many of the steps of
// that part of it are done; of the stages themselves others keep count. Where a sheet
// has no bolts all of them are counted.
func (s *State) Leg() (leg Leg, done, total int) {
	it := s.CurrentItem()
	if it == nil {
		return AmongBolts, 0, 0
	}
	at := s.legs[it.Pass]
	from, to := at.from, at.first
	switch {
	case at.first < 0:
		to = at.to
	case s.next < at.first:
		leg = BeforeFirst
	case s.next > at.last:
		leg, from, to = AfterLast, at.last+1, at.to
	default:
		return AmongBolts, 0, 0
	}
	for i := from; i < to; i++ {
		if s.marks[i].Closed {
			done++
		}
	}
	return leg, done, to - from
}
