package quantity

import (
	"math"
	"slices"
	"testing"
)

func TestSpansOfAnyDimensionConvert(t *testing.T) {
	for text, want := range map[string]struct {
		own, other string
		u          Unit
	}{
		"22 Nm":            {"22 N·m", "16.23 lbf·ft", PoundForceFoot},
		"37-43 Nm":         {"37 to 43 N·m", "27.3 to 31.7 lbf·ft", PoundForceFoot},
		"27 ± 2 N·m":       {"27 ± 2 N·m", "19.9 ± 1.475 lbf·ft", PoundForceFoot},
		"27 N·m ± 5 %":     {"27 N·m ± 5 %", "19.9 lbf·ft ± 5 %", PoundForceFoot},
		"90 +5/-0 °":       {"90° to 95°", "1.5 to 1.583 flats", Flat},
		"min 122 Nm":       {"at least 122 N·m", "at least 90.0 lbf·ft", PoundForceFoot},
		"≤ 4 thou":         {"at most 4 thou", "at most 0.1016 mm", Millimetre},
		"60 to 80 °C":      {"60 to 80 °C", "140 to 176 °F", Fahrenheit},
		"70 ± 5 °C":        {"70 ± 5 °C", "149 to 167 °F", Fahrenheit}, // 9 °F wide on each side, not 41
		"1.2 to 1.4 bar":   {"1.2 to 1.4 bar", "120 to 140 kPa", Kilopascal},
		"3 N - 5 N":        {"3 to 5 N", "0.674 to 1.124 lbf", PoundForce},
		"10 to 12 minutes": {"10 to 12 min", "600 to 720 s", Second},
	} {
		s, err := ParseAnySpan(text)
		if err != nil || s.String() != want.own {
			t.Errorf("%q reads as %s (%v), want %s", text, s, err, want.own)
			continue
		}
		list := s.Equivalents()
		i := slices.IndexFunc(list, func(e Equivalent) bool { return e.Unit == want.u })
		if i < 0 || list[i].Text != want.other {
			t.Errorf("%q in %s: %+v, want %s", text, want.u, list, want.other)
		}
	}
}

// 1 lbf·ft = 1.355 817 948 N·m (NIST SP 811, appendix B.8, printed 1.355 818).
func TestEquivalentsOfASpanHaveItsLimits(t *testing.T) {
	near := func(got *float64, want float64) bool { return got != nil && math.Abs(*got-want) < 5e-4 }
	s, _ := ParseAnySpan("37 to 43 lbf·ft")
	if e := s.Equivalents()[0]; e.Unit != NewtonMetre || !near(&e.Value, 40*1.355818) || !near(e.Low, 37*1.355818) || !near(e.High, 43*1.355818) {
		t.Errorf("%+v", e)
	}
	if _, one := s.One(); one {
		t.Error("a range is taken for one figure")
	}
	least, _ := ParseAnySpan("at least 90 lbf·ft")
	if e := least.Equivalents()[0]; !near(e.Low, 90*1.355818) || e.High != nil || !near(&e.Value, 90*1.355818) {
		t.Errorf("%+v", e)
	}
	most, _ := ParseAnySpan("at most 90 lbf·ft")
	if e := most.Equivalents()[0]; !near(e.High, 90*1.355818) || e.Low != nil || !near(&e.Value, 90*1.355818) {
		t.Errorf("%+v", e)
	}
	one, _ := ParseAnySpan("90 lbf·ft")
	if e := one.Equivalents()[0]; e.Low != nil || e.High != nil {
		t.Errorf("one figure has limits: %+v", e)
	}
	if q, ok := one.One(); !ok || q.String() != "90 lbf·ft" {
		t.Errorf("one figure is %s, %v", q, ok)
	}
}

func TestSpansOfAnyDimensionAreRefusedLikeOthers(t *testing.T) {
	for text, want := range map[string]string{
		"37 to 43":     "it has no unit",
		"43 to 37 N·m": "the range does not go up",
		"3 mm to 5 N":  "its two figures are in different units",
		"22..25 Nm":    `after the figure comes "..25 Nm"`,
		"5 ± 6 mm":     "its tolerance leaves nothing of the figure",
		"":             "it is empty",
	} {
		s, err := ParseAnySpan(text)
		wantRefusal(t, text, want, err)
		if s.Unit() != 0 {
			t.Errorf("%q has a unit", text)
		}
	}
}
