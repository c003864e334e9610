package session

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"evenpull/procedures/engine"
	"evenpull/spec"
)

// Request says which walk to open.
type Request struct {
	Procedure string // bundled name or file
	Engine    string // tag
	Place     string // which of two of a kind on the engine; mostly empty
	Fresh     bool   // begin a new walk whatever is open
	Record    string // go on with this very walk, as Store.Find knows it; then only At and Despite count
	At        string // hours or distance run, "1240 h"; mostly empty
	Despite   string // why it can go on without what damaged records may have held
	Resheet   Why    // go over to its sheet as it is now, that of Procedure or where it was begun from; nil: go on by the one it has
}

// MaxTag is how many characters an engine's tag, or a place on it, may have: it stands
// in every list.
const MaxTag = 60

// RequestError says that nothing can be asked for in these words.
type RequestError struct{ What string }

func (e *RequestError) Error() string { return e.What }

// check refuses a request before anything is looked for.
func (r Request) check() error {
	if n := utf8.RuneCountInString(r.Engine); n > MaxTag {
		return &RequestError{fmt.Sprintf("the engine's tag has %d characters; %d at most: a number on masking tape is fine", n, MaxTag)}
	}
	if n := utf8.RuneCountInString(r.Place); n > MaxTag {
		return &RequestError{fmt.Sprintf("the place has %d characters; %d at most: a word or two is fine", n, MaxTag)}
	}
	if r.At == "" {
		return nil
	}
	_, err := engine.ParseMeter(r.At)
	return err
}

// Open goes on with the open walk of this engine and this very procedure, or
// begins one; with a record that is named it goes on with that. When others may be
// meant it asks, with a WhichError.
func (d Desk) Open(r Request) (*Session, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	s, err := d.meant(r)
	if err != nil || r.At == "" {
		return s, err
	}
	if err := s.At(r.At); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

func (d Desk) meant(r Request) (*Session, error) {
	if r.Resheet != nil {
		return d.resheet(r)
	}
	if r.Record != "" {
		id, err := d.named(r.Record)
		if err != nil {
			return nil, err
		}
		return d.byChoice(id, r.Despite)
	}
	p, problems, err := d.Read(r.Procedure)
	if err != nil {
		return nil, d.withoutFile(r, err)
	}
	s, err := d.open(r, p)
	if err == nil {
		s.Problems = problems
	}
	return s, err
}

// named gives the id of a record in the folder; a walk goes on nowhere else.
func (d Desk) named(name string) (id string, err error) {
	path, err := d.Store.Find(name)
	if err != nil {
		return "", err
	}
	id = strings.TrimSuffix(filepath.Base(path), ".jsonl")
	if d.Store.Path(id) != path {
		return "", fmt.Errorf("%s is not in the folder of records %s; choose that with --records DIR", spec.Printable(path), spec.Printable(d.Store.Dir))
	}
	return id, nil
}
