package walk

import (
	"fmt"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Tolerances that apply where the sheet gives none.
const (
	// ISO 6789 permissible deviation of a hand torque tool, class A:
	// ±6 % up to 10 N·m and ±4 % above (testdata/published/wrench.csv, W01, W02).
	smallTorqueShare = 0.06
	torqueShare      = 0.04
	smallTorqueNm    = 10
	// What an angle gauge can be read to: common practice, no source.
	angleSlackDegrees = 2
	// What a micrometer over a bolt can be read to: common practice, no source.
	stretchSlackMM = 0.005
)

// Window is the range a reading of one stage must lie in, in N·m, degrees or
// mm as the action says. A window without limits takes no reading.
type Window struct {
	Action    spec.Action
	Low, High float64          // High 0: no upper limit
	Basis     string           // the sheet, or the tolerance taken in its place
	Ceiling   *quantity.Torque // stretch: the torque never to go beyond, if the sheet sets one
}

// WindowOf gives the window of a stage.
func WindowOf(s *plan.Stage) Window {
	w := Window{Action: s.Action, Basis: "the sheet's limits"}
	switch s.Action {
	case spec.Torque, spec.Verify:
		if t := s.Target.Torque; t.Low != nil {
			w.Low = t.Low.Nm()
		}
		if t := s.Target.Torque; t.High != nil {
			w.High = t.High.Nm()
		}
		if w.Action == spec.Torque && w.Low == w.High {
			share := torqueShare
			if w.Low <= smallTorqueNm {
				share = smallTorqueShare
			}
			w.widen(w.Low*share, fmt.Sprintf("±%.0f %% (ISO 6789), as the sheet gives no tolerance", share*100))
		} else if w.Low == w.High {
			w.High = 0 // verify: felt, not moved; only the lower limit counts
		}
	case spec.Turn, spec.Loosen:
		if t := s.Target.Turn; t.Low != nil {
			w.Low = t.Low.Degrees()
		}
		if t := s.Target.Turn; t.High != nil {
			w.High = t.High.Degrees()
		}
		if w.Low == w.High {
			w.widen(angleSlackDegrees, fmt.Sprintf("±%d° on a gauge, as the sheet gives no tolerance", angleSlackDegrees))
		}
	case spec.Stretch:
		w.Ceiling = s.Target.Ceiling
		if t := s.Target.Stretch; t.Low != nil {
			w.Low = t.Low.Mm()
		}
		if t := s.Target.Stretch; t.High != nil {
			w.High = t.High.Mm()
		}
		if w.Low == w.High {
			w.widen(stretchSlackMM, fmt.Sprintf("±%.3f mm, as the sheet gives no tolerance", stretchSlackMM))
		}
	}
	return w
}

func (w *Window) widen(by float64, basis string) {
	if w.High == 0 {
		return // nothing to widen: loosen fully
	}
	w.Low, w.High, w.Basis = w.Low-by, w.High+by, basis
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

const rounding = 1e-9 // of the limit itself: 22.88 is 4 % over 22

func (w Window) place(value float64) verdict {
	switch {
	case value < w.Low*(1-rounding):
		return short
	case w.High > 0 && value > w.High*(1+rounding):
		return beyond
	}
	return inRange
}

func (w Window) value(reading string) (float64, error) {
	switch w.Action {
	case spec.Torque, spec.Verify:
		t, err := quantity.ParseTorque(reading)
		return t.Nm(), err
	case spec.Turn, spec.Loosen:
		a, err := quantity.ParseAngle(reading)
		return a.Degrees(), err
	}
	return 0, &quantity.ParseError{Input: reading, Problem: "this stage takes no reading", Remedy: "confirm it without one"}
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

// Restarts reports whether a refused reading means that the fastener starts
// again: beyond its figure, or under the limit that should be felt.
func (w Window) Restarts(reading string) bool {
	v, _ := w.read(reading)
	return w.act(v) != ""
}

// Text gives the window in the unit of its action.
func (w Window) Text() string {
	unit := map[spec.Action]string{spec.Torque: "N·m", spec.Verify: "N·m", spec.Turn: "°", spec.Loosen: "°", spec.Stretch: "mm"}[w.Action]
	if w.High == 0 {
		return fmt.Sprintf("at least %.4g %s", w.Low, unit)
	}
	return fmt.Sprintf("%.4g to %.4g %s", w.Low, w.High, unit)
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
