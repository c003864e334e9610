package quantity

import (
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// decimals draws figures as people write them, from tiny to large.
var decimals = rapid.StringMatching(`(0|[1-9][0-9]{0,3})(\.[0-9]{1,12})?`)

var anyUnit = rapid.Custom(func(t *rapid.T) Unit { return Unit(rapid.IntRange(1, int(endOfUnits)-1).Draw(t, "unit")) })

// figure draws a quantity as read from a text, kept within bounds.
func figure(t *rapid.T, u Unit) Quantity {
	text := decimals.Draw(t, "figure")
	if u == Turn || u == Flat || u == KilonewtonMetre || u == Percent || u.Dimension() == TemperatureKind {
		text = strings.TrimLeft(text[max(0, len(text)-3):], ".")
	}
	q, err := ParseAny(text + " " + u.Symbol())
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func TestUnitsRoundTripExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := anyUnit.Draw(t, "from")
		q := figure(t, from)
		for _, to := range Units(from.Dimension()) {
			there := q.core().as(to)
			if back := there.as(from); back.compare(q.core()) != 0 || there.compare(q.core()) != 0 {
				t.Fatalf("%s to %s and back is %s", q, to, back.text(from))
			}
		}
	})
}

func TestConversionKeepsOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := anyUnit.Draw(t, "from")
		a, b := figure(t, from), figure(t, from)
		order, err := a.Compare(b)
		if err != nil {
			t.Fatal(err)
		}
		for _, to := range Units(from.Dimension()) {
			x, y := a.In(to), b.In(to)
			if order < 0 && x > y || order > 0 && x < y || order == 0 && x != y {
				t.Fatalf("%s against %s is %d, but %g against %g in %s", a, b, order, x, y, to)
			}
		}
	})
}

func TestReadingBackWhatIsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := figure(t, anyUnit.Draw(t, "unit"))
		back, err := ParseAny(q.String())
		if err != nil {
			t.Fatal(err)
		}
		if order, err := q.Compare(back); order != 0 || err != nil || back.Unit() != q.Unit() {
			t.Fatalf("%s reads back as %s", q, back)
		}
	})
}

func TestPrintedConversionsAreHonest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := figure(t, anyUnit.Draw(t, "from"))
		for _, e := range q.Equivalents() {
			if strings.ContainsAny(e.Text, "eE") && !strings.HasSuffix(e.Text, "e") || strings.HasPrefix(e.Text, "-") && q.Dimension() != TemperatureKind {
				t.Fatalf("%s prints %q", q, e.Text)
			}
			back, err := ParseAny(e.Text)
			if err != nil {
				t.Fatal(err)
			}
			off := new(big.Rat).Sub(back.Exact(e.Unit), q.Exact(e.Unit))
			limit := over(q.Exact(e.Unit), 1000)
			if off.Abs(off).Cmp(limit.Abs(limit)) >= 0 && off.Sign() != 0 {
				t.Fatalf("%s prints %q, off by %s", q, e.Text, off.FloatString(12))
			}
		}
	})
}

func TestSpansReadBackWhatTheyPrint(t *testing.T) {
	form := rapid.SampledFrom([]string{"A U", "A to B U", "A U to B U", "A–B U", "B ± A U", "B U ± A U", "B U ± 7.5 %", "at least A U", "at most A U"})
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(Units(TorqueKind)).Draw(t, "unit")
		a := rapid.IntRange(1, 400).Draw(t, "a")
		b := a + rapid.IntRange(1, 99).Draw(t, "more")
		tenths := func(n int) string { return big.NewRat(int64(n), 10).FloatString(1) }
		text := strings.NewReplacer("A", tenths(a), "B", tenths(b), "U", u.Symbol()).Replace(form.Draw(t, "form"))
		s, err := ParseTorqueSpan(text)
		if err != nil {
			t.Fatal(err)
		}
		back, err := ParseTorqueSpan(s.Text())
		if err != nil || !sameLimit(s.Low, back.Low) || !sameLimit(s.High, back.High) || !sameLimit(s.Nominal, back.Nominal) || back.Text() != s.Text() {
			t.Fatalf("%q prints %q, which reads back as %q, %v", text, s, back, err)
		}
		for _, other := range Units(TorqueKind) {
			if _, err := ParseTorqueSpan(s.TextIn(other)); err != nil {
				t.Fatalf("%q in %s: %v", text, other, err)
			}
		}
	})
}

func sameLimit(a, b *Torque) bool {
	return (a == nil) == (b == nil) && (a == nil || a.Cmp(*b) == 0)
}
