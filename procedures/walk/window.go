package walk

import (
	"fmt"
	"math/big"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Tolerances that apply where the sheet gives none, all exact.
const (
	// ISO 6789 permissible deviation of a hand torque tool, class A:
	// ±6 % up to 10 N·m and ±4 % above (testdata/published/wrench.csv, W01, W02).
	smallTorquePercent = 6
	torquePercent      = 4
	smallTorqueNm      = 10
	// What an angle gauge can be read to: common practice, no source.
	angleSlackDegrees = 2
	// What a micrometer over a bolt can be read to: common practice, no source.
	stretchSlackMicrons = 5
)

// Window is the range a reading of one stage must lie in, in N·m, degrees or
// mm as the action says. A window without limits takes no reading.
type Window struct {
	Action    spec.Action
	Basis     string           // the sheet, or the tolerance taken in its place
	Ceiling   *quantity.Torque // stretch: the torque never to go beyond, if the sheet sets one
	low, high *big.Rat         // exact; nil: no limit on that side
	slack     *big.Rat         // share by which a limit may be passed: a hair under the rules of before, else nil
}

// WindowOf gives the window of a stage.
func WindowOf(s *plan.Stage) Window {
	w := Window{Action: s.Action, Basis: "the sheet's limits"}
	switch s.Action {
	case spec.Torque, spec.Verify:
		w.low, w.high = limits(s.Target.Torque, quantity.NewtonMetre)
		switch {
		case !w.single():
		case s.Action == spec.Verify:
			w.high = nil // felt, not moved; only the lower limit counts
		default:
			percent := int64(torquePercent)
			if w.low.Cmp(big.NewRat(smallTorqueNm, 1)) <= 0 {
				percent = smallTorquePercent
			}
			w.widen(new(big.Rat).Mul(w.low, big.NewRat(percent, 100)), fmt.Sprintf("±%d %% (ISO 6789), as the sheet gives no tolerance", percent))
		}
	case spec.Turn, spec.Loosen:
		if w.low, w.high = limits(s.Target.Turn, quantity.Degree); w.single() {
			w.widen(big.NewRat(angleSlackDegrees, 1), fmt.Sprintf("±%d° on a gauge, as the sheet gives no tolerance", angleSlackDegrees))
		}
	case spec.Stretch:
		w.Ceiling = s.Target.Ceiling
		if w.low, w.high = limits(s.Target.Stretch, quantity.Millimetre); w.single() {
			by := big.NewRat(stretchSlackMicrons, 1000)
			w.widen(by, fmt.Sprintf("±%s mm, as the sheet gives no tolerance", by.FloatString(3)))
		}
	}
	return w
}

// limits are those of a span in a unit, exactly.
func limits[T quantity.Amount[T]](s quantity.Span[T], u quantity.Unit) (low, high *big.Rat) {
	if s.Low != nil {
		low = (*s.Low).Exact(u)
	}
	if s.High != nil {
		high = (*s.High).Exact(u)
	}
	return low, high
}

// single reports that the sheet gives one figure and no more.
func (w Window) single() bool { return w.low != nil && w.high != nil && w.low.Cmp(w.high) == 0 }

func (w *Window) widen(by *big.Rat, basis string) {
	w.low, w.high, w.Basis = new(big.Rat).Sub(w.low, by), new(big.Rat).Add(w.high, by), basis
}

// Limits are both, each rounded once to the nearest binary64; 0 where there is none.
func (w Window) Limits() (low, high float64) { return float(w.low), float(w.high) }

func float(r *big.Rat) float64 {
	if r == nil {
		return 0
	}
	f, _ := r.Float64()
	return f
}

// window is that of a stage under the rules that hold. Those of before let a limit be
// passed by a billionth of it, since they reckoned in binary fractions.
func (s *State) window(st *plan.Stage) Window {
	w := WindowOf(st)
	if s.rules < exactRules {
		w.slack = big.NewRat(1, 1_000_000_000)
	}
	return w
}

// verdict on a reading.
type verdict int

const (
	inRange verdict = iota
	short
	beyond
	unreadable
)

// read puts a reading against the window.
func (w Window) read(reading string) (verdict, error) {
	if w.Action == spec.Stretch {
		return w.judgeStretch(reading)
	}
	value, err := w.value(reading)
	if err != nil {
		return unreadable, err
	}
	return w.place(value), nil
}

// place puts a value against the limits.
func (w Window) place(value *big.Rat) verdict {
	switch {
	case w.low != nil && w.over(w.low, value):
		return short
	case w.high != nil && w.over(value, w.high):
		return beyond
	}
	return inRange
}

// over reports that one figure is more than another.
func (w Window) over(a, b *big.Rat) bool {
	if w.slack != nil {
		b = new(big.Rat).Add(b, new(big.Rat).Mul(b, w.slack))
	}
	return a.Cmp(b) > 0
}

func (w Window) value(reading string) (*big.Rat, error) {
	switch w.Action {
	case spec.Torque, spec.Verify:
		t, err := quantity.ParseTorque(reading)
		return t.Exact(quantity.NewtonMetre), err
	case spec.Turn, spec.Loosen:
		a, err := quantity.ParseAngle(reading)
		return a.Exact(quantity.Degree), err
	}
	return nil, &quantity.ParseError{Input: reading, What: "this stage takes no reading", Remedy: "confirm it without one"}
}

// Readable reports why a reading cannot be understood, or nil.
func (w Window) Readable(reading string) error {
	v, err := w.read(reading)
	if v == unreadable {
		return err
	}
	return nil
}

// act is what a refused reading means for the fastener: "" where it is simply
// not there yet.
func (w Window) act(v verdict) Act {
	switch {
	case v == short && w.Action == spec.Verify:
		return DidNotHold
	case v == beyond && w.Action == spec.Stretch:
		return OverStretched
	case v == beyond && w.Action.Tightens():
		return PulledOver
	}
	return ""
}

// Text gives the window in the unit of its action.
func (w Window) Text() string {
	unit := map[spec.Action]string{spec.Torque: "N·m", spec.Verify: "N·m", spec.Turn: "°", spec.Loosen: "°", spec.Stretch: "mm"}[w.Action]
	low, high := w.Limits()
	if w.high == nil {
		return fmt.Sprintf("at least %.4g %s", low, unit)
	}
	return fmt.Sprintf("%.4g to %.4g %s", low, high, unit)
}

// advice says what to do about a refused reading.
func (w Window) advice(v verdict, reading string) (what, remedy string) {
	const newBolt = "take it out and fit a new bolt: what has yielded is not slackened and used again"
	switch {
	case v == short && w.Action == spec.Verify:
		return "below " + w.Text()[len("at least "):], "it does not hold: slacken it, start it again from its first stage, and look for a stretched bolt or a bad thread"
	case v == short && w.Ceiling != nil:
		return "short of " + w.Text(), fmt.Sprintf("go on until it is reached, but never over %s", w.Ceiling)
	case v == short:
		return "short of " + w.Text(), "go on until it is reached"
	case w.Action == spec.Stretch && w.overCeiling(reading):
		return fmt.Sprintf("over the ceiling of %s", w.Ceiling), newBolt + "; look at the threads and what they were oiled with"
	case w.Action == spec.Stretch:
		return "beyond " + w.Text(), newBolt
	case w.Action == spec.Turn:
		return "beyond " + w.Text(), "slacken it and start it again from its first stage"
	case w.Action == spec.Loosen:
		return "beyond " + w.Text(), "nothing is lost by it; give what the sheet asks for"
	}
	return "over " + w.Text(), "slacken it and start it again from its first stage; never back it off to the figure"
}
