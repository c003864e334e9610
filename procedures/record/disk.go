package record

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// disk is all that changes what lies in a store, locks aside. Tests put one
// here that fails, or that forgets what was not synced.
type disk interface {
	open(path string, flag int, mode fs.FileMode) (appendFile, error) // to write; follows no link
	rename(from, to string) error
	remove(path string) error
	mkdir(dir string) error   // one folder, in one that is there
	syncDir(dir string) error // makes the names in a folder durable
}

// system is the machine's own disk.
type system struct{}

func (system) open(path string, flag int, mode fs.FileMode) (appendFile, error) {
	f, err := openFile(path, flag, mode)
	if err != nil {
		return nil, err // not a nil *os.File in an interface
	}
	return f, nil
}

func (system) rename(from, to string) error { return os.Rename(from, to) }
func (system) remove(path string) error     { return os.Remove(path) }
func (system) mkdir(dir string) error       { return os.Mkdir(dir, folderMode) }
func (system) syncDir(dir string) error     { return syncDir(dir) }

// writeWhole puts a file under its name only once all of it is on disk.
func writeWhole(d disk, path string, data []byte) error {
	draft := path + draftEnding
	f, err := d.open(draft, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, fileMode)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = d.rename(draft, path)
	}
	if err != nil {
		d.remove(draft)
		return err
	}
	return d.syncDir(filepath.Dir(path))
}

// makeDir makes the folder of the store, and those above it that are missing,
// each durable in the one it is in: a record is not safe in a folder that is not.
func (s *Store) makeDir() error {
	if err := makeDir(s.disk, s.Dir); err != nil {
		return explain(s.Dir, "make the records folder", err)
	}
	return nil
}

func makeDir(d disk, dir string) error {
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return nil
	}
	if above := filepath.Dir(dir); above != dir {
		if err := makeDir(d, above); err != nil {
			return err
		}
	}
	if err := d.mkdir(dir); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	if info, err := os.Stat(dir); err != nil || !info.IsDir() { // a file of that name is there
		return &fs.PathError{Op: "mkdir", Path: dir, Err: fs.ErrExist}
	}
	if err := d.syncDir(filepath.Dir(dir)); err != nil {
		d.remove(dir) // else the next try would take it for one that is safe
		return err
	}
	return nil
}
