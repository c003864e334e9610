package quantity

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"
	"unicode"
)

func TestSpellingsOfOneFigure(t *testing.T) {
	for _, c := range []struct {
		want  string
		given []string
	}{
		{"25 N·m", []string{"25Nm", "25 N m", "25 N·m", "25 n.m", "25 NM", "25 N-m", "25 Nm.", "  25   N·m ", "25\u202fN\u00a0m", "25\u2009N⋅m", "25 newton metres", "025 N·m", "25.0 N·m", "2.5e1 N·m", "0,25e2 N·m", "25 N*m", "25 N * m", "25N*m"}},
		{"18.4 lbf·ft", []string{"18.4 ft-lb", "18.4 lb·ft", "18.4 lbf ft", "18.4 ft·lbf", "18.4 ft lbs", "18.4 ft. lb.", "18.4 foot-pounds", "18.4 pound-feet", "18.4 FT-LB", "18,4 lbft"}},
		{"2.5 kgf·m", []string{"2.5 kgm", "2.5 mkg", "2.5 kgf m", "2,5 m·kgf", "2.5 kg-m", "2.5 kpm", "2.5 mkp", "2½ kgm", "2 1/2 kgm", "2.500 kgf*m", "2,500 kgf·m"}},
		{"221 lbf·in", []string{"221 in-lb", "221 in lbs", "221 lbf·in", "221 inch pounds", "221 lb.in"}},
		{"40 ozf·in", []string{"40 in·oz", "40 ozf·in", "40 oz-in", "40 ounce inches"}},
		{"255 kgf·cm", []string{"255 kgcm", "255 cmkg", "255 kg·cm", "255 kgf-cm"}},
		{"24.6 N·m", []string{"24,6 N·m", "24.60 N m"}},
		{"500 mN·m", []string{"500 mNm", "500 mN·m", "500 millinewton metres"}},
		{"1.2 kN·m", []string{"1.2 kNm", "1,2 KNM"}},
		{"250 cN·m", []string{"250 cNm", "250 N·cm", "250 Ncm", "250 N*cm", "250 newton centimetres"}},
		{"25 dN·m", []string{"25 dNm"}},
		{"2.5 daN·m", []string{"2.5 daNm", "2,5 dan.m"}},
		{"1234 N·m", []string{"1234 N·m", "1 234 N·m", "1\u202f234 N·m"}},
		{"12345.5 N·m", []string{"12 345,5 N·m", "12345.5 Nm"}},
		{"0.125 N·m", []string{"0,125 N·m", ".125 N·m", ",125 N·m"}},
		{"1234.567 N·m", []string{"1234,567 N·m", "1234.567 N·m", "1 234.567 N·m"}},
		{"1.25 N·m", []string{"1.250 N·m", "1,250 N·m", "1.25 N·m", "1,25 N·m"}}, // a point and a comma are the same
		{"12.5 mm", []string{"12.500 mm", "12,500 mm"}},
		{"90°", []string{"90°", "90 deg", "90 degrees", "90º", "90-degree"}},
		{"1/4 turn", []string{"1/4 turn", "¼ turn", "0.25 turn", "0,25 turns", "1/4-turn", "2/8 turn", "1⁄4 turn", "1 / 4 turn"}},
		{"1 1/2 turns", []string{"1 1/2 turns", "1-1/2 turns", "1½ turns", "1 ½ turns", "3/2 turns", "1.5 rev"}},
		{"1 turn", []string{"1 turn", "1.0 turns"}},
		{"1.5 flats", []string{"1.5 flats", "1 1/2 flats", "1-1/2 flats", "1,5 flat"}},
		{"0.005 in", []string{"0.005 in", `0.005"`, ".005 inch", "0.005″", "0.005''", "0,0050 in"}},
		{"0.375 in", []string{"3/8 in", `3/8"`, "0.375 in"}},
		{"1.5 in", []string{`1 1/2"`, `1-1/2"`, "1-1/2 in", `1½"`}},
		{"5 thou", []string{"5 thou", "5 thousandths", "5 mil", "5 mils"}},
		{"50 µm", []string{"50 µm", "50 μm", "50 um", "50 microns"}},
		{"0.05 mm", []string{"0.05 mm", "0,05mm"}},
		{"18 kN", []string{"18 kN", "18kn"}},
		{"4000 lbf", []string{"4000 lbf", "4 000 lbf"}},
		{"100 kgf", []string{"100 kgf", "100 kp"}},
		{"0 mm", []string{"0 mm", "0.00 mm", "0e9 mm"}},
		{"90 min", []string{"90 min", "1h30m", "1 h 30 min", "1h30min"}},
		{"12 h", []string{"12 h", "12 hours", "12hr"}},
		{"2 days", []string{"2 days", "2 d"}},
		{"26 h", []string{"1 day 2 h", "1d2h"}},
	} {
		for _, text := range c.given {
			q, err := ParseAny(text)
			if err != nil {
				t.Errorf("%v", err)
			} else if got := q.String(); got != c.want {
				t.Errorf("%q reads as %q, want %q", text, got, c.want)
			}
		}
	}
}

func TestDurationsBecomeStandardOnes(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"20m": 20 * time.Minute, "4h": 4 * time.Hour, "1h30m": 90 * time.Minute, "12 h": 12 * time.Hour, "90 min": 90 * time.Minute,
		"1 day": 24 * time.Hour, "1 day 2 h 3 min 4 s": 26*time.Hour + 3*time.Minute + 4*time.Second, "1/2 h": 30 * time.Minute,
		"0.0000000004 s": 0, "0.0000000005 s": 1, "2½h": 150 * time.Minute,
	} {
		d, err := ParseDuration(text)
		if err != nil || d.Std() != want {
			t.Errorf("%q is %v, %v; want %v", text, d.Std(), err, want)
		}
	}
}

// A slash between two figures of torque, degrees, millimetres or thou is as likely a range,
// and reading it as a fraction gives a torque of nearly nothing.
func TestSlashesAreAskedBack(t *testing.T) {
	for text, says := range map[string]string{
		"20/25 N·m": `"20/25" may be a range or a fraction; 20 to 25 N·m?`, "25/20 N·m": "20 to 25 N·m?", "20 / 25 Nm": "20 to 25 N·m?", "20⁄25 Nm": "20 to 25 N·m?", "20/ 25 ft-lb": "20 to 25 lbf·ft?",
		"90/95°": "90 to 95°?", "12/16 thou": "12 to 16 thou?", "2/3 kgm": "2 to 3 kgf·m?", "1/20 mm": "1 to 20 mm?", "40/60 µm": "40 to 60 µm?",
		"9.5/10 N·m": "9.5 to 10 N·m?", "9/10.5 N·m": "9 to 10.5 N·m?", "9,5/10,5 N·m": "9,5 to 10,5 N·m?", "18/20 kN": "18 to 20 kN?", "10/15 min": "10 to 15 min?", "20/40 s": "20 to 40 s?",
		"20-22/25 N·m": "may be a range", "20-22/25 mm": "may be a range",
	} {
		_, err := ParseAny(text)
		wantRefusal(t, text, says, err)
		if s, err := ParseTorqueSpan(text); err == nil {
			t.Errorf("%q is taken as the span %s", text, s)
		}
	}
	for _, text := range []string{"20/25 to 30 N·m", "20 to 25/30 N·m", "20/25 N·m ± 5 %", "27 N·m ± 5/10 %", "20/25 ± 2 N·m", "27 ± 1/2 N·m", "27 +1/2 -1 N·m", "27 +2 -1/2 N·m", "at least 20/25 N·m"} {
		_, err := ParseTorqueSpan(text)
		wantRefusal(t, text, "", err)
	}
	for _, text := range []string{"10/15m", "1h20/30m", "10/15 min"} {
		_, err := ParseDuration(text)
		wantRefusal(t, text, " to ", err)
	}
	for _, text := range []string{"90/95°", "90/95° to 100°", "1/2°"} {
		_, err := ParseAngleSpan(text)
		wantRefusal(t, text, " to ", err)
	}
}

func TestPoundsAndKilogramsAreAskedBack(t *testing.T) {
	for _, text := range []string{"25 lb", "25lb", "25 lbs", "25 LB.", "25 pounds", "25 pound"} {
		for _, err := range everyReading(text) {
			wantRefusal(t, text, "may be a torque or a force; lbf·ft (or lbf·in), or a force: lbf?", err)
		}
	}
	for _, text := range []string{"25 kg", "25kg", "25 kgs", "25 kilograms", "2,5 Kilogram"} {
		for _, err := range everyReading(text) {
			wantRefusal(t, text, "may be a torque or a force; kgf·m (or kgf·cm), or a force: kgf?", err)
		}
	}
	for text, says := range map[string]string{"25 lb/ft": "lbf·ft?", "25 ft/lb": "lbf·ft?", "25 ft./lbs": "lbf·ft?", "221 in/lb": "lbf·in?", "221 lb/in": "lbf·in?", "25 N/m": "N·m?", "2.5 kg/m": "kgf·m?", "3 kgf/cm": "kgf·cm?"} {
		for _, err := range everyReading(text) {
			wantRefusal(t, text, "is a force over a length; a torque is force times length: "+says, err)
		}
	}
	for _, unit := range []string{"lb", "kg", "lb/ft"} {
		_, err := ParseUnit(unit)
		wantRefusal(t, unit, "?", err)
	}
}

// everyReading is what each parser says to a text.
func everyReading(text string) []error {
	_, a := ParseAny(text)
	_, b := ParseTorque(text)
	_, c := ParseForce(text)
	_, d := ParseLength(text)
	_, e := ParseTorqueSpan(text)
	_, f := ParseTorqueSpan("20 to " + text)
	return []error{a, b, c, d, e, f}
}

// refused lists what no parser may take, and what the answer must say.
var refused = []struct{ text, says string }{
	{"", "empty"}, {"   ", "empty"},
	{"25", "no unit"}, {"24,6", "no unit"}, {"1/4", "no unit"}, {"1 1/2", "no unit"},
	{"N·m", "not start with a figure"}, {"NaN N·m", "not start with a figure"}, {"Inf N·m", "not start with a figure"}, {"0x19 N·m", "after the figure"},
	{"-5 N·m", "sign"}, {"−5 N·m", "sign"}, {"+5 N·m", "sign"},
	{"1,234.5 N·m", "more than one point"}, {"1.2.3 N·m", "more than one point"}, {"1,234,567 N·m", "more than one"},
	{"1e999999999 N·m", "bounds"}, {"1e-999999999 N·m", "bounds"}, {"1e16 N·m", "bounds"}, {"9e15 N·m", "that large"}, {"1001001 N·m", "that large"}, {"1002 turns", "that large"},
	{strings.Repeat("9", 60) + " Nm", "that large"}, {strings.Repeat("9", 100_000) + " N·m", "bytes long"},
	{"5 MNm", "milli or mega"}, {"5 mnm", "milli or mega"}, {"5 MN·m", "milli or mega"}, {"5 MNM", "milli or mega"},
	{"5 m", "metres or minutes"}, {"5 metres", "metres or minutes"},
	{"25 furlongs", "not a unit"}, {"-5 bar", "sign"}, {"-300 °C", "absolute zero"}, {"-1 K", "absolute zero"}, {"7000 °C", "that large"}, {"- °C", "sign"}, {"25 × N·m", "not a unit"}, {"25*N*m", "not a unit"}, {"25 kN/mm2", "after the figure"}, {"25 furlong/N", "not a unit"},
	{"1/0 turn", "divides by zero"}, {"1 3/2 turns", "mixed number"}, {"1.5/2 turn", "1.5 to 2 turns?"}, {"1/2.5 turn", "1 to 2.5 turns?"}, {"1/2,5 turn", "1 to 2,5 turns?"}, {"0/0.5 turn", "0 to 0.5 turns?"}, {"5/0 N·m", "divides by zero"},
	{"25 N·m 3", "after the figure"}, {"25\x1b[31m N·m", "U+001B"}, {"25 N·m\n", "U+000A"}, {"25\u200b N·m", "U+200B"}, {"25 N·m\u202e", "U+202E"}, {"25\xff N·m", "UTF-8"}, {"٢٥ N·m", "not start with a figure"},
	{"25 mmfloat 0.12 mm", "such as 0.05 mm or 22 N·m"}, {"30m1h", "long to short"}, {"1h1h", "long to short"}, {"1h30", "no unit"},
}

func TestRefusalsSayWhy(t *testing.T) {
	for _, c := range refused {
		_, err := ParseAny(c.text)
		wantRefusal(t, c.text, c.says, err)
	}
}

func TestWrongKindIsNamed(t *testing.T) {
	_, err := ParseTorque("25 mm")
	wantRefusal(t, "25 mm", "mm is a unit of length, not of torque; write torque as N·m", err)
	_, err = ParseLength("22 Nm")
	wantRefusal(t, "22 Nm", "N·m is a unit of torque, not of length; write length as mm", err)
	_, err = ParseAngle("20 min")
	wantRefusal(t, "20 min", "min is a unit of time, not of angle; write angle as °", err)
	_, err = ParseForce("20 ft-lb")
	wantRefusal(t, "20 ft-lb", "lbf·ft is a unit of torque, not of force; write force as N", err)
	_, err = ParseDuration("20 mm")
	wantRefusal(t, "20 mm", "mm is a unit of length, not of time; write time as s", err)
	_, err = ParseTorque("25")
	wantRefusal(t, "25", "one of N·m, lbf·ft, kgf·m, lbf·in", err)
}

func wantRefusal(t *testing.T, text, says string, err error) {
	t.Helper()
	var pe *ParseError
	if !errors.As(err, &pe) {
		t.Errorf("%.80q is not refused with a ParseError: %v", text, err)
		return
	}
	if msg := err.Error(); !strings.Contains(msg, says) {
		t.Errorf("%.80q: error %q does not say %q", text, msg, says)
	}
	wantPrintable(t, err)
	if pe.What == "" || pe.Remedy == "" {
		t.Errorf("%.80q: error without problem or remedy: %#v", text, pe)
	}
}

// wantPrintable holds an error to one short line that no terminal acts on.
func wantPrintable(t interface{ Errorf(string, ...any) }, err error) {
	msg := err.Error()
	if len(msg) > 1000 {
		t.Errorf("error of %d bytes", len(msg))
	}
	for _, r := range msg {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar {
			t.Errorf("error %q holds %U", msg, r)
		}
	}
}

func TestUnitsAlone(t *testing.T) {
	for text, want := range map[string]Unit{"ft-lb": PoundForceFoot, "Nm": NewtonMetre, "deg": Degree, "kgf·m": KilogramForceMetre, " in-lbs ": PoundForceInch, "mNm": MillinewtonMetre, "min": Minute} {
		if u, err := ParseUnit(text); err != nil || u != want {
			t.Errorf("%q is %v, %v; want %v", text, u, err, want)
		}
	}
	for _, text := range []string{"", "m", "MNm", "bananas", "N·m 3", "\x1b[2J"} {
		_, err := ParseUnit(text)
		wantRefusal(t, text, "", err)
	}
	for u := Unit(1); u < endOfUnits; u++ {
		if got, err := ParseUnit(u.Symbol()); err != nil || got != u {
			t.Errorf("the symbol %s reads as %v, %v", u, got, err)
		}
	}
}

func TestStoredFiguresComeBackExactly(t *testing.T) {
	type stored struct {
		T Torque
		A Angle
		L Length
		F Force
		D Duration
		Q Quantity
	}
	third := exactly("0.1")
	third.SetFrac64(1, 3)
	var in, out stored
	in.T, _ = ParseTorque("22.05 ft-lb")
	in.T = in.T.Scale(third).As(NewtonMetre)
	in.A, _ = ParseAngle("1/7 turn")
	in.L, _ = Estimate[Length](0.1e-5, Inch)
	in.F = in.F.Sub(Force{}.with(amount{third, Kilonewton, false}))
	in.D, _ = ParseDuration("1h20m")
	in.Q, _ = ParseAny("1 1/3 flats")
	b, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	order, err := in.Q.Compare(out.Q)
	if in.T.Cmp(out.T) != 0 || in.A.Cmp(out.A) != 0 || in.L.Cmp(out.L) != 0 || in.F.Cmp(out.F) != 0 || in.D.Cmp(out.D) != 0 || order != 0 || err != nil {
		t.Errorf("%s came back as %+v", b, out)
	}
	for _, bad := range []string{`"25"`, `"25 mm"`, `"1/0 N·m"`, `"--3 N·m"`, `""`, `"1e999999999 N·m"`} {
		if err := json.Unmarshal([]byte(bad), new(Torque)); err == nil {
			t.Errorf("%s is taken as a torque", bad)
		}
	}
}
