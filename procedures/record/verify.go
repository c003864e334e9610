package record

import (
	"errors"
	"fmt"
	"path/filepath"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Report is what Verify found.
type Report struct {
	ID        string
	Path      string
	File      *File          // nil when the record cannot be read at all
	Chain     Chain          // zero when File is nil
	State     walk.Phase     // what the events earn; empty when they cannot be replayed
	Confirmed int            // stages that stand confirmed
	Findings  []walk.Finding // events that were not earned
	FalseDone bool           // it says done, and the events do not earn it
	Signed    *Signed        // nil when nobody has signed it
	Pictures  []Kept         // that its events name; only where it lies in a file
	Problems  []string       // each a reason not to rely on the record
	Notes     []string       // worth knowing, no reason to doubt it
}

// OK reports that the record can be relied on.
func (r *Report) OK() bool { return len(r.Problems) == 0 }

func (r *Report) problem(format string, args ...any) {
	r.Problems = append(r.Problems, fmt.Sprintf(format, args...))
}

func (r *Report) note(format string, args ...any) {
	r.Notes = append(r.Notes, fmt.Sprintf(format, args...))
}

// Verify reads a record, follows its chain, holds the procedure text against
// its hash, replays the events, and holds a signature beside it against all of
// it. It never changes the file.
func Verify(path string) *Report {
	data, signature, err := Raw(path)
	if err != nil {
		r := &Report{ID: idOf(path), Path: path}
		r.problem("%s", err)
		return r
	}
	r := VerifyBytes(path, data, signature)
	r.pictures(filepath.Dir(path))
	return r
}

// Kept is a picture that a record names, and whether it is as it was kept.
type Kept struct {
	walk.Photo
	Lost *PictureError // nil: it is
}

// PicturesKept is how many of its pictures are as they were kept.
func (r *Report) PicturesKept() (n int) {
	for _, k := range r.Pictures {
		if k.Lost == nil {
			n++
		}
	}
	return n
}

// pictures holds what is kept beside the record against what its events name. The
// record is not the worse for a picture that is lost.
func (r *Report) pictures(dir string) {
	if r.File == nil {
		return
	}
	seen := map[string]bool{}
	for _, e := range r.File.Events[:r.File.Trusted] {
		for _, p := range walk.PhotosNamed(e) {
			if seen[p.File()] {
				continue
			}
			seen[p.File()] = true
			k := Kept{Photo: p}
			if _, err := Picture(dir, p); errors.As(err, &k.Lost) {
				r.note("%s", k.Lost)
			}
			r.Pictures = append(r.Pictures, k)
		}
	}
}

// VerifyBytes is Verify for a record that lies in no file yet. path is what it
// would be called; an empty signature is none.
func VerifyBytes(path string, data, signature []byte) *Report {
	r := &Report{ID: idOf(path), Path: path}
	f, err := parse(path, data)
	if err != nil {
		r.problem("%s", err)
		return r
	}
	if len(signature) == 0 {
		data = nil // it has been read, and is as large as what was
	}
	r.File, r.Chain = f, f.Chain
	if !f.Chain.Whole() {
		r.problem("the record is %s", f.Chain)
	}
	if f.Header.ID != r.ID {
		r.note("it was started as %s; the file has been renamed or copied", f.Header.ID)
	}
	r.numbers()
	if !f.Header.Ledger { // nothing in a ledger has to be earned
		r.replay()
	}
	r.clocks()
	if len(signature) > 0 {
		r.signature(data, signature)
	}
	return r
}

// numbers reports gaps in the events' own count.
func (r *Report) numbers() {
	for i, e := range r.File.Events {
		if e.Seq != i+1 {
			r.problem("line %d: event %d stands where %d belongs", i+2, e.Seq, i+1)
			return // the rest would only repeat it
		}
	}
}

func (r *Report) replay() {
	s, findings, err := r.File.Replay()
	if err != nil {
		r.problem("%s", err)
		return
	}
	r.State, r.Confirmed, r.Findings = s.Phase, Confirmed(s), findings
	r.findings()
	r.dones()
	if r.State == walk.IsOpen && r.File.Chain.Torn {
		r.note("the walk can be gone on with")
	}
}

// findings words what was not earned, with its line.
func (r *Report) findings() {
	line := 1
	for _, f := range r.Findings {
		for line++; !sameEvent(r.File.Events[line-2], f.Event); line++ {
		}
		switch {
		case f.Event.Kind == walk.Done:
			r.problem("line %d: this done is false: %s", line, f.Refusal.What)
			for _, o := range f.Refusal.Outstanding {
				r.note("outstanding at that done: %s", o)
			}
		default:
			r.problem("line %d: %s does not count: %s", line, eventName(f.Event), f.Refusal.What)
		}
	}
}

// sameEvent tells events of one record apart; no two have the same place.
func sameEvent(a, b walk.Event) bool {
	return a.Seq == b.Seq && a.Kind == b.Kind && a.Item == b.Item && a.Fastener == b.Fastener && a.At.Equal(b.At)
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

// dones reports a done that the events before any break do not reach.
func (r *Report) dones() {
	if r.State == walk.IsDone {
		return
	}
	for i, e := range r.File.Events {
		if e.Kind != walk.Done {
			continue
		}
		r.FalseDone = true
		if i >= r.File.Trusted {
			r.problem("line %d: this done is false: it stands behind the break in the record", i+2)
		}
	}
}

// clocks notes times that run backwards. They are never corrected.
func (r *Report) clocks() {
	last := r.File.Header.Started
	for i, e := range r.File.Events {
		if e.At.Before(last) {
			r.note("line %d: the clock ran backwards by %s", i+2, spec.Span(last.Sub(e.At)))
		}
		last = e.At
	}
}
