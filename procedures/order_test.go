package procedures

import (
	"slices"
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec"
)

// sequence gives the fasteners of one pass in planned order, once each.
func sequence(t *testing.T, p *spec.Procedure, pass string) []string {
	t.Helper()
	var ids []string
	for _, s := range plan.Of(p).Stages {
		if s.Pass.Name == pass && s.Step == 0 && s.Fastener != nil {
			ids = append(ids, s.Fastener.ID)
		}
	}
	if len(ids) == 0 {
		t.Fatalf("%s: no stages in pass %q", p.File, pass)
	}
	return ids
}

// kinds shortens a sequence to its runs: "feed rim main".
func kinds(p *spec.Procedure, ids []string) string {
	var runs []string
	for _, id := range ids {
		if g := p.Fastener(id).Group.ID; len(runs) == 0 || runs[len(runs)-1] != g {
			runs = append(runs, g)
		}
	}
	return strings.Join(runs, " ")
}

func TestCrankcaseOpensHollowFirstThenWeakThenStrong(t *testing.T) {
	p := load(t, "crankcase-open")
	stages := plan.Of(p).Stages
	if s := stages[0]; s.Fastener.ID != "F1" || !s.Fastener.Group.Hollow() || s.Action != spec.Loosen {
		t.Errorf("first stage is %s %s, want the hollow F1 loosened", s.Fastener.ID, s.Action)
	}
	if s := stages[1]; s.Fastener.ID != "F1" || s.Action != spec.Remove {
		t.Errorf("second stage is %s %s, want F1 right out", s.Fastener.ID, s.Action)
	}
	for _, pass := range []string{"Slacken", "Take out"} {
		if got := kinds(p, sequence(t, p, pass)); got != "rim main" {
			t.Errorf("%s: %s, want the weak rim, then the strong mains", pass, got)
		}
	}
}

func TestCrankcaseClosesWeakFirstAndHollowLast(t *testing.T) {
	p := load(t, "crankcase-close")
	if rim, main := p.Group("rim").ProofLoadN, p.Group("main").ProofLoadN; rim >= main {
		t.Fatalf("rim %.0f N is not weaker than main %.0f N", rim, main)
	}
	if got := kinds(p, sequence(t, p, "Draw down")); got != "rim main" {
		t.Errorf("draw down: %s", got)
	}
	final := sequence(t, p, "Final")
	if got := kinds(p, final); got != "rim main feed" {
		t.Errorf("final: %s", got)
	}
	stages := plan.Of(p).Stages
	if last := stages[len(stages)-1]; last.Fastener.ID != "F1" {
		t.Errorf("last stage is %s, want the hollow F1", last.Fastener.ID)
	}
	// The mains go from the middle of the crank outwards, crossing it each time.
	if got, want := final[10:18], []string{"B1", "B2", "B4", "B6", "B5", "B7", "B8", "B3"}; !slices.Equal(got, want) {
		t.Errorf("mains: %v, want %v", got, want)
	}
	feed := p.Group("feed")
	if w := feed.With[0]; w.Count != 2 || !w.OneUse {
		t.Errorf("feed bolt: %+v, want two one-use sealing washers", w)
	}
	for _, s := range stages {
		if s.Pass.Name == "Draw down" && s.Target.Torque.High.Nm() > 0.5*s.Fastener.Group.Torque.High.Nm() {
			t.Errorf("draw down of %s to %s is not light", s.Fastener.ID, s.TargetText())
		}
	}
	if p.Sealant == nil || p.Sealant.WorkTime.Minutes() != 20 || p.Sealant.CureTime.Hours() != 12 || p.Sealant.Before.Name != "Draw down" {
		t.Errorf("sealant: %+v", p.Sealant)
	}
}

func TestHeadGoesTorqueThenTwoTurnsFromTheMiddle(t *testing.T) {
	p := load(t, "head-torque-turn")
	head := p.Group("head")
	if !head.OneUse || len(head.Members) != 10 {
		t.Errorf("%d head bolts, one-use %v; want 10 one-use bolts", len(head.Members), head.OneUse)
	}
	var actions []spec.Action
	for _, s := range plan.Of(p).Stages {
		if s.Fastener.ID == "H1" {
			actions = append(actions, s.Action)
		}
	}
	if want := []spec.Action{spec.Torque, spec.Torque, spec.Turn, spec.Turn}; !slices.Equal(actions, want) {
		t.Errorf("H1: %v, want %v", actions, want)
	}
	first := sequence(t, p, "First turn")
	if got := sequence(t, p, "Second turn"); !slices.Equal(got, first) {
		t.Errorf("second turn goes %v, the first %v", got, first)
	}
	middle, ends := first[:2], first[6:]
	slices.Sort(ends)
	if !slices.Equal(middle, []string{"H9", "H10"}) || !slices.Equal(ends, []string{"H5", "H6", "H7", "H8"}) {
		t.Errorf("spiral %v does not go from the middle to the ends", first)
	}
}

func TestHeadIsRetorquedOneBoltAtATime(t *testing.T) {
	p := load(t, "head-retorque")
	stages := plan.Of(p).Stages
	if len(stages) != 3*len(p.Fasteners) {
		t.Fatalf("%d stages for %d bolts", len(stages), len(p.Fasteners))
	}
	for i, s := range stages {
		want := []spec.Action{spec.Loosen, spec.Torque, spec.Turn}[i%3]
		if s.Fastener != stages[i-i%3].Fastener || s.Action != want {
			t.Errorf("stage %d: %s %s, want %s on %s", s.Number, s.Action, s.Fastener.ID, want, stages[i-i%3].Fastener.ID)
		}
	}
}

func TestFlywheelNutIsOneUseAndDrawnInStages(t *testing.T) {
	for name, left := range map[string]bool{"flywheel-nut": false, "flywheel-nut-left": true} {
		p := load(t, name)
		g := p.Group("nut")
		if g.LeftHand != left || !g.OneUse || len(g.With) != 1 || !g.With[0].OneUse {
			t.Errorf("%s: left %v, one-use %v, with %+v", name, g.LeftHand, g.OneUse, g.With)
		}
		if !strings.Contains(g.Prep, "both faces") {
			t.Errorf("%s: %q does not oil the tab washer on both faces", name, g.Prep)
		}
		last := 0.0
		for _, s := range plan.Of(p).Stages {
			nm := s.Target.Torque.High.Nm()
			if nm <= last {
				t.Errorf("%s: %s does not go up from %.4g N·m", name, s.TargetText(), last)
			}
			last = nm
		}
		if last < 195 || last > 205 {
			t.Errorf("%s ends at %.4g N·m, want about 200", name, last)
		}
	}
}

func TestRodBoltsEndInAStretchWithACeiling(t *testing.T) {
	p := load(t, "rod-bolts")
	for _, s := range plan.Of(p).Stages[len(p.Fasteners):] {
		st := s.Target.Stretch
		if s.Action != spec.Stretch || st.Low.Mm() != 0.12 || st.High.Mm() != 0.15 || s.Target.Ceiling == nil || s.Target.Ceiling.Nm() != 36 {
			t.Errorf("%s: %s", s.Fastener.ID, s.TargetText())
		}
	}
	// Elastic: strain × modulus over the grip and half the engaged thread stays
	// under yield (205 GPa; engaged length: common practice, no source).
	g := p.Group("rod")
	_, yield, _, _ := g.Class.Strength(g.Thread)
	if mpa := 0.15 / (g.Grip.Mm() + g.Engagement.Mm()/2) * 205_000; mpa > 0.85*yield {
		t.Errorf("0.15 mm means %.0f MPa in a bolt that yields at %.0f", mpa, yield)
	}
}
