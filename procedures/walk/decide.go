package walk

import (
	"fmt"
	"strings"
	"time"

	"evenpull/spec"
)

// Decide turns a command into what happened. Both results may be set: a
// reading out of range and an unearned done are refused and kept in the record.
// It never changes the state; Apply the event it returns.
func Decide(s *State, c Command, now time.Time) (*Event, *Refusal) {
	e, r := s.draft(c)
	if r != nil {
		return nil, r
	}
	e.Seq, e.At = len(s.Events)+1, now
	r = s.Judge(e)
	if r == nil {
		return &e, nil
	}
	if kept := s.keepRefusal(e, r); kept != nil {
		return kept, r
	}
	return nil, r
}

// keepRefusal makes the event that remembers a refusal worth remembering.
func (s *State) keepRefusal(e Event, r *Refusal) *Event {
	switch {
	case s.Phase != IsOpen:
		return nil
	case e.Kind == Done:
		e.Kind, e.Outstanding = Refused, r.Outstanding
	case (e.Kind == Confirmed || e.Kind == Measured) && e.Reading != "" && s.outOfRange(e):
		e.Kind, e.Text = Rejected, r.What
	default:
		return nil
	}
	return &e
}

// draft names the event a command would be, without asking whether it is earned.
func (s *State) draft(c Command) (Event, *Refusal) {
	e := Event{Text: strings.TrimSpace(c.Text), Reading: strings.TrimSpace(c.Reading), Number: strings.TrimSpace(c.Number), Facts: c.Facts}
	switch c.Do {
	case Confirm, Measure, Yes, No:
		return s.draftCurrent(c, e)
	case Renew:
		return s.draftRenewal(c, e)
	case Undo:
		e.Kind = Undone
	case Lose, Problem:
		return s.draftSetback(c, e)
	case Reseal:
		e.Kind = Resealed
	case Bring:
		e.Kind, e.Brought = Brought, c.Brought
	case Find, Refit, Account, Clean:
		return s.draftThing(c, e)
	case Note:
		e.Kind = Noted
	case Resume:
		e.Kind = Resumed
	case Stop:
		e.Kind = Stopped
	case FinishUp:
		e.Kind = Done
	default:
		return e, &Refusal{What: fmt.Sprintf("%q is not something a walk can do", c.Do)}
	}
	return e, nil
}

func (s *State) draftCurrent(c Command, e Event) (Event, *Refusal) {
	it := s.CurrentItem()
	if it == nil {
		return e, &Refusal{What: "every stage is confirmed", Remedy: "renew what is due, then: done"}
	}
	e.Item = it.Key
	switch {
	case c.Do == Yes || c.Do == No || c.Do == Confirm && it.Kind == AskItem && e.Reading == "":
		e.Kind, e.Answer = Answered, "yes"
		if c.Do == No {
			e.Answer = "no"
		}
		if it.Kind != AskItem && c.Do == Yes {
			e.Kind, e.Answer = Confirmed, ""
		}
	case it.Kind == MeasureItem:
		e.Kind, e.Facts = Measured, measuredFacts(it.Check, e.Reading, c.Facts)
	default:
		e.Kind = Confirmed
	}
	return e, nil
}

// draftRenewal finds the owner of a new piece: the fastener or part named, or
// the current one. Without a piece it is the first one due; Renewals gives all.
func (s *State) draftRenewal(c Command, e Event) (Event, *Refusal) {
	e.Kind, e.Piece = Renewed, c.Piece
	owner, r := s.owner(c.Target)
	if r != nil {
		return e, r
	}
	if strings.HasPrefix(owner, "part:") {
		e.Item = owner
	} else {
		e.Fastener = owner
	}
	name, r := s.pieceCalled(owner, c.Piece)
	e.Piece = name
	return e, r
}

func (s *State) owner(target string) (string, *Refusal) {
	if target == "" {
		switch it := s.CurrentItem(); {
		case it != nil && it.Kind == StageItem:
			return it.Stage.Fastener.ID, nil
		case it != nil && it.Kind == PartItem:
			return it.Key, nil
		}
		return "", &Refusal{What: "nothing is in hand to renew", Remedy: "name the fastener or part: renew M3"}
	}
	if f := s.fastener(target); f != nil {
		return f.ID, nil
	}
	if key, ok := s.carriedCalled(target); ok {
		return key, nil
	}
	if p := s.Plan.Procedure.Part(target); p != nil {
		return "part:" + p.ID, nil
	}
	return "", &Refusal{What: fmt.Sprintf("there is no fastener or part %q", spec.Printable(target)), Remedy: "use an id from the bolt map"}
}

func (s *State) fastener(id string) *spec.Fastener {
	if f := s.byID[id]; f != nil {
		return f
	}
	return s.Plan.Procedure.Fastener(id)
}

// pieceCalled finds a piece by name or the start of it; empty means the first due.
func (s *State) pieceCalled(owner, name string) (string, *Refusal) {
	var names []string
	for _, i := range s.piecesOf[owner] {
		p := s.pieces[i]
		names = append(names, p.Name)
		if name == "" && p.Needed && !p.Renewed || name != "" && strings.EqualFold(p.Name, name) {
			return p.Name, nil
		}
	}
	if name != "" {
		for _, n := range names {
			if strings.HasPrefix(strings.ToLower(n), strings.ToLower(name)) {
				return n, nil
			}
		}
		return "", &Refusal{What: fmt.Sprintf("%s has no piece %q to renew", ownerName(owner), spec.Printable(name)), Remedy: "its pieces: " + strings.Join(names, ", ")}
	}
	if len(names) == 0 || owner != "" && s.byID[owner] == nil {
		return "", &Refusal{What: fmt.Sprintf("nothing of %s has to be new", ownerName(owner)), Remedy: "note it with: note TEXT"}
	}
	return names[0], nil // not due, but a new one was fitted all the same
}

func ownerName(owner string) string { return strings.TrimPrefix(owner, "part:") }

// draftSetback is lost and problem: the fastener named, or the current one.
func (s *State) draftSetback(c Command, e Event) (Event, *Refusal) {
	e.Kind = Lost
	if c.Do == Problem {
		e.Kind = Trouble
	}
	if c.Target != "" {
		f := s.fastener(c.Target)
		if f == nil {
			return e, &Refusal{What: fmt.Sprintf("there is no fastener %q", spec.Printable(c.Target)), Remedy: "use an id from the bolt map"}
		}
		e.Fastener = f.ID
		return e, nil
	}
	it := s.CurrentItem()
	if it == nil || it.Kind != StageItem {
		return e, &Refusal{What: "no fastener is in hand", Remedy: "name it by its id"}
	}
	e.Fastener = it.Stage.Fastener.ID
	return e, nil
}
