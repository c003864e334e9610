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

// openFile opens a record, a ledger or a lock without following a link at its
// name. The folder it lies in may be reached through one.
func openFile(path string, flag int, mode fs.FileMode) (*os.File, error) {
	if lookFirst && isLink(path) {
		return nil, errLink
	}
	f, err := os.OpenFile(path, flag|noFollow, mode)
	if err != nil && isLink(path) { // systems name it differently
		return nil, errLink
	}
	return f, err
}

func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}
