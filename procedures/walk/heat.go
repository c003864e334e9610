package walk

import (
	"fmt"
	"time"

	"evenpull/spec"
)

// What is heated cools: a callout of heat may say within what time the act that follows
// it has to be done, the next part, bolt or smear. Being late holds nothing up, for a
// bearing that has gone in is in; it is said at once, and kept.

// listHeats finds for each act the callouts whose time runs until it is done.
func (c *Course) listHeats() {
	var hot []int
	for i, it := range c.Items {
		switch {
		case it.Kind == CalloutItem && it.Callout.Within > 0:
			hot = append(hot, i)
		case len(hot) > 0 && (it.Kind == StageItem || it.Kind == SealItem || it.Kind == PartItem && !it.Unforeseen):
			if c.heats == nil {
				c.heats = map[int][]int{}
			}
			c.heats[i], c.hot, hot = hot, append(c.hot, i), nil
		}
	}
}

// HeatFor gives the callout whose time runs until what is in hand, or what comes next
// that is done to the joint, is done; how much of it is left, and whether it runs. Less than
// nothing is left once it is over, or the clock has been set back behind the heat.
func (s *State) HeatFor(now time.Time) (left time.Duration, c *spec.Callout, running bool) {
	if s.Phase != IsOpen {
		return 0, nil, false
	}
	for _, act := range s.hot {
		if s.marks[act].Closed {
			continue
		}
		for _, i := range s.heats[act] {
			if m := s.marks[i]; m.Closed && m.Seq > 0 {
				of := s.Items[i].Callout
				has := of.Within - s.since(m, now)
				if now.Before(m.At) {
					has = min(-time.Second, now.Sub(m.At))
				}
				if c == nil || has < left {
					left, c = has, of
				}
			}
		}
		break
	}
	return left, c, c != nil
}

// since is how long ago something was confirmed, by the latest time there has been: what
// has been later was not undone by setting the clock back. Behind the mark itself nobody can
// tell, and it is taken for longer than any time.
func (s *State) since(m *Mark, now time.Time) time.Duration {
	if now.Before(m.At) {
		return ages
	}
	if latest, any := s.latestAfter(m.Seq); any && latest.After(now) {
		now = latest
	}
	return now.Sub(m.At)
}

// ages is longer than a sheet may give for anything.
const ages = 1000 * 24 * time.Hour

// cooled keeps that an act came too late after the heat it follows, or that nobody can
// tell whether it did.
func (s *State) cooled(e Event, act int) {
	for _, i := range s.heats[act] {
		m, heat := s.marks[i], s.Items[i].Callout
		gone, text := s.since(m, e.At), ""
		switch {
		case !m.Closed || m.Seq == 0:
		case FromPaper(e.Facts) || FromPaper(m.Facts):
			text = fmt.Sprintf("from a work card: nobody can tell whether it was within %s of the heat", spec.Span(heat.Within))
		case gone == ages:
			text = fmt.Sprintf("the clock was set back behind the heat: nobody can tell whether it was within %s", spec.Span(heat.Within))
		case gone > heat.Within:
			text = fmt.Sprintf("too late: %s after it was hot, %s at most", spec.Span(gone.Round(time.Second)), spec.Span(heat.Within))
		}
		if text != "" {
			s.late = Deviation{e.Seq, e.At, text}
			s.deviate(e, fmt.Sprintf("%s: %s (%s)", s.Items[act].Text(), text, heat.Text()))
		}
	}
}

// Late says what the last event was too late for, or "".
func (s *State) Late() string {
	if n := len(s.Events); n == 0 || s.late.Seq != s.Events[n-1].Seq {
		return ""
	}
	return s.late.Text
}

// cool asks for the heat again that an act follows which is open again.
func (s *State) cool(c *change, row Undoing, act int) {
	if !row.Heat || !s.marks[act].Closed {
		return
	}
	for _, i := range s.heats[act] {
		s.reopen(c, i)
	}
}
