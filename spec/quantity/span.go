package quantity

import (
	"math"
	"math/big"
)

// form is how a sheet writes a span.
type form uint8

const (
	alone   form = iota // 22 N·m; also a span put together in code
	between             // 37 to 43 N·m
	offset              // 27 ± 2 N·m
	percent             // 27 N·m ± 5 %
	atLeast             // at least 122 N·m
	atMost              // at most 10 N·m
)

// Span is what a sheet allows: one figure, a range, a figure with a tolerance,
// or a limit on one side. The zero Span says nothing.
type Span[T Amount[T]] struct {
	Low     *T // nil when there is no lower limit
	High    *T // nil when there is no upper limit
	Nominal *T // the figure to aim for; nil when the sheet names none

	form form
	give *big.Rat // the tolerance: in Nominal's unit, or in percent
}

// Exactly is the span of one figure.
func Exactly[T Amount[T]](t T) Span[T] { return Span[T]{Low: &t, High: &t, Nominal: &t} }

// IsZero reports whether the span says nothing.
func (s Span[T]) IsZero() bool { return s.Low == nil && s.High == nil && s.Nominal == nil }

// Aim is the figure to set: the nominal one, else the middle of the range, else
// the one limit there is; 0 for the zero Span.
func (s Span[T]) Aim() T {
	var t T
	if s.IsZero() {
		return t
	}
	return t.with(s.raw().aim())
}

// raw is the span without its type.
func (s Span[T]) raw() rawSpan {
	core := func(t *T) *amount {
		if t == nil {
			return nil
		}
		a := (*t).core()
		return &a
	}
	return rawSpan{low: core(s.Low), high: core(s.High), nominal: core(s.Nominal), form: s.form, give: s.give}
}

// Compare is -1 for a value below the span, +1 above it, 0 within, ends included.
func (s Span[T]) Compare(v T) int {
	switch {
	case s.Low != nil && v.Cmp(*s.Low) < 0:
		return -1
	case s.High != nil && v.Cmp(*s.High) > 0:
		return +1
	}
	return 0
}

// Contains reports whether a value is within the span, ends included.
func (s Span[T]) Contains(v T) bool { return s.Compare(v) == 0 }

// Unit is the unit the span was written in.
func (s Span[T]) Unit() Unit { return s.Aim().Unit() }

// In is the limits in a unit, each rounded once: no lower limit is 0, no upper
// one is +Inf. A unit of another dimension gives NaN.
func (s Span[T]) In(u Unit) (low, high float64) {
	high = math.Inf(1)
	if s.Low != nil {
		low = (*s.Low).In(u)
	}
	if s.High != nil {
		high = (*s.High).In(u)
	}
	return low, high
}

// Ends is the least and the most the span allows in a unit; a side left open is
// its other one, and the zero Span is 0 to 0.
func (s Span[T]) Ends(u Unit) (low, high float64) {
	low, high = s.In(u)
	switch {
	case s.High == nil:
		high = low
	case s.Low == nil:
		low = high
	}
	return low, high
}

// Scale multiplies every figure exactly; a tolerance in percent stays what it is.
func (s Span[T]) Scale(by *big.Rat) Span[T] {
	out := s.each(func(t T) T { return t.Scale(by) })
	if s.form == offset {
		out.give = new(big.Rat).Mul(s.give, by)
	}
	if by.Sign() < 0 {
		out.Low, out.High = out.High, out.Low
	}
	return out
}

// each maps the figures of a span.
func (s Span[T]) each(f func(T) T) Span[T] {
	for _, p := range []**T{&s.Low, &s.High, &s.Nominal} {
		if *p != nil {
			t := f(**p)
			*p = &t
		}
	}
	return s
}

// String is Text.
func (s Span[T]) String() string { return s.Text() }

// Text prints the span as the sheet writes it: "37 to 43 N·m", "27 N·m ± 5 %".
func (s Span[T]) Text() string { return s.TextIn(s.Unit()) }

// TextIn prints the span converted to a unit, in the same form. Figures are
// rounded as Text of the single ones does.
func (s Span[T]) TextIn(u Unit) string {
	if s.IsZero() {
		return ""
	}
	return s.raw().text(u)
}

// Parts is the span converted to a unit as TextIn prints it, piece by piece.
func (s Span[T]) Parts(u Unit) Parts {
	if s.IsZero() {
		return Parts{}
	}
	return s.raw().parts(u)
}

// rawSpan is a Span without its type; it has a limit or a nominal figure at least.
type rawSpan struct {
	low, high, nominal *amount
	form               form
	give               *big.Rat
}

// aim is the figure to set.
func (s rawSpan) aim() amount {
	switch {
	case s.nominal != nil:
		return *s.nominal
	case s.low == nil:
		return *s.high
	case s.high == nil:
		return *s.low
	}
	return s.low.plus(*s.high).scale(big.NewRat(1, 2))
}

// text prints the span in a unit, in the form in which it was written.
func (s rawSpan) text(u Unit) string { return s.parts(u).Text() }

func (s rawSpan) parts(u Unit) Parts {
	switch {
	case s.high == nil:
		p := s.low.parts(u)
		p.Lead = "at least"
		return p
	case s.low == nil:
		p := s.high.parts(u)
		p.Lead = "at most"
		return p
	case s.form == percent:
		p := s.nominal.parts(u)
		p.Share = plain(s.give)
		return p
	case s.form == offset && (u == s.nominal.unit || u.offset() == nil && s.nominal.unit.offset() == nil):
		give := amount{s.give, s.nominal.unit, s.nominal.computed}
		p := both(*s.nominal, give, give, u)
		p.Give, p.To = p.To, ""
		return p
	case s.low.compare(*s.high) == 0:
		return s.low.parts(u)
	}
	low, high := s.low.as(u), s.high.as(u)
	return both(*s.low, *s.high, high.minus(low), u)
}

// both is two figures that share one unit. They are rounded finely enough not to
// move the limits of a narrow span.
func both(a, b, width amount, u Unit) Parts {
	w, ok := width.in(u)
	if !ok {
		u, w = a.unit, width.rat()
	}
	finest := over(w, 10)
	finest.Abs(finest)
	second := b.digits(u, finest)
	return Parts{Figure: a.digits(u, finest), To: second, Unit: symbol(u, second)}
}

// plain prints a percentage.
func plain(r *big.Rat) string {
	if s, ok := finite(r); ok && len(s) <= fullLength {
		return s
	}
	return rounded(r, 0, nil)
}
