//go:build unix

package record

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"evenpull/procedures/walk"
)

// failing is a file whose next write, sync or truncation can be made to fail.
type failing struct {
	appendFile
	room                    int // bytes the next write still takes; −1: all
	noSync, noTruncate      bool
	syncs, truncated, wrote int
}

func (f *failing) Write(b []byte) (int, error) {
	f.wrote++
	if f.room < 0 {
		return f.appendFile.Write(b)
	}
	n, err := f.appendFile.Write(b[:min(f.room, len(b))])
	return n, errors.Join(err, &fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC})
}

func (f *failing) Sync() error {
	f.syncs++
	if f.noSync {
		return syscall.EIO
	}
	return f.appendFile.Sync()
}

func (f *failing) Truncate(n int64) error {
	f.truncated++
	if f.noTruncate {
		return syscall.EIO
	}
	return f.appendFile.Truncate(n)
}

func failingWriter(t *testing.T, s *Store) (*Writer, *failing) {
	w := create(t, s, "2")
	f := &failing{appendFile: w.file, room: -1}
	w.file = f
	return w, f
}

func TestEachEventIsOneWriteAndOneSync(t *testing.T) {
	w, f := failingWriter(t, newStore(t))
	defer closeWriter(t, w)
	for i := 1; i <= 3; i++ {
		if err := w.Append(note(i, "ok")); err != nil || f.wrote != i || f.syncs != i {
			t.Errorf("event %d: %v, %d writes, %d syncs", i, err, f.wrote, f.syncs)
		}
	}
	wantText(t, w.Append(note(3, "again")), "event 3 cannot follow event 3")
}

// wantLost wants an error that says so, and that trying again cannot succeed.
func wantLost(t *testing.T, err error, parts ...string) {
	t.Helper()
	wantText(t, err, parts...)
	if !errors.Is(err, walk.ErrLost) {
		t.Errorf("%v does not say that nothing more can be written", err)
	}
}

func TestAFullDiskLeavesTheRecordAsItWasAndCanBeTriedAgain(t *testing.T) {
	w, f := failingWriter(t, newStore(t))
	if err := w.Append(note(1, "kept")); err != nil {
		t.Fatal(err)
	}
	before := readFile(t, w.Path)
	for room := 0; room < 200; room += 19 {
		f.room = room
		err := w.Append(note(2, "lost"))
		wantText(t, err, "the disk is full; free some space")
		if !errors.Is(err, syscall.ENOSPC) || errors.Is(err, walk.ErrLost) || string(readFile(t, w.Path)) != string(before) {
			t.Fatalf("with room for %d bytes the file is left changed", room)
		}
	}
	f.room = -1
	if err := w.Append(note(2, "again")); err != nil {
		t.Fatal(err)
	}
	closeWriter(t, w)
	if r := Verify(w.Path); !r.OK() || r.Events != 2 {
		t.Errorf("got %v", r.Problems)
	}
}

func TestAWriterThatCannotTakeAHalfLineBackWritesNoMore(t *testing.T) {
	s := newStore(t)
	w, f := failingWriter(t, s)
	f.room, f.noTruncate = 25, true
	wantLost(t, w.Append(note(1, "half")), "half written", "not recorded")
	f.room, f.noTruncate = -1, false
	wantLost(t, w.Append(note(1, "again")), "open the walk again")
	closeWriter(t, w)
	again, events, err := s.Resume(w.ID)
	if err != nil || len(events) != 0 || again.Aside == nil || again.Aside.Bytes != 25 {
		t.Fatalf("opened anew: %v, %d events", err, len(events))
	}
	closeWriter(t, again)
}

func TestAFailedSyncIsNeverTakenForSafe(t *testing.T) {
	for _, noTruncate := range []bool{false, true} {
		w, f := failingWriter(t, newStore(t))
		f.noSync, f.noTruncate = true, noTruncate
		wantLost(t, w.Append(note(1, "unsafe")), "could not be made safe")
		f.noSync = false
		wantLost(t, w.Append(note(1, "again")), "could not be made safe")
		if f.wrote != 1 {
			t.Errorf("wrote %d times after a failed sync", f.wrote)
		}
		closeWriter(t, w)
		wantLost(t, w.Append(note(1, "closed")), "the record is closed")
	}
}

func TestAFileChangedOrRemovedUnderTheWriterIsNoticed(t *testing.T) {
	cases := []struct {
		name, want string
		harm       func(path string) error
	}{
		{"removed", "removed or replaced", os.Remove},
		{"moved", "removed or replaced", func(p string) error { return os.Rename(p, p+"-old") }},
		{"cut", "changed by something else", func(p string) error { return os.Truncate(p, 10) }},
	}
	for _, c := range cases {
		w := create(t, newStore(t), "2")
		if err := c.harm(w.Path); err != nil {
			t.Fatal(err)
		}
		wantLost(t, w.Append(note(1, "x")), c.want)
		closeWriter(t, w)
	}
}

func TestPlacesThatHoldNoRecordsAreOneClearErrorEach(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	writeFile(t, file, []byte("{\"evenpull\":2}\n"))
	empty := filepath.Join(dir, "empty.jsonl")
	writeFile(t, empty, nil)
	pipe := filepath.Join(dir, "pipe.jsonl")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Open(file, clock())
	wantText(t, err, "a file, not a folder", "--records DIR")
	for path, want := range map[string]string{
		file:                          "record format 2 is not known",
		empty:                         "nothing was recorded in it; it can be deleted",
		pipe:                          "no ordinary file",
		dir:                           "a folder, not a record",
		filepath.Join(dir, "missing"): "no such record; list them",
	} {
		_, err := Read(path)
		wantText(t, err, want)
		if r := Verify(path); r.OK() || r.Header != nil {
			t.Errorf("%s: verified as good", path)
		}
	}
	under, err := Open(filepath.Join(dir, "new", "records"), clock())
	if err != nil {
		t.Fatal(err)
	}
	if list, err := under.List(); err != nil || len(list) != 0 {
		t.Errorf("a folder not there yet: %v, %v", list, err)
	}
	_, _, err = under.Resume("none")
	wantText(t, err, "no such record")
	_, _, err = under.Resume("../x")
	wantText(t, err, "not the id of a record")
}
