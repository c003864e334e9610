package measure

import (
	"fmt"
	"math/big"

	"evenpull/spec/quantity"
)

// Verdict says how a result lies to its limits.
type Verdict string

const (
	InRange   Verdict = "in range"
	Under     Verdict = "under"
	Over      Verdict = "over"
	BothSides Verdict = "under and over" // readings on both sides of the range
	Scattered Verdict = "scattered"      // further apart than the spread allowed
	Unsettled Verdict = "unsettled"      // the blades tried leave it open
)

// Result is what readings come to. All figures are in the unit of the first
// reading, exact but for a division by π, and estimates all the same.
type Result struct {
	Value     quantity.Quantity  // the mean, where there are several
	Low, High quantity.Quantity  // both are held against the limits
	Between   bool               // the value lies between Low and High, not at either
	Spread    *quantity.Quantity // how far readings lie apart; nil for a single one
	Choice    []quantity.Length  // shims to fit, one for each end; nil when there is nothing to choose
	Resulting *quantity.Quantity // what the choice would come to
	Why       string             // the arithmetic in a line
	Verdict   Verdict
	Advice    string // what to do when not in range; may be empty
	asRead    bool
}

// Text gives the value, and from where to where the readings go.
func (r Result) Text() string {
	if same, _ := r.Low.Compare(r.High); same == 0 {
		return r.Value.String()
	}
	if r.Between {
		return fmt.Sprintf("between %s and %s", r.Low, r.High)
	}
	return fmt.Sprintf("%s to %s, mean %s", r.Low, r.High, r.Value)
}

// AsRead reports whether the result is one figure as it was read, so that there
// is nothing to add to the reading.
func (r Result) AsRead() bool { return r.asRead && r.Spread == nil && r.Choice == nil && !r.Between }

// ChoiceText gives the shims to fit: "0.9 mm", "0.5 mm and 0.7 mm".
func (r Result) ChoiceText() string { return join(r.Choice) }

func join(list []quantity.Length) string {
	text := ""
	for i, l := range list {
		if i > 0 {
			text += " and "
		}
		text += l.String()
	}
	return text
}

// Judge reads a text and holds what it comes to against the limits. The error,
// a *quantity.ParseError, is for what could not be understood.
func (s Setup) Judge(text string) (Result, error) {
	r, err := s.Read(text)
	if err != nil {
		return Result{}, err
	}
	return s.Of().Compute(s, r)
}

// worked is a result before it is judged, in one unit.
type worked struct {
	unit             quantity.Unit
	low, high, value *big.Rat
	spread           *big.Rat // nil: a single reading
	why              string
}

// judged holds a result against the limits and says what to do.
func (s Setup) judged(w worked) Result {
	k := s.Of()
	r := Result{Value: quantity.Of(w.value, w.unit), Low: quantity.Of(w.low, w.unit), High: quantity.Of(w.high, w.unit), Why: w.why, asRead: !k.Derived}
	if w.spread != nil {
		q := quantity.Of(w.spread, w.unit)
		r.Spread = &q
	}
	if r.Spread != nil && s.Spread != nil && w.spread.Cmp(s.Spread.Exact(w.unit)) > 0 {
		r.Verdict, r.Advice = Scattered, "measure again"
		return r
	}
	win := s.window(w.unit)
	under := win.lo != nil && w.low.Cmp(win.lo) < 0
	over := win.hi != nil && w.high.Cmp(win.hi) > 0
	switch {
	case under && over:
		r.Verdict, r.Advice = BothSides, "measure again"
	case under:
		r.Verdict, r.Advice = Under, k.Under
	case over:
		r.Verdict, r.Advice = Over, k.Over
	default:
		r.Verdict = InRange
	}
	return r
}

// Fault says in words what is wrong with a result that is not in range:
// "is 0.32 mm, over the limit of 0.2 mm".
func (s Setup) Fault(r Result) string {
	is := "is"
	if s.Of().Derived {
		is = "works out at"
	}
	switch {
	case r.Between && r.Verdict == Under:
		return fmt.Sprintf("lies between %s and %s, under the limit of %s", r.Low, r.High, s.Min)
	case r.Between && r.Verdict == Over:
		return fmt.Sprintf("lies between %s and %s, over the limit of %s", r.Low, r.High, s.Max)
	}
	switch r.Verdict {
	case Under:
		return fmt.Sprintf("%s %s, under the limit of %s", is, r.Low, s.Min)
	case Over:
		return fmt.Sprintf("%s %s, over the limit of %s", is, r.High, s.Max)
	case BothSides:
		return fmt.Sprintf("%s %s to %s, under %s and over %s", is, r.Low, r.High, s.Min, s.Max)
	case Scattered:
		return fmt.Sprintf("%s %s: %s apart, over the %s allowed", is, r.Text(), r.Spread, s.Spread)
	case Unsettled:
		return fmt.Sprintf("lies between %s and %s, which leaves its limits open", r.Low, r.High)
	}
	return ""
}
