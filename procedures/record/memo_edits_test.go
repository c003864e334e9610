//go:build unix

package record

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenpull/spec/outside"
)

// The list with a memo is the list without, whatever is done to the records between
// two lists: also where the size stays and the time of the last change is set back.
func TestAListWithAMemoIsTheListWithout(t *testing.T) {
	s, walks := crowd(t)
	cache := filepath.Join(t.TempDir(), "a", "cache")
	first := map[string][]byte{}
	ids, err := s.ids()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range ids {
		first[id] = readFile(t, s.Path(id))
	}
	outside.Tries(t, 25, 100)
	rapid.Check(t, func(t *rapid.T) {
		for id, data := range first { // as it was at first
			if now, err := os.ReadFile(s.Path(id)); err != nil || !bytes.Equal(now, data) {
				tillSeen(t, s.Path(id), func() error { return os.WriteFile(s.Path(id), data, 0o600) })
			}
		}
		for range rapid.IntRange(1, outside.Times(2, 4)).Draw(t, "rounds") {
			for range rapid.IntRange(0, 3).Draw(t, "edits") {
				disturb(t, s, rapid.SampledFrom(ids).Draw(t, "record"), rapid.SampledFrom(ids).Draw(t, "other"), walks)
			}
			f := Filter{Word: rapid.SampledFrom([]string{"", "", "", "gone", "nowhere", "7", "wrong socket"}).Draw(t, "word"), Engine: rapid.SampledFrom([]string{"", "", "7"}).Draw(t, "engine"),
				State: rapid.SampledFrom([]State{"", StateOpen, StateBroken}).Draw(t, "state"), Newest: rapid.SampledFrom([]int{0, 0, 5}).Draw(t, "newest")}
			m := memoIn(cache)
			got, err := s.search(f, m)
			if err != nil {
				t.Fatal(err)
			}
			want, err := s.Search(f)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("%+v\nwith    %+v\nwithout %+v", f, got, want)
			}
		}
		for _, made := range []string{"copy.jsonl", "new.jsonl"} {
			os.Remove(filepath.Join(s.Dir, made))
		}
	})
	if err := os.Remove(filepath.Join(cache, memoName)); err != nil {
		t.Fatal(err)
	}
	listed(t, s, Filter{}, cache)
	if _, anew := listed(t, s, Filter{}, cache); anew > 0 {
		t.Errorf("%d replayed that had been a moment ago: the memo was not used", anew)
	}
}

// tillSeen does something to a file until the system says something else of it: as if
// some time had passed, however fast this runs.
func tillSeen(t rapid.TB, path string, do func() error) {
	was := stampOf(path)
	for first := true; first || stampOf(path) == was && was != (stamp{}); first = false {
		if err := do(); err != nil {
			t.Fatal(err)
		}
	}
}

// disturb does one thing to a record that a person, a tool or the program may.
func disturb(t *rapid.T, s *Store, id, other string, walks [][]byte) {
	path := s.Path(id)
	data, err := os.ReadFile(path)
	if err != nil {
		return // taken away before
	}
	data = slices.Clone(data)
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	switch what := rapid.SampledFrom([]string{"append", "flip", "walk", "truncate", "replace", "delete", "copy", "touch"}).Draw(t, "edit"); what {
	case "append":
		tillSeen(t, path, func() error { return os.WriteFile(path, append(data, `{"seq":1}`+"\n"...), 0o600) })
	case "flip", "walk": // same size, and the old time put back
		at := rapid.IntRange(0, max(0, len(data)-1)).Draw(t, "at")
		tillSeen(t, path, func() error {
			if what == "flip" && len(data) > 0 {
				data[at] ^= 1
			} else {
				data = bytes.Replace(data, []byte(`"engine":"`), []byte(`"engine":"7`), 1)[:len(data)]
			}
			if err := os.WriteFile(path, data, 0o600); err != nil {
				return err
			}
			return os.Chtimes(path, info.ModTime(), info.ModTime())
		})
	case "truncate":
		to := rapid.IntRange(0, len(data)).Draw(t, "to")
		tillSeen(t, path, func() error { return os.WriteFile(path, data[:to], 0o600) })
	case "replace": // by name, as a tool does that keeps folders alike
		draft := filepath.Join(s.Dir, "draft")
		tillSeen(t, path, func() error {
			if err := os.WriteFile(draft, rapid.SampledFrom(walks).Draw(t, "by"), 0o600); err != nil {
				return err
			}
			if err := os.Chtimes(draft, info.ModTime(), info.ModTime()); err != nil {
				return err
			}
			return os.Rename(draft, path)
		})
	case "delete":
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	case "copy": // of a conflict: begun under the name of one that is there or not
		began := bytes.Replace(data, []byte(`,"id":"`+string(idIn(data))+`"`), []byte(`,"id":"`+other+`"`), 1)
		for _, made := range []string{"copy", "new"} {
			tillSeen(t, s.Path(made), func() error { return os.WriteFile(s.Path(made), began, 0o600) })
		}
	case "touch":
		tillSeen(t, path, func() error { return os.Chtimes(path, time.Time{}, info.ModTime().Add(time.Second)) })
	}
}

func idIn(data []byte) []byte {
	_, rest, _ := bytes.Cut(data, []byte(`"id":"`))
	id, _, _ := bytes.Cut(rest, []byte(`"`))
	return id
}

// Two programs at once each list what there is, and leave one whole memo.
func TestTwoProgramsKeepOneMemo(t *testing.T) {
	s, _ := crowd(t)
	cache := t.TempDir()
	var both []func() error
	for range 2 {
		cmd := process(t, "list", s, cache)
		out := &strings.Builder{}
		cmd.Stdout, cmd.Stderr = out, out
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		both = append(both, func() error {
			if err := cmd.Wait(); err != nil {
				return fmt.Errorf("%w: %s", err, out)
			}
			return nil
		})
	}
	for _, wait := range both {
		if err := wait(); err != nil {
			t.Error(err)
		}
	}
	if left := must(os.ReadDir(cache)); len(left) != 1 || left[0].Name() != memoName {
		t.Errorf("left behind: %v", left)
	}
	if _, anew := listed(t, s, Filter{}, cache); anew > 0 {
		t.Errorf("%d are not in the memo they left", anew)
	}
}

// listMany lists a store again and again, and takes the memo away every third time.
func listMany(s *Store, cache string) error {
	want, err := s.List()
	if err != nil {
		return err
	}
	for i := range outside.Times(4, 12) {
		if i%3 == 0 {
			os.Remove(filepath.Join(cache, memoName))
		}
		list, err := s.search(Filter{}, memoIn(cache))
		if err != nil || !reflect.DeepEqual(list, want) {
			return fmt.Errorf("list %d: %w, %d of %d", i, err, len(list), len(want))
		}
	}
	return nil
}
