package quantity

import (
	"math"
	"math/big"
	"testing"
)

func TestSpansAsSheetsWriteThem(t *testing.T) {
	for _, c := range []struct{ given, text, low, high, aim, feet string }{
		{"22 N·m", "22 N·m", "22 N·m", "22 N·m", "22 N·m", "16.23 lbf·ft"},
		{"37 N·m to 43 N·m", "37 to 43 N·m", "37 N·m", "43 N·m", "40 N·m", "27.3 to 31.7 lbf·ft"},
		{"37 to 43 N·m", "37 to 43 N·m", "37 N·m", "43 N·m", "40 N·m", "27.3 to 31.7 lbf·ft"},
		{"37–43 N·m", "37 to 43 N·m", "37 N·m", "43 N·m", "40 N·m", "27.3 to 31.7 lbf·ft"},
		{"37-43 N·m", "37 to 43 N·m", "37 N·m", "43 N·m", "40 N·m", "27.3 to 31.7 lbf·ft"},
		{"27-32 ft-lb", "27 to 32 lbf·ft", "27 lbf·ft", "32 lbf·ft", "29.5 lbf·ft", "27 to 32 lbf·ft"},
		{"27 ft-lb - 32 ft-lb", "27 to 32 lbf·ft", "27 lbf·ft", "32 lbf·ft", "29.5 lbf·ft", "27 to 32 lbf·ft"},
		{"2,4 à 2", "", "", "", "", ""},
		{"27 ± 2 N·m", "27 ± 2 N·m", "25 N·m", "29 N·m", "27 N·m", "19.9 ± 1.475 lbf·ft"},
		{"27 +/- 2 N·m", "27 ± 2 N·m", "25 N·m", "29 N·m", "27 N·m", "19.9 ± 1.475 lbf·ft"},
		{"27 N·m ± 2 N·m", "27 ± 2 N·m", "25 N·m", "29 N·m", "27 N·m", "19.9 ± 1.475 lbf·ft"},
		{"27 N·m ± 5 %", "27 N·m ± 5 %", "25.65 N·m", "28.35 N·m", "27 N·m", "19.9 lbf·ft ± 5 %"},
		{"27 N·m ±7,5%", "27 N·m ± 7.5 %", "24.975 N·m", "29.025 N·m", "27 N·m", "19.9 lbf·ft ± 7.5 %"},
		{"at least 122 N·m", "at least 122 N·m", "122 N·m", "", "122 N·m", "at least 90.0 lbf·ft"},
		{"At most 10 N·m", "at most 10 N·m", "", "10 N·m", "10 N·m", "at most 7.38 lbf·ft"},
		{"min. 5 Nm", "at least 5 N·m", "5 N·m", "", "5 N·m", "at least 3.69 lbf·ft"},
		{"≤10 Nm", "at most 10 N·m", "", "10 N·m", "10 N·m", "at most 7.38 lbf·ft"},
	} {
		s, err := ParseTorqueSpan(c.given)
		if c.text == "" {
			wantRefusal(t, c.given, "", err)
			continue
		}
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if got := [...]string{s.Text(), textOf(s.Low), textOf(s.High), s.Aim().String(), s.TextIn(PoundForceFoot)}; got != [...]string{c.text, c.low, c.high, c.aim, c.feet} {
			t.Errorf("%q reads as %q\nwant %q", c.given, got, []string{c.text, c.low, c.high, c.aim, c.feet})
		}
	}
}

func textOf(t *Torque) string {
	if t == nil {
		return ""
	}
	return t.String()
}

func TestSpansOfAngleAndLength(t *testing.T) {
	for given, want := range map[string][2]string{
		"90° to 94°": {"90° to 94°", "1/4 to 0.261 turns"}, "90 ± 2°": {"90° ± 2°", "1/4 ± 0.00556 turns"}, "1/4 turn": {"1/4 turn", "1/4 turn"},
		"1-1/2 to 2 turns": {"1 1/2 to 2 turns", "1 1/2 to 2 turns"}, "1-1/2-2 turns": {"1 1/2 to 2 turns", "1 1/2 to 2 turns"}, "1-1/2 turns": {"1 1/2 turns", "1 1/2 turns"}, "1/4-1/2 turn": {"1/4 to 1/2 turn", "1/4 to 1/2 turn"},
		"0-1/2 turn": {"0 to 1/2 turn", "0 to 1/2 turn"}, "1-3/2 turns": {"1 to 1 1/2 turns", "1 to 1 1/2 turns"}, "1.5-7/4 turns": {"1 1/2 to 1 3/4 turns", "1 1/2 to 1 3/4 turns"}, "1/4 to 1/2 turn": {"1/4 to 1/2 turn", "1/4 to 1/2 turn"}, "1–1 1/2 turns": {"1 to 1 1/2 turns", "1 to 1 1/2 turns"}, "1.5 flats": {"1.5 flats", "1/4 turn"},
		"½ to ¾ turn": {"1/2 to 3/4 turn", "1/2 to 3/4 turn"}, "½-¾ turn": {"1/2 to 3/4 turn", "1/2 to 3/4 turn"}, "½ – 1½ turns": {"1/2 to 1 1/2 turns", "1/2 to 1 1/2 turns"}, "1 to 1 ¼ turns": {"1 to 1 1/4 turns", "1 to 1 1/4 turns"},
		"quarter turn to half a turn": {"1/4 to 1/2 turn", "1/4 to 1/2 turn"}, "three-quarter turn": {"3/4 turn", "3/4 turn"}, "1-½ turns": {"1 1/2 turns", "1 1/2 turns"}, "0-½ turn": {"0 to 1/2 turn", "0 to 1/2 turn"}, "1-½ to 2 turns": {"1 1/2 to 2 turns", "1 1/2 to 2 turns"},
	} {
		s, err := ParseAngleSpan(given)
		if got := [2]string{s.Text(), s.TextIn(Turn)}; err != nil || got != want {
			t.Errorf("%q reads as %q, %v; want %q", given, got, err, want)
		}
	}
	for given, want := range map[string][2]string{
		"0.12 mm to 0.15 mm": {"0.12 to 0.15 mm", "0.00472 to 0.0059 in"}, `1-1/2"-1-3/4"`: {"1.5 to 1.75 in", "1.5 to 1.75 in"}, `1/16-1/8"`: {"0.0625 to 0.125 in", "0.0625 to 0.125 in"}, `0.002"-0.004"`: {"0.002 to 0.004 in", "0.002 to 0.004 in"}, "at most 5 thou": {"at most 5 thou", "at most 0.005 in"},
		"52.00 to 52.02 mm": {"52 to 52.02 mm", "2.0472 to 2.048 in"}, // a thousandth of 52 mm would swallow the tolerance
	} {
		s, err := ParseLengthSpan(given)
		if got := [2]string{s.Text(), s.TextIn(Inch)}; err != nil || got != want {
			t.Errorf("%q reads as %q, %v; want %q", given, got, err, want)
		}
	}
}

func TestRefusedSpansSayWhy(t *testing.T) {
	for given, says := range map[string]string{
		"43 to 37 N·m": "does not go up", "37 to 37 N·m": "does not go up", "37 N·m to 43": "no unit", "37 to 43": "no unit", "27 N·m ± 2": "no unit", "27 ± 5 %": "no unit",
		"37 N·m to 43 lbf·ft": "different units", "27 ± 27 N·m": "leaves nothing", "27 N·m ± 100 %": "leaves nothing", "27 ± 0 N·m": "tolerance is 0", "27 N·m ± 0 %": "tolerance is 0",
		"27 N·m ±": "empty", "± 2 N·m": "empty", "at least": "empty", "at least 37 to 43 N·m": "after the figure", "37 to 40 to 43 N·m": "after the figure", "-3 to 5 N·m": "sign",
		"27 N·m ± 5 % of it": "not a unit", "27 N·m ± 5 5 %": "after ±", "90° to 94°": "unit of angle", "": "empty", "22": "no unit",
	} {
		_, err := ParseTorqueSpan(given)
		wantRefusal(t, given, says, err)
	}
	for _, c := range refused {
		if s, err := ParseTorqueSpan(c.text); err == nil {
			t.Errorf("%.80q is taken as the span %s", c.text, s)
		}
	}
}

func TestLimitsIncludeTheirEnds(t *testing.T) {
	s, _ := ParseTorqueSpan("27 ± 2 N·m")
	for text, want := range map[string]int{"24.999 N·m": -1, "25 N·m": 0, "27 N·m": 0, "29 N·m": 0, "2900 cN·m": 0, "29.0001 N·m": 1, "25 ft-lb": 1} {
		v, err := ParseTorque(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Compare(v); got != want || s.Contains(v) != (want == 0) {
			t.Errorf("%s against %s: %d, want %d", text, s, got, want)
		}
	}
	low, high := s.In(CentinewtonMetre)
	if low != 2500 || high != 2900 {
		t.Errorf("%s is %g to %g cN·m", s, low, high)
	}
	felt, _ := ParseTorqueSpan("at least 122 N·m")
	if low, high := felt.In(NewtonMetre); low != 122 || !math.IsInf(high, 1) {
		t.Errorf("%s is %g to %g", felt, low, high)
	}
}

func TestSharesOfSpans(t *testing.T) {
	for given, want := range map[string]string{
		"22 N·m": "8.8 N·m", "37 to 43 N·m": "14.8 to 17.2 N·m", "27 ± 2 N·m": "10.8 ± 0.8 N·m", "27 N·m ± 5 %": "10.8 N·m ± 5 %", "at least 122 N·m": "at least 48.8 N·m",
	} {
		s, _ := ParseTorqueSpan(given)
		if got := s.Scale(big.NewRat(40, 100)).Text(); got != want {
			t.Errorf("40 %% of %s prints %q, want %q", given, got, want)
		}
		if s.Text() != given {
			t.Errorf("scaling changed %s to %s", given, s)
		}
		if got := s.Scale(new(big.Rat)).TextIn(PoundForceFoot); got == "" {
			t.Errorf("nothing of %s prints nothing", given)
		}
	}
	v, _ := ParseTorque("22 N·m")
	if s := Exactly(v); s.Text() != "22 N·m" || s.IsZero() || !s.Contains(v) {
		t.Errorf("exactly 22 N·m is %s", s)
	}
}

func TestSpansReadATolerancePerSide(t *testing.T) {
	for text, want := range map[string]string{
		"27 +2/-1 N·m":     "26 to 29 N·m",
		"27 N·m +2 −1":     "26 to 29 N·m",
		"27 N·m +2 N·m -1": "26 to 29 N·m",
		"27 +3/-0 N·m":     "27 to 30 N·m",
	} {
		s, err := ParseTorqueSpan(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if s.Text() != want || s.Nominal.Nm() != 27 {
			t.Errorf("%q is %s about %s, want %s", text, s.Text(), s.Nominal, want)
		}
	}
	for _, text := range []string{"27 +0/-0 N·m", "27 +2/-30 N·m", "27 +2 lbf·ft/-1 N·m", "27 + N·m", "27 +2/- N·m"} {
		if s, err := ParseTorqueSpan(text); err == nil {
			t.Errorf("%q is read as %s", text, s.Text())
		}
	}
	if a, err := ParseAngleSpan("90° +5/-0"); err != nil || a.Text() != "90° to 95°" {
		t.Errorf("an angle: %s, %v", a.Text(), err)
	}
}

func TestWordedFractionsOfATurn(t *testing.T) {
	for text, want := range map[string]float64{"half a turn": 180, "Half turn": 180, "a quarter turn": 90, "three quarters of a turn": 270, "one flat": 60, "two flats": 120} {
		if a, err := ParseAngle(text); err != nil || a.Degrees() != want {
			t.Errorf("%q: %v, %v; want %g°", text, a.Degrees(), err, want)
		}
	}
}
