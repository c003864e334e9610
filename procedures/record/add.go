package record

import (
	"bytes"
	"errors"
	"io/fs"
	"os"

	"evenpull/spec"
)

// Add keeps a record that came from elsewhere, under the id it has there. It
// never overwrites: the same bytes are left as they are, and added is false;
// other bytes under that id are an error. The caller has verified it.
func (s *Store) Add(id string, data, signature []byte) (added bool, err error) {
	return s.add(id, s.Path(id), data, signature)
}

// AddLedger is Add for the ledger of an engine.
func (s *Store) AddLedger(id string, data, signature []byte) (added bool, err error) {
	return s.add(id, s.ledgerPath(id), data, signature)
}

func (s *Store) add(id, path string, data, signature []byte) (added bool, err error) {
	if err := s.makeDir(); err != nil {
		return false, err
	}
	l, err := acquire(s.lockPath(id), id, s.Now())
	if err != nil {
		return false, err
	}
	defer l.release()
	var missing []string
	bytesOf := map[string][]byte{path: data, SignaturePath(path): signature}
	for _, p := range []string{path, SignaturePath(path)} { // the record first: a signature alone is of no use
		there, err := sameThere(p, bytesOf[p])
		if err != nil {
			return false, err
		}
		if !there {
			missing = append(missing, p)
		}
	}
	for _, p := range missing {
		if err := writeWhole(s.disk, p, bytesOf[p]); err != nil {
			return added, explain(p, "keep the record", err)
		}
		added = true
	}
	return added, nil
}

// sameThere reports whether there is nothing to write: no bytes, or a file that
// holds them already. One that holds others is an error.
func sameThere(path string, data []byte) (bool, error) {
	if len(data) == 0 {
		return true, nil
	}
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	have, err := readWhole(path, nil)
	if err != nil {
		return false, err
	}
	if !bytes.Equal(have, data) {
		return false, &Error{Path: spec.Printable(path), What: "another file of this name is here already, and it stays", Remedy: "compare the two, or import into a folder of its own with --records DIR"}
	}
	return true, nil
}
