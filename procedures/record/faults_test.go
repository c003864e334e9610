package record

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec/outside"
)

// job is what is done to a store on a tape: a record is begun in folders that are
// not there yet, events follow, it is closed, opened again, and goes on. told is
// what the person has been told is safe.
type job struct {
	t     *testing.T
	store *Store
	w     *Writer
	id    string
	told  []string // texts of events
	tried string   // text of the one under way
	torn  []byte   // a half line that was there when it began
}

const jobEvents = 6

// run carries the job through; what fails is tried again as a person would.
func (j *job) run(header Header) {
	const patience = 4
	try := func(what string, do func() error) {
		var err error
		for range patience {
			if err = do(); err == nil {
				return
			}
			if !errors.Is(err, errTape) {
				break
			}
		}
		j.t.Fatalf("%s: %v after %v", what, err, j.store.disk.(*tape).ops)
	}
	if j.id == "" {
		try("create", func() (err error) {
			if j.w, err = j.store.Create(header); err == nil {
				j.id = j.w.ID
			}
			return err
		})
	}
	reopen := func() error {
		if j.w != nil {
			j.w.Close()
		}
		w, events, err := j.store.Resume(j.id)
		if err != nil {
			return err
		}
		j.w = w
		if got := texts(events); len(got) < len(j.told) || !slices.Equal(got[:len(j.told)], j.told) {
			j.t.Fatalf("opened with %v, was told %v", got, j.told)
		} else {
			j.told = got // one more may have got there than anybody was told
		}
		return nil
	}
	if j.w == nil {
		try("open", reopen)
	}
	for len(j.told) < jobEvents {
		j.tried = fmt.Sprint("event ", len(j.told)+1)
		try(j.tried, func() error {
			if j.w.dead != nil {
				if err := reopen(); err != nil {
					return err
				}
				if slices.Contains(j.told, j.tried) {
					return nil
				}
			}
			return j.w.Append(note(len(j.told)+1, j.tried))
		})
		if !slices.Contains(j.told, j.tried) {
			j.told = append(j.told, j.tried)
		}
		if len(j.told) == jobEvents/2 {
			try("close", func() error { j.w.Close(); return reopen() })
		}
	}
	j.w.Close()
}

func texts(events []walk.Event) []string {
	var list []string
	for _, e := range events {
		list = append(list, e.Text)
	}
	return list
}

// newJob starts in a folder that holds nothing, or a record with a half line.
func newJob(t *testing.T, half bool) (j *job, d *tape, root string) {
	t.Helper()
	root = filepath.Join(t.TempDir(), "root")
	if err := os.Mkdir(root, 0o700); err != nil {
		t.Fatal(err)
	}
	s, err := Open(filepath.Join(root, "evenpull", "records"), clock())
	if err != nil {
		t.Fatal(err)
	}
	j = &job{t: t, store: s}
	if half {
		s.disk = hasty{}
		w := create(t, s, "2")
		if err := w.Append(note(1, "event 1")); err != nil {
			t.Fatal(err)
		}
		closeWriter(t, w)
		j.torn = []byte(`{"seq":2,"at":"20`)
		writeFile(t, w.Path, append(readFile(t, w.Path), j.torn...))
		j.id, j.told = w.ID, []string{"event 1"}
	}
	d = newTape(root)
	if half {
		for _, dir := range []string{filepath.Dir(s.Dir), s.Dir} {
			d.kept[dir] = nil
		}
		data := readFile(t, s.Path(j.id))
		n := &inode{kept: data, size: len(data)}
		d.files[s.Path(j.id)], d.kept[s.Path(j.id)] = n, n
	}
	s.disk = d
	return j, d, root
}

// hasty is the system's disk without its syncs, for states that no power cut follows.
type hasty struct{ system }

type unsyncedFile struct{ appendFile }

func (unsyncedFile) Sync() error { return nil }

func (h hasty) open(path string, flag int, mode os.FileMode) (appendFile, error) {
	f, err := h.system.open(path, flag, mode)
	if err != nil {
		return nil, err
	}
	return unsyncedFile{f}, nil
}

func (hasty) syncDir(string) error { return nil }

// survives checks one state that a power cut may leave: what the person was told
// is safe is there, at most the step under way besides; it can be gone on with.
func (j *job) survives(dir string, goOn bool) error {
	path := filepath.Join(dir, "evenpull", "records", j.id+recordEnding)
	if j.id == "" {
		return nil // nobody was told that there is a record
	}
	r := Verify(path)
	if r.Header == nil {
		return fmt.Errorf("the record is gone: %v", r.Problems)
	}
	f, err := Read(path)
	if err != nil {
		return err
	}
	got := texts(f.Events)
	if len(got) < len(j.told) || !slices.Equal(got[:len(j.told)], j.told) || len(got) > len(j.told)+1 || len(got) == len(j.told)+1 && got[len(j.told)] != j.tried {
		return fmt.Errorf("it has %v, the person was told %v", got, j.told)
	}
	if !r.Chain.Whole() && !r.Chain.Torn {
		return fmt.Errorf("chain: %v", r.Chain)
	}
	if len(j.torn) > 0 && !kept(filepath.Dir(path), j.torn) {
		return errors.New("the half line is gone")
	}
	if !goOn {
		return nil
	}
	s := &Store{filepath.Dir(path), func() time.Time { return started }, hasty{}}
	w, events, err := s.Resume(j.id)
	if err != nil {
		return err
	}
	if err := errors.Join(w.Append(note(len(events)+1, "afterwards")), w.Close()); err != nil {
		return err
	}
	if r := Verify(path); !r.OK() || r.Events != len(events)+1 {
		return fmt.Errorf("after going on: %v", r.Problems)
	}
	return nil
}

// kept looks for bytes in any file of a folder.
func kept(dir string, what []byte) bool {
	files, _ := filepath.Glob(filepath.Join(dir, "*"))
	return slices.ContainsFunc(files, func(f string) bool {
		data, err := os.ReadFile(f)
		return err == nil && bytes.Contains(data, what)
	})
}

// The power is cut before every operation in turn; what was not synced is there,
// half there or not there, at any byte.
func TestNothingToldSafeIsLostInAPowerCut(t *testing.T) {
	states := 0
	for _, half := range []bool{false, true} {
		j, d, root := newJob(t, half)
		to := t.TempDir()
		header := NewHeader(procedureOf(t, cover), "cover.toml", "2", "test", started)
		d.onStep = func() {
			d.cuts(outside.Asking && j.tried == "event 4", // at every byte: one event is like another
				func(names map[string]*inode, of *inode, content []byte) {
					dir := filepath.Join(to, fmt.Sprint(states))
					if err := os.Mkdir(dir, 0o700); err != nil {
						t.Fatal(err)
					}
					restore(t, root, dir, names, of, content)
					if err := j.survives(dir, states%5 == 0); err != nil {
						t.Fatalf("power cut after %v: %v", d.ops, err)
					}
					os.RemoveAll(dir)
					states++
				})
		}
		j.run(header)
		d.onStep()
		if len(j.told) != jobEvents {
			t.Fatalf("told %v", j.told)
		}
	}
	t.Logf("%d states after a power cut, none lost what was told safe", states)
	if states < outside.Times(200, 1000) {
		t.Errorf("%d states are too few", states)
	}
}

// Every operation fails in turn, at once or half way. The person tries again;
// what was told is there once, and a power cut right after takes none of it.
func TestNothingToldSafeIsLostWhenAnOperationFails(t *testing.T) {
	faults, states, to := 0, 0, t.TempDir()
	for _, half := range []bool{false, true} {
		for _, short := range []bool{false, true} {
			for n := 0; ; n++ {
				j, d, root := newJob(t, half)
				d.fails, d.short = n, short
				j.run(NewHeader(procedureOf(t, cover), "cover.toml", "2", "test", started))
				if n >= len(d.ops) {
					break
				}
				if short && !strings.HasPrefix(d.ops[n], "write") {
					continue
				}
				faults++
				if r := Verify(j.store.Path(j.id)); !r.OK() || !slices.Equal(texts(eventsIn(t, j.store.Path(j.id))), j.told) || len(j.told) != jobEvents {
					t.Fatalf("operation %d fails (%s): %v, told %v", n, d.ops[n], r.Problems, j.told)
				}
				if files, _ := filepath.Glob(filepath.Join(j.store.Dir, "*"+draftEnding)); len(files) > 0 && !strings.HasPrefix(d.ops[n], "remove") {
					t.Errorf("operation %d fails (%s): %v is left behind", n, d.ops[n], files)
				}
				d.cuts(false, func(names map[string]*inode, of *inode, content []byte) {
					dir := filepath.Join(to, fmt.Sprint(states))
					if err := os.Mkdir(dir, 0o700); err != nil {
						t.Fatal(err)
					}
					restore(t, root, dir, names, of, content)
					if err := j.survives(dir, states%outside.Times(5, 1) == 0); err != nil {
						t.Fatalf("operation %d fails (%s), then the power: %v", n, d.ops[n], err)
					}
					os.RemoveAll(dir)
					states++
				})
			}
		}
	}
	t.Logf("%d operations failed in turn, at once or half way; nothing told safe was lost", faults)
	if faults < 60 {
		t.Errorf("%d faults are too few", faults)
	}
}
