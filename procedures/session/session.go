// Package session opens walks: it finds the one that is meant, begins or
// resumes it, and tells it what is on record of its engine. The command line,
// the start screen and the plain walk all open their walks here. It reads and
// writes the folder of records and knows of no terminal.
package session

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// Desk is where walks are opened: the records, the procedures and the clock.
type Desk struct {
	Store   *record.Store
	Library procedures.Library
	Now     func() time.Time
	Program string // version, kept in what is written
	Cache   string // folder for what spares the board a replay; none when empty
}

// Session is a walk that has been opened, with its place on disk.
type Session struct {
	ID     string
	Tag    string              // of its engine; may be empty
	Place  string              // which of two of a kind on the engine; mostly empty
	Source string              // bundled name or file it was begun from, as typed
	Live   *walk.Live          // without Append when Held
	Held   *record.LockedError // somebody else has it, and it is only shown
	Watch  *Watch              // of one that is Held: how it goes on
	Engine engine.Engine       // what else is on record of its engine; empty without a tag
	ByID   bool                // to come back, it has to be named by its id
	Heed   []string            // what has to be read before anything is done
	Notice string              // what is to be seen at once
	More   []string            // what else there is to say
	Return *walk.Return        // where the walk was left; nil: nothing had been done in it

	Problems read.Problems // of the procedure file as it is now

	// Look reads a picture that a person names and gives what an event keeps of it;
	// it is copied beside the records before that event is written.
	Look func(path string) (map[string]string, error)

	writer  *record.Writer
	writing sync.Mutex // the record is let go of when the terminal goes away, be a write under way or not
}

// append writes one event; after Close it fails.
func (s *Session) append(e walk.Event) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	return s.writer.Append(e)
}

// writes lets the session write, pictures before the events that name them.
func (s *Session) writes(d Desk) {
	pictures := d.Store.Pictures()
	s.Look, s.Live.Append = pictures.Look, pictures.Before(s.append)
}

// Close lets go of the record, once what is being written is on disk. Any goroutine
// may call it, and more than once.
func (s *Session) Close() {
	s.writing.Lock()
	defer s.writing.Unlock()
	if s.writer != nil {
		s.writer.Close()
	}
}

// tell puts the first line where it is seen at once, unless something more
// pressing stands there.
func (s *Session) tell(lines ...string) {
	if len(lines) > 0 && s.Notice == "" {
		s.Notice, lines = lines[0], lines[1:]
	}
	s.More = append(s.More, lines...)
}

// FileError says that a procedure cannot be walked as it stands.
type FileError struct {
	Name     string
	Problems read.Problems // what is wrong inside it; none when it cannot be opened at all
	Err      error         // why it cannot be opened
}

// Error gives it in one line.
func (e *FileError) Error() string {
	if e.Err != nil {
		return e.Err.Error()
	}
	n, s := len(e.Problems.Errors()), "s"
	if n == 1 {
		s = ""
	}
	return fmt.Sprintf("%s cannot be walked: %d problem%s", spec.Printable(e.Name), n, s)
}

// Unwrap gives why it cannot be opened.
func (e *FileError) Unwrap() error { return e.Err }

// Read reads a procedure by bundled name or file. The problems are warnings
// when there is no error, which is a FileError.
func (d Desk) Read(name string) (*spec.Procedure, read.Problems, error) {
	p, problems, err := d.Library.Load(name)
	if err != nil {
		return nil, nil, &FileError{Name: name, Err: err}
	}
	if p == nil {
		return nil, problems, &FileError{Name: name, Problems: problems}
	}
	if p.Other != nil {
		return nil, problems, &FileError{Name: name, Err: fmt.Errorf("%s goes both ways; say which: --direction open or --direction close, or the name with :open or :close behind it", spec.Printable(name))}
	}
	return p, problems, nil
}

// open finds or begins the walk while nobody else can: of two that are opened at
// once, the second finds what the first has begun.
func (d Desk) open(r Request, p *spec.Procedure) (*Session, error) {
	release, err := d.Store.Hold(r.Engine)
	if err != nil {
		return nil, err
	}
	defer release()
	on, err := d.look()
	if err != nil {
		return nil, err
	}
	c := d.wanted(r, p).choose(r.Fresh, on.records)
	switch {
	case len(c.ask) > 0:
		return nil, &WhichError{Request: r, Candidates: c.ask}
	case c.goOn == "":
		return d.begin(on, r, p, c.passed)
	}
	s, err := d.resume(c.goOn, r.Despite, nil)
	if err == nil {
		s.More = append(s.More, alsoOpen(c.also)...)
	}
	return s, err
}

// alsoOpen names further walks of the same procedure that were left open.
func alsoOpen(list []Candidate) []string {
	var lines []string
	for _, c := range list {
		lines = append(lines, fmt.Sprintf("another walk of this is open too: %s; go on with that one by %s", c.ID, shell.Line("walk", nil, "--resume", c.ID)))
	}
	return lines
}

// withoutFile is what to say when a procedure cannot be read: which walks may
// be meant, or else what is wrong with it.
func (d Desk) withoutFile(r Request, cause error) error {
	var file *FileError
	if r.Fresh || !errors.As(cause, &file) {
		return cause
	}
	list, err := d.Store.List()
	if err != nil {
		return cause
	}
	if c := d.wanted(r, nil).choose(false, list); len(c.ask) > 0 {
		return &WhichError{Request: r, Candidates: c.ask, File: file}
	}
	return cause
}

// begin makes a new record, unless the tag is of another engine. Walks that
// were open and passed over are noted in it.
func (d Desk) begin(on shelf, r Request, p *spec.Procedure, passed []Candidate) (*Session, error) {
	var e engine.Engine
	if record.TagKey(r.Engine) != "" {
		e = on.engine(r.Engine, "", d.closers)
		if err := e.CheckModel(p); err != nil {
			return nil, err
		}
	}
	damaged := on.damage(d.wanted(r, p), false)
	if reason := strings.TrimSpace(r.Despite); len(damaged) > 0 && reason == "" {
		return nil, &DamageError{damaged}
	}
	now := d.Now()
	after, heed := behind(e.Clock, now)
	h := record.NewHeader(p, r.Procedure, r.Engine, d.Program, now)
	h.From, h.After, h.Place = d.Library.From(r.Procedure), after, strings.TrimSpace(r.Place)
	w, err := d.Store.Create(h)
	if err != nil {
		return nil, err
	}
	s := &Session{ID: w.ID, Tag: r.Engine, Place: w.Header.Place, Source: r.Procedure, Engine: e, ByID: procedures.IsPiped(r.Procedure), writer: w,
		Live: &walk.Live{State: walk.New(plan.Of(p)), Now: d.Now}}
	s.writes(d)
	s.heed(heed)
	if err := s.answer(damaged, strings.TrimSpace(r.Despite)); err != nil {
		return nil, err
	}
	for _, c := range passed {
		why := ""
		if c.Relation != Same {
			why = " (" + string(c.Relation) + ")"
		}
		if err := s.note(fmt.Sprintf("begun anew while %s was open%s", c.ID, why)); err != nil {
			return nil, err
		}
	}
	return s.bringBack()
}

// heed adds what has to be read before anything is done, if there is anything.
func (s *Session) heed(text string) {
	if text != "" {
		s.Heed = append(s.Heed, text)
	}
}

// At keeps in the record what its engine had run when it was worked at: "1240 h",
// once. One that is held by somebody else, or is less than was said before, is said so.
func (s *Session) At(meter string) error {
	meter, err := engine.ParseMeter(meter)
	if err != nil {
		return err
	}
	if s.Held != nil {
		return fmt.Errorf("%s is not kept: the record is held by %s", meter, s.Held.Holder)
	}
	before := s.Engine.Meter
	for _, ev := range s.Live.State.Events {
		before = cmp.Or(ev.Facts[engine.MeterFact], before) // its own record is not in its engine
	}
	if engine.MeterBehind(meter, before) {
		s.heed(fmt.Sprintf("%s is less than what was given before, %s; if that was wrong, say so in a note", meter, before))
	}
	return s.noteWith("at "+meter, map[string]string{engine.MeterFact: meter})
}

// note keeps a remark in the record, once. It closes the session when that
// cannot be written down.
func (s *Session) note(text string) error { return s.noteWith(text, nil) }

func (s *Session) noteWith(text string, facts map[string]string) error {
	for _, ev := range s.Live.State.Events {
		if ev.Kind == walk.Noted && ev.Text == text {
			return nil
		}
	}
	return s.do(walk.Command{Do: walk.Note, Target: walk.Whole, Text: text, Facts: facts})
}

// do carries out a command that has to be accepted.
func (s *Session) do(c walk.Command) error {
	refusal, err := s.Live.Do(c)
	if err == nil && refusal != nil {
		err = refusal
	}
	if err != nil {
		s.Close()
	}
	return err
}
