package neighbours

import (
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
		pressure, err := m.FacePressureMPa(r, 0, []float64{1000})
		if err != nil {
			t.Fatal(err)
		}
		total += pressure * 2 * math.Pi * r * step
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

// A rigid strip 100 by 20 on k = 2 N/mm³ with two bolts 30 mm either side of its
// middle, by hand: A = 2000, Sxx = 20·100³/12. On its own side a bolt sinks the cover
// by 1/(kA) + 30²/(k·Sxx), on the other by 1/(kA) − 30²/(k·Sxx): it may even rise.
func TestTwoBoltsOnARigidCoverMatchTheClosedForm(t *testing.T) {
	cover := RigidCover{AreaMM2: 2000, CentreXMM: 50, CentreYMM: 10, SecondXXMM4: 20 * 1e6 / 12, SecondYYMM4: 100 * 8000 / 12.0}
	m, err := NewRigid(cover, Face{2}, []Bolt{{"A", 20, 10, 1e4}, {"B", 80, 10, 1e4}})
	if err != nil {
		t.Fatal(err)
	}
	own, cross := 1/4000.0+900/(2*20*1e6/12), 1/4000.0-900/(2*20*1e6/12)
	g := m.Influence()
	if !about(g[0][0], own, 1e-13) || !about(g[0][1], cross, 1e-12) {
		t.Fatalf("influence %v, want %v and %v", g, own, cross)
	}
	h := tighten(t, m, Repeat(1, Set, []string{"A", "B"}, 5000)...)
	if want := 5000 * (1 - cross/(1e-4+own)); !about(h.EndN()[0], want, 1e-12) {
		t.Errorf("A keeps %v N, want %v", h.EndN()[0], want)
	}
	if want := 5000 * (1 - cross/(1e-4+own)); want < 5000 {
		t.Errorf("this case should raise the far bolt, not lower it to %v", want)
	}
}

// The rigid cover against adding up the face patch by patch: an L of two
// rectangles, its moments by summing, then equilibrium of force and moments.
func TestRigidCoverStandsInBalance(t *testing.T) {
	type patch struct{ x, y, a float64 }
	var patches []patch
	for x := 0.5; x < 60; x++ {
		for y := 0.5; y < 40; y++ {
			if x < 20 || y < 15 {
				patches = append(patches, patch{x, y, 1})
			}
		}
	}
	var c RigidCover
	for _, p := range patches {
		c.AreaMM2 += p.a
		c.CentreXMM += p.x * p.a
		c.CentreYMM += p.y * p.a
	}
	c.CentreXMM /= c.AreaMM2
	c.CentreYMM /= c.AreaMM2
	for _, p := range patches {
		x, y := p.x-c.CentreXMM, p.y-c.CentreYMM
		c.SecondXXMM4 += x * x * p.a
		c.SecondYYMM4 += y * y * p.a
		c.SecondXYMM4 += x * y * p.a
	}
	m, err := NewRigid(c, Face{7}, []Bolt{{"A", 5, 33, 1e5}})
	if err != nil {
		t.Fatal(err)
	}
	var force, momentX, momentY float64
	for _, p := range patches {
		pressure, err := m.FacePressureMPa(p.x, p.y, []float64{1000})
		if err != nil {
			t.Fatal(err)
		}
		force += pressure * p.a
		momentX += pressure * p.a * p.x
		momentY += pressure * p.a * p.y
	}
	if !about(force, 1000, 1e-9) || !about(momentX, 5000, 1e-9) || !about(momentY, 33000, 1e-9) {
		t.Errorf("the face answers with %v N, %v and %v N·mm; want 1000, 5000, 33000", force, momentX, momentY)
	}
}

func TestAssumptionsAreSaid(t *testing.T) {
	text := func(p Plate, k float64) string {
		m, err := New(Joint{p, Face{k}, []Bolt{{"A", 0, 0, 1}}})
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(m.Assumptions(), "\n")
	}
	thin, thick := text(Plate{70000, 0.33, 4}, 5), text(Plate{70000, 0.33, 60}, 10000)
	if !strings.Contains(thin, "estimate") || strings.Contains(thin, "outside thin-plate theory") {
		t.Errorf("thin cover: %s", thin)
	}
	if !strings.Contains(thick, "outside thin-plate theory") {
		t.Errorf("thick cover: %s", thick)
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

func TestRigidCoversThatMakeNoSenseAreRefused(t *testing.T) {
	bolts := []Bolt{{"A", 0, 0, 1e5}}
	for _, c := range []struct {
		cover RigidCover
		want  string
	}{
		{RigidCover{SecondXXMM4: 1, SecondYYMM4: 1}, "face area is 0"},
		{RigidCover{AreaMM2: 1, SecondYYMM4: 1}, "second moment xx is 0"},
		{RigidCover{AreaMM2: 1, SecondXXMM4: 1, SecondYYMM4: -1}, "second moment yy is -1"},
		{RigidCover{AreaMM2: 1, SecondXXMM4: 1, SecondYYMM4: 1, SecondXYMM4: 1}, "xx·yy must be over xy²"},
		{RigidCover{AreaMM2: 1, SecondXXMM4: 1, SecondYYMM4: 1, CentreXMM: math.Inf(-1)}, "give finite numbers"},
	} {
		if _, err := NewRigid(c.cover, Face{1}, bolts); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: got %v, want %q", c.cover, err, c.want)
		}
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
