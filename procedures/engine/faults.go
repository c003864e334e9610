package engine

import (
	"cmp"
	"slices"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Fault is a finding of a strip-down that no close-up has answered yet.
type Fault struct {
	walk.Fault
	Procedure string `json:"procedure"`
	Place     string `json:"place,omitempty"`
}

// settledFault tells one finding from another at the same check: answered anew,
// it has another time.
type settledFault struct {
	step ident.Step
	at   int64
}

func faultKey(f walk.Fault) settledFault { return settledFault{f.Step(), f.At.UnixNano()} }

// findings gathers what strip-downs found wrong, but for what a close-up has
// answered, whatever the clocks of the two say.
func (e *Engine) findings() {
	answered := map[settledFault]bool{}
	for _, w := range e.Walks {
		if w.State == nil || w.Direction != spec.Close {
			continue
		}
		for i, it := range w.State.Items {
			if it.Kind == walk.FaultItem && w.State.Mark(i).Closed {
				answered[faultKey(*it.Fault)] = true
			}
		}
	}
	e.Faults = nil
	for _, w := range e.Walks {
		if w.State == nil || w.Direction != spec.Open {
			continue
		}
		for _, f := range w.State.Faults() {
			f.Said = w.State.SaidAt(ident.CheckStep(f.ID))
			f.Record = w.ID
			e.repairs(w, &f)
			anew := slices.ContainsFunc(e.inside, func(said Fault) bool { return said.Step() == f.Step() })
			if !anew && !answered[faultKey(f)] {
				e.Faults = append(e.Faults, Fault{f, w.Procedure, w.Place})
			}
		}
	}
	for _, f := range e.inside {
		if !answered[faultKey(f.Fault)] {
			e.Faults = append(e.Faults, f)
		}
	}
	slices.SortStableFunc(e.Faults, func(a, b Fault) int { return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Record, b.Record)) })
}

// repairs puts to a finding what has been said since of what it is of, and the work
// that was done on it.
func (e *Engine) repairs(w Walk, f *walk.Fault) {
	i, ok := w.State.Find(ident.CheckStep(f.ID).String())
	if !ok {
		return
	}
	for _, of := range w.State.Items[i].Check.Of {
		for _, t := range e.Off {
			if t.Record != w.ID || t.Thing != of.At(w.Place) {
				continue
			}
			f.Said = append(f.Said, t.Said...)
			if n := len(t.work); n > 0 && t.work[n-1].at.After(f.At) {
				f.Work, f.By = t.work[n-1].what, t.work[n-1].by
			}
		}
	}
	slices.SortStableFunc(f.Said, func(a, b walk.Said) int { return a.At.Compare(b.At) })
}

// FaultsFor is what a close walk of p has to answer: the findings of the
// strip-downs that p closes best of all the procedures there are.
func (e Engine) FaultsFor(p *spec.Procedure) []walk.Fault {
	var list []walk.Fault
	for _, f := range e.Faults {
		if e.closesBest(p, f.Record) {
			list = append(list, f.Fault)
		}
	}
	return list
}

// closesBest reports whether p shares something with the sheet of a strip-down,
// and no other procedure more.
func (e Engine) closesBest(p *spec.Procedure, record string) bool {
	mine := e.sharesStripDown(p, record)
	return mine > 0 && !slices.ContainsFunc(e.closers(), func(other *spec.Procedure) bool {
		return other.Name != p.Name && e.sharesStripDown(other, record) > mine
	})
}
