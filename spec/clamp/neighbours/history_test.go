package neighbours

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// rowOfBolts is n bolts in a straight line on an invented cover.
func rowOfBolts(t testing.TB, n int, spacingMM, faceModulus float64) *Model {
	t.Helper()
	bolts := make([]Bolt, n)
	for i := range bolts {
		bolts[i] = Bolt{ID: string(rune('A' + i)), XMM: spacingMM * float64(i), StiffnessNPerMM: 2e5}
	}
	m, err := New(Joint{Plate{70000, 0.33, 8}, Face{faceModulus}, bolts})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func tighten(t testing.TB, m *Model, passes ...Round) History {
	t.Helper()
	h, err := m.Tighten(passes)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// repeat makes n equal passes of one step kind that bring every bolt, in the order of
// ids, to forceN.
func repeat(n int, kind Kind, ids []string, forceN float64) []Round {
	passes := make([]Round, n)
	for i := range passes {
		passes[i] = Round{Name: fmt.Sprintf("pass %d", i+1), Steps: make([]Step, len(ids))}
		for j, id := range ids {
			passes[i].Steps[j] = Step{BoltID: id, Kind: kind, ForceN: forceN}
		}
	}
	return passes
}

func about(got, want, relative float64) bool { return math.Abs(got-want) <= relative*math.Abs(want) }

func TestSingleBoltHoldsItsTargetExactly(t *testing.T) {
	h := tighten(t, rowOfBolts(t, 1, 0, 5), repeat(1, Draw, []string{"A"}, 12345.678)...)
	end := h.Passes[0].End
	if h.EndN()[0] != 12345.678 || end.ShareOfTarget != 1 || end.SpreadRatio != 0 || end.Bolts != 1 {
		t.Errorf("got %v, %+v", h.EndN(), end)
	}
}

// Two equal bolts by hand: with give c = 1/K + w(0) each and w(r) between them,
// drawing B to F takes F·w(r)/c from A.
func TestSecondBoltTakesItsShareFromTheFirst(t *testing.T) {
	m := rowOfBolts(t, 2, 30, 50)
	h := tighten(t, m, repeat(1, Set, []string{"A", "B"}, 10000)...)
	g := m.Influence()
	want := 10000 * (1 - g[0][1]/(1/2e5+g[0][0]))
	if got := h.EndN(); !about(got[0], want, 1e-12) || got[1] != 10000 {
		t.Errorf("A and B carry %v, want %v and 10000", got, want)
	}
	if end := h.Passes[0].End; end.LowestID != "A" || end.HighestID != "B" || !about(end.MeanN, (want+10000)/2, 1e-12) ||
		!about(end.SpreadRatio, (10000-want)/end.MeanN, 1e-12) || !about(end.ShareOfTarget, want/10000, 1e-12) {
		t.Errorf("summary %+v", end)
	}
}

func TestRigidFaceKeepsNeighboursApart(t *testing.T) {
	h := tighten(t, rowOfBolts(t, 5, 20, 1e15), repeat(1, Set, []string{"C", "A", "E", "B", "D"}, 20000)...)
	for i, f := range h.EndN() {
		if !about(f, 20000, 1e-9) {
			t.Errorf("%s carries %v, want 20000", h.BoltIDs[i], f)
		}
	}
}

// With passes without end every bolt tends to its target, whatever the joint,
// the order and the targets; a wrench that never slackens ends at or above them.
func TestManyPassesTendToTheTarget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyJoint(t)
		kind := rapid.SampledFrom([]Kind{Set, Draw}).Draw(t, "kind")
		var p Round
		target := map[string]float64{}
		for _, id := range rapid.Permutation(m.ids()).Draw(t, "order") {
			target[id] = rapid.Float64Range(1000, 30000).Draw(t, "target")
			p.Steps = append(p.Steps, Step{BoltID: id, Kind: kind, ForceN: target[id]})
		}
		passes := make([]Round, 3000)
		for i := range passes {
			passes[i] = p
		}
		h, err := m.Tighten(passes)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range h.EndN() {
			want := target[h.BoltIDs[i]]
			if f < want*(1-1e-6) || (kind == Set && f > want*(1+1e-6)) {
				t.Fatalf("%s carries %v after 3000 passes, target %v", h.BoltIDs[i], f, want)
			}
		}
	})
}

// Scale: twice every target leaves twice every clamp, slack bolts included.
func TestClampScalesWithTheTargets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyJoint(t)
		var once, twice Round
		for range 12 {
			s := anyStep(t, m)
			once.Steps = append(once.Steps, s)
			s.ForceN, s.TravelMM = 2*s.ForceN, 2*s.TravelMM
			twice.Steps = append(twice.Steps, s)
		}
		a, err1 := m.Tighten([]Round{once})
		b, err2 := m.Tighten([]Round{twice})
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for i, f := range a.EndN() {
			if math.Abs(b.EndN()[i]-2*f) > 1e-6*(1+largestOf(b.EndN())) {
				t.Fatalf("bolt %d: %v, at twice the targets %v", i, f, b.EndN()[i])
			}
		}
	})
}

// Opening is tightening told backwards: what each bolt carries just before it comes
// out is what it would have had to be set to, in the opposite order, for one pass to
// leave an even joint (interaction coefficients, Bibel & Ezell 1992, from memory).
func TestOpeningBackwardsGivesTheSinglePassThatEndsEven(t *testing.T) {
	m := rowOfBolts(t, 5, 25, 20)
	const even = 15000.0
	start := []float64{even, even, even, even, even}
	opening := Round{Name: "out"}
	for _, id := range []string{"B", "E", "A", "C", "D"} {
		opening.Steps = append(opening.Steps, Step{BoltID: id, Kind: Loosen})
	}
	h, err := m.Loosen(start, []Round{opening})
	if err != nil {
		t.Fatal(err)
	}
	carried := start
	var back Round
	for _, stage := range h.Passes[0].Stages {
		k := m.index[stage.Step.BoltID]
		back.Steps = append([]Step{{BoltID: stage.Step.BoltID, ForceN: carried[k]}}, back.Steps...)
		carried = stage.ForcesN
	}
	for i, f := range tighten(t, m, back).EndN() {
		if !about(f, even, 1e-9) {
			t.Errorf("%s ends at %v N, want %v", h.BoltIDs[i], f, even)
		}
	}
	if first := back.Steps[0].ForceN; first < 1.05*even {
		t.Errorf("first bolt in needs %v N: no interaction was tried", first)
	}
}

// What is left carries more as the others come out: why weak ones leave first.
func TestLastBoltInCarriesMoreAsOthersComeOut(t *testing.T) {
	m := rowOfBolts(t, 3, 20, 20)
	h, err := m.Loosen([]float64{10000, 10000, 10000}, []Round{{"out", []Step{
		{BoltID: "A", Kind: Loosen}, {BoltID: "C", Kind: Loosen}, {BoltID: "B", Kind: Loosen},
	}}})
	if err != nil {
		t.Fatal(err)
	}
	stages := h.Passes[0].Stages
	b0, b1 := stages[0].ForcesN[1], stages[1].ForcesN[1]
	if !(10000 < b0 && b0 < b1) {
		t.Errorf("B carries 10000, then %v, then %v", b0, b1)
	}
	if p := h.Peaks()[1]; p != (Peak{b1, 0, 1}) {
		t.Errorf("peak of B %+v, want %v N at stage 1", p, b1)
	}
	if end := h.Passes[0].End; end.Bolts != 0 || end.MeanN != 0 {
		t.Errorf("all are out, yet %+v", end)
	}
}

func TestBoltGoesSlackAndCatchesAgain(t *testing.T) {
	m := rowOfBolts(t, 3, 15, 5)
	h := tighten(t, m, Round{"in", []Step{
		{BoltID: "B", ForceN: 500}, {BoltID: "A", ForceN: 20000}, {BoltID: "C", ForceN: 20000},
	}})
	if got := h.EndN()[1]; got != 0 {
		t.Fatalf("B carries %v, want slack", got)
	}
	if end := h.Passes[0].End; end.LowestN != 0 || end.LowestID != "B" || len(end.SlackIDs) != 1 || end.ShareOfTarget != 0 {
		t.Errorf("summary hides the slack bolt: %+v", end)
	}
	h = tighten(t, m, Round{"in", append([]Step{
		{BoltID: "B", ForceN: 500}, {BoltID: "A", ForceN: 20000}, {BoltID: "C", ForceN: 20000},
	}, Step{BoltID: "C", Kind: Loosen}, Step{BoltID: "A", Kind: Loosen})})
	if got := h.EndN()[1]; !about(got, 500, 1e-9) {
		t.Errorf("B carries %v once its neighbours are out, want its 500 back", got)
	}
}

func TestStepKindsDoWhatTheirNamesSay(t *testing.T) {
	give := func(m *Model) float64 { return 1/2e5 + m.Influence()[0][0] } // mm/N of the lone bolt
	m := rowOfBolts(t, 1, 0, 100)
	for _, c := range []struct {
		name string
		step Step
		want float64
	}{
		{"a wrench raises", Step{Kind: Draw, ForceN: 12000}, 12000},
		{"a wrench does not lower", Step{Kind: Draw, ForceN: 8000}, 10000},
		{"set raises", Step{Kind: Set, ForceN: 12000}, 12000},
		{"set lowers", Step{Kind: Set, ForceN: 8000}, 8000},
		{"set to nothing takes out", Step{Kind: Set}, 0},
		{"loosening lowers", Step{Kind: Loosen, ForceN: 8000}, 8000},
		{"loosening does not raise", Step{Kind: Loosen, ForceN: 12000}, 10000},
		{"loosening fully takes out", Step{Kind: Loosen}, 0},
		{"a turn adds travel over give", Step{Kind: Turn, TravelMM: 0.05}, 10000 + 0.05/give(m)},
		{"a turn back takes it away", Step{Kind: Turn, TravelMM: -0.01}, 10000 - 0.01/give(m)},
		{"a turn back past nothing leaves nothing", Step{Kind: Turn, TravelMM: -5}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.step.BoltID = "A"
			h := tighten(t, m, Round{"", []Step{{BoltID: "A", ForceN: 10000}, c.step}})
			if got := h.EndN()[0]; !about(got, c.want, 1e-12) {
				t.Errorf("10000 N became %v, want %v", got, c.want)
			}
		})
	}
}

// A turn adds force by the give of the joint alone, unlike a torque, which takes
// no account of what the bolt has lost to its neighbours.
func TestTurnAddsTheSameWhateverTheBoltCarried(t *testing.T) {
	m := rowOfBolts(t, 2, 25, 50)
	gain := func(snug float64) float64 {
		h := tighten(t, m, Round{"", []Step{{BoltID: "A", ForceN: snug}, {BoltID: "B", ForceN: 30000}, {BoltID: "A", Kind: Turn, TravelMM: 0.1}}})
		stages := h.Passes[0].Stages
		return stages[2].ForcesN[0] - stages[1].ForcesN[0]
	}
	if a, b := gain(30000), gain(40000); !about(a, b, 1e-9) || a < 1000 {
		t.Errorf("0.1 mm of thread adds %v N from 30 kN and %v N from 40 kN", a, b)
	}
}

func TestStepsThatMakeNoSenseAreRefused(t *testing.T) {
	m := rowOfBolts(t, 2, 25, 50)
	for _, c := range []struct {
		step Step
		want string
	}{
		{Step{BoltID: "Q", ForceN: 1}, `no bolt "Q" in this joint; known are A, B`},
		{Step{BoltID: "A", ForceN: -1}, "force -1 N; give a finite force, 0 or more"},
		{Step{BoltID: "A", ForceN: math.NaN()}, "force NaN N"},
		{Step{BoltID: "A", Kind: Draw}, "drawn to 0 N; give a force over 0, or Loosen"},
		{Step{BoltID: "A", Kind: Turn, TravelMM: math.Inf(1)}, "+Inf mm of thread; give a finite travel"},
		{Step{BoltID: "A", Kind: 9}, "step kind 9; write Set, Draw, Loosen or Turn"},
	} {
		_, err := m.Tighten([]Round{{"final", []Step{{BoltID: "B", ForceN: 5}, c.step}}})
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), `pass "final", step 2: `) {
			t.Errorf("%+v: got %v, want %q", c.step, err, c.want)
		}
	}
	long := []Round{{"long", make([]Step, 10_000_001)}}
	if _, err := m.Tighten(long); err == nil || !strings.Contains(err.Error(), "at most 10000000 steps") {
		t.Errorf("ten million steps: %v", err)
	}
	if _, err := m.Tighten(nil); err == nil {
		t.Error("no passes, no error")
	}
	for _, start := range [][]float64{nil, {1}, {1, 2, 3}, {1, -1}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		if _, err := m.Loosen(start, []Round{{}}); err == nil {
			t.Errorf("starting forces %v taken without an error", start)
		}
	}
}

// Taking bolts out and putting them back must not wear the matrix: after 200 rounds
// with every bolt out the figures are those of the joint.
func TestManyRoundsOutAndInLeaveNoTrace(t *testing.T) {
	m := wideCover(t, 20, 5)
	s, fresh := m.newState(), m.newState()
	for range 200 {
		for k := range s.n {
			s.set(k, carrying)
		}
		for k := range s.n {
			s.set((7*k+3)%s.n, out)
		}
	}
	for i, v := range s.swept {
		if off := math.Abs(v - fresh.swept[i]); off > 1e-10*fresh.swept[0] {
			t.Fatalf("entry %d is %v, was %v", i, v, fresh.swept[i])
		}
	}
}

// The share is of a target force; a bolt last turned by travel has none.
func TestTurnedBoltHasNoTargetToFallShortOf(t *testing.T) {
	m := rowOfBolts(t, 2, 25, 50)
	h := tighten(t, m, repeat(1, Set, []string{"A", "B"}, 10000)[0], Round{"turn", []Step{
		{BoltID: "A", Kind: Turn, TravelMM: 0.1}, {BoltID: "B", Kind: Turn, TravelMM: 0.1},
	}})
	if h.Passes[0].End.ShareOfTarget == 0 || h.Passes[1].End.ShareOfTarget != 0 {
		t.Errorf("share of target %v after the torque, %v after the turn", h.Passes[0].End.ShareOfTarget, h.Passes[1].End.ShareOfTarget)
	}
}

func TestPeakIsTheFirstTimeOfTheMost(t *testing.T) {
	m := rowOfBolts(t, 3, 25, 50)
	h := tighten(t, m, Round{}, Round{"one", []Step{{BoltID: "A", ForceN: 900}, {BoltID: "A", Kind: Loosen}, {BoltID: "B", ForceN: 500}}},
		Round{"two", []Step{{BoltID: "B", ForceN: 500}}})
	want := []Peak{{900, 1, 0}, {500, 1, 2}, {0, -1, -1}}
	for i, p := range h.Peaks() {
		if p != want[i] {
			t.Errorf("got %+v, want %+v", p, want[i])
		}
	}
	if (History{}).EndN() != nil {
		t.Error("a history without stages ends with forces")
	}
}

// One bolt by hand, with rate 1/(1/K + w(0)): loosened past nothing by 0.1 mm and then by
// 0.2 mm more, it takes 0.3 mm to be snug again.
func TestSlackBoltTakesUpAllThatItWasLoosened(t *testing.T) {
	m := rowOfBolts(t, 1, 0, 50)
	rate := 1 / (1/2e5 + m.Influence()[0][0])
	turn := func(mm float64) Step { return Step{BoltID: "A", Kind: Turn, TravelMM: mm} }
	h := tighten(t, m, Round{"turns", []Step{{BoltID: "A", Kind: Set, ForceN: 1000}, turn(-1000/rate - 0.1), turn(-0.2), turn(0.25), turn(0.15)}})
	for i, want := range []float64{1000, 0, 0, 0, 0.1 * rate} {
		if got := h.Passes[0].Stages[i].ForcesN[0]; math.Abs(got-want) > 1e-6*rate {
			t.Errorf("after step %d it carries %v N, want %v", i+1, got, want)
		}
	}
}

// A bolt that hangs loose and is taken out is out: it counts as in no longer.
func TestSlackBoltTakenOutIsOut(t *testing.T) {
	m := rowOfBolts(t, 2, 25, 50)
	h := tighten(t, m, Round{"loose", []Step{
		{BoltID: "A", Kind: Set, ForceN: 1000}, {BoltID: "B", Kind: Set, ForceN: 1000}, {BoltID: "A", Kind: Turn, TravelMM: -1}}},
		Round{"out", []Step{{BoltID: "A", Kind: Loosen}}})
	if loose, out := h.Passes[0].End, h.Passes[1].End; loose.Bolts != 2 || len(loose.SlackIDs) != 1 || out.Bolts != 1 || out.SlackIDs != nil {
		t.Errorf("loose: %+v; out: %+v", loose, out)
	}
}

// Of bolts that hold the same, the first is named.
func TestOfEqualsTheFirstIsNamed(t *testing.T) {
	h := tighten(t, rowOfBolts(t, 3, 1e6, 1e5), repeat(1, Set, []string{"A", "B", "C"}, 1000)...)
	if end := h.Passes[0].End; end.LowestID != "A" || end.HighestID != "A" || end.SpreadRatio != 0 {
		t.Errorf("%+v", end)
	}
}
