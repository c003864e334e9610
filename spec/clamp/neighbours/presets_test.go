package neighbours

import (
	"math"
	"strings"
	"testing"
)

func TestPresetsMakeAJointAndSayWhereTheyComeFrom(t *testing.T) {
	last := 0.0
	for i, name := range FaceNames() {
		f, err := FaceByName(" " + strings.ToUpper(name))
		if err != nil {
			t.Fatal(err)
		}
		low, mid, high := f.LowFace.ModulusNPerMM3, f.Face.ModulusNPerMM3, f.HighFace.ModulusNPerMM3
		if f.Name != name || !(0 < low && low < mid && mid < high) || !strings.HasPrefix(f.Basis, "assumed") {
			t.Errorf("%s: %+v", name, f)
		}
		if i > 0 && mid >= last {
			t.Errorf("%s is not softer than the face before it", name)
		}
		last = mid
		for _, material := range MaterialNames() {
			m, err := MaterialByName(material)
			if err != nil || m.Basis == "" {
				t.Fatalf("%s: %+v, %v", material, m, err)
			}
			if _, err := New(Joint{Plate{m.ElasticMPa, m.Poisson, 6}, f.Face, []Bolt{{"A", 0, 0, 1e5}}}); err != nil {
				t.Errorf("%s on %s: %v", material, name, err)
			}
		}
	}
}

// Each assumed face comes of what its basis says of it, a modulus over a thickness or a pressure over what it closes; its
// softest and stiffest lie from a factor of three to one of six away. Moduli of covers are those of table A-5 in its other
// column, millions of pounds to the square inch (from memory as well).
func TestPresetsComeOfTheirBasis(t *testing.T) {
	for name, want := range map[string]float64{"multi-layer steel": 30 / 0.010, "paper": 100 / 0.5, "rubber": 10.0 / 2} {
		if f, err := FaceByName(name); err != nil || math.Abs(f.Face.ModulusNPerMM3/want-1) > 1e-9 {
			t.Errorf("%s closes by %v N/mm³, want %v (%v)", name, f.Face.ModulusNPerMM3, want, err)
		}
	}
	if metal, film := facePresets[0], facePresets[1]; metal.LowFace.ModulusNPerMM3 != 3500 || film.Face.ModulusNPerMM3 < 0.7*metal.Face.ModulusNPerMM3 {
		t.Errorf("bare metal %+v, film %+v", metal, film)
	}
	for _, f := range facePresets {
		if down, up := f.Face.ModulusNPerMM3/f.LowFace.ModulusNPerMM3, f.HighFace.ModulusNPerMM3/f.Face.ModulusNPerMM3; down < 2.8 || down > 6 || up < 3 || up > 6 {
			t.Errorf("%s: %.2f times as soft at the softest, %.2f times as stiff at the stiffest", f.Name, down, up)
		}
	}
	for name, mpsi := range map[string]float64{"aluminium": 10.4, "iron": 14.5, "steel": 30, "magnesium": 6.5} {
		if m, err := MaterialByName(name); err != nil || math.Abs(m.ElasticMPa/(mpsi*6894.757)-1) > 0.001 || m.Poisson < 0.2 || m.Poisson > 0.36 {
			t.Errorf("%s: %+v, %v Mpsi (%v)", name, m, mpsi, err)
		}
	}
}

func TestUnknownPresetNamesTheNearest(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"multilayer steel", `no joint face "multilayer steel"; did you mean "multi-layer steel"?`},
		{"papper", `did you mean "paper"?`},
		{"cheese", "known are bare metal, sealant film, multi-layer steel, paper, rubber"},
		{"", "known are bare metal"},
		{strings.Repeat("paper", 100000), "known are bare metal"},
	} {
		if _, err := FaceByName(c.name); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.20q: got %.200v, want %q", c.name, err, c.want)
		}
	}
	if _, err := MaterialByName("aluminum"); err == nil || !strings.Contains(err.Error(), `did you mean "aluminium"?`) {
		t.Errorf("got %v", err)
	}
}
