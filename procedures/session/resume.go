package session

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"evenpull/procedures"
	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// byChoice goes on with an open walk by the id of its record, with the text it
// was begun with. When its procedure file is no longer that text, going on is a
// choice, and is noted in the record. despite is as in Request.
func (d Desk) byChoice(id, despite string) (*Session, error) {
	f, err := record.Read(d.Store.Path(id))
	if err != nil {
		return nil, err
	}
	s, err := d.resume(id, despite, nil)
	if err != nil {
		return nil, err
	}
	if s.ByID = true; s.Held != nil {
		return s, nil
	}
	if change := d.changed(f.Header, s.Live.State); change != "" {
		text := change + "; this walk goes on with the text it was begun with"
		if _, edited := s.Live.State.Sheet(); edited {
			text = change + "; this walk goes on with the text it went over to"
		}
		if _, _, err := d.fileOf(f.Header); err == nil {
			text += "; it goes over to the file as it is now with: " + shell.Line("walk --resheet", nil, "--resume", id)
		}
		s.heed(text)
		if err := s.note("gone on with by choice: " + change); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// changed says what became of the file a walk was begun from, or "" when it is
// as it was. Of what was piped in, and of old records, nobody knows where it lay.
func (d Desk) changed(h record.Header, now *walk.State) string {
	text, _ := now.Sheet()
	switch p, _, err := d.fileOf(h); {
	case h.From == "":
		return ""
	case err != nil:
		return fmt.Sprintf("the procedure file %s cannot be read any more", spec.Printable(h.Source))
	case !bytes.Equal(p.Text, text):
		return fmt.Sprintf("the procedure file %s has changed since", spec.Printable(h.Source))
	}
	return ""
}

func (d Desk) fileOf(h record.Header) (*spec.Procedure, read.Problems, error) {
	name := h.From
	if name == procedures.Embedded {
		name = h.Source
	}
	return d.Read(name)
}

// resume goes on with a walk; with an edit, by another sheet from there on.
func (d Desk) resume(id, despite string, by *edit) (*Session, error) {
	w, events, err := d.Store.Resume(id)
	s := &Session{ID: id, writer: w}
	if err != nil && !errors.As(err, &s.Held) {
		return nil, err
	}
	switch {
	case s.Held != nil && by != nil:
		return nil, s.Held
	case s.Held != nil:
		return d.watched(s)
	}
	if err := d.restore(s, events); err != nil {
		s.Close()
		return nil, err
	}
	if s.Live.State.Phase != walk.IsOpen {
		s.Close()
		return nil, fmt.Errorf("%s is %s and cannot be gone on with; look at it with: %s", id, s.Live.State.Phase, shell.Line("show", []string{id}))
	}
	if w.Aside != nil {
		s.tell(w.Aside.String())
	}
	s.writes(d)
	on, err := d.look()
	if err != nil {
		s.Close()
		return nil, err
	}
	damaged := on.damage(wantedOf(w.Header), true)
	if open := unanswered(s, damaged); len(open) > 0 && strings.TrimSpace(despite) == "" {
		s.Close()
		return nil, &DamageError{open}
	}
	if record.TagKey(s.Tag) != "" {
		s.Engine = on.engine(s.Tag, id, d.closers)
	}
	if err := by.ask(s); err != nil {
		s.Close()
		return nil, err
	}
	left := s.Live.State.Returning(d.Now())
	clock := s.Engine.Clock.With(id, w.Header, s.Live.State.Events)
	after, heed := behind(clock, d.Now())
	s.heed(heed)
	if err := s.do(walk.Command{Do: walk.Resume, Facts: afterFact(after)}); err != nil {
		return nil, err
	}
	if err := s.answer(damaged, strings.TrimSpace(despite)); err != nil {
		return nil, err
	}
	if err := by.goOver(s); err != nil {
		return nil, err
	}
	said := len(s.Live.State.Deviations)
	if s, err = s.bringBack(); err != nil || left.Last == "" {
		return s, err
	}
	now := s.Live.State.Returning(d.Now()) // after what another walk did
	left.InHand, left.RanOut = now.InHand, now.RanOut
	if by != nil { // by the sheet as it is now something else was last
		left.Last, left.LastAt = now.Last, now.LastAt
	}
	for _, apart := range s.Live.State.Deviations[said:] {
		left.Apart = append(left.Apart, apart.Text)
	}
	s.Return = &left
	return s, nil
}

// wantedOf is what a walk that is known by its record was asked for by.
func wantedOf(h record.Header) wanted {
	return wanted{name: h.Source, tag: h.Engine, place: h.Place, from: h.From, hash: h.SHA256, procedure: h.Procedure, way: h.Direction}
}

// watched shows a walk that somebody else has.
func (d Desk) watched(s *Session) (*Session, error) {
	w, err := d.watch(s.ID)
	if err != nil {
		return nil, err
	}
	s.Watch, s.Tag, s.Place, s.Source, s.Live = w, w.Tag, w.Place, w.Source, &walk.Live{State: w.State, Now: d.Now}
	return s, nil
}

// restore replays a record into the session.
func (d Desk) restore(s *Session, events []walk.Event) error {
	f, err := record.Read(d.Store.Path(s.ID))
	if err != nil {
		return err
	}
	state, err := f.Start()
	if err != nil {
		return err
	}
	s.Tag, s.Place, s.Source = f.Header.Engine, f.Header.Place, f.Header.Source
	s.Live = &walk.Live{State: state, Now: d.Now}
	walk.Replay(s.Live.State, events)
	return nil
}
