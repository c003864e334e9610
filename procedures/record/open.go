package record

import (
	"errors"
	"io/fs"
	"os"
)

// errLink says that a name in the store is a link. Following it would read or,
// worse, cut off and write a file that is no record.
var errLink = errors.New("it is a link")

// What a record tells is its owner's business: nobody else reads it, or looks
// into its folder.
const (
	fileMode   fs.FileMode = 0o600
	folderMode fs.FileMode = 0o700
)

// openFile opens a lock to look at, or a file to write, without following a link
// at its name. The folder it lies in may be reached through one.
func openFile(path string, flag int, mode fs.FileMode) (*os.File, error) {
	return unlinked(path, func() (*os.File, error) { return os.OpenFile(path, flag|noFollow, mode) })
}

// openToRead is openFile for what is read and closed at once.
func openToRead(path string) (handle, error) {
	return unlinked(path, func() (handle, error) { return openHandle(path) })
}

func unlinked[F any](path string, open func() (F, error)) (none F, err error) {
	if lookFirst && isLink(path) {
		return none, errLink
	}
	f, err := open()
	if err != nil && isLink(path) { // systems name it differently
		return none, errLink
	}
	return f, err
}

// stamp is what the system says of an open file. Where it can be told, no two
// contents of a file have the same device, inode, size and times, unless one came
// within a tick of the clock after the other: nobody can set changed, which is 0 on
// systems that do not tell it.
type stamp struct {
	isDir, isRegular  bool
	size              int64
	device, inode     uint64
	modified, changed int64 // ns since 1970
}

// readFull reads until buf is full or the file at its end.
func readFull(h handle, buf []byte) ([]byte, error) {
	n := 0
	for n < len(buf) {
		more, err := h.read(buf[n:])
		if n += more; more == 0 || err != nil {
			return buf[:n], err
		}
	}
	return buf, nil
}

func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}
