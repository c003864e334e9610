package record

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"evenpull/procedures/walk"
)

// appendFile is what a Writer needs of its file; tests put a failing one here.
type appendFile interface {
	Write([]byte) (int, error)
	Sync() error
	Truncate(int64) error
	Stat() (fs.FileInfo, error)
	Close() error
}

// Writer appends to one record. Only one exists for a record at a time, over
// all processes. It is for one goroutine.
type Writer struct {
	ID     string
	Path   string
	Header Header
	Aside  *Aside // a torn line that was put aside on opening, or nil

	lock *lock
	file appendFile
	size int64        // bytes known to be whole on disk
	seq  int          // of the last event
	prev [hexLen]byte // hash of the last line
	dead error        // why nothing more can be written, or nil
}

// Create starts a record and takes its lock. The header is whole on disk, under
// its name, before Create returns; the folder is made if it is not there. It
// fills in the header's id, format and hash.
func (s *Store) Create(h Header) (*Writer, error) {
	h, err := h.complete()
	if err != nil {
		return nil, err
	}
	if err := s.makeDir(); err != nil {
		return nil, err
	}
	for n := 1; ; n++ {
		h.ID = newID(h.Started, h.Engine, h.Procedure, n)
		w, err := s.createAs(h, s.Path(h.ID))
		var locked *LockedError
		if errors.Is(err, fs.ErrExist) || errors.As(err, &locked) {
			continue
		}
		return w, err
	}
}

// createAs makes the file under the id it has, or fails with fs.ErrExist.
func (s *Store) createAs(h Header, path string) (*Writer, error) {
	if _, err := os.Lstat(path); err == nil {
		return nil, fs.ErrExist
	}
	l, err := acquire(s.lockPath(h.ID), h.ID, s.Now())
	if err != nil {
		return nil, err
	}
	w, err := s.createLocked(h, path)
	if err != nil {
		l.release()
		return nil, err
	}
	w.lock = l
	return w, nil
}

func (s *Store) createLocked(h Header, path string) (*Writer, error) {
	if _, err := os.Lstat(path); err == nil {
		return nil, fs.ErrExist // it came about while the lock was being taken
	}
	line, err := encodeLine(h)
	if err != nil {
		return nil, err
	}
	if err := writeWhole(s.disk, path, append(bytes.Clone(line), '\n')); err != nil {
		return nil, explain(path, "start the record", err)
	}
	f, err := s.disk.open(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return nil, explain(path, "start the record", err)
	}
	return &Writer{ID: h.ID, Path: path, Header: h, file: f, size: int64(len(line) + 1), prev: lineHash(line)}, nil
}

// Append writes one event and returns once it is on disk. After an error the
// event is not part of the record and must not be shown as confirmed; it may be
// tried again unless the error is walk.ErrLost: then the record has to be opened anew.
func (w *Writer) Append(e walk.Event) error {
	if w.dead != nil {
		return w.dead
	}
	if e.Seq != w.seq+1 {
		return fmt.Errorf("event %d cannot follow event %d in a record", e.Seq, w.seq)
	}
	line, err := encodeLine(eventLine{e, string(w.prev[:])})
	if err != nil {
		return err
	}
	if err := w.inPlace(); err != nil {
		return err
	}
	if _, err := w.file.Write(append(line, '\n')); err != nil {
		return w.takeBack(explain(w.Path, "write the record", err))
	}
	if err := w.file.Sync(); err != nil {
		// After a failed sync nobody knows what is on disk: trying again would
		// report success for what may be lost.
		w.file.Truncate(w.size)
		return w.kill("it could not be made safe on disk: "+reason(err), err)
	}
	w.size += int64(len(line) + 1)
	w.seq, w.prev = e.Seq, lineHash(line)
	return nil
}

// takeBack removes a line that was only half written.
func (w *Writer) takeBack(cause error) error {
	if err := w.file.Truncate(w.size); err != nil {
		return w.kill("a line was only half written: "+reason(errors.Unwrap(cause)), cause)
	}
	return cause
}

// kill ends the writer for good; what is on disk up to here stays.
func (w *Writer) kill(what string, err error) error {
	w.dead = &Error{w.Path, what, "the last step is not recorded: quit, put the disk right and open the walk again", errors.Join(walk.ErrLost, err)}
	return w.dead
}

// inPlace makes sure that what is written will be found: that the file is still
// under its name, and as long as it was left.
func (w *Writer) inPlace() error {
	mine, err := w.file.Stat()
	if err != nil {
		return w.kill("it cannot be looked at any more: "+reason(err), err)
	}
	named, err := os.Lstat(w.Path)
	if err != nil || !os.SameFile(mine, named) {
		return w.kill("it was removed or replaced while it was open", err)
	}
	if mine.Size() != w.size {
		return w.kill("it was changed by something else while it was open", nil)
	}
	return nil
}

// Close lets go of the record. It can be opened again at once.
func (w *Writer) Close() error {
	if w.lock == nil {
		return nil
	}
	err := errors.Join(w.file.Close(), w.lock.release())
	w.lock = nil
	w.dead = &Error{Path: w.Path, What: "the record is closed", Remedy: "open the walk again", Err: walk.ErrLost}
	return err
}
