package walk

import (
	"fmt"
	"time"

	"evenpull/spec"
)

// Clocks run on recorded times. A clock that was set back cannot say how long
// anything took, so it never gives time away: a wait is not over, and sealant
// is past its work time.

// judgeClocks holds waits and the sealant's work time.
func (s *State) judgeClocks(i int, now time.Time) *Refusal {
	if s.Items[i].Kind == WaitItem {
		if left := s.WaitLeft(i, now); left > 0 {
			return &Refusal{What: fmt.Sprintf("the wait of %s is not over", spec.Span(s.Items[i].Pass.Wait)), Remedy: fmt.Sprintf("%s to go", spec.Span(left))}
		}
	}
	left, running := s.SealantLeft(now)
	if !running || left >= 0 || i > s.sealEnd {
		return nil
	}
	r := &Refusal{
		What:   fmt.Sprintf("%s is past its work time by %s", s.Plan.Procedure.Sealant.Name, spec.Span(-left)),
		Remedy: "open the joint, clean both faces and seal it again",
		Ways:   []Way{{Do: Reseal, Needs: "a reason"}},
	}
	if now.Before(s.marks[s.smear].At) {
		r.What = fmt.Sprintf("the clock was set back behind the first smear of %s, so nobody can tell how old it is", s.Plan.Procedure.Sealant.Name)
	}
	return r
}

// WaitLeft is how long wait item i still has to run; it starts when everything
// before it is closed.
func (s *State) WaitLeft(i int, now time.Time) time.Duration {
	var start time.Time
	for _, m := range s.marks[:i] {
		if m.At.After(start) {
			start = m.At
		}
	}
	if start.IsZero() {
		start = now // nothing came before: it starts when it is reached
		if s.events > 0 {
			start = s.first
		}
	}
	return s.Items[i].Pass.Wait - max(0, now.Sub(start))
}

// SealantLeft is the work time left, and whether the clock is running: from
// first smear until the last stage it covers is confirmed. Less than nothing is
// left when the clock has been set back behind the smear.
func (s *State) SealantLeft(now time.Time) (left time.Duration, running bool) {
	if s.smear < 0 || !s.marks[s.smear].Closed || !s.sealHeld.IsZero() {
		return 0, false
	}
	smeared, work := s.marks[s.smear].At, s.Plan.Procedure.Sealant.WorkTime
	if s.lenient() {
		return work - now.Sub(smeared), true
	}
	if now.Before(smeared) {
		return min(-time.Second, now.Sub(smeared)), true
	}
	if s.sinceSmear.After(now) {
		now = s.sinceSmear // what has been later was not undone by setting the clock back
	}
	return work - now.Sub(smeared), true
}

// followSmear keeps the latest time since the sealant met, whatever the clock did after.
func (s *State) followSmear(e Event) {
	if s.smear < 0 || !s.marks[s.smear].Closed {
		return
	}
	if s.marks[s.smear].Seq == e.Seq || e.At.After(s.sinceSmear) {
		s.sinceSmear = e.At
	}
}

// CuredAt is when the sealant has cured, and whether that clock has started.
func (s *State) CuredAt() (time.Time, bool) {
	if s.sealHeld.IsZero() || s.Plan.Procedure.Sealant.CureTime == 0 {
		return time.Time{}, false
	}
	return s.sealHeld.Add(s.Plan.Procedure.Sealant.CureTime), true
}

// holdSeal stops the sealant's clock once everything under it is confirmed: a
// bolt that is done again later no longer spreads any film.
func (s *State) holdSeal(c *change, e Event) {
	if s.smear >= 0 && s.marks[s.smear].Closed && s.sealHeld.IsZero() && s.next > s.sealEnd {
		s.sealHeld = e.At
		c.onUndo(func() { s.sealHeld = time.Time{} })
	}
}
