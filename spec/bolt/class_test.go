package bolt

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

// ISO 898-1 names a class by a hundredth of its nominal tensile strength and ten times the
// ratio of yield to it (read in print), and says which share of the yield the proof stress
// is (from memory); it prints stresses in tens of MPa but for the 225 of 4.6.
func TestCarbonClassesKeepToTheirNumbers(t *testing.T) {
	share := map[string]float64{"3.6": 0.94, "4.6": 0.94, "4.8": 0.91, "5.6": 0.93, "5.8": 0.90, "6.8": 0.92, "8.8": 0.91, "9.8": 0.90, "10.9": 0.88, "12.9": 0.88}
	for _, g := range carbonGrades {
		name := g.class.Name
		first, second, _ := strings.Cut(name, ".")
		a, _ := strconv.ParseFloat(first, 64)
		b, _ := strconv.ParseFloat(second, 64)
		if g.yieldN != 10*a*b || g.class.Standard != iso898 {
			t.Errorf("%s: nominal yield %v, its number says %v", name, g.yieldN, 10*a*b)
		}
		if g.tensile < 100*a || g.tensile > 105*a && name != "3.6" || math.Mod(g.tensile, 10) != 0 {
			t.Errorf("%s: tensile %v, its number says %v", name, g.tensile, 100*a)
		}
		if g.yield < g.yieldN || g.yield > 1.07*g.yieldN || math.Mod(g.yield, 10) != 0 {
			t.Errorf("%s: yield %v beside a nominal %v", name, g.yield, g.yieldN)
		}
		if math.Abs(g.proof-share[name]*g.yield) > 5 || math.Mod(g.proof, 5) != 0 {
			t.Errorf("%s: proof stress %v, %v of its yield is %v", name, g.proof, share[name], share[name]*g.yield)
		}
		if g.upToMM != 39 && g.upToMM != 16 || g.overMM != 0 && g.overMM != 16 {
			t.Errorf("%s: from %v to %v mm", name, g.overMM, g.upToMM)
		}
	}
}

// What is from memory is set down here a second time, from memory again: that guards
// against slips of the pen and is no outside check.
func TestOtherClassesAreAsRemembered(t *testing.T) {
	for name, want := range map[string]string{ // tensile, yield, largest size in mm
		"C1-50": "500 250 39", "C1-70": "700 410 39", "C1-110": "1100 820 39", "C3-80": "800 640 39", "C4-50": "500 250 39", "C4-70": "700 410 39",
		"F1-45": "450 250 24", "F1-60": "600 410 24",
		"A1-50": "500 210 39", "A2-50": "500 210 39", "A3-50": "500 210 39", "A4-50": "500 210 39", "A5-50": "500 210 39", "A-50": "500 210 39",
		"A1-70": "700 450 24", "A2-70": "700 450 24", "A3-70": "700 450 24", "A4-70": "700 450 24", "A5-70": "700 450 24", "A-70": "700 450 24",
		"A1-80": "800 600 24", "A2-80": "800 600 24", "A3-80": "800 600 24", "A4-80": "800 600 24", "A5-80": "800 600 24", "A-80": "800 600 24",
		"A1-100": "1000 800 24", "A2-100": "1000 800 24", "A3-100": "1000 800 24", "A4-100": "1000 800 24", "A5-100": "1000 800 24", "A-100": "1000 800 24",
	} {
		class, err := ParseClass(name)
		g, note, _ := class.grade(Thread{DiameterMM: 5})
		if got := fmt.Sprintf("%v %v %v", g.tensile, g.yield, g.upToMM); err != nil || got != want || note != "" || g.yieldN != g.yield || g.proof != 0 || class.Standard != iso3506 {
			t.Errorf("%s: tensile, yield and size %s, want %s (%v, %q)", name, got, want, err, note)
		}
	}
	for name, want := range map[string]string{ // over, up to in; proof, yield, tensile in ksi
		"SAE 1": "0.25 1.5 33 36 60", "SAE 4": "0.25 1.5 65 100 115", "SAE 5.1": "0.138 0.625 85 85 120", "SAE 5.2": "0.25 1 85 92 120",
		"SAE 7": "0.25 1.5 105 115 133", "SAE 8": "0.25 1.5 120 130 150", "SAE 8.1": "0.25 1.5 120 130 150", "SAE 8.2": "0.25 1 120 130 150",
	} {
		class, err := ParseClass(name)
		g, _, _ := class.grade(Thread{DiameterMM: 10})
		in := func(mm float64) float64 { return math.Round(mm/inchMM*1e6) / 1e6 }
		ksi := func(mpa float64) float64 { return math.Round(mpa/ksiMPa*1e6) / 1e6 }
		if got := fmt.Sprint(in(g.overMM), in(g.upToMM), ksi(g.proof), ksi(g.yield), ksi(g.tensile)); err != nil || got != want || g.yieldN != g.yield {
			t.Errorf("%s: %s, want %s (%v)", name, got, want, err)
		}
	}
}
