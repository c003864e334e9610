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

// OutstandingCount is how many Outstanding lists. To count is cheap: of a large sheet the
// words take as much memory as all the rest of the walk.
func (s *State) OutstandingCount() int {
	n := len(s.LeftOver())
	for _, m := range s.marks {
		if !m.Closed {
			n++
		}
	}
	for _, p := range s.pieces {
		if p.due() {
			n++
		}
	}
	return n
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
	shared := len(s.Events) == 0 && !s.forgets
	s.history = slices.Grow(s.history, min(len(events), len(s.Items)))
	for i, e := range events {
		as, r := s.earned(e)
		if r != nil {
			findings = append(findings, Finding{e, r})
		}
		if shared = shared && r == nil && as.Reading == e.Reading; shared {
			s.Events = events[: i+1 : i+1] // what is appended later goes elsewhere
			s.apply(e)
		} else {
			s.follow(as, r)
		}
	}
	return findings
}

// Follow is Replay for one event: it says why it does not count, or nil.
func (s *State) Follow(e Event) *Refusal {
	as, r := s.earned(e)
	s.follow(as, r)
	return r
}

// earned judges a recorded event, and gives it as it is to be taken.
func (s *State) earned(e Event) (Event, *Refusal) {
	r := s.Judge(e)
	if r != nil && e.Reading != "" { // earlier versions took "4 kg" for a force
		once := e
		once.Reading = quantity.AsRecorded(e.Reading)
		if s.Judge(once) == nil {
			return once, nil
		}
	}
	return e, r
}

func (s *State) follow(e Event, r *Refusal) {
	switch {
	case r == nil:
		s.Apply(e)
	case e.Seq == s.events+1 && s.Phase == IsOpen:
		s.keep(e) // it was said, but it does not count
		s.count(e)
		s.deviate(e, fmt.Sprintf("%s does not count: %s", e.Kind, r.What))
	}
}

// Finding is a recorded event that was not earned.
type Finding struct {
	Event   Event
	Refusal *Refusal
}
