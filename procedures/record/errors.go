package record

import (
	"errors"
	"fmt"
	"io/fs"
	"time"

	"evenpull/procedures/shell"
)

// Error is one thing that went wrong with a file, and what to do about it.
type Error struct {
	Path   string
	What   string // lower case
	Remedy string
	Err    error // nil if the file system said nothing
}

// Error gives it in one line: "PATH: what is wrong; what to do".
func (e *Error) Error() string {
	text := e.What
	if e.Path != "" {
		text = e.Path + ": " + text
	}
	if e.Remedy != "" {
		text += "; " + e.Remedy
	}
	return text
}

// Unwrap gives what the file system said.
func (e *Error) Unwrap() error { return e.Err }

// Holder is who has a record open for writing.
type Holder struct {
	PID   int       `json:"pid"`
	Host  string    `json:"host"`
	Since time.Time `json:"since"`
}

// String names the holder: "process 4711 on bench, since 10:42 on 25 November 2026".
func (h Holder) String() string {
	if h.PID == 0 {
		return "another evenpull"
	}
	text := fmt.Sprintf("process %d", h.PID)
	if h.Host != "" {
		text += " on " + h.Host
	}
	if !h.Since.IsZero() {
		text += ", since " + h.Since.Format("15:04 on 2 January 2006")
	}
	return text
}

// LockedError says that a record is open for writing elsewhere. It may still be
// read.
type LockedError struct {
	ID     string
	Holder Holder
}

// Error names the holder and the way out.
func (e *LockedError) Error() string {
	return fmt.Sprintf("%s is being walked by %s; close it there, or look at it with: %s", e.ID, e.Holder, shell.Line("show", []string{e.ID}))
}

// BrokenError says that a record cannot be gone on with.
type BrokenError struct {
	Path  string
	Chain Chain
}

// Error names the line and the way out.
func (e *BrokenError) Error() string {
	return fmt.Sprintf("%s: the record is %s; it can be read but not gone on with: start a new walk with --new", e.Path, e.Chain)
}

// explain puts what the file system said into words with a remedy. doing is
// what was tried, such as "read" or "write".
func explain(path, doing string, err error) error {
	e := &Error{Path: path, Err: err}
	switch {
	case errors.Is(err, errLink):
		e.What, e.Remedy = fmt.Sprintf("cannot %s: this name is a link, and links are not followed", doing), "put the file itself in its place"
	case isFull(err):
		e.What, e.Remedy = "the disk is full", "free some space and try again; nothing recorded so far is lost"
	case errors.Is(err, fs.ErrNotExist):
		e.What, e.Remedy = "there is no such record", "list them with: evenpull records"
	case isReadOnly(err):
		e.What, e.Remedy = fmt.Sprintf("cannot %s: the disk is read-only", doing), "choose another folder with --records DIR"
	case errors.Is(err, fs.ErrPermission):
		e.What, e.Remedy = fmt.Sprintf("cannot %s: no permission", doing), "change its permissions, or choose another folder with --records DIR"
	default:
		e.What, e.Remedy = fmt.Sprintf("cannot %s: %s", doing, reason(err)), "try again, or choose another folder with --records DIR"
	}
	return e
}

// reason is the bare cause, without the path that Error already names.
func reason(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}
