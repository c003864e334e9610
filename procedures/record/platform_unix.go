//go:build unix

package record

import (
	"errors"
	"os"
	"syscall"

	"golang.org/x/sys/unix"
)

// openAtOnce opens without waiting for the other end of a pipe.
const openAtOnce = syscall.O_NONBLOCK

// noFollow opens no link; openFile need not look for one before.
const noFollow, lookFirst = syscall.O_NOFOLLOW, false

// handle is a file to read once and close: the system's own number for it. What
// os.File adds costs as much again as opening it, where there are ten thousand.
type handle int

func openHandle(path string) (h handle, err error) {
	err = again(func() error {
		fd, err := unix.Open(path, unix.O_RDONLY|unix.O_CLOEXEC|openAtOnce|noFollow, 0)
		h = handle(fd)
		return err
	})
	return h, err
}

func (h handle) close() { unix.Close(int(h)) }

// read goes on where the last one ended; nothing read and no error is the end.
func (h handle) read(buf []byte) (n int, err error) {
	err = again(func() error {
		n, err = unix.Read(int(h), buf)
		return err
	})
	return max(0, n), err
}

func (h handle) stamp() (stamp, error) {
	return stampBy(func(st *unix.Stat_t) error { return unix.Fstat(int(h), st) })
}

// glanceAt is the stamp of a file that is not opened for it; of a link its own.
func glanceAt(path string) (stamp, error) {
	return stampBy(func(st *unix.Stat_t) error { return unix.Lstat(path, st) })
}

func stampBy(look func(*unix.Stat_t) error) (stamp, error) {
	var st unix.Stat_t
	if err := again(func() error { return look(&st) }); err != nil {
		return stamp{}, err
	}
	kind := st.Mode & unix.S_IFMT
	return stamp{
		isDir: kind == unix.S_IFDIR, isRegular: kind == unix.S_IFREG, size: st.Size,
		device: uint64(st.Dev), inode: uint64(st.Ino), modified: int64(st.Mtim.Nano()), changed: int64(st.Ctim.Nano()),
	}, nil
}

// again does what a signal kept the system from doing.
func again(do func() error) error {
	for {
		if err := do(); err != unix.EINTR {
			return err
		}
	}
}

// tryLock takes the lock on an open file, or reports that another has it. The
// kernel lets go of it when its process ends, however it ends.
func tryLock(f *os.File) (taken bool, err error) {
	err = again(func() error { return unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB) })
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
