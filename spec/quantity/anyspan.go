package quantity

// AnySpan is a span of any dimension; the unit of its figures says which.
type AnySpan struct{ raw rawSpan }

// ParseAnySpan reads one figure, as ParseAny does, or what ParseTorqueSpan reads, of any
// dimension. The error is a *ParseError.
func ParseAnySpan(s string) (AnySpan, error) {
	text, f := tidy(s)
	var raw rawSpan
	if f == nil {
		raw, f = spanOf(text, 0)
	}
	if f != nil {
		return AnySpan{}, f.of(s)
	}
	return AnySpan{raw}, nil
}

// One is the figure of a span that allows no other; ok is false for all other spans.
func (s AnySpan) One() (q Quantity, ok bool) {
	return s.Aim(), s.raw.form == alone
}

// Aim is the figure to set: the nominal one, else the middle of the range, else
// the one limit there is.
func (s AnySpan) Aim() Quantity { return Quantity{held[anyDim]{s.raw.aim()}} }

// Unit is the unit the span was written in.
func (s AnySpan) Unit() Unit {
	if s.raw.low == nil && s.raw.high == nil {
		return 0
	}
	return s.raw.aim().unit
}

// String prints the span as it was written.
func (s AnySpan) String() string { return s.raw.text(s.Unit()) }

// Equivalents lists the span in every unit of its dimension, in the order of Units:
// the figure to aim for, the limits it has, and the text of all.
func (s AnySpan) Equivalents() []Equivalent {
	if q, ok := s.One(); ok {
		return q.Equivalents()
	}
	var list []Equivalent
	for _, u := range Units(s.Unit().Dimension()) {
		e := Equivalent{Unit: u, Value: s.raw.aim().float(u), Text: s.raw.text(u)}
		e.Low, e.High = limitIn(s.raw.low, u), limitIn(s.raw.high, u)
		list = append(list, e)
	}
	return list
}

// limitIn is a limit in a unit; nil for none.
func limitIn(a *amount, u Unit) *float64 {
	if a == nil {
		return nil
	}
	v := a.float(u)
	return &v
}
