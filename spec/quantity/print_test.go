package quantity

import (
	"encoding/json"
	"math"
	"math/big"
	"testing"
)

func TestPrintedFigures(t *testing.T) {
	for _, c := range []struct {
		given string
		in    Unit
		want  string
	}{
		{"22 N·m", NewtonMetre, "22 N·m"},
		{"22 N·m", PoundForceFoot, "16.23 lbf·ft"}, // 16.2 would be 0.16 % off
		{"22 N·m", KilogramForceMetre, "2.243 kgf·m"},
		{"22 N·m", PoundForceInch, "194.7 lbf·in"},
		{"22 N·m", CentinewtonMetre, "2200 cN·m"},
		{"22 N·m", KilonewtonMetre, "0.022 kN·m"},
		{"40 N·m", PoundForceFoot, "29.5 lbf·ft"},
		{"122 N·m", PoundForceFoot, "90.0 lbf·ft"}, // a scale shows tenths
		{"22.123456 N·m", NewtonMetre, "22.123456 N·m"},
		{"22.123456 N·m", CentinewtonMetre, "2212 cN·m"},
		{"0.000001 N·m", KilonewtonMetre, "0.000000001 kN·m"},
		{"0.05 mm", Millimetre, "0.05 mm"},
		{"0.05 mm", Inch, "0.00197 in"},
		{"1 in", Millimetre, "25.4 mm"},
		{"94°", Turn, "0.261 turns"},
		{"90°", Turn, "1/4 turn"},
		{"540°", Turn, "1 1/2 turns"},
		{"360°", Turn, "1 turn"},
		{"0°", Turn, "0 turns"},
		{"60°", Flat, "1 flat"},
		{"90°", Flat, "1.5 flats"},
		{"1/3 turn", Degree, "120°"},
		{"1/3 in", Inch, "0.3333 in"},
		{"24 h", Day, "1 day"},
		{"25.41 mm", Inch, "1.000 in"}, // a scale shows thousandths
		{"12.345 N·m", DecanewtonMetre, "1.2345 daN·m"},
		{"72°", Turn, "0.2 turns"}, // nobody says a fifth of a turn
		{"30°", Turn, "1/12 turn"},
		{"22 N·m", Millimetre, "22 N·m"}, // another kind: its own unit
	} {
		q, err := ParseAny(c.given)
		if err != nil {
			t.Fatal(err)
		}
		if got := q.Text(c.in); got != c.want {
			t.Errorf("%s in %s prints %q, want %q", c.given, c.in, got, c.want)
		}
	}
}

func TestZeroValuesAreUsable(t *testing.T) {
	for got, want := range map[string]string{
		Torque{}.String(): "0 N·m", Angle{}.String(): "0°", Length{}.String(): "0 mm", Force{}.String(): "0 N", Duration{}.String(): "0 s", Quantity{}.String(): "0",
		Torque{}.Text(PoundForceFoot): "0 lbf·ft", Torque{}.Scale(big.NewRat(-1, 2)).String(): "0 N·m", Span[Torque]{}.Text(): "",
	} {
		if got != want {
			t.Errorf("a zero value prints %q, want %q", got, want)
		}
	}
	if !(Length{}).IsZero() || (Torque{}).Nm() != 0 || (Torque{}).Unit() != NewtonMetre || (Quantity{}).Equivalents() != nil || (Duration{}).Std() != 0 {
		t.Error("a zero value is not plain nothing")
	}
	if order, err := (Quantity{}).Compare(Quantity{}); order != 0 || err != nil {
		t.Error("two zero quantities differ")
	}
}

func TestPercentagesAreExact(t *testing.T) {
	full, _ := ParseTorque("22 N·m")
	if got := full.Scale(big.NewRat(40, 100)).String(); got != "8.8 N·m" {
		t.Errorf("40 %% of 22 N·m prints %q", got)
	}
	sum := Torque{}
	for range 10 {
		sum = sum.Add(full.Scale(big.NewRat(1, 10)))
	}
	if sum.Cmp(full) != 0 || !sum.Sub(full).IsZero() {
		t.Errorf("ten tenths of 22 N·m are %s", sum)
	}
	if full.String() != "22 N·m" {
		t.Error("arithmetic changed its operand")
	}
}

func TestExactIsACopy(t *testing.T) {
	full, _ := ParseTorque("22 N·m")
	full.Exact(NewtonMetre).SetInt64(1)
	if full.Nm() != 22 {
		t.Error("a caller changed a torque through Exact")
	}
	if full.Exact(Inch) != nil || !math.IsNaN(full.In(Inch)) {
		t.Error("a torque has a value in inches")
	}
}

func TestConvertedFiguresPrintRounded(t *testing.T) {
	one, _ := ParseTorque("1 ft-lb")
	if got := one.As(NewtonMetre); got.String() != "1.356 N·m" || got.Cmp(one) != 0 {
		t.Errorf("1 lbf·ft counted in N·m prints %q", got)
	}
}

func TestEstimatesPrintRounded(t *testing.T) {
	v, err := Estimate[Torque](100.0/3, NewtonMetre)
	if err != nil || v.String() != "33.33 N·m" {
		t.Errorf("100/3 N·m prints %q, %v", v, err)
	}
	if v, _ := Estimate[Torque](24.6, NewtonMetre); v.String() != "24.6 N·m" {
		t.Errorf("24.6 N·m computed prints %q", v)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, err := Estimate[Torque](bad, NewtonMetre)
		wantRefusal(t, "not a number", "not a number", err)
	}
	_, err = Estimate[Torque](1, Millimetre)
	wantRefusal(t, "mm", "mm is not a unit of torque", err)
}

func TestEquivalentsListEveryUnit(t *testing.T) {
	v, _ := ParseTorque("18.4 ft-lb")
	b, err := json.Marshal(v.Equivalents()[:2])
	const want = `[{"unit":"N·m","value":24.947050249297767,"text":"24.95 N·m"},{"unit":"lbf·ft","value":18.4,"text":"18.4 lbf·ft"}]`
	if err != nil || string(b) != want {
		t.Errorf("equivalents %s, %v\nwant %s", b, err, want)
	}
	all := 0
	for d, n := range map[Dimension]int{TorqueKind: 11, AngleKind: 3, LengthKind: 4, ForceKind: 4, TimeKind: 4, TemperatureKind: 3, PressureKind: 5, MassKind: 2, ShareKind: 1} {
		all += n
		if got := len(Units(d)); got != n {
			t.Errorf("%d units of %s, want %d", got, d, n)
		}
	}
	if all != int(endOfUnits)-1 || len(AllUnits()) != all {
		t.Error("a unit is in no list, or in two")
	}
}

func TestQuantitiesKnowTheirKind(t *testing.T) {
	q, _ := ParseAny("22 N·m")
	if q.Dimension() != TorqueKind || q.String() != "22 N·m" {
		t.Errorf("22 N·m is %s, %s", q, q.Dimension())
	}
	l, _ := ParseLength("1 in")
	mm, _ := ParseAny("25 mm")
	if order, err := AnyOf(l).Compare(mm); order != 1 || err != nil {
		t.Errorf("1 in against 25 mm: %d, %v", order, err)
	}
	if _, err := q.Compare(mm); err == nil || err.Error() != "22 N·m is torque, 25 mm is length; give both in the same kind of unit" {
		t.Errorf("22 N·m against 25 mm: %v", err)
	}
}

// arithmetic is what every type offers on its own values.
type arithmetic[T any] interface {
	Amount[T]
	Add(T) T
	Sub(T) T
}

func wantArithmetic[T arithmetic[T]](t *testing.T, read func(string) (T, error), three, four string, in Unit) {
	t.Helper()
	a, errA := read(three)
	b, errB := read(four)
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	if got := a.Add(b).In(in); got != 7 {
		t.Errorf("%s + %s is %g %s, want 7", a, b, got, in)
	}
	if got := b.Sub(a).In(in); got != 1 {
		t.Errorf("%s - %s is %g %s, want 1", b, a, got, in)
	}
	if got := a.Scale(big.NewRat(5, 3)).In(in); got != 5 {
		t.Errorf("5/3 of %s is %g %s, want 5", a, got, in)
	}
	if c := a.As(b.Unit()); c.Unit() != b.Unit() || c.Cmp(a) != 0 || a.Cmp(b) != -1 || b.Cmp(a) != 1 {
		t.Errorf("%s as %s is %s", a, b.Unit(), c)
	}
	if q := AnyOf(a); q.Dimension() != in.Dimension() || q.In(in) != 3 {
		t.Errorf("%s as any figure is %s", a, q)
	}
}

func TestEveryTypeCountsInItsOwnUnit(t *testing.T) {
	wantArithmetic(t, ParseTorque, "300 cN·m", "4 N·m", NewtonMetre)
	wantArithmetic(t, ParseAngle, "1/120 turn", "4°", Degree)
	wantArithmetic(t, ParseLength, "3000 µm", "4 mm", Millimetre)
	wantArithmetic(t, ParseForce, "0.003 kN", "4 N", Newton)
	wantArithmetic(t, ParseDuration, "3 s", "1/900 h", Second)
	a, _ := ParseAngle("1/4 turn")
	l, _ := ParseLength("1 in")
	f, _ := ParseForce("1 lbf")
	if a.Degrees() != 90 || l.Mm() != 25.4 || f.N() != 4.4482216152605 {
		t.Errorf("%g°, %g mm, %g N", a.Degrees(), l.Mm(), f.N())
	}
}
