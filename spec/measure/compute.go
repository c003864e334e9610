package measure

import (
	"fmt"
	"math"
	"math/big"

	"evenpull/spec/quantity"
)

// asRead is the reading itself, or several of the same thing.
func asRead(s Setup, r Readings) (Result, error) {
	return s.judged(single(r, s.Inputs()[0].Label)), nil
}

// single works out the readings of one input.
func single(r Readings, label string) worked {
	list := r.exact(label)
	w := worked{unit: r.Unit}
	w.low, w.high, w.value = extent(list)
	w.why = label + " as read"
	if len(list) > 1 {
		w.spread = sub(w.high, w.low)
		w.why = fmt.Sprintf("mean of %d readings, %s apart", len(list), quantity.Of(w.spread, r.Unit))
	}
	return w
}

// difference of two sizes: each reading of one may meet each of the other.
func difference(s Setup, r Readings) (Result, error) {
	in := s.Inputs()
	a, b := single(r, in[0].Label), single(r, in[1].Label)
	w := worked{unit: r.Unit, low: sub(a.low, b.high), high: sub(a.high, b.low), value: sub(a.value, b.value)}
	if a.spread != nil {
		w.spread = a.spread
		if b.spread.Cmp(a.spread) > 0 {
			w.spread = b.spread
		}
	}
	w.why = fmt.Sprintf("%s %s less %s %s is %s", in[0].Label, quantity.Of(a.value, r.Unit), in[1].Label, quantity.Of(b.value, r.Unit), quantity.Of(w.value, r.Unit))
	return s.judged(w), nil
}

// backlash refers the dial's swing to the pitch circle: the same angle at
// another radius.
func backlash(s Setup, r Readings) (Result, error) {
	if s.PitchRadius.IsZero() || s.DialRadius.IsZero() {
		return Result{}, wrong("", "the radii are not known", "give pitch_radius and dial_radius in the procedure")
	}
	w := single(r, s.Inputs()[0].Label)
	ratio := new(big.Rat).Quo(s.PitchRadius.Exact(r.Unit), s.DialRadius.Exact(r.Unit))
	dial := w.value
	w.low, w.high, w.value = scaled(w.low, ratio), scaled(w.high, ratio), scaled(w.value, ratio)
	if w.spread != nil {
		w.spread = scaled(w.spread, ratio)
	}
	w.why = fmt.Sprintf("%s at %s is %s at the pitch radius of %s", quantity.Of(dial, r.Unit), s.DialRadius, quantity.Of(w.value, r.Unit), s.PitchRadius)
	return s.judged(w), nil
}

func scaled(a, by *big.Rat) *big.Rat { return new(big.Rat).Mul(a, by) }

// ringGap is a figure, or lies between the blade that enters and the one that does not.
func ringGap(s Setup, r Readings) (Result, error) {
	if len(r.Of["go"]) == 0 {
		w := single(r, s.Inputs()[0].Label)
		return s.wornBore(s.judged(w), w.high, w.unit), nil
	}
	enters, stays := r.exact("go")[0], r.exact("no-go")[0]
	if enters.Cmp(stays) >= 0 {
		return Result{}, wrong("", fmt.Sprintf("go %s is not thinner than no-go %s", r.Of["go"][0], r.Of["no-go"][0]), "go is the thickest blade that enters")
	}
	w := worked{unit: r.Unit, low: enters, high: stays, value: half(add(enters, stays))}
	w.why = fmt.Sprintf("%s enters, %s does not", r.Of["go"][0], r.Of["no-go"][0])
	res := s.judged(w)
	res.Between = true
	win := s.window(r.Unit)
	// The gap is at least go and less than no-go. A blade pair across a limit settles nothing.
	sureUnder := win.lo != nil && stays.Cmp(win.lo) <= 0
	sureOver := win.hi != nil && enters.Cmp(win.hi) > 0
	if res.Verdict != InRange && !sureUnder && !sureOver {
		res.Verdict, res.Advice = Unsettled, "try blades closer to the limit"
	}
	return s.wornBore(res, enters, w.unit), nil
}

// wornBore adds what a gap over its limit says of the bore: the ring is as long
// as it was, so a gap larger by x means a bore larger by x/π.
func (s Setup) wornBore(res Result, gap *big.Rat, u quantity.Unit) Result {
	if res.Verdict != Over {
		return res
	}
	more := quantity.Of(sub(gap, s.Max.Exact(u)), u)
	grown, err := quantity.Estimate[quantity.Length](more.In(quantity.Millimetre)/math.Pi, quantity.Millimetre)
	if err == nil {
		res.Advice += fmt.Sprintf(": with a good ring the bore is about %s past the size for that limit (%s / π)", grown.Text(u), more)
	}
	return res
}

// squish is the solder at both sides; where they differ the piston or the
// gasket stands askew.
func squish(s Setup, r Readings) (Result, error) {
	in := s.Inputs()
	left, right := single(r, in[0].Label), single(r, in[1].Label)
	w := worked{unit: r.Unit, value: half(add(left.value, right.value)), spread: apart(left.value, right.value)}
	w.low, w.high, _ = extent([]*big.Rat{left.low, left.high, right.low, right.high})
	w.why = fmt.Sprintf("mean of both sides %s, tilt %s", quantity.Of(w.value, r.Unit), quantity.Of(w.spread, r.Unit))
	return s.judged(w), nil
}

// spread makes the distance between the readings the result.
func spread(s Setup, r Readings) (Result, error) {
	list := r.exact(s.Inputs()[0].Label)
	if len(list) < 2 {
		return Result{}, wrong("", "one reading has no spread", "take readings at several places, and say how many in the procedure: readings = 3")
	}
	low, high, mean := extent(list)
	d := sub(high, low)
	w := worked{unit: r.Unit, low: d, high: d, value: d, spread: d}
	w.why = fmt.Sprintf("lowest %s, highest %s, mean %s", quantity.Of(low, r.Unit), quantity.Of(high, r.Unit), quantity.Of(mean, r.Unit))
	return s.judged(w), nil
}
