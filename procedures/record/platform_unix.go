//go:build unix

package record

import (
	"errors"
	"os"
	"syscall"
)

// openAtOnce opens without waiting for the other end of a pipe.
const openAtOnce = syscall.O_NONBLOCK

// noFollow opens no link; openFile need not look for one before.
const noFollow, lookFirst = syscall.O_NOFOLLOW, false

// tryLock takes the lock on an open file, or reports that another has it. The
// kernel lets go of it when its process ends, however it ends.
func tryLock(f *os.File) (taken bool, err error) {
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EINTR) {
			break
		}
	}
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}

// removeLock takes the lock file away while the lock is still held, so that
// nobody else's can be removed; see acquire.
func removeLock(f *os.File) error {
	err := os.Remove(f.Name())
	return errors.Join(err, f.Close())
}

// syncDir makes a new name in a folder durable.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		err = nil // some file systems cannot sync a folder
	}
	return errors.Join(err, d.Close())
}

func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG)
}

func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }

// alive reports whether there is a process of this number.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
