package record

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// maxFileBytes bounds what is read into memory: some three million events.
const maxFileBytes = 1 << 30

// File is a record as read. Reading never changes it.
type File struct {
	Path    string
	Header  Header
	Events  []walk.Event // every event that can be read, in order
	Trusted int          // how many of them stand before any break in the chain
	Chain   Chain
	Torn    []byte // what stands after the last whole line, if anything
	Closing string // SHA-256 of the last whole line, hex: kept on paper, it shows lines cut off or all written anew
}

// ID is what the record is called by: the name of its file.
func (f *File) ID() string { return idOf(f.Path) }

func idOf(path string) string {
	return spec.Printable(strings.TrimSuffix(strings.TrimSuffix(filepath.Base(path), recordEnding), ledgerEnding))
}

// Read reads a record. It fails only when there is no header to read; anything
// wrong further down is in Chain.
func Read(path string) (*File, error) {
	data, err := readWhole(path, nil)
	if err != nil {
		return nil, err
	}
	return parse(path, data)
}

func parse(path string, data []byte) (*File, error) {
	l := split(data)
	if l.header == nil {
		return nil, &Error{Path: path, What: l.chain.Problem, Remedy: "it can be deleted"}
	}
	h, err := readHeader(path, l.header)
	if err != nil {
		return nil, err
	}
	f := &File{Path: path, Header: h, Trusted: l.trusted, Chain: l.chain, Torn: l.torn}
	closing := lineHash(l.last())
	f.Closing = string(closing[:])
	f.Events = make([]walk.Event, 0, len(l.events))
	for i, line := range l.events {
		e, err := decodeEvent(line)
		if err != nil {
			f.breakAt(i+2, notAnEvent)
			break
		}
		f.Events = append(f.Events, e)
	}
	return f, nil
}

const notAnEvent = "it is not an event"

func readHeader(path string, line []byte) (Header, error) {
	h, err := decodeHeader(line)
	if err != nil {
		return h, &Error{Path: path, What: err.Error(), Remedy: "give a record: list them with evenpull records"}
	}
	return h, nil
}

// breakAt marks an earlier break than the chain found.
func (f *File) breakAt(line int, problem string) {
	if f.Chain.Whole() || f.Chain.Torn || line < f.Chain.Line {
		f.Chain = Chain{Line: line, Problem: problem}
	}
	f.Trusted = max(0, min(f.Trusted, line-2))
}

// TextHashHolds reports whether the procedure text is the one the header's
// SHA-256 was taken of.
func (f *File) TextHashHolds() bool { return TextHash([]byte(f.Header.Text)) == f.Header.SHA256 }

// Plan reads the procedure kept in the header. It fails when the text is not
// what its SHA-256 says, or cannot be read by this version.
func (f *File) Plan() (*plan.Plan, error) {
	if f.Header.Ledger {
		return nil, &Error{Path: f.Path, What: "this is the ledger of an engine, not a walk", Remedy: "see it with: evenpull engine TAG"}
	}
	if !f.TextHashHolds() {
		return nil, &Error{Path: f.Path, What: "the procedure in its first line is not the one it was started with", Remedy: "take the record from a backup"}
	}
	p, problems := read.Recorded(f.Header.Source, []byte(f.Header.Text))
	if p == nil {
		return nil, &Error{Path: f.Path, What: fmt.Sprintf("the procedure in its first line cannot be read by this version: %s", problems.Errors()[0].Error()),
			Remedy: "read it with the program that wrote it: " + f.Header.Program}
	}
	if p, err := f.Header.toward(p); err == nil {
		return walk.PlanOf(p, f.Header.Rules), nil
	}
	return nil, &Error{Path: f.Path, What: "its first line does not say in which direction it was walked", Remedy: "take the record from a backup"}
}

// toward is the procedure in the direction it was walked in: its text may go both ways.
func (h Header) toward(p *spec.Procedure) (*spec.Procedure, error) {
	if p.Other == nil {
		return p, nil
	}
	return p.Toward(h.Direction)
}

// Start is the walk before its first event, under the rules it was begun by.
func (f *File) Start() (*walk.State, error) {
	p, err := f.Plan()
	if err != nil {
		return nil, err
	}
	return walk.CourseOf(p, f.Header.Rules).Start(), nil
}

// Replay judges and folds the events that stand before any break, through the
// procedure kept in the header. Findings are events that were not earned; they
// do not count in the state.
func (f *File) Replay() (*walk.State, []walk.Finding, error) {
	s, err := f.Start()
	if err != nil {
		return nil, nil, err
	}
	findings := walk.Replay(s, f.Events[:f.Trusted])
	return s, findings, nil
}

// readWhole reads a regular file into buf, which grows as needed.
func readWhole(path string, buf []byte) ([]byte, error) {
	h, is, err := openRegular(path)
	if err != nil {
		return nil, err
	}
	defer h.close()
	return h.readAll(path, is, buf)
}

// openRegular opens a regular file to read. Anything else is refused; it is opened
// so that a pipe with no writer doesn't wait for one.
func openRegular(path string) (handle, stamp, error) {
	h, err := openToRead(path)
	if err != nil {
		return h, stamp{}, explain(path, "read the record", err)
	}
	is, err := h.stamp()
	switch {
	case err != nil:
		err = explain(path, "read the record", err)
	case is.isDir:
		err = notARecord(path, "this is a folder, not a record")
	case !is.isRegular:
		err = notARecord(path, "this is no ordinary file")
	case is.size > maxFileBytes:
		err = notARecord(path, "this is larger than a record can be (1 GiB)")
	}
	if err != nil {
		h.close()
	}
	return h, is, err
}

// readAll reads as much as there was when the file was opened.
func (h handle) readAll(path string, is stamp, buf []byte) ([]byte, error) {
	data, err := readFull(h, grow(buf, int(is.size)))
	if err != nil {
		return nil, explain(path, "read the record", err)
	}
	return data, nil
}

// upTo reads no more than there was when the file was opened.
func (h handle) upTo(is stamp) io.Reader { return io.LimitReader(handleReader{h}, is.size) }

// handleReader ends as an io.Reader does.
type handleReader struct{ handle }

func (r handleReader) Read(buf []byte) (int, error) {
	n, err := r.read(buf)
	if n == 0 && err == nil && len(buf) > 0 {
		err = io.EOF
	}
	return n, err
}

func notARecord(path, what string) error {
	return &Error{Path: path, What: what, Remedy: "name a record: list them with evenpull records"}
}

func grow(buf []byte, size int) []byte {
	if cap(buf) < size {
		return make([]byte, size, size+size/4)
	}
	return buf[:size]
}
