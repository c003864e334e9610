package record

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"evenpull/spec"
)

// Taken is what became of a record that came from elsewhere.
type Taken int

const (
	Here     Taken = iota // it is here already, byte for byte
	Added                 // it was not here
	Behind                // the one here has gone on since: all of it is in it
	CaughtUp              // the one here went on with what it lacked
)

// Add keeps a record that came from elsewhere, under the id it has there. It
// never overwrites: one of that id that begins like it and is shorter is gone on
// with where catchUp says so, and other bytes are an error. The caller has
// verified it.
func (s *Store) Add(id string, data []byte, signatures []Signature, catchUp bool) (Taken, error) {
	return s.add(id, s.Path(id), data, signatures, catchUp)
}

// AddLedger is Add for the ledger of an engine.
func (s *Store) AddLedger(id string, data []byte, signatures []Signature, catchUp bool) (Taken, error) {
	return s.add(id, s.ledgerPath(id), data, signatures, catchUp)
}

func (s *Store) add(id, path string, data []byte, signatures []Signature, catchUp bool) (Taken, error) {
	if err := s.makeDir(); err != nil {
		return Here, err
	}
	l, err := acquire(s.lockPath(id), id, s.Now())
	if err != nil {
		return Here, err
	}
	defer l.release()
	have, there, err := whatIs(path)
	if err != nil {
		return Here, err
	}
	taken := Here
	switch {
	case !there:
		if err := writeWhole(s.disk, path, data); err != nil {
			return Here, explain(path, "keep the record", err)
		}
		taken = Added
	case bytes.Equal(have, data):
	case bytes.HasPrefix(have, data):
		return Behind, nil // signatures of the part are none of the whole
	case !bytes.HasPrefix(data, have):
		return Here, another(path, fmt.Sprintf("the one here and the one that comes are alike up to line %d and differ from there; the one here stays", alike(have, data)), apartRemedy)
	case new(Beside).Signed(path):
		return Here, another(path, "the one that comes has gone on since the one here was signed; the one here stays", apartRemedy)
	case !catchUp:
		return Here, another(path, fmt.Sprintf("the one here ends before the one that comes, which has %s more; the one here stays as it is", lineCount(data[len(have):])),
			"to let the one here go on with them, give --catch-up")
	default:
		if err := writeWhole(s.disk, path, data); err != nil { // all of it or nothing, also when the power goes
			return Here, explain(path, "go on with the record", err)
		}
		taken = CaughtUp
	}
	for _, signature := range signatures { // after the record: a signature alone is of no use
		switch _, there, err := keepSignature(s.disk, path, data, signature.Text); {
		case err != nil:
			return taken, err
		case !there && taken == Here:
			taken = Added
		}
	}
	return taken, nil
}

const apartRemedy = "compare the two, or import into a folder of its own with --records DIR"

func another(path, what, remedy string) error {
	return &Error{Path: spec.Printable(path), What: what, Remedy: remedy}
}

// whatIs gives the bytes of a file, and whether there is one.
func whatIs(path string) (data []byte, there bool, err error) {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	data, err = readWhole(path, nil)
	return data, true, err
}

// alike counts the whole lines two texts begin with.
func alike(a, b []byte) (n int) {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			break
		}
		if a[i] == '\n' {
			n++
		}
	}
	return n
}

func lineCount(text []byte) string {
	if n := bytes.Count(text, []byte("\n")); n != 1 {
		return fmt.Sprintf("%d lines", n)
	}
	return "1 line"
}
