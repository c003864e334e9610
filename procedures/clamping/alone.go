package clamping

import (
	"fmt"
	"slices"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/clamp"
	"evenpull/spec/estimate"
)

// Load is what a stage leaves in its bolt, its neighbours left out. Forces are newtons.
type Load struct {
	LowN, NominalN, HighN float64 // held at yield where the formula would go past it
	YieldN                float64
	TorqueNm              float64 // the stage's figure, or the snug torque before a turn; 0 for a stretch
	Torque90Nm            float64 // wrench figure at 90 % of yield
	YieldTorqueNm         float64
	Degrees               float64 // turned since the snug torque; 0: none
	Yields                bool    // the nominal figure goes past yield
	MayYield              bool    // the top of the band does
	Method                string
	Assumptions           []string
	Doubts                []clamp.Doubt // about the group's final figure, when this is its last stage
	Warm                  *clamp.Warmed // what running makes of it, when this is the last stage and what is clamped is known
}

// Share is the nominal preload over the preload at yield.
func (l Load) Share() float64 { return l.NominalN / l.YieldN }

// Alone estimates what a stage leaves in its bolt. It is an error, which says what to give, when the stage
// loads nothing or the sheet doesn't say enough.
func Alone(p *plan.Plan, st *plan.Stage) (Load, error) {
	if st.Fastener == nil || !st.Action.Tightens() && st.Action != spec.Verify {
		return Load{}, fmt.Errorf("a stage that is no torque, turn or stretch loads no bolt")
	}
	g := st.Fastener.Group
	joint, known := estimate.Joint(g)
	if !known {
		return Load{}, fmt.Errorf("group %q has no class; give one, such as class = \"8.8\"", g.ID)
	}
	var l Load
	var err error
	switch st.Action {
	case spec.Turn:
		l, err = turned(p, st, joint)
	case spec.Stretch:
		l, err = stretched(p, st, joint)
	default:
		l, err = torqued(joint, st.Target.Torque.Aim().Nm())
	}
	if err == nil && last(p, st) {
		l.Doubts = doubts(p, st, joint)
		if st.Action.Tightens() {
			l.warm(estimate.Grip(p.Procedure, g), joint)
		}
	}
	return l, err
}

// warm adds what running makes of the clamp, where the sheet says what is clamped and how long it is.
func (l *Load) warm(g clamp.Grip, j clamp.Joint) {
	w, err := j.Warm(g, clamp.Band{LowN: l.LowN, NominalN: l.NominalN, HighN: l.HighN}, clamp.Room, clamp.Running)
	if err != nil {
		return // no grip, or nothing known of what is clamped: no finding
	}
	l.Warm = &w
	for _, said := range w.Assumptions {
		if !slices.Contains(l.Assumptions, said) {
			l.Assumptions = append(l.Assumptions, said)
		}
	}
	l.Assumptions = append(l.Assumptions, fmt.Sprintf("%.0f °C is about where an engine runs (common practice, no source)", clamp.Running))
}

func torqued(j clamp.Joint, nm float64) (Load, error) {
	a, err := j.Assess(nm)
	if err != nil {
		return Load{}, err
	}
	return Load{
		LowN: min(a.PreloadLowN, a.YieldPreloadN), NominalN: min(a.PreloadN, a.YieldPreloadN), HighN: min(a.PreloadHighN, a.YieldPreloadN),
		YieldN: a.YieldPreloadN, TorqueNm: nm, Torque90Nm: a.Torque90Nm, YieldTorqueNm: a.YieldTorqueNm,
		Yields: a.Utilisation > 1, MayYield: a.PreloadHighN > a.YieldPreloadN, Method: a.Method, Assumptions: a.Assumptions,
	}, nil
}

// banded takes over what an angle or a stretch leaves, with its own band.
func banded(l Load, t clamp.Turned) Load {
	l.LowN, l.NominalN, l.HighN, l.YieldN = min(t.LowN, t.YieldN), t.PreloadN, min(t.HighN, t.YieldN), t.YieldN
	l.Yields, l.MayYield = t.Yields, t.HighN >= t.YieldN
	l.Method, l.Assumptions = t.Method, t.Assumptions
	return l
}

func turned(p *plan.Plan, st *plan.Stage, j clamp.Joint) (Load, error) {
	g := st.Fastener.Group
	snug, degrees := since(p, st)
	if snug == 0 {
		return Load{}, fmt.Errorf("%s turns %s with no torque before it to count from", st.Pass.Name, st.Fastener.ID)
	}
	if g.Grip.IsZero() {
		return Load{}, fmt.Errorf("group %q has no grip; give the clamp length, such as grip = \"52 mm\"", g.ID)
	}
	l, err := torqued(j, snug)
	if err != nil {
		return Load{}, err
	}
	t, err := j.Turn(estimate.Grip(p.Procedure, g), snug, degrees)
	if err != nil {
		return Load{}, err
	}
	l.Degrees = degrees
	return banded(l, t), nil
}

func stretched(p *plan.Plan, st *plan.Stage, j clamp.Joint) (Load, error) {
	g := st.Fastener.Group
	if g.Grip.IsZero() {
		return Load{}, fmt.Errorf("group %q has no grip; give the clamp length, such as grip = \"52 mm\"", g.ID)
	}
	t, err := j.Stretched(estimate.Grip(p.Procedure, g), st.Target.Stretch.Aim().Mm())
	if err != nil {
		return Load{}, err
	}
	return banded(Load{}, t), nil
}

// since gives the last torque on the bolt and the turns after it, up to this stage.
func since(p *plan.Plan, st *plan.Stage) (snugNm, degrees float64) {
	for _, s := range p.Stages[:st.Number] {
		if s.Fastener != st.Fastener {
			continue
		}
		switch {
		case s.Action == spec.Torque:
			snugNm, degrees = s.Target.Torque.Aim().Nm(), 0
		case s.Action == spec.Turn:
			degrees += s.Target.Turn.Aim().Degrees()
		case s.Action.Frees():
			snugNm, degrees = 0, 0
		}
	}
	return snugNm, degrees
}

// last reports whether no later stage tightens the fastener.
func last(p *plan.Plan, st *plan.Stage) bool {
	for _, s := range p.Stages[st.Number:] {
		if s.Fastener == st.Fastener && s.Action.Tightens() {
			return false
		}
	}
	return true
}

func doubts(p *plan.Plan, st *plan.Stage, j clamp.Joint) []clamp.Doubt {
	final, given := estimate.Final(p.Procedure, st.Fastener.Group)
	if !given {
		return nil
	}
	found, err := j.Plausible(final)
	if err != nil {
		return nil // what the estimate cannot take is no reason to doubt the sheet
	}
	return found
}
