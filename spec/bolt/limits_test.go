package bolt

import (
	"math"
	"strings"
	"testing"
)

// Tolerances of coarse threads from 10 mm up as ISO 965-4 and -5 print the deviations, and limits as printed for the others.
func TestToleranceTableMatchesPublishedLimits(t *testing.T) {
	same := func(row map[string]string, what string, got, want float64) {
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s %s: %s %.6g, printed %.6g (%s)", row["what"], row["size"], what, got, want, row["source"])
		}
	}
	figures := func(kind string, least int, each func(row map[string]string, th Thread, l Limits, printed []float64)) {
		for _, row := range printedSizes(t, kind, least) {
			var printed []float64
			for _, text := range strings.Fields(strings.Replace(row["printed"], "- ", "NaN ", 1)) {
				printed = append(printed, float(t, text))
			}
			th := thread(t, row["size"])
			each(row, th, th.Limits(), printed)
		}
	}
	um := func(mm float64) float64 { return math.Round(mm * 1000) }
	figures("bolt deviations", 20, func(row map[string]string, th Thread, l Limits, p []float64) {
		g := fundamental(t, th)
		same(row, "pitch tolerance", um(micron(th.PitchDiameterMM())-l.PitchMinMM)-g, p[0]-p[1])
		same(row, "major tolerance", um(th.DiameterMM-l.MajorMinMM)-g, p[0]-p[2])
	})
	figures("hole deviations", 20, func(row map[string]string, th Thread, l Limits, p []float64) {
		same(row, "pitch tolerance", um(l.PitchInternalMaxMM-micron(th.PitchDiameterMM())), p[1]-p[0])
		same(row, "minor tolerance", um(l.MinorInternalMaxMM-micron(th.MinorInternalMM())), p[2]-p[0])
	})
	figures("bolt limits", 25, func(row map[string]string, th Thread, l Limits, p []float64) {
		same(row, "deviation", um(th.DiameterMM)-um(p[0]), fundamental(t, th))
		same(row, "least major diameter", um(l.MajorMinMM), um(p[1]))
		if th.DiameterMM > 2.8 { // smaller ones are by formula, not rounded
			same(row, "least pitch diameter", um(l.PitchMinMM), um(p[3]))
		}
	})
	figures("hole limits", 24, func(row map[string]string, th Thread, l Limits, p []float64) {
		if !math.IsNaN(p[0]) {
			same(row, "greatest minor diameter", um(l.MinorInternalMaxMM), um(p[0]))
		}
		same(row, "greatest pitch diameter", um(l.PitchInternalMaxMM), um(p[1]))
	})
}

// fundamental is the deviation g of a thread in µm.
func fundamental(t *testing.T, th Thread) float64 {
	tol, ok := pitchTolerances.at(th.PitchMM)
	if !ok {
		t.Fatalf("no tolerances of %s", th.Name)
	}
	return tol.g
}

// ISO 965-1 rounds what its formulae give to the preferred numbers R 40 (ISO 3, printed in every handbook), and those to a
// whole micron: a slip of the pen in what no print above has is seldom one of them.
func TestToleranceTableIsOfPreferredNumbers(t *testing.T) {
	r40 := []float64{100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300,
		315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950}
	preferred := func(what string, pitch, um float64) {
		for _, r := range r40 {
			if um == r || um == math.Round(um) && math.Abs(um-r/10) <= 0.5 {
				return
			}
		}
		t.Errorf("%s at pitch %v: %v µm is no preferred number", what, pitch, um)
	}
	for _, row := range pitchTolerances {
		preferred("g", row.size, row.value.g)
		preferred("major", row.size, row.value.major)
		preferred("minor", row.size, row.value.minor)
	}
	for i, r := range diameterRanges {
		if i > 0 && r.overMM != diameterRanges[i-1].upToMM {
			t.Errorf("no range between %v and %v mm", diameterRanges[i-1].upToMM, r.overMM)
		}
		for _, row := range r.byPitch {
			preferred("bolt pitch diameter", row.size, row.value[0])
			preferred("hole pitch diameter", row.size, row.value[1])
		}
	}
}

// The tolerance table is from memory. ISO 965-1 rounds the results of its formulae to preferred
// numbers about 6 % apart and may move one more step, so a slip of memory of two steps shows.
func TestToleranceTableStaysNearItsFormulae(t *testing.T) {
	near := func(what string, pitch, tabled, formula float64) {
		if ratio := tabled / formula; ratio < 0.94 || ratio > 1.07 {
			t.Errorf("%s at pitch %v: table %v µm, formula %.1f", what, pitch, tabled, formula)
		}
	}
	for _, row := range pitchTolerances {
		p, tol := row.size, row.value
		f := byFormula(p)
		near("g", p, tol.g, f.g)
		near("major", p, tol.major, f.major)
		near("minor", p, tol.minor, f.minor)
	}
	for _, r := range diameterRanges {
		for _, row := range r.byPitch {
			p, tol := row.size, row.value
			f := r.pitchDiameterFormula(p)
			near("bolt pitch diameter", p, tol[0], f[0])
			near("hole pitch diameter", p, tol[1], f[1])
		}
	}
}

// Limits of 1/4-20 UNC 2A/2B, from ASME B1.1 (from memory): they print to 0.0001 in.
func TestUnifiedLimits(t *testing.T) {
	th, _ := ParseThread("1/4-20 UNC")
	l := th.Limits()
	for what, c := range map[string][2]float64{"major min": {l.MajorMinMM, 0.2408}, "pitch min": {l.PitchMinMM, 0.2127}, "pitch max": {l.PitchInternalMaxMM, 0.2224}, "minor max": {l.MinorInternalMaxMM, 0.2074}} {
		if math.Abs(c[0]/inchMM-c[1]) > 0.0001 {
			t.Errorf("%s = %.5f in, ASME B1.1 has %.4f", what, c[0]/inchMM, c[1])
		}
	}
}

// Limits of #10-32 UNF 2A/2B, under a quarter inch, where the minor diameter of the hole has a tolerance of its
// own: ASME B1.1 (from memory), printed to 0.0001 in.
func TestUnifiedLimitsOfASmallThread(t *testing.T) {
	th, err := ParseThread("#10-32 UNF")
	if err != nil {
		t.Fatal(err)
	}
	l := th.Limits()
	for what, c := range map[string][2]float64{"major min": {l.MajorMinMM, 0.1831}, "pitch min": {l.PitchMinMM, 0.1658}, "pitch max": {l.PitchInternalMaxMM, 0.1736}, "minor max": {l.MinorInternalMaxMM, 0.1641}} {
		if math.Abs(c[0]/inchMM-c[1]) > 0.0001 {
			t.Errorf("%s = %.5f in, ASME B1.1 has %.4f", what, c[0]/inchMM, c[1])
		}
	}
}
