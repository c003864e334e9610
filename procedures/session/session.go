// Package session opens walks: it finds the one that is meant, begins or
// resumes it, and tells it what is on record of its engine. The command line,
// the start screen and the plain walk all open their walks here. It reads and
// writes the folder of records and knows of no terminal.
package session

import (
	"fmt"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Desk is where walks are opened: the records, the procedures and the clock.
type Desk struct {
	Store   *record.Store
	Library procedures.Library
	Now     func() time.Time
	Program string // version, kept in what is written
}

// Session is a walk that has been opened, with its place on disk.
type Session struct {
	ID     string
	Tag    string              // of its engine; may be empty
	Source string              // bundled name or file it was begun from, as typed
	Live   *walk.Live          // without Append when Held
	Held   *record.LockedError // somebody else has it, and it is only shown
	Engine engine.Engine       // what else is on record of its engine; empty without a tag
	Notice string              // what is most pressing to say of it
	More   []string            // what else there is to say

	Problems spec.Problems // of the procedure file as it is now

	writer *record.Writer
}

// Close lets go of the record.
func (s *Session) Close() {
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

// Request says which walk to open.
type Request struct {
	Procedure string // bundled name or file
	Engine    string // tag
	Fresh     bool   // begin a new walk even if one is open
}

// FileError says that a procedure cannot be walked as it stands.
type FileError struct {
	Name     string
	Problems spec.Problems // what is wrong inside it; none when it cannot be opened at all
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
func (d Desk) Read(name string) (*spec.Procedure, spec.Problems, error) {
	p, problems, err := d.Library.Load(name)
	if err != nil {
		return nil, nil, &FileError{Name: name, Err: err}
	}
	if p == nil {
		return nil, problems, &FileError{Name: name, Problems: problems}
	}
	return p, problems, nil
}

// Open goes on with the open walk of this engine and procedure, or begins one.
func (d Desk) Open(r Request) (*Session, error) {
	p, problems, err := d.Read(r.Procedure)
	if err != nil {
		if s := d.withoutFile(r); s != nil {
			s.Problems = problems
			return s, nil
		}
		return nil, err
	}
	s, err := d.open(r, p)
	if err == nil {
		s.Problems = problems
	}
	return s, err
}

func (d Desk) open(r Request, p *spec.Procedure) (*Session, error) {
	shelf, err := d.look()
	if err != nil {
		return nil, err
	}
	found, broken := openWalk(shelf.records, r.Engine, p)
	if found != nil && !r.Fresh {
		return d.resume(found.ID, found.SHA256 != record.TextHash(p.Text))
	}
	s, err := d.begin(shelf, r, p)
	if err == nil && broken != nil {
		s.Notice, s.More = fmt.Sprintf("the record before this one, %s, is broken and cannot be gone on with; this walk starts afresh: %s", broken.ID, shell.Line("show", []string{broken.ID})), append(said(s.Notice), s.More...)
	}
	return s, err
}

func said(notice string) []string {
	if notice == "" {
		return nil
	}
	return []string{notice}
}

// begin makes a new record, unless the tag is of another engine.
func (d Desk) begin(on shelf, r Request, p *spec.Procedure) (*Session, error) {
	var e engine.Engine
	if record.TagKey(r.Engine) != "" {
		e = on.engine(r.Engine, "", d.closers())
		if err := e.CheckModel(p); err != nil {
			return nil, err
		}
	}
	w, err := d.Store.Create(record.NewHeader(p, r.Procedure, r.Engine, d.Program, d.Now()))
	if err != nil {
		return nil, err
	}
	s := &Session{ID: w.ID, Tag: r.Engine, Source: r.Procedure, Engine: e, writer: w,
		Live: &walk.Live{State: walk.New(plan.Of(p)), Now: d.Now, Append: w.Append}}
	return s.bringBack()
}
