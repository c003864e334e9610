package bolt

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Derived figures (computed once from the same formulae): self-consistency only, not an outside check.
func TestHollowSectionsStayAsDerived(t *testing.T) {
	for _, c := range []struct {
		thread                 string
		bore                   float64
		area, elastic, plastic float64
	}{{"M10x1", 5, 44.859, 132.57, 162.09}, {"M12x1.5", 6, 59.852, 209.35, 254.62}, {"M14x1.5", 8, 74.280, 328.23, 388.75}} {
		th, _ := ParseThread(c.thread)
		s, err := ThreadSection(th, c.bore)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.AreaMM2()-c.area) > 0.0005 || math.Abs(s.ElasticTorsionMM3()-c.elastic) > 0.005 || math.Abs(s.PlasticTorsionMM3()-c.plastic) > 0.005 {
			t.Errorf("%s bore %v: %v mm², %v, %v mm³; want %v, %v, %v", c.thread, c.bore, s.AreaMM2(), s.ElasticTorsionMM3(), s.PlasticTorsionMM3(), c.area, c.elastic, c.plastic)
		}
	}
}

func TestCrossHoleTakesItsWalls(t *testing.T) {
	s, err := CrossHoleSection(12, 6, 2.5)
	if err != nil {
		t.Fatal(err)
	}
	want := math.Pi/4*(144-36) - 2.5*3*2 // ring less hole width × wall, twice
	if math.Abs(s.AreaMM2()-want) > 1e-9 {
		t.Errorf("area = %v, want %v", s.AreaMM2(), want)
	}
	left := want / (math.Pi / 4 * (144 - 36)) // the same share of the torsion moduli (common practice, no source)
	if got := s.ElasticTorsionMM3(); math.Abs(got-left*math.Pi/16*(math.Pow(12, 4)-math.Pow(6, 4))/12) > 1e-9 {
		t.Errorf("elastic torsion modulus = %v", got)
	}
	if got := s.PlasticTorsionMM3(); math.Abs(got-left*math.Pi/12*(math.Pow(12, 3)-math.Pow(6, 3))) > 1e-9 {
		t.Errorf("plastic torsion modulus = %v", got)
	}
	if s, err := CrossHoleSection(10, 1, 8.6); err != nil || s.AreaMM2() > 0.5 { // π/4·99 less 9·8.6
		t.Errorf("a hole that leaves a little: %+v, %v", s, err)
	}
	if s, err := CrossHoleSection(0.9, 0, 0.2); err != nil || s.What != "cross-hole" || s.CrossHoleMM != 0.2 || s.OuterMM != 0.9 { // small, and good
		t.Errorf("a small one: %+v, %v", s, err)
	}
	for name, f := range map[string]func() (Section, error){
		"hole that leaves just less": func() (Section, error) { return CrossHoleSection(10, 1, 8.7) },
		"hole wider than the bolt":   func() (Section, error) { return CrossHoleSection(12, 6, 13) },
		"hole that leaves nothing":   func() (Section, error) { return CrossHoleSection(12, 1, 11.9) },
		"no hole":                    func() (Section, error) { return CrossHoleSection(12, 6, 0) },
		"bore wider than the waist":  func() (Section, error) { return WaistSection(6, 6) },
		"waist without end":          func() (Section, error) { return WaistSection(math.Inf(1), 0) },
		"waist of nothing":           func() (Section, error) { return WaistSection(0, 0) },
		"hole as wide as the bolt":   func() (Section, error) { return CrossHoleSection(12, 6, 12) },
		"waist that is not a number": func() (Section, error) { return WaistSection(math.NaN(), 0) },
	} {
		if s, err := f(); err == nil || !strings.Contains(err.Error(), "give") {
			t.Errorf("%s: %+v, %v; want an error that says what to give", name, s, err)
		}
	}
}

func TestAWiderBoreNeverStrengthens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(metricSizes).Draw(t, "size")
		th := m.thread(m.coarsest())
		class := rapid.SampledFrom(grades()).Draw(t, "class").class
		a := rapid.Float64Range(0, 0.98*th.RootDiameterMM()).Draw(t, "bore")
		b := rapid.Float64Range(a+0.001, 0.995*th.RootDiameterMM()).Draw(t, "wider bore")
		narrow, err1 := ProofLoad(th, class, a)
		wide, err2 := ProofLoad(th, class, b)
		if err1 != nil || err2 != nil || wide > narrow || wide <= 0 {
			t.Fatalf("%s %s: bore %v gives %v (%v), %v gives %v (%v)", th.Name, class.Name, a, narrow, err1, b, wide, err2)
		}
		s1, _ := ThreadSection(th, a)
		s2, _ := ThreadSection(th, b)
		if s2.ElasticTorsionMM3() > s1.ElasticTorsionMM3() || s2.PlasticTorsionMM3() > s1.PlasticTorsionMM3() {
			t.Fatalf("%s: torsion moduli rise with the bore from %v to %v", th.Name, a, b)
		}
	})
}
