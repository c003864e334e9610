package clamping

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/estimate"
	"evenpull/spec/read"
)

// sheet is a small invented cover; the parts in capitals are replaced by the cases.
const sheet = `format = 1
[procedure]
name = "Close the side cover"
direction = "DIRECTION"
source = "invented"
[cover]
material = "cast aluminium"
thickness = "6 mm"
face = "FACE"
[group.main]
thread = "M6x1"
class = "8.8"
friction = "oiled"
grip = "30 mm"
torque = "9 N·m"
[group.main.at]
PLACES
PASSES`

const (
	ring     = "M1 = [0, 0]\nM2 = [20, 0]\nM3 = [40, 0]\nM4 = [40, 20]\nM5 = [20, 20]\nM6 = [0, 20]\n"
	twoPass  = "[[pass]]\nname = \"Draw down\"\ngroups = [\"main\"]\ntorque = \"40 %\"\norder = \"cross\"\n[[pass]]\nname = \"Final\"\ngroups = [\"main\"]\ntorque = \"100 %\"\norder = \"cross\"\n"
	onePass  = "[[pass]]\nname = \"Final\"\ngroups = [\"main\"]\ntorque = \"100 %\"\n"
	takenOut = "[[pass]]\nname = \"Take out\"\ngroups = [\"main\"]\nremove = true\n"
)

func sheetOf(t testing.TB, direction, face, places, passes string) *spec.Procedure {
	t.Helper()
	text := strings.NewReplacer("DIRECTION", direction, "FACE", face, "PLACES", places, "PASSES", passes).Replace(sheet)
	p, problems := read.Procedure("cover.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	return p
}

func of(t testing.TB, p *spec.Procedure) *Study {
	t.Helper()
	s, err := Together(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func bundled(t *testing.T, name string) *spec.Procedure {
	t.Helper()
	p, problems, err := procedures.Library{}.Load(name)
	if p == nil {
		t.Fatal(problems, err)
	}
	return p
}

// Two like bolts, drawn one after the other: the second leaves the first
// F·(1 − w₁₂/(c + w₁₁)), from the balance of two springs on one cover.
func TestTwoBoltsAgreeWithTheBalanceByHand(t *testing.T) {
	s := of(t, sheetOf(t, "close", "paper", "M1 = [0, 0]\nM2 = [25, 0]\n", onePass))
	joint, _ := estimate.Joint(s.Procedure.Groups[0])
	a, err := joint.Assess(9)
	if err != nil {
		t.Fatal(err)
	}
	w := s.models[middle].Influence()
	want := a.PreloadN * (1 - w[0][1]/(1/s.Bolts[0].StiffnessNPerMM+w[0][0]))
	got := s.Passes[0].ForcesN
	if math.Abs(got[1]-a.PreloadN) > 1e-6 || math.Abs(got[0]-want) > 1e-6 {
		t.Errorf("got %v, want %v and %v", got, want, a.PreloadN)
	}
	if k := s.Passes[0].Kept; k.LowestID != "M1" || k.Lowest > 0.99 || math.Abs(k.Lowest-want/a.PreloadN) > 1e-9 {
		t.Errorf("the first one keeps %+v: too little is taken to prove anything, or wrongly summed", k)
	}
}

func TestASofterFaceTakesMore(t *testing.T) {
	last := 1.0
	for _, face := range []string{"paper", "rubber"} { // on stiffer ones next to nothing is left to compare
		p := of(t, sheetOf(t, "close", face, ring, twoPass)).Passes[1]
		if !(p.Kept.Lowest < last) || !(p.Soft.Lowest <= p.Kept.Lowest && p.Kept.Lowest < p.Stiff.Lowest) || p.Soft.Lowest > last-0.1 {
			t.Errorf("%s: keeps %v (softest %v, stiffest %v) after %v on a stiffer one", face, p.Kept.Lowest, p.Soft.Lowest, p.Stiff.Lowest, last)
		}
		last = p.Kept.Lowest
	}
}

func TestABoltTurnedPastYieldIsHeldThere(t *testing.T) {
	s := of(t, bundled(t, "head-torque-turn"))
	atYield := 0
	for _, p := range s.history[middle].Passes {
		for _, st := range p.Stages {
			if b := s.index[st.Step.BoltID]; st.ForcesN[b.place] > b.YieldN*(1+1e-12) {
				t.Errorf("%s: its own stage takes %s to %v, over its yield of %v", p.Name, b.ID, st.ForcesN[b.place], b.YieldN)
			}
		}
	}
	for _, p := range s.Passes {
		for i, f := range p.ForcesN {
			if f > s.Bolts[i].YieldN*1.0001 { // the hair that neighbours add
				t.Errorf("after %s %s carries %v, over its yield of %v", p.Name, s.Bolts[i].ID, f, s.Bolts[i].YieldN)
			}
			if p.Name == "Second turn" && f > 0.99*s.Bolts[i].YieldN {
				atYield++
			}
		}
	}
	if atYield != 10 {
		t.Errorf("%d of 10 head bolts are at yield after 180°", atYield)
	}
	if !strings.Contains(strings.Join(s.Assumptions(), "\n"), "held at its yield line") {
		t.Error("that is not said among the assumptions")
	}
}

// A torque pass more brings every bolt nearer to its figure; the first pass left
// out leaves them farther from it or as far.
func TestMorePassesKeepMore(t *testing.T) {
	s := of(t, sheetOf(t, "close", "paper", ring, twoPass))
	ways, err := s.Compare()
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]Outcome{}
	for _, w := range ways {
		by[w.Name] = w
	}
	whole, one, more := by["the sheet's order"], by["one torque pass only"], by["last torque pass once more"]
	if whole.Strokes != 12 || one.Strokes != 6 || more.Strokes != 18 {
		t.Fatalf("strokes %d, %d, %d", whole.Strokes, one.Strokes, more.Strokes)
	}
	if !(one.Kept.Lowest < whole.Kept.Lowest && whole.Kept.Lowest < more.Kept.Lowest) {
		t.Errorf("least kept: one pass %v, the sheet %v, one more %v", one.Kept.Lowest, whole.Kept.Lowest, more.Kept.Lowest)
	}
	if _, repeated := by["every pass cross"]; repeated {
		t.Error("the sheet's own order is listed against itself")
	}
	if s.Procedure.Passes[0].Order.Kind != "cross" || len(s.Passes) != 2 {
		t.Error("the comparison changed the procedure")
	}
}

// Without end the passes bring every bolt to the sheet's figure.
func TestRepeatedPassesTendToTheFigure(t *testing.T) {
	var passes strings.Builder
	for i := range 12 {
		fmt.Fprintf(&passes, "[[pass]]\nname = \"P%d\"\ngroups = [\"main\"]\ntorque = \"100 %%\"\n", i)
	}
	s := of(t, sheetOf(t, "close", "paper", ring, passes.String()))
	for i := 1; i < len(s.Passes); i++ {
		before, after := s.Passes[i-1].Kept.Lowest, s.Passes[i].Kept.Lowest
		if after < before-1e-12 {
			t.Errorf("pass %d keeps %v after %v", i, after, before)
		}
	}
	if end := s.Passes[11].Kept; end.Lowest < 1-1e-6 || s.Passes[0].Kept.Lowest > 0.99 {
		t.Errorf("after 12 passes %+v, after one %+v", end, s.Passes[0].Kept)
	}
}

func TestBoltsLoosenedFirstWereTightBefore(t *testing.T) {
	s := of(t, bundled(t, "head-retorque"))
	joint, _ := estimate.Joint(s.Procedure.Groups[0])
	a, err := joint.Assess(s.Procedure.Groups[0].Torque.Aim().Nm())
	if err != nil {
		t.Fatal(err)
	}
	for i, n := range s.StartN {
		if math.Abs(n-a.PreloadN) > 1e-6 {
			t.Errorf("%s starts at %v, want %v", s.Bolts[i].ID, n, a.PreloadN)
		}
	}
	if len(s.StartN) != len(s.Bolts) {
		t.Errorf("%d starts for %d bolts", len(s.StartN), len(s.Bolts))
	}
	if closing := of(t, sheetOf(t, "close", "paper", ring, twoPass)); closing.StartN != nil {
		t.Error("a joint put together afresh starts with clamp on it")
	}
}

// What the others let go of, the last ones in carry; in the end nothing carries.
func TestOpeningLoadsTheLastOnesIn(t *testing.T) {
	s := of(t, sheetOf(t, "open", "paper", ring, takenOut))
	worst := s.Overload()
	if !(worst.Ratio > 1.01) || worst.ForceN <= s.StartN[0] || worst.Moved == worst.ID {
		t.Errorf("got %+v", worst)
	}
	end := s.Passes[0]
	for i, f := range end.ForcesN {
		if f != 0 || !math.IsNaN(end.KeptBy[i]) {
			t.Errorf("%s still carries %v", s.Bolts[i].ID, f)
		}
	}
	if end.Kept != (Kept{}) {
		t.Errorf("with all out, kept is %+v", end.Kept)
	}
}

func TestSomethingMissingIsSaid(t *testing.T) {
	whole := sheetOf(t, "close", "paper", ring, twoPass)
	cases := []struct {
		name   string
		change func(*spec.Procedure)
		want   string
	}{
		{"no cover", func(p *spec.Procedure) { p.Cover = nil }, "add [cover] with part, material, thickness (of the metal from the joint face to the bolt heads) and face"},
		{"no class", func(p *spec.Procedure) { p.Groups[0].HasClass = false }, `group "main" has no class; give one`},
		{"no grip", func(p *spec.Procedure) { p.Groups[0].Grip = whole.Groups[0].Bore }, `group "main" has no grip; give the clamp length`},
		{"one place for two", func(p *spec.Procedure) { p.Fasteners[1].X = 0 }, "M1 and M2 are both at [0, 0]; give each its own coordinates"},
		{"one bolt", func(p *spec.Procedure) { p.Groups[0].Members = p.Groups[0].Members[:1] }, "a single bolt has no neighbours"},
		{"a face nobody knows", func(p *spec.Procedure) { p.Cover.Face = "papper" }, `did you mean "paper"?`},
		{"a material nobody knows", func(p *spec.Procedure) { p.Cover.Material = "wood" }, `no cover material "wood"`},
		{"no pass on the cover", func(p *spec.Procedure) { p.Passes = nil }, "no pass moves a bolt of the cover"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := sheetOf(t, "close", "paper", ring, twoPass)
			c.change(p)
			if _, err := Together(p); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q in it", err, c.want)
			}
		})
	}
}

// The steps come in the plan's order, and verify, wait and other groups' stages in none.
func TestStepsFollowThePlan(t *testing.T) {
	s := of(t, bundled(t, "crankcase-close"))
	passes, err := s.passes(plan.Of(s.Procedure))
	if err != nil {
		t.Fatal(err)
	}
	var got, want []string
	for _, p := range passes {
		for _, st := range p.Steps {
			got = append(got, p.Name+"/"+st.BoltID)
		}
	}
	for _, st := range plan.Of(s.Procedure).Stages {
		want = append(want, st.Pass.Name+"/"+st.Fastener.ID)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
	top := of(t, bundled(t, "top-end-close"))
	if len(top.Bolts) != 8 || top.Bolts[0].Group.ID != "head" {
		t.Errorf("%d bolts hold the head", len(top.Bolts))
	}
	if passes, _ := s.passes(plan.Of(s.Procedure)); same(passes, nil) || !same(passes, cloned(passes)) {
		t.Error("same does not tell")
	}
	var _ []neighbours.Round = passes
}

// 200 bolts × 5 passes on five models of face and outline; one history may take 100 ms.
func BenchmarkTwoHundredBolts(b *testing.B) {
	var places, passes strings.Builder
	for i := range 200 {
		fmt.Fprintf(&places, "B%d = [%d, %d]\n", i, 25*(i%20), 25*(i/20))
	}
	for i := range 5 {
		fmt.Fprintf(&passes, "[[pass]]\nname = \"P%d\"\ngroups = [\"main\"]\ntorque = \"%d %%\"\norder = \"spiral\"\n", i, 20*(i+1))
	}
	p := sheetOf(b, "close", "paper", places.String(), passes.String())
	for b.Loop() {
		if s := of(b, p); len(s.Passes) != 5 {
			b.Fatalf("%d passes", len(s.Passes))
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/0.3, "of-300ms")
}
