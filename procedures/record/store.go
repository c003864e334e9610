package record

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"evenpull/spec"
)

// Endings of the files in a store: the record, its lock, and what was torn off.
const (
	recordEnding = ".jsonl"
	lockEnding   = ".lock"
	tornEnding   = ".torn"
	draftEnding  = ".new" // a header not yet whole on disk
)

// Store is a folder of records.
type Store struct {
	Dir string
	Now func() time.Time // for the lock's since only

	disk disk
}

// Open opens a folder of records, which need not exist yet; it is made when the
// first walk starts.
func Open(dir string, now func() time.Time) (*Store, error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return nil, explain(dir, "open the records folder", err)
	case !info.IsDir():
		return nil, &Error{Path: dir, What: "this is a file, not a folder of records", Remedy: "choose a folder with --records DIR"}
	}
	return &Store{dir, now, system{}}, nil
}

// Exists reports whether the folder is there yet.
func (s *Store) Exists() bool {
	_, err := os.Stat(s.Dir)
	return err == nil
}

// Path is where the record with this id lies.
func (s *Store) Path(id string) string { return filepath.Join(s.Dir, id+recordEnding) }

func (s *Store) lockPath(id string) string { return filepath.Join(s.Dir, id+lockEnding) }

// Newest names the newest record, whatever its id.
const Newest = "last"

// Find gives the path of a record from its id, the start of its id, the name of a file,
// or Newest. It fails when none fits or several do.
func (s *Store) Find(name string) (path string, err error) {
	if name == Newest {
		list, err := s.List()
		if err == nil && len(list) == 0 {
			err = &Error{What: "there are no records yet", Remedy: "start one with: evenpull walk crankcase-close"}
		}
		if err != nil {
			return "", err
		}
		return list[0].Path, nil
	}
	return s.find(name, recordEnding)
}

// FindAny is Find for the ledgers of engines as well, by their ids.
func (s *Store) FindAny(name string) (path string, err error) {
	if path, err = s.Find(name); !errors.Is(err, fs.ErrNotExist) {
		return path, err
	}
	if ledger, none := s.find(name, ledgerEnding); none == nil {
		return ledger, nil
	}
	return "", err
}

// find looks among the files with an ending.
func (s *Store) find(name, ending string) (path string, err error) {
	if strings.ContainsAny(name, `/\`) || strings.HasSuffix(name, ending) {
		if _, err := os.Stat(name); err == nil {
			return name, nil
		}
		if filepath.Base(name) != name {
			return "", explain(spec.Printable(name), "read the record", fs.ErrNotExist)
		}
	}
	wanted := strings.ToLower(strings.TrimSuffix(strings.TrimSpace(name), ending))
	if wanted == "" {
		return "", &Error{What: "no record is named", Remedy: "list them with: evenpull records"}
	}
	ids, err := s.names(ending)
	if err != nil {
		return "", err
	}
	var found []string
	for _, id := range ids {
		if strings.ToLower(id) == wanted {
			return filepath.Join(s.Dir, id+ending), nil
		}
		if strings.HasPrefix(strings.ToLower(id), wanted) {
			found = append(found, id)
		}
	}
	switch len(found) {
	case 1:
		return filepath.Join(s.Dir, found[0]+ending), nil
	case 0:
		return "", explain(spec.Printable(name), "read the record", fs.ErrNotExist)
	}
	return "", &Error{Path: spec.Printable(name), What: "this could be " + some(found), Remedy: "write more of it"}
}

// some names a few of several.
func some(ids []string) string {
	const few = 4
	if len(ids) > few {
		return strings.Join(ids[:few], ", ") + " …"
	}
	return strings.Join(ids[:len(ids)-1], ", ") + " or " + ids[len(ids)-1]
}

// IDs names every record of the store, sorted: the day comes first, so the
// newest stand last.
func (s *Store) IDs() ([]string, error) { return s.ids() }

func (s *Store) ids() ([]string, error) { return s.names(recordEnding) }

// readNames gives every file of the store. A folder that is not there yet has
// none.
func (s *Store) readNames() ([]string, error) {
	dir, err := os.Open(s.Dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, explain(s.Dir, "read the records folder", err)
	}
	defer dir.Close()
	names, err := dir.Readdirnames(-1)
	if err != nil {
		return nil, explain(s.Dir, "read the records folder", err)
	}
	return names, nil
}
