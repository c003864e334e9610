package walk

import (
	"fmt"
	"time"

	"evenpull/spec"
)

// Return is what somebody has to know who comes back to a walk, before anything is
// confirmed.
type Return struct {
	Left   time.Time // when something was last written
	Last   string    // what was last confirmed; empty: nothing stands
	LastAt time.Time
	InHand []string // what was begun and is not finished
	RanOut []string // clocks that ran meanwhile, and what they say now
	Apart  []string // what another walk has taken apart since
}

// Returning takes stock of a walk that is opened again, before that is written down.
func (s *State) Returning(now time.Time) Return {
	r := Return{Left: s.LastAt(), InHand: s.halfDone(), RanOut: s.ranOut(now)}
	newest := -1
	for i, m := range s.marks {
		if m.Closed && m.Seq > 0 && (newest < 0 || m.Seq > s.marks[newest].Seq) {
			newest = i
		}
	}
	if newest < 0 {
		return r
	}
	m := s.marks[newest]
	r.Last, r.LastAt = s.Items[newest].Text(), m.At
	if m.Reading != "" {
		r.Last += ", read " + m.Reading
	}
	return r
}

// halfDone says what of the bolt in hand is done and what is not.
func (s *State) halfDone() []string {
	it := s.CurrentItem()
	if it == nil || !it.Thing().IsFastener() {
		return nil
	}
	id := it.Thing().ID
	switch it.Kind {
	case SlackenItem:
		return []string{id + " starts again, and is still to be let go"}
	case RepairItem:
		return []string{"the thread in the case at " + id + " is stripped and not recorded as repaired"}
	case PrepItem:
		return nil
	}
	turn := it.Stage.Action == spec.Turn
	before := s.doneBefore(id)
	if before == "" || it.Stage.Step == 0 && !turn {
		return nil
	}
	text := fmt.Sprintf("%s is half done: %s, and not yet %s", id, before, it.Stage.TargetText())
	if turn {
		text += "; a turn that was begun is lost"
	}
	return []string{text}
}

// doneBefore is the last stage of a fastener that stands confirmed, in a few words.
func (s *State) doneBefore(id string) (text string) {
	for _, i := range s.StagesOf(id) {
		if !s.marks[i].Closed {
			break
		}
		text = s.Items[i].Stage.TargetText()
	}
	return text
}

// ranOut reads the clocks: the sealant's, the wait in hand, the cure.
func (s *State) ranOut(now time.Time) []string {
	var list []string
	if left, running := s.SealantLeft(now); running {
		seal := s.Plan.Procedure.Sealant
		text := fmt.Sprintf("%s: %s of %s left", seal.Name, spec.Span(left), spec.Span(seal.WorkTime))
		if left < 0 {
			text = fmt.Sprintf("%s: %s past its work time; open the joint, clean it, seal afresh", seal.Name, spec.Span(-left))
		}
		list = append(list, text)
	}
	if left, heat, running := s.HeatFor(now); running {
		text := fmt.Sprintf("%s: %s left", heat.Text(), spec.Span(left.Round(time.Second)))
		if left < 0 {
			text = fmt.Sprintf("%s: %s too late by now; heat it again", heat.Text(), spec.Span(-left.Round(time.Second)))
		}
		list = append(list, text)
	}
	if it := s.CurrentItem(); it != nil && it.Kind == WaitItem {
		text := fmt.Sprintf("the wait of %s is over", spec.Span(it.Pass.Wait))
		if left := s.WaitLeft(s.next, now); left > 0 {
			text = fmt.Sprintf("the wait of %s has %s to go", spec.Span(it.Pass.Wait), spec.Span(left))
		}
		list = append(list, text)
	}
	if at, ok := s.CuredAt(); ok {
		text := "no oil yet: the sealant cures until " + at.Format("2006-01-02 15:04")
		if !now.Before(at) {
			text = "the sealant has cured since " + at.Format("2006-01-02 15:04")
		}
		list = append(list, text)
	}
	return list
}
