package bolt

import (
	"math"
	"strings"
	"testing"
	"unicode"
)

func TestParseThreadReads(t *testing.T) {
	for text, want := range map[string]string{
		"M8x1.25": "M8x1.25", "M8×1,25": "M8x1.25", " m8 ": "M8x1.25", "M10x1": "M10x1", "M 10 X 1.25": "M10x1.25", "M8-6g": "M8x1.25", "M8x1-6g": "M8x1",
		"M25x1.5": "M25x1.5", "M3": "M3x0.5", "M36": "M36x4", "M12x0.75": "M12x0.75", "3/8-16 UNC": "3/8-16 UNC", "3/8-16UNC-2A": "3/8-16 UNC",
		"3/8\" - 16 UNC": "3/8-16 UNC", "3/8-16 UNRC": "3/8-16 UNC", "1/4-28": "1/4-28 UNF", "1/4 UNF": "1/4-28 UNF", "#10-32 UNF": "#10-32 UNF", "No. 10-24": "#10-24 UNC",
		"10-32": "#10-32 UNF", "4-40": "#4-40 UNC", "0-80": "#0-80 UNF", "1 1/4-12 UNF": "1-1/4-12 UNF", "1-1/2-6": "1-1/2-6 UNC", "1-8": "1-8 UNC", ".375-24": "3/8-24 UNF",
		"1-14": "1-14 UNS", "3/4-20 UNEF": "3/4-20 UNEF",
	} {
		got, err := ParseThread(text)
		if err != nil || got.Name != want {
			t.Errorf("ParseThread(%q) = %q, %v; want %q", text, got.Name, err, want)
		}
	}
}

func TestParseThreadReadsItsOwnNames(t *testing.T) {
	check := func(th Thread) {
		again, err := ParseThread(th.Name)
		if err != nil || again != th {
			t.Errorf("%+v reads back as %+v, %v", th, again, err)
		}
		if th.RootDiameterMM() <= 0 || th.RootDiameterMM() >= th.StressDiameterMM() || th.StressDiameterMM() >= th.PitchDiameterMM() || th.PitchDiameterMM() >= th.DiameterMM {
			t.Errorf("%s: root < stress < pitch < nominal diameter doesn't hold", th.Name)
		}
	}
	for _, in := range inchThreads() {
		check(in.thread())
	}
	for _, m := range metricSizes {
		for _, p := range append([]float64{m.coarsest()}, m.fine...) {
			check(m.thread(p))
		}
	}
}

func TestParseThreadRefuses(t *testing.T) {
	for text, advice := range map[string]string{
		"":                       "write one such as",
		"bogus":                  "write one such as",
		"M8x1.3":                 "M8x1.25",
		"M8x1.5":                 "M8x1.25", // coarser than coarse: a slip
		"M13":                    "M12x1.75",
		"M25":                    "M25x1.5",
		"M0":                     "M1x0.25",
		"M8x0":                   "M8x1.25",
		"M-8":                    "M8x1.25",
		"3/8-24 UNC":             "3/8-24 UNF",
		"3/8-15":                 "3/8-16 UNC",
		"1/4":                    "1/4-20 UNC, 1/4-28 UNF",
		"1/0-3":                  "3/8-16 UNC",
		"1-14 UNF":               "1-14 UNS",
		"M24x1.5 LH":             `hand = "left"`,
		"\x1b[31mM8":             "write one such as",
		strings.Repeat("M8", 99): "too long",
	} {
		got, err := ParseThread(text)
		if err == nil {
			t.Errorf("ParseThread(%q) = %q; want a refusal", text, got.Name)
			continue
		}
		if !strings.Contains(err.Error(), advice) {
			t.Errorf("ParseThread(%q): %q doesn't say %q", text, err, advice)
		}
		if strings.ContainsFunc(err.Error(), unicode.IsControl) {
			t.Errorf("ParseThread(%q): the error carries a control character", text)
		}
	}
}

func TestParseClass(t *testing.T) {
	for text, want := range map[string]string{
		"8.8": "8.8", "class 10.9": "10.9", "ISO 898-1 12.9": "12.9", "8,8": "8.8", "A2-70": "A2-70", "a4 80": "A4-80", "A2/70": "A2-70", "A5-100": "A5-100", "SAE 5": "SAE 5", "grade 8": "SAE 8",
		"Gr. 2": "SAE 2", "J429 grade 5": "SAE 5", "SAE J429 grade 8.2": "SAE 8.2",
	} {
		if got, err := ParseClass(text); err != nil || got.Name != want {
			t.Errorf("ParseClass(%q) = %q, %v; want %q", text, got.Name, err, want)
		}
	}
	for text, advice := range map[string]string{"5": "SAE 5", "8": "SAE 8", "8.9": "8.8", "A6-70": "A2-70", "grade 9": "SAE", "": "write one such as", "\x1b[2J": `\x1b`} {
		if got, err := ParseClass(text); err == nil || !strings.Contains(err.Error(), advice) {
			t.Errorf("ParseClass(%q) = %q, %v; want a refusal that says %q", text, got.Name, err, advice)
		}
	}
}

func TestParseClassReadsItsOwnNames(t *testing.T) {
	for _, name := range ClassNames() {
		class, err := ParseClass(name)
		if err != nil || class.Name != name {
			t.Errorf("ParseClass(%q) = %q, %v", name, class.Name, err)
		}
		proof, yield, tensile, _ := class.Strength(Thread{DiameterMM: 10})
		if !(proof > 0 && proof <= yield && yield < tensile) {
			t.Errorf("%s: proof %v ≤ yield %v < tensile %v doesn't hold", name, proof, yield, tensile)
		}
	}
}

func TestStrength(t *testing.T) {
	m10, _ := ParseThread("M10x1")
	class, _ := ParseClass("8.8")
	solid, err := ProofLoad(m10, class, 0)
	if want := 580 * 64.494; err != nil || math.Abs(solid-want) > 1 {
		t.Errorf("solid = %v, %v; want %v (580 MPa × 64.494 mm²)", solid, err, want)
	}
	hollow, err := ProofLoad(m10, class, 5)
	if want := 580 * 44.859; err != nil || math.Abs(hollow-want) > 1 {
		t.Errorf("hollow = %v, %v; want %v", hollow, err, want)
	}
	for _, c := range []struct {
		name   string
		thread Thread
		class  Class
		bore   float64
		advice string
	}{
		{"bore as wide as the root", m10, class, m10.RootDiameterMM(), "give a bore under it"},
		{"bore wider than the thread", m10, class, 12, "give a bore under it"},
		{"negative bore", m10, class, -1, "give 0 for a solid bolt"},
		{"bore that is no number", m10, class, math.NaN(), "give 0 for a solid bolt"},
		{"no thread", Thread{}, class, 0, "give a thread"},
		{"no class", m10, Class{}, 0, "write one such as"},
	} {
		if _, err := ProofLoad(c.thread, c.class, c.bore); err == nil || !strings.Contains(err.Error(), c.advice) {
			t.Errorf("%s: %v; want an error that says %q", c.name, err, c.advice)
		}
	}
}
