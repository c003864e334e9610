package session

import (
	"errors"
	"fmt"
	"slices"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Watch is a walk that is looked at while somebody else walks it. Nothing is
// locked and nothing written.
type Watch struct {
	ID     string
	Tag    string // of its engine; may be empty
	Place  string // which of two of a kind on the engine; mostly empty
	Source string // bundled name or file it was begun from, as typed
	State  *walk.State

	store    *record.Store
	follower *record.Follower
}

// News is what has come about since a watched walk was last looked at.
type News struct {
	Events []walk.Event   // for walk.Replay
	Holder *record.Holder // who has it open for writing; nil when nobody has
	Err    error          // why no more can be read now
}

// Look gives the news. It reads files and is for one goroutine; the state is left
// to whoever shows it.
func (w *Watch) Look() News {
	var n News
	// The holder first: what was written before it was let go of is then found too.
	if h, held := w.store.HeldBy(w.ID); held {
		n.Holder = &h
	}
	n.Events, n.Err = w.follower.More()
	return n
}

// NotBegunError says that there is no open walk to watch yet.
type NotBegunError struct{ Request Request }

// Error says what is waited for, and how it is begun.
func (e *NotBegunError) Error() string {
	r := e.Request
	on := " without an engine's tag"
	if record.TagKey(r.Engine) != "" {
		on = " on engine " + spec.Printable(r.Engine)
	}
	if r.Place != "" {
		on += ", " + spec.Printable(r.Place)
	}
	return fmt.Sprintf("no walk of %s is open%s; it is begun with: %s", spec.Printable(r.Procedure), on,
		shell.Line("walk", []string{r.Procedure}, "--engine", r.Engine, "--place", r.Place))
}

// Watch finds the open walk that is asked for, or the record that is named, and waits
// for a walk that has not begun: wait is called between two looks, with what is waited
// for. When others may be meant it asks, with a WhichError.
func (d Desk) Watch(r Request, wait func(*NotBegunError)) (*Watch, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	if r.Record != "" {
		id, err := d.named(r.Record)
		if err != nil {
			return nil, err
		}
		return d.watch(id)
	}
	var none *NotBegunError
	var before []string
	for {
		ids, err := d.Store.IDs()
		if err != nil {
			return nil, err
		}
		if none == nil || !slices.Equal(ids, before) { // only a new record can be the walk
			if w, err := d.begun(r); !errors.As(err, &none) {
				return w, err
			}
		}
		before = ids
		wait(none)
	}
}

// begun finds the walk that is asked for, or fails with a NotBegunError.
func (d Desk) begun(r Request) (*Watch, error) {
	p, _, err := d.Read(r.Procedure)
	if err != nil {
		return nil, d.withoutFile(r, err)
	}
	list, err := d.Store.List()
	if err != nil {
		return nil, err
	}
	switch c := d.wanted(r, p).choose(false, list); {
	case len(c.ask) > 0:
		return nil, &WhichError{Request: r, Candidates: c.ask}
	case c.goOn != "":
		return d.watch(c.goOn)
	}
	return nil, &NotBegunError{r}
}

// watch looks at the walk of a record, open or ended.
func (d Desk) watch(id string) (*Watch, error) {
	f, follower, err := record.Follow(d.Store.Path(id))
	if err != nil {
		return nil, err
	}
	state, err := f.Start()
	if err != nil {
		return nil, err
	}
	walk.Replay(state, f.Events)
	return &Watch{ID: id, Tag: f.Header.Engine, Place: f.Header.Place, Source: f.Header.Source, State: state, store: d.Store, follower: follower}, nil
}
