package walk

import (
	"fmt"
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// judgeRenewal lets a piece be recorded new only where it goes in.
func (s *State) judgeRenewal(e Event) *Refusal {
	t := s.ThingOf(e)
	at := s.pieceNamed(t, e.Piece)
	if at < 0 {
		return unknown(strings.TrimSpace(t.ID + " " + e.Piece))
	}
	if s.lenient() {
		return nil
	}
	if i, elsewhere := s.goesIn(t); elsewhere {
		r := &Refusal{What: fmt.Sprintf("%s is not in hand; a new piece is recorded where it goes in, at: %s", t.ID, s.Items[i].Text())}
		if it := s.CurrentItem(); it != nil && it.Thing() == t {
			r.What = fmt.Sprintf("first this: %s; a new piece is recorded where it goes in, at: %s", it.Text(), s.Items[i].Text())
		} else if t.IsFastener() && s.tightened(t.ID) {
			r.What = fmt.Sprintf("%s is not in hand, and has been tightened", t.ID)
			r.Remedy = "if it is taken out again, say so: it then starts again"
			r.Ways = []Way{{Do: Problem, Target: t.ID, Needs: "a reason"}}
		}
		return r
	}
	if was := s.numberBefore(t, at); was != "" && e.Number == "" && e.Facts["number"] != NoNumber {
		return &Refusal{What: fmt.Sprintf("the number of the one before was %s; the new one has its own", was), Remedy: "give the number on its bag, or say that it has none",
			Ways: []Way{{Do: Renew, Target: t.ID, Needs: "its number, or none"}}}
	}
	return nil
}

// numberBefore is the number on the bag of the piece that a new one takes the
// place of, or "" where none was given.
func (s *State) numberBefore(t ident.Thing, at int) string {
	p := *s.pieces[at]
	if p.Renewed && p.Number != s.sheetNumber(p) && t.IsFastener() && s.hasPlace(t) && s.tightened(t.ID) {
		return p.Number // it is taken out again
	}
	return p.Was
}

// goesIn gives the open item where a thing goes in, and whether that is not the
// one in hand. What has no place here, or no open one, can be recorded any time.
func (s *State) goesIn(t ident.Thing) (item int, elsewhere bool) {
	if it := s.CurrentItem(); it != nil && it.Thing() == t && s.takesNew(s.next) {
		return s.next, false
	}
	if !t.IsFastener() {
		i, placed := s.places[t]
		return i, placed && (!s.marks[i].Closed || len(s.Due(t)) == 0)
	}
	stages := s.StagesOf(t.ID)
	if !s.hasPlace(t) || len(stages) == 0 {
		return 0, false // a stray
	}
	for _, i := range stages {
		if !s.marks[i].Closed && s.takesNew(i) {
			return i, true
		}
	}
	if len(s.Due(t)) > 0 {
		return 0, false // one recorded late under the first rules
	}
	return stages[0], true
}

func (s *State) pieceNamed(t ident.Thing, name string) int {
	for _, i := range s.piecesFor(t) {
		if s.pieces[i].Name == name {
			return i
		}
	}
	return -1
}

// renew records a new piece. On a fastener that has been tightened it starts
// that fastener again.
func (s *State) renew(c *change, e Event) {
	t := s.ThingOf(e)
	at := s.pieceNamed(t, e.Piece)
	tight := t.IsFastener() && s.hasPlace(t) && s.tightened(t.ID)
	if tight && !s.lenient() {
		s.deviate(e, fmt.Sprintf("%s: new %s after it was tightened; it starts again", t.ID, s.pieces[at].Text()))
		act := NewWasher
		if e.Piece == Itself {
			act = NewFastener
		}
		s.undoFor(c, act, "it was taken out again", t)
	}
	p := *s.pieces[at]
	p.Renewed, p.At, p.Late = true, e.At, tight && s.lenient()
	if e.Number != "" {
		p.Number = e.Number
	} else if e.Facts["number"] == NoNumber {
		p.Number = ""
	}
	if p.Late {
		s.deviate(e, fmt.Sprintf("%s: new %s recorded only after a stage was confirmed", e.Fastener, p.Text()))
	}
	s.setPiece(c, at, p)
	if i, ok := s.places[t]; ok && s.lenient() && !s.marks[i].Closed {
		s.setMark(c, i, Mark{Closed: true, Seq: e.Seq, At: e.At, Facts: e.Facts})
	}
}

// draftRenewal finds the owner of a new piece: the fastener or part named, or
// the current one. Without a piece it is the first one due; Expand gives all.
func (s *State) draftRenewal(c Command, e Event) (Event, *Refusal) {
	e.Kind = Renewed
	owner, r := s.owner(c.Target)
	if r != nil {
		return e, r
	}
	s.name(&e, owner)
	if strings.EqualFold(e.Number, NoNumber) {
		e.Number, e.Facts = "", map[string]string{"number": NoNumber}
	}
	if e.Piece, r = s.pieceCalled(owner, c.Piece); r == nil && e.Number == "" && e.Facts["number"] == "" {
		if at := s.pieceNamed(owner, e.Piece); at >= 0 && s.numberBefore(owner, at) == "" {
			e.Number = s.lotFor(*s.pieces[at]) // said when it arrived
		}
	}
	return e, r
}

// name writes which thing the event is about; of a fastener the sheet has not,
// its thread as well.
func (s *State) name(e *Event, t ident.Thing) {
	if t.IsFastener() {
		if e.Fastener = t.ID; t != s.fastenerThing(t.ID) {
			e.Thread = t.Thread
		}
	} else {
		e.Item = t.Text()
	}
}

func (s *State) owner(target string) (ident.Thing, *Refusal) {
	if target == "" {
		if it := s.CurrentItem(); it != nil && !it.Thing().IsZero() {
			return it.Thing(), nil
		}
		return ident.Thing{}, &Refusal{What: "nothing is in hand to renew", Remedy: "name the fastener or the part"}
	}
	if f := s.fastener(target); f != nil {
		return thingOf(f), nil
	}
	if t, ok := s.carriedCalled(target); ok {
		return t, nil
	}
	if p := s.Part(target); p != nil {
		return ident.Part(p.ID), nil
	}
	return ident.Thing{}, &Refusal{What: fmt.Sprintf("there is no fastener or part %q", spec.Printable(target)), Remedy: "use an id from the bolt map"}
}

// pieceCalled finds a piece by name or the start of it; empty means the first due.
func (s *State) pieceCalled(owner ident.Thing, name string) (string, *Refusal) {
	var names []string
	for _, i := range s.piecesFor(owner) {
		p := s.pieces[i]
		names = append(names, p.Name)
		if name == "" && p.due() || name != "" && strings.EqualFold(p.Name, name) {
			return p.Name, nil
		}
	}
	if name != "" {
		for _, n := range names {
			if strings.HasPrefix(strings.ToLower(n), strings.ToLower(name)) {
				return n, nil
			}
		}
		return "", &Refusal{What: fmt.Sprintf("%s has no piece %q to renew", owner.ID, spec.Printable(name)), Remedy: "its pieces: " + strings.Join(names, ", ")}
	}
	if len(names) == 0 || !s.hasPlace(owner) {
		return "", &Refusal{What: fmt.Sprintf("nothing of %s has to be new", owner.ID), Remedy: "keep a remark of it", Ways: []Way{{Do: Note, Needs: "a remark"}}}
	}
	return names[0], nil // not due, but a new one was fitted all the same
}
