package clamping

import (
	"fmt"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/estimate"
)

// passes turns the stages of a plan that touch the cover's bolts into steps of
// the plate model; passes without any are left out.
func (s *Study) passes(p *plan.Plan) ([]neighbours.Round, error) {
	var list []neighbours.Round
	var now *spec.Pass
	for _, st := range p.Stages {
		if st.Fastener == nil || s.index[st.Fastener.ID] == nil {
			continue
		}
		step, moves, err := s.step(st)
		if err != nil {
			return nil, fmt.Errorf("pass %q, %s: %w", st.Pass.Name, st.Fastener.ID, err)
		}
		if !moves {
			continue
		}
		if st.Pass != now {
			now = st.Pass
			list = append(list, neighbours.Round{Name: now.Name})
		}
		last := &list[len(list)-1]
		last.Steps = append(last.Steps, step)
	}
	return list, nil
}

// step is one stage as the plate model takes it; a stage that is only felt or
// waited for moves nothing.
func (s *Study) step(st *plan.Stage) (step neighbours.Step, moves bool, err error) {
	step.BoltID = st.Fastener.ID
	g := st.Fastener.Group
	switch st.Action {
	case spec.Torque:
		step.Kind = neighbours.Draw
		step.ForceN, err = s.preload(g, st.Target.Torque.Aim().Nm())
	case spec.Turn:
		step.Kind, step.TravelMM = neighbours.Turn, g.Thread.PitchMM*st.Target.Turn.Aim().Degrees()/360
	case spec.Stretch:
		step.Kind = neighbours.Draw
		joint, _ := estimate.Joint(g)
		t, failed := joint.Stretched(estimate.Grip(s.Procedure, g), st.Target.Stretch.Aim().Mm())
		step.ForceN, err = t.PreloadN, failed
	case spec.Remove:
		step.Kind = neighbours.Loosen
	case spec.Loosen:
		step.Kind = neighbours.Loosen
		if !st.Target.Fully {
			step.Kind, step.TravelMM = neighbours.Turn, -g.Thread.PitchMM*st.Target.Turn.Aim().Degrees()/360
		}
	default:
		return step, false, nil
	}
	return step, true, err
}

// preload is what a torque draws a bolt of the group to, at most its yield.
func (s *Study) preload(g *spec.Group, nm float64) (float64, error) {
	key := preloadKey{g, nm}
	if n, ok := s.preloads[key]; ok {
		return n, nil
	}
	joint, _ := estimate.Joint(g)
	a, err := joint.Assess(nm)
	if err != nil {
		return 0, err
	}
	s.preloads[key] = min(a.PreloadN, a.YieldPreloadN)
	return s.preloads[key], nil
}

type preloadKey struct {
	group *spec.Group
	nm    float64
}

// run walks the joint through the passes, from all out or from StartN. A bolt
// that a turn would take past yield is drawn to its yield instead: the elastic
// model knows no yield. Each round holds at least one turn more, so it ends. A
// neighbour held so leaves a bolt as much or a hair less (an endless plate lifts
// a little farther off), so a turn once held is not tried again; and what a
// neighbour adds to a bolt at yield, a hair too, is left on it.
func (s *Study) run(m *neighbours.Model, passes []neighbours.Round) (h neighbours.History, held int, err error) {
	passes = cloned(passes)
	for {
		if s.StartN == nil {
			h, err = m.Tighten(passes)
		} else {
			h, err = m.Loosen(s.StartN, passes)
		}
		if err != nil {
			return h, held, err
		}
		more := s.hold(h, passes)
		if more == 0 {
			return h, held, nil
		}
		held += more
	}
}

// hold replaces the turns that went past yield, and counts them.
func (s *Study) hold(h neighbours.History, passes []neighbours.Round) int {
	count := 0
	for p := range passes {
		for i := range passes[p].Steps {
			step := &passes[p].Steps[i]
			if step.Kind != neighbours.Turn || step.TravelMM <= 0 {
				continue
			}
			b := s.index[step.BoltID]
			if h.Passes[p].Stages[i].ForcesN[b.place] > b.YieldN {
				*step = neighbours.Step{BoltID: step.BoltID, Kind: neighbours.Draw, ForceN: b.YieldN}
				count++
			}
		}
	}
	return count
}

func cloned(passes []neighbours.Round) []neighbours.Round {
	list := make([]neighbours.Round, len(passes))
	for i, p := range passes {
		list[i] = neighbours.Round{Name: p.Name, Steps: append([]neighbours.Step(nil), p.Steps...)}
	}
	return list
}
