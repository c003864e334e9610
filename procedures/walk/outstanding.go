package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Outstanding lists in words everything that keeps the walk from being done,
// in the order of the agenda, then the pieces still to be renewed. It is empty
// when, and only when, done would be accepted.
func (s *State) Outstanding(now time.Time) []string {
	var list []string
	for i, it := range s.Items {
		if !s.marks[i].Closed {
			list = append(list, s.outstandingText(i, it, now))
		}
	}
	for _, p := range s.pieces {
		if p.due() {
			list = append(list, p.outstanding())
		}
	}
	for _, left := range s.LeftOver() {
		list = append(list, "left over: "+left.Text())
	}
	return list
}

func (s *State) outstandingText(i int, it Item, now time.Time) string {
	text := it.Text()
	switch {
	case it.Kind == WaitItem && i == s.next:
		if left := s.WaitLeft(i, now); left > 0 {
			return fmt.Sprintf("%s: %s to go", text, spec.Span(left))
		}
	case it.Kind == PartItem:
		return text + ": not accounted for"
	case it.Kind == AskItem && s.marks[i].Answer == "no":
		return text + " answered no"
	case it.Kind == AskItem:
		return text + " not answered"
	case it.Kind == MeasureItem:
		return text + ": not measured in range"
	case it.Kind == RepairItem:
		return text + ": not recorded as repaired"
	case it.Kind == FaultItem:
		return text + ": not answered"
	}
	return strings.TrimSuffix(text, ".") + ": not confirmed"
}

func (p Renewable) outstanding() string {
	if p.Fastener == "" {
		return fmt.Sprintf("renew: %s (%s)", p.Text(), p.Why)
	}
	return fmt.Sprintf("renew: %s: %s (%s)", strings.TrimSpace(p.Fastener+" "+p.Thread), p.Text(), p.Why)
}

// Replay folds recorded events. Events that are not earned where they stand
// are left out of the state and reported, so that a false done stays undone.
// As long as each is as it was recorded, the state shares them: of a long record they
// are most of what is held in memory.
func Replay(s *State, events []Event) []Finding {
	var findings []Finding
	shared := len(s.Events) == 0
	s.history = slices.Grow(s.history, len(events))
	for i, e := range events {
		r := s.Judge(e)
		if r != nil && e.Reading != "" { // earlier versions took "4 kg" for a force
			once := e
			once.Reading = quantity.AsRecorded(e.Reading)
			if s.Judge(once) == nil {
				e, r, shared = once, nil, false
			}
		}
		if r != nil {
			shared = false
			findings = append(findings, Finding{e, r})
			if e.Seq == len(s.Events)+1 && s.Phase == IsOpen {
				s.Events = append(s.Events, e) // it was said, but it does not count
				s.deviate(e, fmt.Sprintf("%s does not count: %s", e.Kind, r.What))
			}
			continue
		}
		if shared {
			s.apply(events[: i+1 : i+1]) // what is appended later goes elsewhere
		} else {
			s.Apply(e)
		}
	}
	return findings
}

// Finding is a recorded event that was not earned.
type Finding struct {
	Event   Event
	Refusal *Refusal
}
