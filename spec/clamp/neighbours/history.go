package neighbours

import "fmt"

// Kind is what a step does to its bolt.
type Kind byte

const (
	Set    Kind = iota // brings the bolt to ForceN exactly, up or down; 0 takes it out
	Draw               // a click wrench: raises to ForceN, leaves a bolt alone that carries more
	Loosen             // lowers to ForceN, leaves a bolt alone that carries less; 0 takes it out
	Turn               // moves the thread by TravelMM, under 0 to loosen; a bolt loosened past nothing stays in, slack
)

// Step is one stage on one bolt.
type Step struct {
	BoltID   string
	Kind     Kind
	ForceN   float64 // Set, Draw, Loosen: 0 or more (Draw: over 0)
	TravelMM float64 // Turn: pitch × angle/360°
}

// Round is a named run of steps, in order.
type Round struct {
	Name  string
	Steps []Step
}

// After is the joint right after one step.
type After struct {
	Step    Step
	ForcesN []float64 // residual clamp of every bolt, in the order of BoltIDs; 0 for out or slack
}

// RoundResult is one pass, stage by stage, and the joint at its end.
type RoundResult struct {
	Name   string
	Stages []After
	End    Summary
}

// History is what every stage of a run of passes left on every bolt.
type History struct {
	BoltIDs []string
	Passes  []RoundResult
}

// EndN returns the clamp in N on every bolt after the last stage, nil before any.
func (h History) EndN() []float64 {
	for i := len(h.Passes) - 1; i >= 0; i-- {
		if s := h.Passes[i].Stages; len(s) > 0 {
			return s[len(s)-1].ForcesN
		}
	}
	return nil
}

// Tighten walks the joint through the passes from all bolts out. It fails,
// naming pass and step, on an unknown bolt, a figure that is not finite or out of
// range, or no passes. Cost for n bolts: n³ for the first pass, n² for each later
// one; n² for every bolt that comes out or falls slack.
func (m *Model) Tighten(passes []Round) (History, error) {
	return m.run(m.newState(), passes)
}

// Loosen walks the joint through the passes from bolts that carry startN (N, in
// the order of the joint's bolts, 0 for a bolt that is out). It fails as Tighten
// does, and on forces that are negative, not finite or of the wrong number.
func (m *Model) Loosen(startN []float64, passes []Round) (History, error) {
	if len(startN) != len(m.bolts) {
		return History{}, fmt.Errorf("%d starting forces for %d bolts; give one for each bolt", len(startN), len(m.bolts))
	}
	s := m.newState()
	for i, f := range startN {
		if !(f >= 0) || !finite(f) {
			return History{}, fmt.Errorf("bolt %q starts at %v N; give a finite force, 0 or more", m.bolts[i].ID, f)
		}
		if f > 0 {
			s.set(i, carrying)
			s.force[i] = f
		}
	}
	return m.run(s, passes)
}

// maxKept bounds the forces a history holds, 160 MB of them: passes come from files
// of strangers.
const maxKept = 20_000_000

func (m *Model) run(s *state, passes []Round) (History, error) {
	if len(passes) == 0 {
		return History{}, fmt.Errorf("no passes; give at least one with a step")
	}
	steps := 0
	for _, p := range passes {
		steps += len(p.Steps)
	}
	if steps > maxKept/s.n {
		return History{}, fmt.Errorf("%d steps on %d bolts; at most %d steps can be kept", steps, s.n, maxKept/s.n)
	}
	h := History{BoltIDs: make([]string, s.n), Passes: make([]RoundResult, len(passes))}
	for i, b := range m.bolts {
		h.BoltIDs[i] = b.ID
	}
	targets := make([]float64, s.n)
	for i, p := range passes {
		stages, err := m.runPass(s, p, targets)
		if err != nil {
			return History{}, err
		}
		h.Passes[i] = RoundResult{Name: p.Name, Stages: stages, End: m.summary(s, targets)}
	}
	return h, nil
}

// runPass takes the steps of one pass and keeps the last target of every bolt.
func (m *Model) runPass(s *state, p Round, targets []float64) ([]After, error) {
	stages := make([]After, len(p.Steps))
	kept := make([]float64, len(p.Steps)*s.n) // one block for all stages
	for i, step := range p.Steps {
		k, err := m.checkStep(step)
		if err == nil {
			err = s.take(k, step)
		}
		if err != nil {
			return nil, fmt.Errorf("pass %q, step %d: %w", p.Name, i+1, err)
		}
		targets[k] = step.ForceN
		if step.Kind == Turn {
			targets[k] = 0
		}
		forces := kept[i*s.n : (i+1)*s.n : (i+1)*s.n]
		copy(forces, s.force)
		stages[i] = After{Step: step, ForcesN: forces}
	}
	return stages, nil
}

func (m *Model) checkStep(step Step) (int, error) {
	k, known := m.index[step.BoltID]
	switch {
	case !known:
		return 0, fmt.Errorf("no bolt %q in this joint; %s", step.BoltID, suggestion(step.BoltID, m.ids()))
	case step.Kind > Turn:
		return 0, fmt.Errorf("bolt %q has step kind %d; write Set, Draw, Loosen or Turn", step.BoltID, step.Kind)
	case !finite(step.ForceN) || step.ForceN < 0:
		return 0, fmt.Errorf("bolt %q has force %v N; give a finite force, 0 or more", step.BoltID, step.ForceN)
	case step.Kind == Draw && step.ForceN == 0:
		return 0, fmt.Errorf("bolt %q is to be drawn to 0 N; give a force over 0, or Loosen", step.BoltID)
	case !finite(step.TravelMM):
		return 0, fmt.Errorf("bolt %q is turned by %v mm of thread; give a finite travel", step.BoltID, step.TravelMM)
	}
	return k, nil
}

func (m *Model) ids() []string {
	ids := make([]string, len(m.bolts))
	for i, b := range m.bolts {
		ids[i] = b.ID
	}
	return ids
}

// take does one checked step on bolt k.
func (s *state) take(k int, step Step) error {
	switch step.Kind {
	case Turn:
		return s.turn(k, step.TravelMM)
	case Draw:
		if s.force[k] >= step.ForceN {
			return nil
		}
	case Loosen:
		if s.force[k] <= step.ForceN && step.ForceN > 0 {
			return nil
		}
	}
	if step.ForceN > 0 {
		return s.drawTo(k, step.ForceN)
	}
	if s.hold[k] == carrying {
		if err := s.drawTo(k, 0); err != nil {
			return err
		}
	}
	s.set(k, out)
	return nil
}
