package record

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"

	"evenpull/procedures/walk"
)

// Report is what Verify found.
type Report struct {
	ID        string
	Path      string
	Header    *Header      // nil when the record cannot be read at all
	Chain     Chain        // zero when Header is nil
	Events    int          // how many can be read
	Trusted   int          // how many of them stand before any break in the chain
	State     walk.Phase   // what the events earn; empty when they cannot be replayed
	Confirmed int          // stages that stand confirmed
	FalseDone bool         // it says done, and the events do not earn it
	Signed    []Signed     // by whom, the first before all; each key once
	Named     []walk.Photo // pictures that its trusted events name, each once
	Pictures  []Kept       // the same, looked at; only where it lies in a file
	Problems  []string     // each a reason not to rely on the record
	Notes     []string     // worth knowing, no reason to doubt it
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
// its hash, replays the events, and holds the signatures beside it against all of
// it. It never changes the file, and holds none of its events in memory.
func Verify(path string) *Report { return new(Beside).Verify(path) }

// Verify is that, for one of many records.
func (b *Beside) Verify(path string) *Report {
	r, err := b.verifyFile(path)
	if err != nil {
		return unread(path, err)
	}
	r.pictures(filepath.Dir(path))
	return r
}

func (b *Beside) verifyFile(path string) (*Report, error) {
	h, is, err := openRegular(path)
	if err != nil {
		return nil, err
	}
	defer h.close()
	return verify(path, h.upTo(is), b.signatures(path))
}

// VerifyBytes is Verify for a record that lies in no file yet. path is what it
// would be called.
func VerifyBytes(path string, data []byte, signatures []Signature) *Report {
	r, err := verify(path, bytes.NewReader(data), signatures)
	if err != nil {
		return unread(path, err)
	}
	return r
}

// unread is a record of which nothing is known but why.
func unread(path string, err error) *Report {
	r := &Report{ID: idOf(path), Path: path}
	r.problem("%s", err)
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
	for _, p := range r.Named {
		k := Kept{Photo: p}
		if _, err := Picture(dir, p); errors.As(err, &k.Lost) {
			r.note("%s", k.Lost)
		}
		r.Pictures = append(r.Pictures, k)
	}
}
