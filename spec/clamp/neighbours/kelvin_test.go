package neighbours

import (
	"encoding/json"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

// Abramowitz & Stegun, Handbook of Mathematical Functions, table 9.12, printed to
// ten decimals (figures from memory). Tolerance: half a unit of the tenth decimal.
func TestKelvinFunctionsMatchPrintedTable(t *testing.T) {
	for _, row := range []struct{ x, ker, kei float64 }{
		{1, 0.2867062087, -0.4949946365},
		{2, -0.0416645140, -0.2024000678},
		{3, -0.0670292333, -0.0511218840},
		{5, -0.0115117272, 0.0111875865},
	} {
		ker, kei := kelvinK(row.x)
		if math.Abs(ker-row.ker) > 0.51e-10 || math.Abs(kei-row.kei) > 0.51e-10 {
			t.Errorf("x = %g: ker %.12f kei %.12f, printed %.10f %.10f", row.x, ker, kei, row.ker, row.kei)
		}
	}
}

// J. Burkardt, TEST_VALUES, ker0_values and kei0_values (16 digits, computed with
// Mathematica; read). Sixteen digits are more than float64 sums keep, so the
// tolerance is this package's own claim, 1e-13 of |K₀|.
func TestKelvinFunctionsMatchPublishedTestValues(t *testing.T) {
	for _, row := range []struct{ x, ker, kei float64 }{
		{0.5, 0.8559058721186342, -0.6715816950943676},
		{1, 0.2867062087283160, -0.4949946365187199},
		{1.5, 0.05293491548771044, -0.3313955623385585},
		{2, -0.04166451399150953, -0.2024000677647043},
		{2.5, -0.06968797258904534, -0.1106960991556749},
		{3, -0.06702923330379870, -0.05112188404598678},
		{3.5, -0.05263927724224119, -0.01600256851827124},
		{4, -0.03617884789954761, 0.002198399294972520},
		{4.5, -0.02199987504667382, 0.009720918540151990},
		{5, -0.01151172719949066, 0.01118758650986964},
	} {
		ker, kei := kelvinK(row.x)
		if off := math.Hypot(ker-row.ker, kei-row.kei) / math.Hypot(row.ker, row.kei); off > 1e-13 {
			t.Errorf("x = %g: ker %.16g kei %.16g, published %.16g %.16g", row.x, ker, kei, row.ker, row.kei)
		}
	}
}

// Zhang & Jin, Computation of Special Functions, table of zeros of the Kelvin
// functions to eight decimals (read in the header of the book's program MKLVNZO):
// the sign must change within half a unit of the last place.
func TestKelvinFunctionsChangeSignAtPrintedZeros(t *testing.T) {
	const half = 0.51e-8
	for _, x := range []float64{1.71854296, 6.12727913, 10.56294271, 15.00268812, 19.44381663} {
		below, _ := kelvinK(x - half)
		above, _ := kelvinK(x + half)
		if below*above >= 0 {
			t.Errorf("ker keeps its sign about %.8f: %g, %g", x, below, above)
		}
	}
	for _, x := range []float64{3.91466761, 8.34422506, 12.78255715, 17.22314372, 21.66464214} {
		_, below := kelvinK(x - half)
		_, above := kelvinK(x + half)
		if below*above >= 0 {
			t.Errorf("kei keeps its sign about %.8f: %g, %g", x, below, above)
		}
	}
}

// scipyKelvin asks SciPy for [ker, kei, Re K₀, Im K₀] at each x.
func scipyKelvin(t *testing.T, xs []float64) [][4]float64 {
	t.Helper()
	const script = `
import cmath, json, math, sys
from scipy.special import ker, kei, kv
turn = cmath.exp(1j * math.pi / 4)
out = []
for x in json.load(sys.stdin):
    k = kv(0, x * turn)
    out.append([ker(x), kei(x), k.real, k.imag])
print("[" + ",\n".join(map(json.dumps, out)) + "]")`
	input, err := json.Marshal(xs)
	if err != nil {
		t.Fatal(err)
	}
	text := outside.Answer(t, outside.Question{
		Name: "scipy-kelvin", Command: "/usr/bin/python3 -c SCRIPT < POINTS, both in " + t.Name(),
		Version: []string{"/usr/bin/python3", "-c", "import scipy; print('SciPy', scipy.__version__)"}, Install: "python3-scipy",
		Input: script + "\n" + string(input),
		Ask: func() (string, error) {
			run := exec.Command("/usr/bin/python3", "-c", script)
			run.Stdin = strings.NewReader(string(input))
			out, err := run.Output()
			return string(out), err
		},
	})
	var rows [][4]float64
	if err := json.Unmarshal([]byte(text), &rows); err != nil || len(rows) != len(xs) {
		t.Fatalf("SciPy gave %d rows for %d points: %v", len(rows), len(xs), err)
	}
	return rows
}

// SciPy offers two ways that share no code: its Kelvin functions, and K₀ of a
// complex number (AMOS), which is the more exact.
func TestKelvinFunctionsMatchSciPy(t *testing.T) {
	var xs []float64
	for x := 1e-9; x < 60; x *= 1.04 {
		xs = append(xs, x)
	}
	xs = append(xs, math.Nextafter(seriesLimit, 0), seriesLimit, math.Nextafter(seriesLimit, 4), 60)
	worstKelvin, worstBessel := 0.0, 0.0
	for i, row := range scipyKelvin(t, xs) {
		ker, kei := kelvinK(xs[i])
		size := math.Hypot(row[2], row[3])
		kelvin := math.Hypot(ker-row[0], kei-row[1]) / size
		bessel := math.Hypot(ker-row[2], kei-row[3]) / size
		worstKelvin, worstBessel = max(worstKelvin, kelvin), max(worstBessel, bessel)
		if kelvin > 1e-9 || bessel > 1e-13 {
			t.Errorf("x = %.17g: %.17g %.17g, SciPy ker kei %.17g %.17g, kv %.17g %.17g", xs[i], ker, kei, row[0], row[1], row[2], row[3])
		}
	}
	t.Logf("%d points: worst relative difference %.1e to ker and kei, %.1e to kv", len(xs), worstKelvin, worstBessel)
}

func TestKelvinFunctionsAtTheEnds(t *testing.T) {
	if ker, kei := kelvinK(0); !math.IsInf(ker, 1) || kei != -math.Pi/4 {
		t.Errorf("at 0: ker %g kei %g, want +Inf and −π/4", ker, kei)
	}
	for _, x := range []float64{1e-300, 700, 1050, 1060, 1e300, math.MaxFloat64, math.Inf(1)} {
		ker, kei := kelvinK(x)
		if math.IsNaN(ker) || math.IsNaN(kei) || math.Abs(kei) > math.Pi/4 || (x >= 700 && math.Hypot(ker, kei) > 1e-200) {
			t.Errorf("at %g: ker %g kei %g", x, ker, kei)
		}
	}
}

func BenchmarkKelvin(b *testing.B) {
	for _, x := range []float64{0.5, 2.9, 3, 6, 20} {
		b.Run(fmt.Sprintf("x=%g", x), func(b *testing.B) {
			for b.Loop() {
				kelvinK(x)
			}
		})
	}
}
