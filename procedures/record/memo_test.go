//go:build unix

package record

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"sync"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// later is a clock of the file system that a folder is in to which all that has been
// written so far is long past. What is changed from now on has to bear another time,
// as it would then; see tillSeen.
func later(dir string) func() (stamp, bool) {
	return sync.OnceValues(func() (stamp, bool) {
		is, ok := clockOf(dir)
		is.changed += int64(time.Minute)
		return is, ok
	})
}

// memoIn is the memo in a folder, by that clock.
func memoIn(dir string) *memo {
	m := openMemo(dir)
	m.clock = later(dir)
	return m
}

// crowd fills a store with enough records to be worth a memo: walks that are open,
// done and stopped, one cut off, one broken and one no record. It gives what the
// walks hold.
func crowd(t testing.TB) (*Store, [][]byte) {
	t.Helper()
	from := newStore(t)
	done := readFile(t, finished(t, from, "7"))
	open, stopped := create(t, from, "stand 2"), create(t, from, "9 \"µ\"")
	forward(t, walking(t, open), 3)
	l := walking(t, stopped)
	forward(t, l, 2)
	do(t, l, walk.Command{Do: walk.Stop, Text: "a thread is gone"})
	closeWriter(t, open)
	closeWriter(t, stopped)
	walks := [][]byte{done, readFile(t, open.Path), readFile(t, stopped.Path)}
	s := &Store{Dir: t.TempDir(), Now: clock(), disk: system{}}
	for i := range memoWorth + 6 {
		writeFile(t, s.Path(fmt.Sprintf("walk-%02d", i)), walks[i%len(walks)])
	}
	writeFile(t, s.Path("torn"), append(slices.Clone(walks[1]), `{"seq":`...))
	writeFile(t, s.Path("broken"), bytes.Replace(walks[0], []byte("confirmed"), []byte("conformed"), 1))
	writeFile(t, s.Path("rubbish"), []byte("no record\n"))
	return s, walks
}

// stampOf is what the system says of a file, if it is there.
func stampOf(path string) (is stamp) {
	if h, s, err := openRegular(path); err == nil {
		h.close()
		is = s
	}
	return is
}

// listed is one list with a memo in a folder. It tells how many records it kept anew.
func listed(t testing.TB, s *Store, f Filter, dir string) (list []Summary, anew int) {
	t.Helper()
	m := memoIn(dir)
	list, err := s.search(f, m)
	if err != nil {
		t.Fatal(err)
	}
	return list, len(m.new)
}

// A record under another name, of another file, size or time is not the one that was
// remembered, nor one that another build replayed.
func TestAnEntryHoldsForOneFileAsItWasAlone(t *testing.T) {
	sum := &Summary{State: StateOpen, Engine: "7"}
	is := stamp{isRegular: true, size: 100, device: 1, inode: 2, modified: 3, changed: 4}
	clock := stamp{device: 1, changed: 4 + int64(memoSafe) + 1}
	m := openMemo("nowhere")
	m.clock = func() (stamp, bool) { return clock, true }
	m.keep("a", is, sum)
	body := formatMemo([]string{"a"}, m.new, "this")
	recall := func(build, id string, is stamp) bool {
		m.known = func() map[string][]byte { return parseMemo(body, build) }
		got := m.recall("x/"+id+recordEnding, id, is)
		if got != nil && (got.Engine != "7" || got.ID != id || got.Path != "x/"+id+recordEnding) {
			t.Errorf("recalled %+v", got)
		}
		return got != nil
	}
	if !recall("this", "a", is) {
		t.Error("the very same is not recalled")
	}
	for name, other := range map[string]func() bool{
		"device":   func() bool { is := is; is.device++; return recall("this", "a", is) },
		"inode":    func() bool { is := is; is.inode++; return recall("this", "a", is) },
		"size":     func() bool { is := is; is.size++; return recall("this", "a", is) },
		"modified": func() bool { is := is; is.modified++; return recall("this", "a", is) },
		"changed":  func() bool { is := is; is.changed++; return recall("this", "a", is) },
		"name":     func() bool { return recall("this", "b", is) },
		"build":    func() bool { return recall("that", "a", is) },
	} {
		if other() {
			t.Errorf("one of another %s is taken for it", name)
		}
	}
}

// What was changed just before it was read, by the clock of its own file system, may
// change once more within the same tick.
func TestWhatWasChangedJustNowIsNotRemembered(t *testing.T) {
	is := stamp{size: 100, device: 1, changed: 1000}
	safe := int64(memoSafe)
	for _, c := range []struct {
		is, clock stamp
		want      bool
	}{
		{is, stamp{device: 1, changed: 1000 + safe + 1}, true},
		{is, stamp{device: 1, changed: 1000 + safe}, false},
		{is, stamp{device: 1, changed: 1000}, false},
		{is, stamp{device: 1, changed: 0}, false},                  // the clock was set back
		{is, stamp{device: 2, changed: 1000 + safe + 1}, false},    // another clock
		{stamp{device: 1}, stamp{device: 1, changed: safe}, false}, // the system does not tell
	} {
		if got := c.is.settled(c.clock); got != c.want {
			t.Errorf("%+v by %+v: settled %v, want %v", c.is, c.clock, got, c.want)
		}
	}
	s, _ := crowd(t)
	cache := t.TempDir()
	newest := int64(0)
	for _, id := range must(s.ids()) {
		newest = max(newest, stampOf(s.Path(id)).changed)
	}
	m := openMemo(cache)
	is, ok := clockOf(cache)
	is.changed = newest + safe
	m.clock = func() (stamp, bool) { return is, ok }
	if _, err := s.search(Filter{}, m); err != nil {
		t.Fatal(err)
	}
	for id := range m.new {
		if stampOf(s.Path(id)).changed == newest {
			t.Errorf("%s is remembered, and was changed when the clock had not moved on", id)
		}
	}
}

// The clock is read before the first record is, not after: what comes between would be
// taken for long past.
func TestTheClockIsReadBeforeTheRecords(t *testing.T) {
	s, walks := crowd(t)
	m := openMemo(t.TempDir())
	m.clock = sync.OnceValues(func() (stamp, bool) {
		for i := range memoWorth {
			data := bytes.Replace(walks[i%len(walks)], []byte("Close the cover"), []byte("Close the COVER"), 1)
			writeFile(t, s.Path(fmt.Sprintf("walk-%02d", i)), data)
		}
		return stamp{}, false
	})
	list, err := s.search(Filter{}, m)
	if err != nil {
		t.Fatal(err)
	}
	for _, sum := range list {
		var i int
		if n, _ := fmt.Sscanf(sum.ID, "walk-%d", &i); n == 1 && i < memoWorth && sum.Procedure != "Close the COVER" {
			t.Errorf("%s was read before the clock: %q", sum.ID, sum.Procedure)
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// The clock is that of the file system, and what it takes to read it is taken away.
func TestTheClockOfTheMemoIsTheFileSystems(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "cache")
	is, ok := clockOf(dir)
	after := filepath.Join(t.TempDir(), "after")
	writeFile(t, after, nil)
	if !ok || is.device != stampOf(after).device || is.changed > stampOf(after).changed || time.Since(time.Unix(0, is.changed)) > time.Hour {
		t.Errorf("clock %+v, %v; a file made after it %+v", is, ok, stampOf(after))
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != folderMode {
		t.Errorf("folder %v, %v", info.Mode(), err)
	}
}

// Only the list is taken from a memo: whatever it says, everything else is as the
// records have it.
func TestAMemoIsNoProof(t *testing.T) {
	s, _ := crowd(t)
	cache := t.TempDir()
	if _, anew := listed(t, s, Filter{}, cache); anew < memoWorth {
		t.Fatalf("only %d were remembered", anew)
	}
	path := filepath.Join(cache, memoName)
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != fileMode {
		t.Fatalf("%v, %v", info.Mode(), err)
	}
	build, _ := thisBuild()
	lies := parseMemo(readFile(t, path), build)
	for id, text := range lies {
		lies[id] = bytes.Replace(text, []byte("\x00open\x00"), []byte("\x00done\x00"), 1)
	}
	writeFile(t, path, formatMemo(must(s.ids()), lies, build))
	open := func(list []Summary, err error) (n int) {
		for _, sum := range list {
			if sum.State == StateOpen {
				n++
			}
		}
		return n
	}
	if n := open(s.search(Filter{}, memoIn(cache))); n > 0 {
		t.Errorf("%d are open in the list: the memo is not looked at", n)
	}
	if n := open(s.List()); n < memoWorth/3 {
		t.Errorf("%d are open where every record is replayed", n)
	}
	for i := range 3 {
		id := fmt.Sprintf("walk-%02d", i)
		f := must(Read(s.Path(id)))
		state, _, err := f.Replay()
		if r := Verify(s.Path(id)); err != nil || !r.OK() || r.State != state.Phase || r.State != []walk.Phase{walk.IsDone, walk.IsOpen, walk.IsStopped}[i] {
			t.Errorf("%s: %+v, %v", id, r, err)
		}
	}
}

// Whatever is wrong with a memo, the records are replayed and it is written anew.
func TestAMemoThatIsNotWholeIsNone(t *testing.T) {
	s, _ := crowd(t)
	cache := t.TempDir()
	want := must(s.List())
	listed(t, s, Filter{}, cache)
	path := filepath.Join(cache, memoName)
	whole := readFile(t, path)
	for name, data := range map[string][]byte{
		"nothing":        {},
		"garbage":        bytes.Repeat([]byte("garbage \x00\t\n"), 100),
		"cut off":        whole[:len(whole)/2],
		"one byte":       append(slices.Clone(whole[:len(whole)-9]), append([]byte{whole[len(whole)-9] ^ 1}, whole[len(whole)-8:]...)...),
		"another build":  formatMemo(must(s.ids()), parseMemo(whole, must2(thisBuild())), "another"),
		"without a line": whole[:bytes.LastIndexByte(whole[:len(whole)-1], '\n')+1],
	} {
		writeFile(t, path, data)
		list, anew := listed(t, s, Filter{}, cache)
		if !reflect.DeepEqual(list, want) || anew < memoWorth {
			t.Errorf("%s: %d of %d replayed, the list is the same: %v", name, anew, len(want), reflect.DeepEqual(list, want))
		}
		if !bytes.Equal(readFile(t, path), whole) {
			t.Errorf("%s: it is not written anew", name)
		}
	}
}

func must2[T any](v T, ok bool) T {
	if !ok {
		panic("not there")
	}
	return v
}

// It is small: no folder of few records has one, what is gone goes from it, and what a
// program left that was killed while it wrote it.
func TestAMemoIsPruned(t *testing.T) {
	s, walks := crowd(t)
	cache := t.TempDir()
	few := &Store{Dir: t.TempDir(), Now: clock(), disk: system{}}
	for i := range memoWorth - 1 {
		writeFile(t, few.Path(fmt.Sprint(i)), walks[0])
	}
	if _, anew := listed(t, few, Filter{}, cache); anew > 0 || stampOf(filepath.Join(cache, memoName)) != (stamp{}) {
		t.Errorf("few records: %d kept", anew)
	}
	left, fresh := filepath.Join(cache, "records.memo.1.new"), filepath.Join(cache, "records.memo.2.new")
	for _, path := range []string{left, fresh} {
		writeFile(t, path, nil)
	}
	if err := os.Chtimes(left, time.Unix(1e9, 0), time.Unix(1e9, 0)); err != nil {
		t.Fatal(err)
	}
	listed(t, s, Filter{}, cache)
	if stampOf(left) != (stamp{}) || stampOf(fresh) == (stamp{}) {
		t.Error("what was left behind long ago stays, or another's goes")
	}
	for i := range memoWorth {
		id := fmt.Sprintf("walk-%02d", i)
		tillSeen(t, s.Path(id), func() error { return os.Rename(s.Path(id), s.Path("x"+id)) })
	}
	if _, anew := listed(t, s, Filter{Word: "gone"}, cache); anew > 0 {
		t.Errorf("a search for a word kept %d", anew)
	}
	listed(t, s, Filter{}, cache)
	known := parseMemo(readFile(t, filepath.Join(cache, memoName)), must2(thisBuild()))
	if len(known) != memoWorth+7 || known["walk-00"] != nil || known["xwalk-00"] == nil {
		t.Errorf("%d entries", len(known))
	}
	before := stampOf(filepath.Join(cache, memoName))
	tillSeen(t, s.Path("torn"), func() error { return os.WriteFile(s.Path("torn"), walks[0], 0o600) })
	if _, anew := listed(t, s, Filter{}, cache); anew != 1 || stampOf(filepath.Join(cache, memoName)) != before {
		t.Errorf("for one record of %d it was written anew", anew)
	}
}

// Nobody is told where a memo cannot be kept.
func TestAListNeedsNoMemo(t *testing.T) {
	s, _ := crowd(t)
	want := must(s.List())
	file := filepath.Join(t.TempDir(), "file")
	writeFile(t, file, nil)
	taken := t.TempDir()
	if err := os.Mkdir(filepath.Join(taken, memoName), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, cache := range []string{"", file, filepath.Join(file, "below"), "/dev/null/x", "/proc/self", taken, "bad\x00name"} {
		for range 2 {
			list, err := s.Recall(cache, Filter{})
			if err != nil || !reflect.DeepEqual(list, want) {
				t.Errorf("%q: %v, %d listed", cache, err, len(list))
			}
			if cache == "" {
				continue
			}
			m := memoIn(cache)
			if list, err = s.search(Filter{}, m); err != nil || !reflect.DeepEqual(list, want) {
				t.Errorf("%q: %v, %d listed", cache, err, len(list))
			}
		}
	}
	if left := must(os.ReadDir(taken)); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

// An entry holds all of a summary but its place and what is wrong with it, whatever is
// added to one.
func TestAnEntryHoldsAllOfASummary(t *testing.T) {
	own := []string{"ID", "Path", "Problem", "CopyOf"}
	var sum Summary
	v := reflect.ValueOf(&sum).Elem()
	at := time.Date(2026, 3, 4, 9, 30, 5, 123456789, time.FixedZone("", -3600))
	for i := range v.NumField() {
		name, field := v.Type().Field(i).Name, v.Field(i)
		if slices.Contains(own, name) {
			continue
		}
		if name == "began" {
			sum.began = "began"
			continue
		}
		switch field.Interface().(type) {
		case time.Time:
			field.Set(reflect.ValueOf(at.Add(time.Duration(i) * time.Hour)))
		case int:
			field.SetInt(int64(i + 1))
		case bool:
			field.SetBool(true)
		default:
			field.SetString(fmt.Sprint(name, " µ\t\"", i))
		}
	}
	var got Summary
	if !newEntry(&sum).read(&got) || !reflect.DeepEqual(got, sum) {
		t.Errorf("got  %+v\nwant %+v", got, sum)
	}
	if newEntry(&Summary{Engine: "a\x00b"}).read(&got) || newEntry(&Summary{Started: at.AddDate(20_000, 0, 0)}).read(&got) {
		t.Error("what cannot be read back is taken for an entry")
	}
}
