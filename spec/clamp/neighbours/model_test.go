package neighbours

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Reciprocity: bolt i sinks the cover at j as far as j does at i; and pulling
// always costs work, so that no set of pulls lifts the cover on balance.
func TestInfluenceIsReciprocalAndCostsWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyJoint(t)
		g := m.Influence()
		work, size := 0.0, 0.0
		pull := make([]float64, len(g))
		for i := range pull {
			pull[i] = rapid.Float64Range(-1, 1).Draw(t, "pull")
		}
		for i := range g {
			b := m.bolts[i]
			for j := range g {
				c := m.bolts[j]
				if there := m.sag.perNewton(b.XMM, b.YMM, c.XMM, c.YMM); there != g[i][j] && !about(there, g[i][j], 1e-12) {
					t.Fatalf("%s on %s: %v, the matrix says %v", b.ID, c.ID, there, g[i][j])
				}
				if back := m.sag.perNewton(c.XMM, c.YMM, b.XMM, b.YMM); !about(back, g[i][j], 1e-12) {
					t.Fatalf("%s on %s: %v one way, %v the other", b.ID, c.ID, g[i][j], back)
				}
				work += pull[i] * g[i][j] * pull[j]
				size += math.Abs(pull[i] * g[i][j] * pull[j])
			}
		}
		if work < -1e-12*size {
			t.Fatalf("pulls %v give work back: %v", pull, work)
		}
	})
}

// The classical figures of the point load (Timoshenko & Woinowsky-Krieger, from
// memory): w(0) = P·ℓ²/(8D), and the pressures on the face balance the pull.
func TestOnePullSinksAsTheTextbookSaysAndIsBalanced(t *testing.T) {
	p, f := Plate{70000, 0.33, 8}, Face{50}
	m, err := New(Joint{p, f, []Bolt{{"A", 0, 0, 1e5}}})
	if err != nil {
		t.Fatal(err)
	}
	d := p.RigidityNMM()
	length := math.Pow(d/50, 0.25)
	if got, want := m.Influence()[0][0], length*length/(8*d); !about(got, want, 1e-13) {
		t.Errorf("sinks %v mm/N under the pull, want %v", got, want)
	}
	total, step := 0.0, length/200
	for r := step / 2; r < 30*length; r += step {
		total += 2 * math.Pi * r * step * f.ModulusNPerMM3 * sink(t, m, r, 0, 1000)
	}
	if !about(total, 1000, 1e-4) {
		t.Errorf("the face carries %v N of 1000", total)
	}
	if _, err := m.SinkMM(0, 0, nil); err == nil {
		t.Error("sinking without forces, no error")
	}
}

// D = E·t³/(12(1−ν²)): steel 10 mm thick by hand, 207000·1000/(12·(1−0.292²)).
func TestRigidityOfAPlate(t *testing.T) {
	if got, want := (Plate{207000, 0.292, 10}).RigidityNMM(), 207e6/(12*0.914736); !about(got, want, 1e-14) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// The classical figures of a beam on an elastic face (Hetényi, from memory): with
// λ⁴ = 4EI/(k·b), w(0) = P/(2kbλ), at r = ¾πλ nothing, and the face balances the pull.
func TestOnePullOnARimSinksAsTheTextbookSaysAndIsBalanced(t *testing.T) {
	const width, k = 20.0, 50.0
	p := Plate{70000, 0.33, 8}
	length := math.Pow(4*p.ElasticMPa*width*8*8*8/12/(k*width), 0.25)
	m, err := NewRim(Joint{p, Face{k}, []Bolt{{"A", 0, 0, 1e5}, {"B", 0, 3 * math.Pi / 4 * length, 1e5}}}, width)
	if err != nil {
		t.Fatal(err)
	}
	g, want := m.Influence(), 1/(2*k*width*length)
	if !about(g[0][0], want, 1e-13) || math.Abs(g[0][1]) > 1e-13*want {
		t.Errorf("sinks %v and %v mm/N, want %v and 0", g[0][0], g[0][1], want)
	}
	total, step := 0.0, length/200
	for x := step / 2; x < 30*length; x += step {
		total += 2 * step * width * k * sink(t, m, x, 0, 1000, 0)
	}
	if !about(total, 1000, 1e-4) {
		t.Errorf("the face carries %v N of 1000", total)
	}
}

func sink(t *testing.T, m *Model, x, y float64, forces ...float64) float64 {
	t.Helper()
	w, err := m.SinkMM(x, y, forces)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestBetweenIsTheMeanOfBothOutlines(t *testing.T) {
	j := Joint{Plate{70000, 0.33, 8}, Face{50}, []Bolt{{"A", 0, 0, 1e5}, {"B", 20, 15, 1e5}}}
	wide, err1 := New(j)
	rim, err2 := NewRim(j, 17)
	between, err3 := NewBetween(j, 17)
	if err := errors.Join(err1, err2, err3); err != nil {
		t.Fatal(err)
	}
	for i, row := range between.Influence() {
		for k, got := range row {
			if want := (wide.Influence()[i][k] + rim.Influence()[i][k]) / 2; !about(got, want, 1e-14) || rim.Influence()[i][k] == wide.Influence()[i][k] {
				t.Errorf("%d on %d: %v, want %v", i, k, got, want)
			}
		}
	}
	for name, m := range map[string]*Model{"without end": wide, "17 mm wide": rim, "half way between 17 mm": between} {
		if said := strings.Join(m.Assumptions(), "\n"); !strings.Contains(said, name) || !strings.HasPrefix(said, "estimate: ") {
			t.Errorf("%s: says %s", name, said)
		}
	}
}

func TestJointsThatMakeNoSenseAreRefusedWithEveryProblem(t *testing.T) {
	good := func() Joint {
		return Joint{Plate{70000, 0.33, 8}, Face{50}, []Bolt{{"A", 0, 0, 1e5}, {"B", 50, 0, 1e5}}}
	}
	if _, err := New(good()); err != nil {
		t.Fatal(err)
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name  string
		spoil func(*Joint)
		want  []string
	}{
		{"no bolts", func(j *Joint) { j.Bolts = nil }, []string{"no bolts; give at least one"}},
		{"a stranger's 1001 bolts", func(j *Joint) { j.Bolts = make([]Bolt, 1001) }, []string{"1001 bolts; at most 1000"}},
		{"coincident", func(j *Joint) { j.Bolts[1].XMM = 0 }, []string{`bolt "B" and "A" are both at (0, 0); give each its own place`}},
		{"coincident across the sign of zero", func(j *Joint) { j.Bolts[1].XMM = math.Copysign(0, -1) }, []string{"are both at"}},
		{"id twice", func(j *Joint) { j.Bolts[1].ID = "A" }, []string{`bolt "A" is given twice`}},
		{"no id", func(j *Joint) { j.Bolts[1].ID = "" }, []string{"bolt number 2 has no id"}},
		{"place not finite", func(j *Joint) { j.Bolts[0].YMM = nan }, []string{`bolt "A" is at (0, NaN); give a finite place in mm`}},
		{"stiffness zero", func(j *Joint) { j.Bolts[0].StiffnessNPerMM = 0 }, []string{`bolt "A" stiffness is 0; give a finite number over 0 N/mm`}},
		{"stiffness infinite", func(j *Joint) { j.Bolts[0].StiffnessNPerMM = inf }, []string{"stiffness is +Inf"}},
		{"face zero", func(j *Joint) { j.Face.ModulusNPerMM3 = 0 }, []string{"joint-face modulus is 0"}},
		{"face negative and plate not a number", func(j *Joint) { j.Face.ModulusNPerMM3 = -1; j.Plate.ElasticMPa = nan },
			[]string{"joint-face modulus is -1", "plate modulus is NaN"}},
		{"thickness negative", func(j *Joint) { j.Plate.ThicknessMM = -8 }, []string{"plate thickness is -8; give a finite number over 0 mm"}},
		{"Poisson half", func(j *Joint) { j.Plate.Poisson = 0.5 }, []string{"Poisson's ratio is 0.5; give 0 to under 0.5"}},
		{"figures out of all proportion", func(j *Joint) { j.Plate.ElasticMPa = 1e-300; j.Face.ModulusNPerMM3 = 1e-320 }, []string{"too far apart"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := good()
			c.spoil(&j)
			_, err := New(j)
			for _, want := range c.want {
				if err == nil || !strings.Contains(err.Error(), want) {
					t.Errorf("got %v, want %q", err, want)
				}
			}
		})
	}
}

func TestRimWidthsThatMakeNoSenseAreRefused(t *testing.T) {
	j := Joint{Plate{70000, 0.33, 8}, Face{50}, []Bolt{{"A", 0, 0, 1e5}}}
	for _, width := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err1 := NewRim(j, width)
		_, err2 := NewBetween(j, width)
		for _, err := range []error{err1, err2} {
			if err == nil || !strings.Contains(err.Error(), "rim width is") {
				t.Errorf("%v mm: %v", width, err)
			}
		}
	}
	j.Face.ModulusNPerMM3 = 0
	_, err1 := NewRim(j, 20)
	_, err2 := NewBetween(j, 20)
	if err1 == nil || err2 == nil {
		t.Error("a face of no stiffness is taken")
	}
}

func TestSinkingAtABoltIsTheMatrixTimesTheForces(t *testing.T) {
	m := wideCover(t, 6, 3)
	forces := []float64{1000, 0, 500, 8000, 20, 300}
	for i, row := range m.Influence() {
		want := 0.0
		for j, f := range forces {
			want += row[j] * f
		}
		got, err := m.SinkMM(m.bolts[i].XMM, m.bolts[i].YMM, forces)
		if err != nil || !about(got, want, 1e-12) {
			t.Errorf("at %s: %v mm (%v), want %v", m.bolts[i].ID, got, err, want)
		}
	}
}
