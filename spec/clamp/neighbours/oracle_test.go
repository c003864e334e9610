package neighbours

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// stillness is the same joint told the plain way, to check the fast one against:
// it keeps how far every thread was drawn and, after every step, finds all forces
// anew by going round the bolts until nothing moves (projected Gauss-Seidel: a bolt
// that would push carries nothing). No sweeps, no events, no memory of a matrix.
type stillness struct {
	give  [][]float64 // C + G, mm/N
	isIn  []bool
	drawn []float64 // mm
	force []float64
}

func newStillness(m *Model) *stillness {
	n := len(m.bolts)
	s := &stillness{give: m.Influence(), isIn: make([]bool, n), drawn: make([]float64, n), force: make([]float64, n)}
	for i, b := range m.bolts {
		s.give[i][i] += 1 / b.StiffnessNPerMM
	}
	return s
}

// others is what all bolts but i add to the thread travel of bolt i.
func (s *stillness) others(i int) float64 {
	sum := 0.0
	for j, f := range s.force {
		if j != i {
			sum += s.give[i][j] * f
		}
	}
	return sum
}

// settle goes round until still; bolt fixed keeps its force.
func (s *stillness) settle(fixed int) {
	for range 200000 {
		moved, largest := 0.0, 1.0
		for i := range s.force {
			if i == fixed || !s.isIn[i] {
				continue
			}
			f := max(0, (s.drawn[i]-s.others(i))/s.give[i][i])
			moved, largest = max(moved, math.Abs(f-s.force[i])), max(largest, f)
			s.force[i] = f
		}
		if moved < 1e-13*largest {
			return
		}
	}
	panic("oracle did not settle")
}

func (s *stillness) take(k int, step Step) {
	switch step.Kind {
	case Turn:
		if !s.isIn[k] {
			if step.TravelMM <= 0 {
				return
			}
			s.isIn[k], s.drawn[k] = true, s.others(k)
		}
		s.drawn[k] += step.TravelMM
		s.settle(-1)
		return
	case Draw:
		if s.force[k] >= step.ForceN {
			return
		}
	case Loosen:
		if s.force[k] <= step.ForceN && step.ForceN > 0 {
			return
		}
	}
	s.force[k], s.isIn[k] = step.ForceN, step.ForceN > 0
	s.settle(k)
	s.drawn[k] = s.others(k) + s.give[k][k]*s.force[k]
}

func (s *stillness) anySlack() bool {
	for i, f := range s.force {
		if s.isIn[i] && f == 0 {
			return true
		}
	}
	return false
}

// anyJoint draws a joint of up to 7 bolts on a grid, from nearly separate bolts to
// strong interaction, on a face without end or on a rim.
func anyJoint(t *rapid.T) *Model {
	n := rapid.IntRange(1, 7).Draw(t, "bolts")
	places := rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}).Draw(t, "places")
	bolts := make([]Bolt, n)
	for i := range bolts {
		bolts[i] = Bolt{
			ID:  fmt.Sprintf("B%d", i+1),
			XMM: 25 * float64(places[i]%4), YMM: 25 * float64(places[i]/4),
			StiffnessNPerMM: rapid.Float64Range(3e4, 3e5).Draw(t, "stiffness"),
		}
	}
	f := Face{ModulusNPerMM3: math.Pow(10, rapid.Float64Range(1, 5).Draw(t, "log10 face modulus"))}
	j := Joint{Plate{70000, 0.33, rapid.Float64Range(3, 15).Draw(t, "thickness")}, f, bolts}
	var m *Model
	var err error
	if rapid.Bool().Draw(t, "rim") {
		m, err = NewRim(j, 20)
	} else {
		m, err = New(j)
	}
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func anyStep(t *rapid.T, m *Model) Step {
	s := Step{
		BoltID: rapid.SampledFrom(m.ids()).Draw(t, "bolt"),
		Kind:   Kind(rapid.IntRange(0, 3).Draw(t, "kind")),
	}
	if s.Kind == Turn {
		s.TravelMM = rapid.Float64Range(-0.2, 0.4).Draw(t, "travel")
	} else {
		s.ForceN = math.Round(math.Pow(10, rapid.Float64Range(2, 4.5).Draw(t, "log10 force")))
		if s.Kind != Draw && rapid.IntRange(0, 3).Draw(t, "out") == 0 {
			s.ForceN = 0
		}
	}
	return s
}

// Any joint through any steps, slack bolts included, agrees with the plain way.
func TestHistoryAgreesWithThePlainWay(t *testing.T) {
	steps, slackSeen := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		m := anyJoint(t)
		var p Round
		for range rapid.IntRange(1, 25).Draw(t, "steps") {
			p.Steps = append(p.Steps, anyStep(t, m))
		}
		h, err := m.Tighten([]Round{p})
		if err != nil {
			t.Fatal(err)
		}
		plain := newStillness(m)
		for i, stage := range h.Passes[0].Stages {
			plain.take(m.index[stage.Step.BoltID], stage.Step)
			steps++
			if plain.anySlack() {
				slackSeen++
			}
			for j, f := range stage.ForcesN {
				if want := plain.force[j]; math.Abs(f-want) > 1e-6*(1+largestOf(plain.force)) {
					t.Fatalf("step %d %+v: bolt %s carries %.9g N, the plain way says %.9g N", i+1, stage.Step, h.BoltIDs[j], f, want)
				}
			}
		}
	})
	t.Logf("%d steps compared, a bolt hanging slack after %d of them", steps, slackSeen)
	if slackSeen == 0 {
		t.Error("no bolt ever fell slack: the case is not being tried")
	}
}

func largestOf(v []float64) float64 {
	m := 0.0
	for _, x := range v {
		m = max(m, x)
	}
	return m
}
