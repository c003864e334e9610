package quantity

import (
	"math"
	"math/big"
)

// amount is an exact value in the unit it was written in. The five public types
// and Quantity share it. The rational is never changed after it is set.
type amount struct {
	value    *big.Rat // in unit; nil is zero
	unit     Unit
	computed bool // a result of arithmetic on floats or a conversion: never printed in full
}

var zero = &big.Rat{}

func (a amount) rat() *big.Rat {
	if a.value == nil {
		return zero
	}
	return a.value
}

// in is the exact value in another unit of the same dimension; ok is false for
// a unit of another one.
func (a amount) in(u Unit) (*big.Rat, bool) {
	if a.unit == u {
		return a.rat(), true
	}
	if a.unit.Dimension() != u.Dimension() {
		return nil, false
	}
	r := a.base()
	if at := u.offset(); at != nil {
		r.Sub(r, at)
	}
	return r.Quo(r, u.factor()), true
}

// base is the value in the first unit of its dimension, a rational of the caller's own.
func (a amount) base() *big.Rat {
	r := new(big.Rat).Mul(a.rat(), a.unit.factor())
	if at := a.unit.offset(); at != nil {
		r.Add(r, at)
	}
	return r
}

// float rounds once, to the nearest binary64.
func (a amount) float(u Unit) float64 {
	r, ok := a.in(u)
	if !ok {
		return math.NaN()
	}
	f, _ := r.Float64()
	return f
}

func (a amount) as(u Unit) amount {
	r, ok := a.in(u)
	if !ok || u == a.unit {
		return a
	}
	return amount{r, u, true}
}

func (a amount) scale(by *big.Rat) amount {
	return amount{new(big.Rat).Mul(a.rat(), by), a.unit, a.computed}
}

// plus adds b, of the same dimension, keeping the unit of a.
func (a amount) plus(b amount) amount {
	r, _ := b.in(a.unit)
	return amount{new(big.Rat).Add(a.rat(), r), a.unit, a.computed}
}

func (a amount) minus(b amount) amount { return a.plus(b.scale(big.NewRat(-1, 1))) }

// compare is -1, 0 or +1; b must be of the same dimension.
func (a amount) compare(b amount) int {
	r, _ := b.in(a.unit)
	return a.rat().Cmp(r)
}

// dim names, as a type, the unit that a zero value counts as written in.
type dim interface{ home() Unit }

type (
	torqueDim struct{}
	angleDim  struct{}
	lengthDim struct{}
	forceDim  struct{}
	timeDim   struct{}
	anyDim    struct{}
)

func (torqueDim) home() Unit { return NewtonMetre }
func (angleDim) home() Unit  { return Degree }
func (lengthDim) home() Unit { return Millimetre }
func (forceDim) home() Unit  { return Newton }
func (timeDim) home() Unit   { return Second }
func (anyDim) home() Unit    { return 0 }

// held is what Torque, Angle, Length, Force, Duration and Quantity embed.
type held[D dim] struct{ a amount }

func (h held[D]) core() amount {
	if h.a.unit == 0 {
		var d D
		h.a.unit = d.home()
	}
	return h.a
}

// In is the value in a unit, exact and then rounded once to the nearest binary64.
// A unit of another dimension gives NaN.
func (h held[D]) In(u Unit) float64 { return h.core().float(u) }

// Exact is the value in a unit as a rational of the caller's own; nil for a unit of another dimension.
func (h held[D]) Exact(u Unit) *big.Rat {
	r, ok := h.core().in(u)
	if !ok {
		return nil
	}
	return new(big.Rat).Set(r)
}

// Unit is the unit the value was written in.
func (h held[D]) Unit() Unit { return h.core().unit }

// IsZero reports whether the value is 0.
func (h held[D]) IsZero() bool { return h.core().rat().Sign() == 0 }

// Text prints the value in a unit: an exact short decimal as it is, anything
// else with as many digits as keep the rounding error under 0.1 % and never
// fewer decimals than a scale in that unit shows. A unit of another dimension
// is passed over for the value's own.
func (h held[D]) Text(u Unit) string { return h.core().text(u) }

// Parts is Text piece by piece.
func (h held[D]) Parts(u Unit) Parts { return h.core().parts(u) }

// String is Text in the value's own unit, where any decimal figure prints in full.
func (h held[D]) String() string { a := h.core(); return a.text(a.unit) }

// MarshalText writes the exact value in its own unit, as a fraction if need be,
// so that reading it back gives the same value.
func (h held[D]) MarshalText() ([]byte, error) { return []byte(h.core().exactText()), nil }

// Equivalent is a value in one of its dimension's units, or the figure to aim for of a
// span, with the limits that the span has.
type Equivalent struct {
	Unit  Unit     `json:"unit"`
	Value float64  `json:"value"`
	Low   *float64 `json:"low,omitempty"`
	High  *float64 `json:"high,omitempty"`
	Text  string   `json:"text"`
}

// Equivalents lists the value in every unit of its dimension, in the order of Units.
func (h held[D]) Equivalents() []Equivalent {
	a := h.core()
	var list []Equivalent
	for _, u := range Units(a.unit.Dimension()) {
		list = append(list, Equivalent{Unit: u, Value: a.float(u), Text: a.text(u)})
	}
	return list
}
