package walk

import (
	"fmt"
	"time"

	"evenpull/spec"
)

// Apply folds one event that Judge accepts. Cost does not grow with the walk,
// but for events that send a fastener back.
func (s *State) Apply(e Event) {
	if last := s.LastAt(); e.At.Before(last) {
		s.deviate(e, fmt.Sprintf("the clock ran backwards by %s; times are kept as they were", last.Sub(e.At).Round(time.Second)))
	}
	s.Events = append(s.Events, e)
	c := change{text: s.describe(e), marks: map[int]Mark{}, pieces: map[int]Piece{}}
	switch e.Kind {
	case Confirmed, Measured:
		s.setMark(&c, s.at[e.Item], Mark{Closed: true, At: e.At, Reading: e.Reading, Facts: e.Facts})
	case Answered:
		s.answer(&c, e)
	case Renewed:
		s.renew(&c, e)
	case Lost:
		s.deviate(e, fmt.Sprintf("%s: angle lost (%s); back to its first stage", e.Fastener, e.Text))
		s.restart(&c, e.Fastener, false, "its angle was lost")
	case Trouble:
		s.trouble(&c, e)
	case Rejected:
		s.reject(&c, e)
	case Resealed:
		s.reseal(&c, e)
	case Found, Refitted, Accounted, Cleaned:
		s.thing(&c, e)
	case Brought:
		s.bring(e)
	case Undone:
		s.undo(e)
	case Refused:
		s.deviate(e, fmt.Sprintf("done was refused with %d outstanding", len(e.Outstanding)))
	case Stopped:
		s.Phase = IsStopped
		s.deviate(e, "stopped: "+e.Text)
	case Done:
		s.Phase = IsDone
	}
	s.holdSeal(&c, e)
	if s.undoable(e) {
		s.history = append(s.history, c)
	}
}

// holdSeal stops the sealant's clock once everything under it is confirmed: a
// bolt that is done again later no longer spreads any film.
func (s *State) holdSeal(c *change, e Event) {
	if i, sealed := s.at["sealant"]; sealed && s.marks[i].Closed && s.sealHeld.IsZero() && s.next > s.sealEnd {
		s.sealHeld = e.At
		c.restore = append(c.restore, func() { s.sealHeld = time.Time{} })
	}
}

// undoable events are steps of the person, whether or not they changed what is
// open: undo takes back the last thing done, never the one before it.
func (s *State) undoable(e Event) bool {
	switch e.Kind {
	case Confirmed, Measured, Answered, Renewed, Lost, Trouble, Resealed, Found, Refitted, Accounted, Cleaned:
		return true
	case Rejected:
		it := s.Items[s.at[e.Item]]
		return it.Kind == StageItem && WindowOf(it.Stage).Restarts(e.Reading)
	}
	return false
}

func (s *State) deviate(e Event, text string) {
	s.Deviations = append(s.Deviations, Deviation{e.Seq, e.At, text})
}

func (s *State) answer(c *change, e Event) {
	i := s.at[e.Item]
	m := Mark{Closed: e.Answer == "yes", At: e.At, Answer: e.Answer, Facts: e.Facts}
	s.setMark(c, i, m)
	if !m.Closed {
		s.deviate(e, fmt.Sprintf("%s: no (%s)", s.Items[i].Text(), e.Text))
	}
}

// renew records a new piece; a one-use part is fitted in the same breath.
func (s *State) renew(c *change, e Event) {
	owner := e.Fastener
	if owner == "" {
		owner = e.Item
	}
	for _, i := range s.piecesOf[owner] {
		p := s.pieces[i]
		if p.Name != e.Piece {
			continue
		}
		p.Renewed, p.At = true, e.At
		if e.Number != "" {
			p.Number = e.Number
		}
		p.Late = s.anyClosed(e.Fastener)
		if p.Late {
			s.deviate(e, fmt.Sprintf("%s: new %s recorded only after a stage was confirmed", e.Fastener, pieceName(p)))
		}
		s.setPiece(c, i, p)
	}
	if i, ok := s.at[e.Item]; ok && s.Items[i].Kind == PartItem && !s.marks[i].Closed {
		s.setMark(c, i, Mark{Closed: true, At: e.At, Facts: e.Facts})
	}
}

func (s *State) anyClosed(fastener string) bool {
	for _, i := range s.stagesOf[fastener] {
		if s.marks[i].Closed {
			return true
		}
	}
	return false
}

func (s *State) trouble(c *change, e Event) {
	s.deviate(e, fmt.Sprintf("%s: %s", e.Fastener, e.Text))
	if s.Plan.Procedure.Direction == spec.Close {
		s.restart(c, e.Fastener, true, "it was "+e.Text)
	}
}

// reject keeps a reading that was out of range. Beyond the limit the fastener
// has to be slackened and started again; short of it the stage is simply open.
func (s *State) reject(c *change, e Event) {
	it := s.Items[s.at[e.Item]]
	s.deviate(e, fmt.Sprintf("%s: read %s, refused: %s", it.Text(), e.Reading, e.Text))
	if it.Kind != StageItem {
		return
	}
	if w := WindowOf(it.Stage); w.Restarts(e.Reading) {
		why := "it went beyond its figure"
		if w.Action == spec.Verify {
			why = "it did not hold its figure"
		}
		s.restart(c, it.Stage.Fastener.ID, false, why)
	}
}

// reseal opens everything from the smear on.
func (s *State) reseal(c *change, e Event) {
	s.deviate(e, "sealed afresh: "+e.Text)
	start := s.at["sealant"]
	if held := s.sealHeld; !held.IsZero() {
		s.sealHeld = time.Time{}
		c.restore = append(c.restore, func() { s.sealHeld = held })
	}
	for i := start; i < len(s.Items); i++ {
		if s.marks[i].Closed {
			s.setMark(c, i, Mark{})
		}
	}
	for f := range s.stagesOf {
		if s.stagesOf[f][0] > start {
			s.restart(c, f, false, "the joint was opened to seal it afresh")
		}
	}
}

// undo takes back the newest change that still stands.
func (s *State) undo(e Event) {
	if len(s.history) == 0 {
		return
	}
	c := s.history[len(s.history)-1]
	s.history = s.history[:len(s.history)-1]
	for i, m := range c.marks {
		s.put(i, m)
	}
	for i, p := range c.pieces {
		s.pieces[i] = p
	}
	for i := len(c.restore) - 1; i >= 0; i-- {
		c.restore[i]()
	}
	s.deviate(e, fmt.Sprintf("undone: %s (%s)", c.text, e.Text))
}

// LastUndoable says in words what undo would take back, or "" if nothing.
func (s *State) LastUndoable() string {
	if len(s.history) == 0 {
		return ""
	}
	return s.history[len(s.history)-1].text
}

// describe names a step in words a person reads, not by the key of its item.
func (s *State) describe(e Event) string {
	what := e.Item
	if i, ok := s.at[e.Item]; ok {
		what = s.Items[i].Text()
	}
	if what == "" {
		what = e.Fastener
	}
	switch e.Kind {
	case Renewed:
		return what + " renewed"
	case Answered:
		return what + " answered " + e.Answer
	}
	return what + " " + string(e.Kind)
}
