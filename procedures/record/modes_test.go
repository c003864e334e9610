//go:build unix

package record

import (
	"io/fs"
	"path/filepath"
	"syscall"
	"testing"
)

// Whatever the user's umask allows, only the owner reads records, ledgers,
// locks and what was put aside, and looks into the folders made for them.
func TestOnlyTheOwnerReadsWhatIsKept(t *testing.T) {
	defer syscall.Umask(syscall.Umask(0))
	root := filepath.Join(t.TempDir(), "data")
	s, err := Open(filepath.Join(root, "evenpull", "records"), clock())
	if err != nil {
		t.Fatal(err)
	}
	w := create(t, s, "7")
	closeWriter(t, w)
	writeFile(t, w.Path, append(readFile(t, w.Path), `{"seq":1`...))
	if w, _, err = s.Resume(w.ID); err != nil || w.Aside == nil {
		t.Fatalf("%v, nothing put aside", err)
	}
	defer closeWriter(t, w)
	ledger, _, err := s.OpenLedger("7", "test", started)
	if err != nil {
		t.Fatal(err)
	}
	defer closeWriter(t, ledger)
	files, folders := 0, 0
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		want := fs.FileMode(0o600)
		if d.IsDir() {
			want, folders = 0o700, folders+1
		} else {
			files++
		}
		if err == nil && info.Mode().Perm() != want {
			t.Errorf("%s has mode %o, want %o", path, info.Mode().Perm(), want)
		}
		return err
	})
	if err != nil || files != 5 || folders != 3 {
		t.Errorf("%d files and %d folders, %v; want a record, a ledger, a lock of each, a torn line, in three folders", files, folders, err)
	}
}
