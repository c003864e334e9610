package record

import (
	"fmt"
	"io"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// verifying is a record being verified. Each line is read, held against its hash, decoded,
// judged, folded and let go, before the next but one is read.
type verifying struct {
	*Report
	state   *walk.State // nil in a ledger, where nothing has to be earned, and where the sheet cannot be read
	follows links
	broken  int // line that is not an event, or 0; nothing after it is looked at
	seen    map[string]bool

	last     time.Time // of the event before
	gap      string    // where the events' own count has its first
	unearned []finding
	dones    []int // lines that say done
	clocks   []string
}

// finding is an event that was not earned, by its line.
type finding struct {
	line int
	walk.Finding
}

// verify fails only when there is no header to read, or no reading on.
func verify(path string, in io.Reader, signatures []Signature) (*Report, error) {
	in, signed := signings(in, signatures)
	lines := newStream(in)
	header, err := lines.next()
	switch {
	case err != nil:
		return nil, explain(path, "read the record", err)
	case header == nil:
		return nil, &Error{Path: path, What: nothing, Remedy: "it can be deleted"}
	}
	h, err := readHeader(path, header)
	if err != nil {
		return nil, err
	}
	v := &verifying{Report: &Report{ID: idOf(path), Path: path, Header: &h}, seen: map[string]bool{}, last: h.Started}
	var noSheet error
	if !h.Ledger {
		if v.state, noSheet = (&File{Path: path, Header: h}).Start(); v.state != nil {
			v.state.Forget()
		}
	}
	if err := v.read(header, lines); err != nil {
		return nil, explain(path, "read the record", err)
	}
	v.word(noSheet)
	v.signed(signed, len(signatures))
	return v.Report, nil
}

// read goes through all lines. An event counts once the next line has been held against it.
func (v *verifying) read(header []byte, lines *stream) error {
	v.follows.next(header)
	for held := []byte(nil); ; {
		line, err := lines.next()
		if err != nil {
			return err
		}
		if line != nil {
			v.follows.next(line)
		} else {
			v.Chain = v.follows.end(lines.torn)
		}
		if held != nil && v.broken == 0 {
			v.event(held)
		}
		if held = line; line == nil {
			break
		}
	}
	if v.broken > 0 && (v.Chain.Whole() || v.Chain.Torn || v.broken < v.Chain.Line) {
		v.Chain = Chain{Line: v.broken, Problem: notAnEvent}
	}
	return nil
}

// event takes a line after the first.
func (v *verifying) event(text []byte) {
	line := v.Events + 2
	e, err := decodeEvent(text)
	if err != nil {
		v.broken = line
		return
	}
	v.Events++
	if e.Seq != v.Events && v.gap == "" { // the rest would only repeat it
		v.gap = fmt.Sprintf("line %d: event %d stands where %d belongs", line, e.Seq, v.Events)
	}
	if e.Kind == walk.Done {
		v.dones = append(v.dones, line)
	}
	if e.At.Before(v.last) { // never corrected
		v.clocks = append(v.clocks, fmt.Sprintf("line %d: the clock ran backwards by %s", line, spec.Span(v.last.Sub(e.At))))
	}
	v.last = e.At
	if !v.follows.holds(line) {
		return
	}
	v.Trusted++
	for _, p := range walk.PhotosNamed(e) {
		if !v.seen[p.File()] {
			v.seen[p.File()] = true
			v.Named = append(v.Named, p)
		}
	}
	if v.state != nil {
		if r := v.state.Follow(e); r != nil {
			v.unearned = append(v.unearned, finding{line, walk.Finding{Event: e, Refusal: r}})
		}
	}
}

// word says what has been found, in the order in which it matters.
func (v *verifying) word(noSheet error) {
	if !v.Chain.Whole() {
		v.problem("the record is %s", v.Chain)
	}
	if v.Header.ID != v.ID {
		v.note("it was started as %s; the file has been renamed or copied", v.Header.ID)
	}
	if v.gap != "" {
		v.problem("%s", v.gap)
	}
	if noSheet != nil {
		v.problem("%s", noSheet)
	}
	if v.state != nil {
		v.State, v.Confirmed = v.state.Phase, Confirmed(v.state)
		v.findings()
		v.falseDones()
		if v.State == walk.IsOpen && v.Chain.Torn {
			v.note("the walk can be gone on with")
		}
	}
	v.Notes = append(v.Notes, v.clocks...)
}

// findings words what was not earned, with its line.
func (v *verifying) findings() {
	for _, f := range v.unearned {
		if f.Event.Kind != walk.Done {
			v.problem("line %d: %s does not count: %s", f.line, eventName(f.Event), f.Refusal.What)
			continue
		}
		v.problem("line %d: this done is false: %s", f.line, f.Refusal.What)
		for _, o := range f.Refusal.Outstanding {
			v.note("outstanding at that done: %s", o)
		}
	}
}

func eventName(e walk.Event) string {
	switch {
	case e.Item != "":
		return fmt.Sprintf("%s %s", e.Item, e.Kind)
	case e.Fastener != "":
		return fmt.Sprintf("%s %s", e.Fastener, e.Kind)
	}
	return string(e.Kind)
}

// falseDones reports a done that the events before any break do not reach.
func (v *verifying) falseDones() {
	if v.State == walk.IsDone {
		return
	}
	for _, line := range v.dones {
		v.FalseDone = true
		if line > v.Trusted+1 {
			v.problem("line %d: this done is false: it stands behind the break in the record", line)
		}
	}
}
