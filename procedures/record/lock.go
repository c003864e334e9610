package record

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"time"

	"evenpull/spec"
)

// lock is the right to write one record. It is a lock of the system on the file
// ID.lock; the text in it only says who holds it, and counts for nothing once
// the holder is gone.
type lock struct{ file *os.File }

// acquire takes the lock of a record, or fails with a LockedError.
//
// A holder removes the file before it lets go. Whoever opened it just before
// would hold the lock of a file that is no longer there, so the name is looked
// at again once the lock is taken.
func acquire(path, id string, now time.Time) (*lock, error) {
	for {
		f, err := openFile(path, os.O_RDWR|os.O_CREATE, fileMode)
		if err != nil {
			return nil, explain(path, "lock the record", err)
		}
		taken, err := tryLock(f)
		if err != nil {
			f.Close()
			return nil, &Error{path, "this folder cannot lock files: " + reason(err), "keep records on a local disk with --records DIR", err}
		}
		if !taken {
			holder := readHolder(f)
			f.Close()
			return nil, &LockedError{id, holder}
		}
		if !stillThere(f, path) {
			f.Close()
			continue
		}
		l := &lock{f}
		if err := l.sign(now); err != nil {
			l.release()
			return nil, explain(path, "lock the record", err)
		}
		return l, nil
	}
}

func stillThere(f *os.File, path string) bool {
	mine, err1 := f.Stat()
	named, err2 := os.Lstat(path)
	return err1 == nil && err2 == nil && os.SameFile(mine, named)
}

// sign writes who holds the lock.
func (l *lock) sign(now time.Time) error {
	host, _ := os.Hostname() // without one the process number has to do
	text, err := json.Marshal(Holder{os.Getpid(), host, now})
	if err != nil {
		return err
	}
	if err := l.file.Truncate(0); err != nil {
		return err
	}
	_, err = l.file.WriteAt(append(text, '\n'), 0)
	return err
}

// readHolder gives what the holder wrote, or nothing when it has not yet.
func readHolder(f *os.File) Holder {
	const enough = 4096
	var h Holder
	text, err := io.ReadAll(io.NewSectionReader(f, 0, enough))
	if err != nil || json.Unmarshal(text, &h) != nil {
		return Holder{}
	}
	h.Host = spec.Printable(h.Host)
	return h
}

func (l *lock) release() error {
	if l.file == nil {
		return errors.New("the record is closed already")
	}
	err := removeLock(l.file)
	l.file = nil
	return err
}
