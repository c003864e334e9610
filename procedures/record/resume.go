package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"evenpull/procedures/walk"
)

// Aside says that a torn last line was put aside when a record was opened.
type Aside struct {
	Path  string // the file it was put into
	Bytes int
	Line  int // where it stood
}

// String says it in words for the screen.
func (a *Aside) String() string {
	return fmt.Sprintf("line %d was cut off while it was being written (%d bytes) and is kept in %s; the walk goes on from the line before", a.Line, a.Bytes, a.Path)
}

// Resume opens a record to go on with it. The events are returned for
// walk.Replay. While another process has it, the writer is nil, the events are
// there to be read, and the error is a LockedError. A broken record cannot be
// gone on with: the events before the break are returned with a BrokenError.
func (s *Store) Resume(id string) (*Writer, []walk.Event, error) {
	if strings.ContainsAny(id, `/\`) || id == "" {
		return nil, nil, &Error{Path: s.Path(id), What: "this is not the id of a record", Remedy: "list them with: evenpull records"}
	}
	return s.resume(id, s.Path(id))
}

// resume opens the file of an id, a record or a ledger.
func (s *Store) resume(id, path string) (*Writer, []walk.Event, error) {
	if _, err := os.Lstat(path); err != nil {
		return nil, nil, explain(path, "read the record", err)
	}
	l, err := acquire(s.lockPath(id), id, s.Now())
	if err != nil {
		return nil, readOnlyEvents(path), err
	}
	w, events, err := s.resumeLocked(id, path)
	if err != nil {
		l.release()
		return nil, events, err
	}
	w.lock = l
	return w, events, nil
}

func readOnlyEvents(path string) []walk.Event {
	f, err := Read(path)
	if err != nil {
		return nil
	}
	return f.Events[:f.Trusted]
}

func (s *Store) resumeLocked(id, path string) (*Writer, []walk.Event, error) {
	data, err := readWhole(path, nil)
	if err != nil {
		return nil, nil, err
	}
	f, err := parse(path, data)
	if err != nil {
		return nil, nil, err
	}
	events := f.Events[:f.Trusted]
	if !f.Chain.Whole() && !f.Chain.Torn {
		return nil, events, &BrokenError{path, f.Chain}
	}
	file, err := s.disk.open(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return nil, events, explain(path, "write the record", err)
	}
	w := &Writer{ID: id, Path: path, Header: f.Header, file: file, size: int64(len(data) - len(f.Torn))}
	if len(f.Torn) > 0 {
		if w.Aside, err = s.setAside(path, f, file, w.size); err != nil {
			file.Close()
			return nil, events, err
		}
	}
	if len(events) > 0 {
		w.seq = events[len(events)-1].Seq
	}
	w.prev = lineHash(lastLine(data[:w.size]))
	return w, events, nil
}

// lastLine gives the last whole line without its newline.
func lastLine(data []byte) []byte {
	data = data[:len(data)-1]
	for i := len(data) - 1; i >= 0; i-- {
		if data[i] == '\n' {
			return data[i+1:]
		}
	}
	return data
}

// setAside keeps a torn line in a file of its own, then cuts it off. It is not
// cut off before it is safe elsewhere.
func (s *Store) setAside(path string, f *File, file appendFile, size int64) (*Aside, error) {
	aside, err := s.saveTorn(strings.TrimSuffix(path, recordEnding)+tornEnding, f.Torn)
	if err != nil {
		return nil, explain(path, "put its torn last line aside", err)
	}
	if err := errors.Join(file.Truncate(size), file.Sync()); err != nil {
		return nil, explain(path, "cut off its torn last line", err)
	}
	return &Aside{aside, len(f.Torn), f.Chain.Line}, nil
}

// saveTorn writes to the first free name: ID.torn, ID.torn-2 …
func (s *Store) saveTorn(base string, torn []byte) (string, error) {
	name := base
	for n := 2; ; n++ {
		f, err := s.disk.open(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
		if errors.Is(err, fs.ErrExist) {
			name = fmt.Sprintf("%s-%d", base, n)
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = f.Write(torn)
		if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
			s.disk.remove(name)
			return name, err
		}
		return name, s.disk.syncDir(s.Dir)
	}
}
