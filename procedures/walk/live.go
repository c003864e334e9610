package walk

import (
	"errors"
	"time"
)

// ErrLost is what the error of an Append is when trying again cannot succeed: what
// comes next would not follow from what is on disk.
var ErrLost = errors.New("nothing more can be written")

// Live is a walk with a place to write its events and a clock. It decides,
// writes, and only then lets the state move on.
type Live struct {
	State  *State
	Now    func() time.Time
	Append func(Event) error // returns once the event is on disk
}

// Do carries out one command. An error means nothing could be written, and
// that the state is as it was. A renewal that names no piece renews all that is due.
func (l *Live) Do(c Command) (*Refusal, error) {
	for _, one := range l.State.Expand(c) {
		e, refusal := Decide(l.State, one, l.Now())
		if e != nil {
			if err := l.Append(*e); err != nil {
				return nil, err
			}
			l.State.Apply(*e)
		}
		if refusal != nil {
			return refusal, nil
		}
	}
	return nil, nil
}

// Expand turns a renewal that names no piece into one for each piece due.
func (s *State) Expand(c Command) []Command {
	if c.Do != Renew || c.Piece != "" {
		return []Command{c}
	}
	owner, refusal := s.owner(c.Target)
	if refusal != nil {
		return []Command{c}
	}
	due := s.Due(owner)
	if len(due) == 0 {
		return []Command{c}
	}
	list := make([]Command, len(due))
	for i, p := range due {
		list[i] = c
		list[i].Piece = p.Name
		list[i].Target = owner.ID
	}
	return list
}
