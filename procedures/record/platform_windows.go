package record

import (
	"errors"
	"io"
	"os"

	"golang.org/x/sys/windows"
)

// openAtOnce is not needed here: pipes have no place among files.
const openAtOnce = 0

// noFollow: there is no such flag here, so openFile looks for a link before.
const noFollow, lookFirst = 0, true

// handle is a file to read once and close.
type handle struct{ file *os.File }

func openHandle(path string) (handle, error) {
	f, err := os.Open(path)
	return handle{f}, err
}

func (h handle) close() { h.file.Close() }

// read goes on where the last one ended; nothing read and no error is the end.
func (h handle) read(buf []byte) (int, error) {
	n, err := h.file.Read(buf)
	if err == io.EOF {
		err = nil
	}
	return n, err
}

func (h handle) stamp() (stamp, error) {
	info, err := h.file.Stat()
	if err != nil {
		return stamp{}, err
	}
	return stamp{isDir: info.IsDir(), isRegular: info.Mode().IsRegular(), size: info.Size()}, nil
}

// glanceAt tells nothing here: what it would say cannot tell two contents apart.
func glanceAt(string) (stamp, error) { return stamp{}, errors.ErrUnsupported }

// lockAt is where the one locked byte lies: far behind the text, since Windows
// keeps others from reading what is locked.
const lockAt = 1 << 30

// tryLock takes the lock on an open file, or reports that another has it. The
// system lets go of it when its process ends, however it ends.
func tryLock(f *os.File) (taken bool, err error) {
	at := windows.Overlapped{Offset: lockAt}
	err = windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return false, nil
	}
	return err == nil, err
}

// removeLock closes first, as an open file cannot be removed here. If another
// has opened it meanwhile the removal fails, which is right.
func removeLock(f *os.File) error {
	err := f.Close()
	os.Remove(f.Name())
	return err
}

// syncDir does nothing: Windows has no such call, and NTFS journals names.
func syncDir(string) error { return nil }

func isFull(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}

func isReadOnly(err error) bool { return errors.Is(err, windows.ERROR_WRITE_PROTECT) }

// alive reports whether there is a process of this number.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	p.Release()
	return true
}
