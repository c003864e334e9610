package session

import (
	"errors"

	"evenpull/procedures"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Resume goes on with a walk by the id of its record, with the text it was
// begun with.
func (d Desk) Resume(id string) (*Session, error) { return d.resume(id, false) }

func (d Desk) resume(id string, textChanged bool) (*Session, error) {
	w, events, err := d.Store.Resume(id)
	s := &Session{ID: id, writer: w}
	if err != nil && !errors.As(err, &s.Held) {
		return nil, err
	}
	if err := d.restore(s, events); err != nil {
		s.Close()
		return nil, err
	}
	if textChanged {
		s.Notice = "the procedure file has changed since this walk began; it goes on with the text it began with (--new starts afresh)"
	}
	if w == nil {
		return s, nil
	}
	if w.Aside != nil {
		s.Notice = w.Aside.String()
	}
	s.Live.Append = w.Append
	if _, err := s.Live.Do(walk.Command{Do: walk.Resume}); err != nil {
		s.Close()
		return nil, err
	}
	if record.TagKey(s.Tag) != "" {
		if s.Engine, err = d.engine(s.Tag, s.ID); err != nil {
			s.Close()
			return nil, err
		}
	}
	return s.bringBack()
}

// restore replays a record into the session.
func (d Desk) restore(s *Session, events []walk.Event) error {
	f, err := record.Read(d.Store.Path(s.ID))
	if err != nil {
		return err
	}
	p, err := f.Plan()
	if err != nil {
		return err
	}
	s.Tag, s.Source = f.Header.Engine, f.Header.Source
	s.Live = &walk.Live{State: walk.New(p), Now: d.Now}
	walk.Replay(s.Live.State, events)
	return nil
}

// openWalk finds the newest open walk of a procedure on an engine: of those
// begun from the same text, or else of those with its name. When there is none,
// broken is the newest record of them if it is broken.
func openWalk(list []record.Summary, tag string, p *spec.Procedure) (found, broken *record.Summary) {
	var changed, newest *record.Summary
	hash := record.TextHash(p.Text)
	for i, sum := range list {
		if !record.SameTag(sum.Engine, tag) {
			continue
		}
		named := sum.Procedure == spec.Printable(p.Name)
		if newest == nil && named {
			newest = &list[i]
		}
		if sum.State != record.StateOpen {
			continue
		}
		if sum.SHA256 == hash {
			return &list[i], nil
		}
		if changed == nil && named {
			changed = &list[i]
		}
	}
	if changed == nil && newest != nil && newest.State == record.StateBroken {
		return nil, newest
	}
	return changed, nil
}

// withoutFile goes on with an open walk whose procedure file is gone or no
// longer reads: the record holds the text it began with. It is nil when there is none.
func (d Desk) withoutFile(r Request) *Session {
	list, err := d.Store.List()
	if err != nil || r.Fresh || r.Procedure == procedures.Piped { // what was piped in has no name to go by
		return nil
	}
	for _, sum := range list {
		if sum.State != record.StateOpen || sum.Source != r.Procedure || !record.SameTag(sum.Engine, r.Engine) {
			continue
		}
		s, err := d.resume(sum.ID, false)
		if err != nil {
			return nil
		}
		s.Notice, s.More = "the procedure file cannot be read any more; this walk goes on with the text it began with", append(said(s.Notice), s.More...)
		return s
	}
	return nil
}
