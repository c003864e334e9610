package walk

import (
	"slices"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// bring takes in what the engine brings; a later one replaces an earlier one,
// but what was settled in this walk stays so, unless it came off again since.
// It cannot be undone, nor anything before it.
func (s *State) bring(e Event) {
	s.history = nil
	anew := s.bringFaults(e.Faults)
	if s.carried == nil {
		s.carried, s.loosed, s.cased = map[ident.Thing]*thing{}, map[ident.Thing]string{}, map[ident.Thing]string{}
	}
	s.forget(e.Brought)
	var apart []ident.Thing
	for _, c := range e.Brought {
		t := s.NameCarried(c)
		if s.takenApart(t, c) {
			apart = append(apart, t)
		}
		if c.Loose {
			s.loosed[t] = c.letGo()
			continue
		}
		old := s.carried[t]
		switch {
		case old == nil:
			s.carried[t] = &thing{Carried: c}
			s.order = append(s.order, t)
		case old.Record != c.Record && !s.lenient():
			*old = thing{Carried: c} // it came off again: nothing said before holds
		default:
			old.Carried = c
		}
	}
	if s.answers() && (len(s.extras()) > 0 || s.Course != s.sheet) {
		s.relay()
		for _, step := range anew {
			s.put(s.itemOf(step.String()), unmarked)
		}
	}
	var c change
	s.apart(&c, e, apart)
	for _, brought := range e.Brought {
		s.stripCase(&c, s.NameCarried(brought), brought)
	}
	for _, brought := range e.Brought {
		if !brought.Loose {
			s.weigh(&c, s.NameCarried(brought), brought)
		}
	}
}

// stripCase asks for a thread in the case to be made good, once for each record that
// says it was stripped.
func (s *State) stripCase(c *change, t ident.Thing, brought Carried) {
	if brought.Case != "" && s.cased[t] != brought.Case && s.hasPlace(t) && !s.lenient() {
		s.cased[t] = brought.Case
		s.undoFor(c, CaseStripped, "its thread in the case was stripped", t)
	}
}

// weigh asks for new ones of what was condemned of a thing, and no more for what is not.
func (s *State) weigh(c *change, t ident.Thing, brought Carried) {
	if s.Plan.Procedure.Direction != spec.Close && !s.lenient() || s.carried[t].settled != "" && !s.lenient() {
		return
	}
	names := brought.condemnedNames()
	s.acquit(c, t, names...)
	for _, name := range names {
		s.condemn(c, t, brought, name)
	}
}

// forget drops what is no longer off the engine: another walk has had it.
func (s *State) forget(list []Carried) {
	still := map[ident.Thing]bool{}
	for _, c := range list {
		still[s.NameCarried(c)] = true
	}
	var c change
	s.order = slices.DeleteFunc(s.order, func(t ident.Thing) bool {
		if still[t] || s.carried[t].settled != "" || s.carried[t].Record == "" { // found in this very walk
			return false
		}
		delete(s.carried, t)
		s.acquit(&c, t)
		return true
	})
}

// letGo tells one letting go from the next.
func (c Carried) letGo() string { return c.Record + " " + c.At.UTC().Format(time.RFC3339Nano) }

// takenApart: another walk has taken off, or let go, what this one had tightened
// or fitted; it is news if this walk was not told of that record before.
func (s *State) takenApart(t ident.Thing, c Carried) bool {
	if s.lenient() || s.Plan.Procedure.Direction != spec.Close {
		return false
	}
	if old := s.carried[t]; old != nil && old.Record == c.Record || c.Loose && s.loosed[t] == c.letGo() {
		return false
	}
	if t.IsFastener() {
		return s.hasPlace(t) && s.tightened(t.ID)
	}
	i, ok := s.places[t]
	return ok && s.marks[i].Closed
}

// apart reopens what another walk has taken apart, and the sealed joint if
// nothing is left that holds it.
func (s *State) apart(c *change, e Event, things []ident.Thing) {
	if len(things) == 0 {
		return
	}
	names := make([]string, len(things))
	for i, t := range things {
		names[i] = t.ID
	}
	s.deviate(e, "taken apart again by another walk: "+strings.Join(names, ", ")+"; to be done again")
	s.undoFor(c, ApartAgain, "it was taken apart again", things...)
	if s.smear < 0 || !s.marks[s.smear].Closed {
		return
	}
	for _, f := range s.Plan.Procedure.Fasteners {
		if stages := s.StagesOf(f.ID); len(stages) > 0 && stages[0] > s.smear && s.tightened(f.ID) {
			return
		}
	}
	s.undoWhole(c, SealedAfresh, "the joint was taken apart again")
}

// condemn asks for a new one of something that was condemned at strip-down, and
// where it is in already, starts that again.
func (s *State) condemn(c *change, t ident.Thing, brought Carried, name string) {
	why, count := Condemns(brought.Facts, brought.Seen), brought.Count
	for _, p := range brought.Pieces {
		if name == brought.Name+", "+p.Piece {
			why, count = Condemns(p.Facts, nil), 1
		}
	}
	at := s.pieceNamed(t, name)
	if at < 0 {
		p := Renewable{Name: name, Count: count}
		if t.IsFastener() {
			p.Fastener, p.Thread = t.ID, t.Thread
		} else {
			p.Part = t.ID
		}
		if s.strays == nil {
			s.strays = map[ident.Thing][]int{}
		}
		at = len(s.pieces)
		s.strays[t] = append(s.strays[t], at)
		s.pieces = append(s.pieces, &p)
	}
	p := *s.pieces[at]
	if p.Needed || p.Renewed && !s.lenient() {
		return // it is due new in any case, or has been replaced by now
	}
	p.Needed, p.Condemned, p.Why = true, true, why
	s.pieces[at] = &p
	i, placed := s.places[t]
	if !s.lenient() && (t.IsFastener() && s.hasPlace(t) && s.tightened(t.ID) || placed && s.marks[i].Closed) {
		s.undoFor(c, CondemnedLate, why, t)
		again := *s.pieces[at]
		again.Condemned = true
		s.pieces[at] = &again
	}
}

// acquit lifts a renewal that only a condemnation asked for, once that is
// corrected, or the thing is no longer off, but for the pieces that still are
// condemned. What has been fitted new stays so.
func (s *State) acquit(c *change, t ident.Thing, still ...string) {
	if s.lenient() {
		return
	}
	for _, i := range s.piecesFor(t) {
		if p := *s.pieces[i]; p.Condemned && !p.Renewed && !slices.Contains(still, p.Name) {
			p.Needed, p.Condemned, p.Why = false, false, ""
			s.setPiece(c, i, p)
		}
	}
}
