package measure

import (
	"math/big"
	"strings"

	"evenpull/spec/quantity"
)

// Example is a reading to show someone how to write one. What comes of it lies
// well inside the limits.
func (s Setup) Example() string {
	aim, unit := s.inside()
	inputs := s.Inputs()
	var parts []string
	for n := range s.readings() {
		for k, in := range inputs {
			text := quantity.Of(s.read(aim, n, k), unit).String()
			switch {
			case in.Optional || in.Instead != "":
			case len(inputs) == 1:
				parts = append(parts, text)
			default:
				parts = append(parts, in.Label+" "+text)
			}
		}
	}
	for _, in := range inputs {
		for range in.Count {
			if in.Optional {
				parts = append(parts, in.Label+" "+s.someShim(quantity.Of(aim, unit).String()))
			}
		}
	}
	return strings.Join(parts, "; ")
}

// inside is a figure between the limits, or half as far off the only one as
// nothing is.
func (s Setup) inside() (*big.Rat, quantity.Unit) {
	switch {
	case s.Min != nil && s.Max != nil:
		u := s.Max.Unit()
		return half(add(s.Min.Exact(u), s.Max.Exact(u))), u
	case s.Max != nil:
		return off(s.Max.Exact(s.Max.Unit()), -1), s.Max.Unit()
	case s.Min != nil:
		return off(s.Min.Exact(s.Min.Unit()), 1), s.Min.Unit()
	}
	return big.NewRat(12, 100), quantity.Millimetre
}

// off moves a figure by half its size, and nothing by one unit.
func off(limit *big.Rat, way int64) *big.Rat {
	step := half(new(big.Rat).Abs(limit))
	if step.Sign() == 0 {
		step = big.NewRat(1, 1)
	}
	return add(limit, scaled(step, big.NewRat(way, 1)))
}

// read is reading n of input k that makes a result come to the aim.
func (s Setup) read(aim *big.Rat, n, k int) *big.Rat {
	size := big.NewRat(25, 1) // of the things measured
	switch s.Of().Name {
	case Backlash:
		if s.PitchRadius.IsZero() || s.DialRadius.IsZero() {
			return aim
		}
		return scaled(aim, new(big.Rat).Quo(s.DialRadius.Exact(quantity.Millimetre), s.PitchRadius.Exact(quantity.Millimetre)))
	case Difference:
		if k > 0 {
			return size
		}
		return add(size, aim)
	case Spread:
		if n == 0 {
			return size
		}
		return add(size, aim)
	}
	return aim
}

func (s Setup) someShim(otherwise string) string {
	if len(s.Stock) > 0 {
		return s.Stock[0].String()
	}
	return otherwise
}
