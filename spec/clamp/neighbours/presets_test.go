package neighbours

import (
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
