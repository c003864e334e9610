package clamping

import (
	"fmt"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
)

// Outcome is what one way of walking the joint leaves.
type Outcome struct {
	Name    string
	Strokes int
	Kept    Kept     // at the end, when closing
	Worst   Overload // the most any bolt carried over its start, when opening
}

// Overload is the bolt that carries most for what it held before the opening.
type Overload struct {
	ID       string
	Ratio    float64 // of its force before; 1: never more
	ForceN   float64
	OfYield  float64
	Moved    string // the bolt whose stage brought it there
	PassName string
}

// Overload finds the worst moment of the sheet's own order; zero when closing.
func (s *Study) Overload() Overload { return s.overload(s.history) }

func (s *Study) overload(h neighbours.History) Overload {
	var worst Overload
	if s.Procedure.Direction != spec.Open {
		return worst
	}
	for _, p := range h.Passes {
		for _, st := range p.Stages {
			for i, f := range st.ForcesN {
				if ratio := f / s.StartN[i]; ratio > worst.Ratio {
					worst = Overload{s.Bolts[i].ID, ratio, f, f / s.Bolts[i].YieldN, st.Step.BoltID, p.Name}
				}
			}
		}
	}
	return worst
}

// Compare walks the same joint in the sheet's order and in others, with one torque pass
// fewer and one more. Ways that come to the sheet's own steps are left out.
func (s *Study) Compare() ([]Outcome, error) {
	sheet, err := s.passes(s.plan)
	if err != nil {
		return nil, err
	}
	ways := []neighbours.Order{{Name: "the sheet's order", Passes: sheet}}
	kinds := []string{"cross", "spiral", "listed"}
	if s.Procedure.Direction == spec.Open {
		kinds = []string{"cross", "spiral", "reverse", "listed"}
	}
	for _, kind := range kinds {
		passes, err := s.passes(plan.Of(reordered(s.Procedure, kind)))
		if err != nil {
			return nil, err
		}
		ways = append(ways, neighbours.Order{Name: "every pass " + kind, Passes: passes})
	}
	if s.Procedure.Direction == spec.Close {
		ways = append(ways,
			neighbours.Order{Name: "one torque pass only", Passes: onlyLast(sheet)},
			neighbours.Order{Name: "last torque pass once more", Passes: again(sheet)})
	}
	return s.outcomes(ways)
}

func (s *Study) outcomes(ways []neighbours.Order) ([]Outcome, error) {
	var list []Outcome
	for i, w := range ways {
		if i > 0 && same(w.Passes, ways[0].Passes) {
			continue
		}
		h, _, err := s.run(s.models[0], w.Passes)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", w.Name, err)
		}
		o := Outcome{Name: w.Name, Worst: s.overload(h)}
		for _, p := range w.Passes {
			o.Strokes += len(p.Steps)
		}
		results := s.results(h)
		o.Kept = results[len(results)-1].Kept
		list = append(list, o)
	}
	return list, nil
}

// reordered is the procedure with every pass in a named order.
func reordered(p *spec.Procedure, kind string) *spec.Procedure {
	out := *p
	out.Passes = make([]*spec.Pass, len(p.Passes))
	for i, pass := range p.Passes {
		changed := *pass
		changed.Order = spec.Order{Kind: kind}
		out.Passes[i] = &changed
	}
	return &out
}

// lastDraws finds the pass in which each bolt is last drawn to a torque.
func lastDraws(passes []neighbours.Pass) map[string]int {
	last := map[string]int{}
	for i, p := range passes {
		for _, st := range p.Steps {
			if st.Kind == neighbours.Draw {
				last[st.BoltID] = i
			}
		}
	}
	return last
}

// onlyLast leaves out what a bolt went through before its last torque.
func onlyLast(passes []neighbours.Pass) []neighbours.Pass {
	last := lastDraws(passes)
	var list []neighbours.Pass
	for i, p := range passes {
		kept := neighbours.Pass{Name: p.Name}
		for _, st := range p.Steps {
			if at, drawn := last[st.BoltID]; !drawn || i >= at {
				kept.Steps = append(kept.Steps, st)
			}
		}
		if len(kept.Steps) > 0 {
			list = append(list, kept)
		}
	}
	return list
}

// again repeats, right after it, each pass that gives some bolt its last torque.
func again(passes []neighbours.Pass) []neighbours.Pass {
	last := lastDraws(passes)
	var list []neighbours.Pass
	for i, p := range passes {
		list = append(list, p)
		repeat := neighbours.Pass{Name: p.Name + ", once more"}
		for _, st := range p.Steps {
			if at, drawn := last[st.BoltID]; st.Kind == neighbours.Draw && drawn && at == i {
				repeat.Steps = append(repeat.Steps, st)
			}
		}
		if len(repeat.Steps) > 0 {
			list = append(list, repeat)
		}
	}
	return list
}

func same(a, b []neighbours.Pass) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if len(a[i].Steps) != len(b[i].Steps) {
			return false
		}
		for j := range a[i].Steps {
			if a[i].Steps[j] != b[i].Steps[j] {
				return false
			}
		}
	}
	return true
}
