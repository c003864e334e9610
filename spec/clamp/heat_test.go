package clamp

import (
	"math"
	"strings"
	"testing"
)

// A brass sleeve on a steel bolt, nut just snug: bolt 25 mm, sleeve 26 by 36 mm; 21 and 10·10⁻⁶ for
// each kelvin, 100 and 200 GPa. Gere, Mechanics of Materials, problem 2.5-8: a rise of 34 °C puts 25 MPa
// into the sleeve (sizes read in print; the stress, the metals' figures and the answer from
// memory). The answer is printed to a degree, so the stress is held to half of one.
func TestHeatOnAPrintedBoltAndSleeve(t *testing.T) {
	const length = 300.0 // any: it drops out
	bolt, sleeve := math.Pi/4*25*25, math.Pi/4*(36*36-26*26)
	give := length/(200000*bolt) + length/(100000*sleeve)
	for kelvin, over := range map[float64]bool{33.5: false, 34.5: true} {
		mpa := ThermalN(21, 10, kelvin, length, give) / sleeve
		if (mpa > 25) != over {
			t.Errorf("%v K puts %.3f MPa into the sleeve; 34 K, to the degree, was to put 25", kelvin, mpa)
		}
	}
}

// From cold to running: a light case raises the clamp, more in magnesium; iron under steel leaves it, and
// steel under stainless steel lowers it. Back to cold it is as it was.
func TestHeatRaisesTheClampOfALightCase(t *testing.T) {
	gain := func(class, parts string, cold, warm float64) Warmed {
		j := jointOf(t, "M8", class, 0.12)
		m := material(t, parts)
		w, err := j.Warm(Grip{LengthMM: 40, ShankMM: 10, Parts: m.Name, PartsGPa: m.ElasticGPa, PartsPerMK: m.ExpansionPerMK}, Band{9000, 10000, 11000}, cold, warm)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	aluminium, magnesium := gain("8.8", "cast aluminium", 20, 90), gain("8.8", "magnesium", 20, 90)
	iron, stainless := gain("8.8", "grey iron", 20, 90), gain("A2-70", "steel", 20, 90)
	if !(magnesium.GainN > 1.1*aluminium.GainN && aluminium.GainN > 1000 && math.Abs(iron.GainN) < 200 && stainless.GainN < -1000) {
		t.Errorf("gains: magnesium %.0f, aluminium %.0f, iron %.0f, steel under stainless %.0f N", magnesium.GainN, aluminium.GainN, iron.GainN, stainless.GainN)
	}
	if back := gain("8.8", "magnesium", 90, 20); math.Abs(back.GainN+magnesium.GainN) > 1e-9 {
		t.Errorf("warming adds %v N, cooling takes %v", magnesium.GainN, back.GainN)
	}
	for _, c := range []struct {
		w    Warmed
		says string
	}{{magnesium, "magnesium under a steel bolt: the clamp rises by about"}, {iron, "grey iron under a steel bolt: the clamp "}, {gain("8.8", "steel", 20, 90), "steel under a steel bolt: the clamp stays as it is"}, {stainless, "the clamp falls by about"}} {
		if !strings.HasPrefix(c.w.Text, c.says) && !strings.Contains(c.w.Text, c.says) {
			t.Errorf("%q does not say %q", c.w.Text, c.says)
		}
	}
	all := strings.Join(aluminium.Assumptions, "\n")
	for _, want := range []string{"all of the joint at one temperature", "moduli and yield strength as at room temperature", "11.7·10⁻⁶ for the bolt", "21.5·10⁻⁶ for the parts", "Callister"} {
		if !strings.Contains(all, want) {
			t.Errorf("assumptions don't say %q:\n%s", want, all)
		}
	}
}

// The band holds every shank the bolt may have: the softer bolt gains the less.
func TestHeatsBandHoldsTheUnknownShank(t *testing.T) {
	j := jointOf(t, "M8", "8.8", 0.12)
	of := func(g Grip, cold, warm float64) Warmed {
		g.LengthMM, g.PartsGPa, g.PartsPerMK = 40, 72, 21.5
		w, err := j.Warm(g, Band{9000, 10000, 11000}, cold, warm)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	bare, long := Grip{ShankKnown: true}, Grip{ShankMM: 32}
	warm, cool := of(Grip{}, 20, 90), of(Grip{}, 20, -50)
	near(t, "least when warm", warm.LowN, 9000+0.8*of(bare, 20, 90).GainN, 1e-6)
	near(t, "most when warm", warm.HighN, 11000+1.2*of(long, 20, 90).GainN, 1e-6)
	near(t, "least when cold", cool.LowN, 9000+1.2*of(long, 20, -50).GainN, 1e-6)
	near(t, "most when cold", cool.HighN, 11000+0.8*of(bare, 20, -50).GainN, 1e-6)
	near(t, "when warm", warm.PreloadN, 10000+warm.GainN, 1e-6)
}

// The stress is that of the warm pull with the torsion that tightening left; and a clamp doesn't
// go below nothing.
func TestHeatOnAHardOrALooseBolt(t *testing.T) {
	j := jointOf(t, "M8", "8.8", 0.12)
	g := Grip{LengthMM: 40, ShankMM: 10, PartsGPa: 72, PartsPerMK: 21.5}
	torque, _ := j.Torque(18000)
	assessed, _ := j.Assess(torque)
	cold := assessed.Utilisation
	same, err := j.Warm(g, Band{17000, 18000, 19000}, 20, 20)
	if err != nil || math.Abs(same.Utilisation-cold) > 1e-9 || same.GainN != 0 {
		t.Errorf("at one temperature: %+v (%v), want %v of yield", same, err, cold)
	}
	hard, err := j.Warm(g, Band{17000, 18000, 19000}, 20, 120)
	if err != nil || hard.Utilisation <= 1 || !strings.Contains(hard.Text, "past yield: the bolt stretches for good") {
		t.Errorf("18 kN on an M8 8.8 at 120 °C: %+v (%v); want it to say past yield", hard, err)
	}
	// M8: As 36.61 mm², d0 6.827 mm; the twist of 18 kN stays, the pull grows.
	j.Form = VDI
	area, w := math.Pi/4*6.8273*6.8273, math.Pi/12*math.Pow(6.8273, 3)
	twist := 18000 * (1.25/(2*math.Pi) + 7.1881*0.12/math.Sqrt(3))
	hard, _ = j.Warm(g, Band{17000, 18000, 19000}, 20, 120)
	near(t, "share of yield", hard.Utilisation, math.Sqrt(math.Pow(hard.PreloadN/area, 2)+3*math.Pow(twist/w, 2))/640, 1e-4)
	g.Parts, g.PartsPerMK = "invar", 1.6
	loose, err := j.Warm(g, Band{500, 1000, 1500}, 20, 200)
	if err != nil || loose.PreloadN != 0 || loose.LowN != 0 || !strings.HasSuffix(loose.Text, "the clamp is lost altogether") {
		t.Errorf("1 kN over invar at 200 °C: %+v (%v); want it lost", loose, err)
	}
}

func TestHeatRefuses(t *testing.T) {
	j := jointOf(t, "M8", "8.8", 0.12)
	good := Grip{LengthMM: 40, PartsGPa: 72, PartsPerMK: 21.5}
	for name, c := range map[string]struct {
		grip       Grip
		n          float64
		cold, warm float64
		want       string
	}{
		"nothing clamped": {Grip{LengthMM: 40}, 10000, 20, 90, "name it, such as cast aluminium"},
		"no grip":         {Grip{PartsPerMK: 21.5}, 10000, 20, 90, "grip length"},
		"red hot":         {good, 10000, 20, 251, "give one from -60 to 250 °C"},
		"arctic":          {good, 10000, -61, 90, "give one from -60 to 250 °C"},
		"no number":       {good, 10000, 20, math.NaN(), "give one from -60 to 250 °C"},
		"no clamp":        {good, 0, 20, 90, "preload is 0 N"},
	} {
		if w, err := j.Warm(c.grip, Band{c.n, c.n, c.n}, c.cold, c.warm); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %+v, %v; want an error that says %q", name, w, err, c.want)
		}
	}
	for _, at := range []float64{-60, 250} {
		if _, err := j.Warm(good, Band{1, 10000, 20000}, 20, at); err != nil {
			t.Errorf("%v °C: %v", at, err)
		}
	}
}

func TestTemperaturesAreRead(t *testing.T) {
	for text, want := range map[string]float64{"90 °C": 90, "90°C": 90, "90c": 90, "194 °F": 90, "-40 F": -40, "−10 °C": -10, "87,5 °C": 87.5, "250 °C": 250, "-60 °C": -60} {
		got, err := ParseCelsius(text)
		if err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q is %v °C (%v), want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{"90": "write 90 °C or 90 °F", "": "no temperature", "hot": "no temperature", "90 K": "no temperature", "251 °C": "out of the range", "-61 °C": "out of the range", "NaN C": "no temperature", "C90": "no temperature"} {
		if got, err := ParseCelsius(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is read as %v (%v); want a refusal with %q", text, got, err, want)
		}
	}
}
