package measure

import (
	"math/big"

	"evenpull/spec/quantity"
)

// Limits on a declared measurement, which may come from a stranger's file.
const (
	MaxReadings = 20
	MaxStock    = 100 // sizes of shim; two ends try every pair
)

// Setup is a measurement as a procedure declares it. The zero value of each
// field but the limits is its default.
type Setup struct {
	Kind        string             // "" is direct
	Min, Max    *quantity.Quantity // at least one; of one dimension
	Wanted      *quantity.Length   // what a shim aims at; nil is the middle of the range
	PitchRadius quantity.Length    // backlash: over 0
	DialRadius  quantity.Length    // backlash: over 0
	Readings    int                // how many of each figure; 0 is 1
	Spread      *quantity.Quantity // how far they may lie apart; nil is any
	Labels      []string           // the procedure's own words for the inputs
	Stock       []quantity.Length  // shims there are; empty: any size can be had
	Ends        int                // shims at this many ends; 0 is 1
}

// Of gives the kind the setup is of; an unknown one is as read.
func (s Setup) Of() Kind {
	k, ok := Named(s.Kind)
	if !ok {
		k, _ = Named(Direct)
	}
	return k
}

func (s Setup) readings() int { return max(s.Readings, 1) }

// Inputs lists what is to be read for this setup, with its own labels and counts.
func (s Setup) Inputs() []Input {
	list := append([]Input(nil), s.Of().Inputs...)
	for i := range list {
		list[i].Count = 1
		switch {
		case list[i].Optional:
			list[i].Count = max(s.Ends, 1)
		case list[i].Instead == "":
			list[i].Count = s.readings()
		}
		if i < len(s.Labels) {
			list[i].Label = s.Labels[i]
		}
	}
	return list
}

// Dimension is what the readings must measure.
func (s Setup) Dimension() quantity.Dimension {
	switch {
	case s.Max != nil:
		return s.Max.Dimension()
	case s.Min != nil:
		return s.Min.Dimension()
	}
	return quantity.LengthKind
}

// window is the range in one unit; nil is no limit on that side.
type window struct{ lo, hi *big.Rat }

func (s Setup) window(u quantity.Unit) window {
	var w window
	if s.Min != nil {
		w.lo = s.Min.Exact(u)
	}
	if s.Max != nil {
		w.hi = s.Max.Exact(u)
	}
	return w
}

// aim is what a shim should come to: what is wanted, or the middle of the
// range, or its only limit. A range without a lower limit starts at 0.
func (s Setup) aim(u quantity.Unit) *big.Rat {
	w := s.window(u)
	switch {
	case s.Wanted != nil:
		return s.Wanted.Exact(u)
	case w.hi == nil:
		return w.lo
	case w.lo == nil:
		return half(w.hi)
	}
	return half(add(w.lo, w.hi))
}
