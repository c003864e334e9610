package clamping

import (
	"fmt"
	"math"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
)

// Outcome is what one way of walking the joint leaves.
type Outcome struct {
	Name    string
	Strokes int
	Kept    Kept     // at the end, when closing
	Band    Band     // what Kept.Lowest may really be
	Worst   Overload // the most any bolt carried over its start, when opening
	Moment  Moment   // the worst moment of the bolts that matter most then
	Told    bool     // whether the estimate can tell it from the sheet's way
}

// way is a named run of passes.
type way struct {
	Name   string
	Passes []neighbours.Round
}

// Compare walks the same joint in the sheet's order and in others, with one torque pass
// fewer and one more. Ways that come to the sheet's own steps are left out.
func (s *Study) Compare() ([]Outcome, error) {
	sheet, err := s.passes(s.plan)
	if err != nil {
		return nil, err
	}
	ways := []way{{"the sheet's order", sheet}}
	kinds := []string{"cross", "spiral", "listed"}
	if s.Procedure.Direction == spec.Open {
		kinds = []string{"cross", "spiral", "reverse", "listed"}
	}
	for _, kind := range kinds {
		passes, err := s.passes(plan.Of(reordered(s.Procedure, kind)))
		if err != nil {
			return nil, err
		}
		ways = append(ways, way{"every pass " + kind, passes})
	}
	if s.Procedure.Direction == spec.Close {
		ways = append(ways,
			way{"one torque pass only", onlyLast(sheet)},
			way{"last torque pass once more", again(sheet)})
	}
	return s.outcomes(ways)
}

func (s *Study) outcomes(ways []way) ([]Outcome, error) {
	var list []Outcome
	for i, w := range ways {
		if i > 0 && same(w.Passes, ways[0].Passes) {
			continue
		}
		all, _, err := s.runAll(w.Passes)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", w.Name, err)
		}
		o := s.outcome(w, all)
		if len(list) > 0 {
			o.Told = s.tells(list[0], o)
		}
		list = append(list, o)
	}
	return list, nil
}

func (s *Study) outcome(way way, all [modelCount]neighbours.History) Outcome {
	o := Outcome{Name: way.Name, Worst: s.overload(all[middle])}
	for _, p := range way.Passes {
		o.Strokes += len(p.Steps)
	}
	if s.Procedure.Direction == spec.Open {
		o.Moment = s.moments(all)[0]
		return o
	}
	var kept [modelCount][]Held
	for i, h := range all {
		kept[i] = s.results(h)
	}
	end := len(kept[middle]) - 1
	o.Kept, o.Band = kept[middle][end].Kept, s.lowest(kept, end)
	return o
}

// tells reports whether two ways differ by more than either's band is wide.
func (s *Study) tells(one, other Outcome) bool {
	off, width := one.Kept.Lowest-other.Kept.Lowest, max(one.Band.Width(), other.Band.Width())
	if s.Procedure.Direction == spec.Open {
		off, width = one.Moment.OfProof-other.Moment.OfProof, max(one.Moment.Band.Width(), other.Moment.Band.Width())
	}
	return math.Abs(off) > width
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
func lastDraws(passes []neighbours.Round) map[string]int {
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
func onlyLast(passes []neighbours.Round) []neighbours.Round {
	last := lastDraws(passes)
	var list []neighbours.Round
	for i, p := range passes {
		kept := neighbours.Round{Name: p.Name}
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
func again(passes []neighbours.Round) []neighbours.Round {
	last := lastDraws(passes)
	var list []neighbours.Round
	for i, p := range passes {
		list = append(list, p)
		repeat := neighbours.Round{Name: p.Name + ", once more"}
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

func same(a, b []neighbours.Round) bool {
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
