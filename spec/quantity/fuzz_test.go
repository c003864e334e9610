package quantity

import (
	"errors"
	"math/big"
	"testing"
)

var examples = []string{
	"22 N·m", "18,4 ft-lb", "2.5 mkg", "1 1/2 turns", "½ turn", "90°", `0.005"`, "5 thou", "18 kN", "1h30m", "1 day 2 h", "1 234,5 Nm", "1e3 N·m", "1e999999999 mm", "5 MNm", "1000000 mm", "1000000 N·m", "360000°", "1000000000 N", "1001000000N",
	"37 to 43 N·m", "37–43 ft-lb", "27 ± 2 N·m", "27 N·m ± 5 %", "at least 122 N·m", "≤ 10 Nm", "25\x1b[31m", "\xff\xfe", "1/0 turn", "١ mm", "1e-3-2e-3 mm", "0,000000000000000000000000000000000000000000000000000001 mm",
}

// fuzzFigure holds a parser to its promises: no panic, a printable error, and
// an accepted figure that is stored and read back as itself.
func fuzzFigure[T Amount[T]](f *testing.F, read func(string) (T, error)) {
	for _, s := range examples {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := read(s)
		if err != nil {
			var pe *ParseError
			if !errors.As(err, &pe) {
				t.Errorf("%q: not a ParseError: %v", s, err)
			}
			wantPrintable(t, err)
			return
		}
		stored := v.core().exactText()
		if back, err := unmarshal[T]([]byte(stored)); err != nil || back.Cmp(v) != 0 {
			t.Errorf("%q is stored as %q and comes back as %s, %v", s, stored, back, err)
		}
		if a := v.core(); a.base().Cmp(big.NewRat(most[a.unit.Dimension()], 1)) > 0 {
			return // in what is left for the rounding of a print; that of its own may not be
		}
		for _, e := range AnyOf(v).Equivalents() {
			if _, err := read(e.Text); err != nil && len(e.Text) <= maxInput && !v.IsZero() {
				t.Errorf("%q prints %q: %v", s, e.Text, err)
			}
		}
	})
}

func FuzzTorque(f *testing.F)   { fuzzFigure(f, ParseTorque) }
func FuzzAngle(f *testing.F)    { fuzzFigure(f, ParseAngle) }
func FuzzLength(f *testing.F)   { fuzzFigure(f, ParseLength) }
func FuzzForce(f *testing.F)    { fuzzFigure(f, ParseForce) }
func FuzzDuration(f *testing.F) { fuzzFigure(f, ParseDuration) }

func FuzzAny(f *testing.F) {
	for _, s := range examples {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if q, err := ParseAny(s); err != nil {
			wantPrintable(t, err)
		} else if q.Dimension() == 0 || len(q.Equivalents()) == 0 {
			t.Errorf("%q is a quantity of nothing", s)
		}
		if u, err := ParseUnit(s); err != nil {
			wantPrintable(t, err)
		} else if u.Symbol() == "" {
			t.Errorf("%q is a unit without a symbol", s)
		}
	})
}

func fuzzSpan[T Amount[T]](f *testing.F, read func(string) (Span[T], error)) {
	for _, s := range examples {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		span, err := read(s)
		if err != nil {
			wantPrintable(t, err)
			return
		}
		if span.IsZero() || span.Text() == "" || span.Low != nil && span.High != nil && (*span.Low).Cmp(*span.High) > 0 {
			t.Errorf("%q is the span %s", s, span)
		}
		if !span.Contains(span.Aim()) {
			t.Errorf("%q does not hold its own aim %s", s, span.Aim())
		}
		for _, u := range Units(span.Unit().Dimension()) {
			span.TextIn(u)
		}
	})
}

func FuzzTorqueSpan(f *testing.F) { fuzzSpan(f, ParseTorqueSpan) }
func FuzzAngleSpan(f *testing.F)  { fuzzSpan(f, ParseAngleSpan) }
func FuzzLengthSpan(f *testing.F) { fuzzSpan(f, ParseLengthSpan) }
