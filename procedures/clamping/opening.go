package clamping

import (
	"cmp"
	"slices"

	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
)

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
func (s *Study) Overload() Overload { return s.overload(s.history[middle]) }

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

// Moment is the most that one of the bolts of a kind carries while a joint is opened, as a
// share of its own proof load: proof stress × (tensile stress area − bore area).
type Moment struct {
	What     string // hollow, weakest, hollow and weakest; "most loaded" when all bolts are alike
	ID       string
	ForceN   float64
	OfProof  float64
	Band     Band   // what OfProof may really be
	Moved    string // the bolt whose stage brought it there; empty: before the first stage
	PassName string
	OfStart  float64 // ForceN over what the bolt held before
}

// Moments are the worst moments of the bolts that must not be left to carry the joint
// alone, in the sheet's own order, the most loaded kind first; nil when closing.
func (s *Study) Moments() []Moment {
	if s.Procedure.Direction != spec.Open {
		return nil
	}
	return s.moments(s.history)
}

func (s *Study) moments(all [modelCount]neighbours.History) []Moment {
	var list []Moment
	for _, kind := range s.watched() {
		list = append(list, s.moment(kind, all))
	}
	slices.SortStableFunc(list, func(a, b Moment) int { return cmp.Compare(b.OfProof, a.OfProof) })
	return list
}

// kind is some of the bolts, by place.
type kind struct {
	what  string
	bolts []int
}

// watched are the hollow and the weakest bolts; all when they are alike and solid.
func (s *Study) watched() []kind {
	weakest, strongest := s.Bolts[0].Group, s.Bolts[0].Group
	for _, b := range s.Bolts {
		if b.Group.ProofLoadN < weakest.ProofLoadN {
			weakest = b.Group
		}
		if b.Group.ProofLoadN > strongest.ProofLoadN {
			strongest = b.Group
		}
	}
	mixed := !spec.SameStrength(weakest, strongest)
	var kinds []kind
	add := func(what string, is func(*spec.Group) bool) {
		k := kind{what: what}
		for i, b := range s.Bolts {
			if is(b.Group) {
				k.bolts = append(k.bolts, i)
			}
		}
		if len(k.bolts) == 0 {
			return
		}
		if n := len(kinds); n > 0 && slices.Equal(kinds[n-1].bolts, k.bolts) {
			kinds[n-1].what += " and " + what
			return
		}
		kinds = append(kinds, k)
	}
	add("hollow", (*spec.Group).Hollow)
	add("weakest", func(g *spec.Group) bool { return mixed && spec.SameStrength(g, weakest) })
	if len(kinds) == 0 {
		add("most loaded", func(*spec.Group) bool { return true })
	}
	return kinds
}

// moment finds the worst moment of a kind of bolts on the middle model, and its band on
// all; up to yield for a joint outside of what was compared with solids.
func (s *Study) moment(k kind, all [modelCount]neighbours.History) Moment {
	var shares []float64 // the same bolt's peak on every model, over what it held before
	worst := s.peak(k, all[middle])
	at := s.index[worst.ID].place
	for _, h := range all {
		shares = append(shares, s.peakOf(at, h).OfStart)
	}
	low, high := neighbours.Band(shares...)
	before := s.StartN[at] / s.Bolts[at].Group.ProofLoadN
	worst.Band = Band{max(low, 1) * before, high * before}
	if s.uncompared != "" {
		worst.Band.High = s.Bolts[at].YieldN / s.Bolts[at].Group.ProofLoadN
	}
	worst.What = k.what
	return worst
}

func (s *Study) peak(k kind, h neighbours.History) Moment {
	var worst Moment
	for _, i := range k.bolts {
		if m := s.peakOf(i, h); m.OfProof > worst.OfProof {
			worst = m
		}
	}
	return worst
}

// peakOf is the most a bolt carries, before the first stage or after any.
func (s *Study) peakOf(bolt int, h neighbours.History) Moment {
	b, peak := s.Bolts[bolt], h.Peaks()[bolt]
	m := Moment{ID: b.ID, ForceN: s.StartN[bolt]}
	if peak.ForceN > m.ForceN {
		pass := h.Passes[peak.Pass]
		m.ForceN, m.Moved, m.PassName = peak.ForceN, pass.Stages[peak.Stage].Step.BoltID, pass.Name
	}
	m.OfProof, m.OfStart = m.ForceN/b.Group.ProofLoadN, m.ForceN/s.StartN[bolt]
	return m
}
