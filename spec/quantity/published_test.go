package quantity

import (
	"encoding/csv"
	"fmt"
	"math/big"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

// publishedUnits is a table computed from the SI Brochure and NIST SP 811
// definitions; its header says how. See the source column, row by row.
const publishedUnits = "../../testdata/published/units.csv"

func publishedRows(t *testing.T) []map[string]string {
	t.Helper()
	f, err := os.Open(publishedUnits)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, name := range lines[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	if len(rows) < 9 {
		t.Fatalf("%d rows in %s, want 9 or more", len(rows), publishedUnits)
	}
	return rows
}

func TestFactorsAreThePublishedOnesExactly(t *testing.T) {
	for _, row := range publishedRows(t) {
		t.Run(row["unit"], func(t *testing.T) {
			one, err := ParseTorque("1 " + row["unit"])
			if err != nil {
				t.Fatal(err)
			}
			want, ok := new(big.Rat).SetString(row["factor_to_Nm_exact_decimal"])
			if !ok {
				t.Fatal("bad row")
			}
			if got := one.Exact(NewtonMetre); got.Cmp(want) != 0 {
				t.Errorf("1 %s = %s N·m, published %s", row["unit"], got.FloatString(24), want.FloatString(24))
			}
			nearest, err := strconv.ParseFloat(row["nearest_binary64_printed_17g"], 64)
			if err != nil {
				t.Fatal(err)
			}
			if got := one.Nm(); got != nearest {
				t.Errorf("1 %s = %.17g N·m as binary64, nearest is %.17g", row["unit"], got, nearest)
			}
			inverse, _ := new(big.Rat).SetString(row["inverse_units_per_Nm_17_significant_digits"])
			back := new(big.Rat).Quo(one.Exact(one.Unit()), one.Exact(NewtonMetre))
			off := new(big.Rat).Sub(back, inverse)
			if off.Abs(off).Cmp(over(inverse, 1e16)) > 0 { // half a unit in the 17th digit, and never more than this
				t.Errorf("%s per N·m is %s, published %s", row["unit"], back.FloatString(20), row["inverse_units_per_Nm_17_significant_digits"])
			}
		})
	}
}

// The definitions of the other dimensions, from the SI Brochure (prefixes, minute,
// hour, day, degree, degree Celsius, bar), NIST SP 811 appendix B (inch, pound-force,
// kilogram-force and per cm², ounce, degree Fahrenheit).
// The flat of a hexagon is geometry.
func TestDefinitionsOfTheOtherUnits(t *testing.T) {
	for _, c := range []struct {
		one  string
		in   Unit
		want string
	}{
		{"1 turn", Degree, "360"},
		{"6 flats", Turn, "1"},
		{"1 in", Millimetre, "25.4"},
		{"1000 thou", Inch, "1"},
		{"1000 µm", Millimetre, "1"},
		{"1 lbf", Newton, "4.4482216152605"},
		{"1 kgf", Newton, "9.80665"},
		{"1 kN", Newton, "1000"},
		{"1 day", Hour, "24"},
		{"1 h", Minute, "60"},
		{"1 min", Second, "60"},
		{"0 °C", Kelvin, "273.15"},
		{"212 °F", Celsius, "100"},
		{"−40 °C", Fahrenheit, "-40"},
		{"1 bar", Kilopascal, "100"},
		{"1 MPa", Bar, "10"},
		{"1 kgf/cm²", Kilopascal, "98.0665"},
		{"16 oz", Gram, "453.59237"},
	} {
		q, err := ParseAny(c.one)
		if err != nil {
			t.Fatal(err)
		}
		if got := q.Exact(c.in); got.Cmp(exactly(c.want)) != 0 {
			t.Errorf("%s = %s %s, want %s", c.one, got.FloatString(15), c.in, c.want)
		}
	}
}

// gnuNames are the expressions GNU units (the Debian package "units") knows our units by.
var gnuNames = map[Unit]string{
	NewtonMetre: "N m", PoundForceFoot: "lbf ft", KilogramForceMetre: "kgf m", PoundForceInch: "lbf in", KilogramForceCentimetre: "kgf cm",
	MillinewtonMetre: "mN m", CentinewtonMetre: "cN m", DecinewtonMetre: "dN m", DecanewtonMetre: "daN m", KilonewtonMetre: "kN m", OunceForceInch: "oz*force*in",
	Degree: "degree", Turn: "turn", Flat: "turn/6", Millimetre: "mm", Micrometre: "micrometer", Inch: "inch", Thou: "mil",
	Newton: "N", Kilonewton: "kN", PoundForce: "lbf", KilogramForce: "kgf", Second: "s", Minute: "min", Hour: "hour", Day: "day",
	Celsius: "tempC", Fahrenheit: "tempF", Kelvin: "tempK", Bar: "bar", Kilopascal: "kPa", Megapascal: "MPa", PoundPerSquareInch: "psi", KilogramPerSquareCentimetre: "kgf/cm^2",
	Gram: "g", Ounce: "oz", Percent: "percent",
}

// gnuQuestion is one conversion put to GNU units.
type gnuQuestion struct {
	text     string
	from, to Unit
}

// gnuQuestions are always the same, in the order of the units.
func gnuQuestions() (asked []gnuQuestion) {
	rng := rand.New(rand.NewPCG(12, 25))
	for from := Unit(1); from < endOfUnits; from++ {
		for _, to := range Units(from.Dimension()) {
			for range 3 {
				asked = append(asked, gnuQuestion{strconv.FormatFloat(rng.Float64()*500, 'f', rng.IntN(7), 64), from, to})
			}
		}
	}
	return asked
}

// gnuUnits gives a line of answer to each question.
func gnuUnits(t *testing.T, asked []gnuQuestion) []string {
	t.Helper()
	var input strings.Builder
	for _, q := range asked {
		if q.from.Dimension() == TemperatureKind { // a function there, since its zero is elsewhere
			fmt.Fprintf(&input, "%s(%s)\n%s\n", gnuNames[q.from], q.text, gnuNames[q.to])
			continue
		}
		fmt.Fprintf(&input, "%s %s\n%s\n", q.text, gnuNames[q.from], gnuNames[q.to])
	}
	flags := []string{"--quiet", "--terse", "--output-format", "%.14g"}
	answer := outside.Answer(t, outside.Question{
		Name: "units", Command: "units " + strings.Join(flags, " "), Version: []string{"units", "--version"}, Install: "units", Input: input.String(),
		Ask: func() (string, error) {
			cmd := exec.Command("units", flags...)
			cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8", "UNITSLOCALE=en_US")
			cmd.Stdin = strings.NewReader(input.String())
			out, err := cmd.Output()
			return string(out), err
		},
	})
	return strings.Split(strings.TrimSpace(answer), "\n")
}

// GNU units works in binary64 over several steps, so its 14 printed digits are
// taken as the outside check: half a unit of the 14th digit, plus 16 roundings.
func TestRandomValuesAgreeWithGNUUnits(t *testing.T) {
	asked := gnuQuestions()
	lines := gnuUnits(t, asked)
	if len(gnuNames) != int(endOfUnits)-1 || len(lines) != len(asked) {
		t.Fatalf("%d units named of %d, %d answers to %d questions", len(gnuNames), endOfUnits-1, len(lines), len(asked))
	}
	for i, q := range asked {
		want, err := strconv.ParseFloat(strings.TrimSpace(lines[i]), 64)
		if err != nil {
			t.Fatalf("%s %s to %s: GNU units says %q", q.text, q.from, q.to, lines[i])
		}
		value, err := ParseAny(q.text + " " + q.from.Symbol())
		if err != nil {
			t.Fatal(err)
		}
		got := value.In(q.to)
		if limit := halfDigit(want, 14) + 16*1.12e-16*max(want, -want, 500); got-want > limit || want-got > limit {
			t.Errorf("%s %s = %.17g %s, GNU units %s", q.text, q.from, got, q.to, lines[i])
		}
	}
}

// halfDigit is half a unit in the last of n printed significant digits.
func halfDigit(v float64, n int) float64 {
	_, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', n-1, 64), "e")
	e, _ := strconv.Atoi(exponent)
	half, _ := strconv.ParseFloat("0.5e"+strconv.Itoa(e-n+1), 64)
	return half
}
