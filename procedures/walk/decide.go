package walk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// Decide turns a command into what happened. Both results may be set: a
// reading out of range and an unearned done are refused and kept in the record.
// It never changes the state; Apply the event it returns.
func Decide(s *State, c Command, now time.Time) (*Event, *Refusal) {
	e, r := s.draft(c)
	if r != nil {
		return nil, r
	}
	e.Seq, e.At = s.events+1, now
	r = s.Judge(e)
	if r == nil {
		return &e, nil
	}
	if r.asksAgain {
		yes, no := c, c
		yes.Facts, no.Facts = merged(c.Facts, Facts{Again: "yes"}), merged(c.Facts, Facts{Again: "no"})
		r.Yes, r.No = &yes, &no
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
	case r.misses:
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
		e.Kind, e.Brought, e.Faults = Brought, c.Brought, c.Faults
	case Find, Refit, Account, Clean:
		return s.draftThing(c, e)
	case Settle:
		return s.draftSettled(c, e)
	case Resheet:
		e.Kind, e.Sheet = Resheeted, c.Sheet
	case Later:
		return s.draftPutOff(c, e)
	case Change:
		return s.draftChange(c, e)
	case Note, Picture:
		e.Kind = map[Verb]Kind{Note: Noted, Picture: Pictured}[c.Do]
		return s.draftAbout(c, e)
	case Repair:
		e.Kind, e.Item = Repaired, ident.RepairStep(s.nameOf(c.Target)).String()
	case Resume:
		e.Kind = Resumed
		if s.rules < Rules {
			e.Facts = map[string]string{rulesFact: strconv.Itoa(Rules)}
		}
	case Stop:
		e.Kind = Stopped
	case FinishUp:
		e.Kind = Done
	default:
		return e, &Refusal{What: fmt.Sprintf("%q is not something a walk can do", c.Do)}
	}
	return e, nil
}

// draftCurrent is what is said of the item in hand.
func (s *State) draftCurrent(c Command, e Event) (Event, *Refusal) {
	it := s.CurrentItem()
	if it == nil {
		return e, &Refusal{What: "every stage is confirmed", Remedy: "renew what is due, then close the walk", Ways: []Way{{Do: FinishUp}}}
	}
	e.Item = it.Key().String()
	switch {
	case it.Kind == FaultItem && (c.Do == Measure || e.Reading != ""):
		c.Do, c.Target = Settle, ""
		c.Facts = merged(c.Facts, map[string]string{How: ByMeasure})
		return s.draftSettled(c, e)
	case c.Do == No:
		e.Kind, e.Answer = Answered, "no"
		if it.Kind == AskItem {
			e.Restarts = s.cameLoose(it.Check, c.Restarts)
		}
	case c.Do == Yes, c.Do == Confirm && it.Kind == AskItem && e.Reading == "":
		e.Kind, e.Answer, e.Restarts = Answered, "yes", c.Restarts
	case it.Kind == MeasureItem:
		e.Kind, e.Facts = Measured, measuredFacts(it.Check, e.Reading, c.Facts)
	case c.Do == Measure && (it.Kind != StageItem || it.Stage.Action != spec.Stretch):
		return e, &Refusal{What: "nothing is measured here: " + it.Text(), Remedy: "do it, then confirm it", Ways: []Way{{Do: asks[it.Kind].verb}}}
	default:
		e.Kind = Confirmed
	}
	return e, nil
}

// cameLoose is what starts again with a no: the fasteners named, and those the
// sheet says, as far as they have been tightened.
func (s *State) cameLoose(check *spec.Check, named []string) []string {
	var list []string
	for _, id := range named {
		if id = s.nameOf(id); !slices.Contains(list, id) {
			list = append(list, id)
		}
	}
	for _, f := range check.NoRestarts {
		if s.tightened(f.ID) && !slices.Contains(list, f.ID) {
			list = append(list, f.ID)
		}
	}
	return list
}

// nameOf gives a fastener's id as the sheet writes it; what is empty is the one in hand.
func (s *State) nameOf(id string) string {
	if it := s.CurrentItem(); id == "" && it != nil && it.Thing().IsFastener() {
		return it.Thing().ID
	}
	if f := s.fastener(id); f != nil {
		return f.ID
	}
	return id
}

// draftSetback is lost and problem: the fastener named, or the one in hand.
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
	if it == nil || !it.Thing().IsFastener() {
		return e, &Refusal{What: "no fastener is in hand", Remedy: "name it by its id"}
	}
	e.Fastener = it.Thing().ID
	return e, nil
}
