package record

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"evenpull/procedures/walk"
)

// more gives what a follower finds, which must not be an error.
func more(t *testing.T, f *Follower) []walk.Event {
	t.Helper()
	events, err := f.More()
	if err != nil {
		t.Fatal(err)
	}
	return events
}

// following is a record with one event, and a follower that has read it.
func following(t *testing.T) (*Follower, *Writer, *walk.Live) {
	t.Helper()
	s := newStore(t)
	w := create(t, s, "2")
	l := walking(t, w)
	forward(t, l, 1)
	f, follower, err := Follow(w.Path)
	if err != nil || len(f.Events) != 1 {
		t.Fatal(f, err)
	}
	return follower, w, l
}

func TestAFollowerReadsOnAsARecordGrowsAndTakesNoLock(t *testing.T) {
	f, w, l := following(t)
	for n := range 3 {
		if got := more(t, f); len(got) > 0 {
			t.Fatalf("nothing was written, and it gives %v", got)
		}
		before := len(l.State.Events)
		forward(t, l, n+1)
		if got, want := more(t, f), l.State.Events[before:]; !sameEvents(got, want) {
			t.Fatalf("got %v, want %v", got, want)
		}
	}
	closeWriter(t, w)
	before := readFile(t, w.Path)
	again, _, err := Follow(w.Path)
	if err != nil {
		t.Fatal(err)
	}
	if left, err := filepath.Glob(filepath.Dir(w.Path) + "/*.lock"); err != nil || len(left) > 0 {
		t.Errorf("locks beside %s: %v %v", again.ID(), left, err)
	}
	if !bytes.Equal(readFile(t, w.Path), before) {
		t.Error("following has changed the record")
	}
}

func sameEvents(a, b []walk.Event) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !a[i].At.Equal(b[i].At) {
			return false
		}
		a[i].At = b[i].At
	}
	return reflect.DeepEqual(a, b)
}

// However a record comes to the disk, byte for byte, every event is given once, as
// soon as its line is whole, and none before.
func TestALineBeingWrittenIsNotTakenBeforeItIsWhole(t *testing.T) {
	s := newStore(t)
	data := readFile(t, finished(t, s, "2"))
	path := t.TempDir() + "/grows.jsonl"
	header := bytes.IndexByte(data, '\n') + 1
	writeFile(t, path, data[:header])
	_, f, err := Follow(path)
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	taken := 0
	for i := header; i < len(data); i++ {
		if _, err := file.Write(data[i : i+1]); err != nil {
			t.Fatal(err)
		}
		taken += len(more(t, f))
		if want := bytes.Count(data[header:i+1], []byte("\n")); taken != want {
			t.Fatalf("at byte %d %d events were given, want %d", i, taken, want)
		}
	}
}

// A last line that is not as it was written yet may still become so; it is also what
// going on with a walk cuts off after a power cut.
func TestATornLastLineIsLeftAndWhatComesInItsPlaceIsTaken(t *testing.T) {
	f, w, l := following(t)
	good := readFile(t, w.Path)
	for _, torn := range []string{"{", `{"seq":2,"at":"20`, "\x00\x00\x00\x00", "{\"seq\":2}\n", "\n", "nonsense\n", string(bytes.ReplaceAll(lastLine(good), []byte("dowels"), []byte("dowelz"))) + "\n"} {
		writeFile(t, w.Path, append(bytes.Clone(good), torn...))
		if got := more(t, f); len(got) > 0 {
			t.Errorf("of %q it takes %v", torn, got)
		}
	}
	writeFile(t, w.Path, good)
	forward(t, l, 1)
	if got := more(t, f); len(got) != 1 {
		t.Errorf("after it %v", got)
	}
}

func TestAFollowerStaysWithWhatNoLongerGoesOn(t *testing.T) {
	for name, tt := range map[string]struct {
		spoil func(lines [][]byte) [][]byte
		want  string
	}{
		"lines taken away":    {func(l [][]byte) [][]byte { return l[:1] }, "line 2 does not go on from what was read: it has been taken away"},
		"a line left out":     {func(l [][]byte) [][]byte { return append(l[:2:2], l[3]) }, "line 3 does not go on"},
		"a line changed":      {func(l [][]byte) [][]byte { l[2] = bytes.Replace(l[2], []byte("seq"), []byte("sex"), 1); return l }, "line 3 does not go on from what was read: it is not as it was written"},
		"an empty line":       {func(l [][]byte) [][]byte { l[2] = nil; return l }, "line 3 does not go on from what was read: it is not as it was written"},
		"no event and a line": {func(l [][]byte) [][]byte { l[2] = []byte("{}"); return l }, "line 3 does not go on"},
	} {
		t.Run(name, func(t *testing.T) {
			f, w, l := following(t)
			forward(t, l, 2)
			good := readFile(t, w.Path)
			lines := bytes.Split(bytes.TrimSuffix(bytes.Clone(good), []byte("\n")), []byte("\n"))
			writeFile(t, w.Path, append(bytes.Join(tt.spoil(lines), []byte("\n")), '\n'))
			_, err := f.More()
			wantText(t, err, tt.want, "open it again")
			writeFile(t, w.Path, good)
			_, err = f.More()
			wantText(t, err, tt.want)
		})
	}
}

func TestARecordThatIsGoneForAMomentIsFollowedOn(t *testing.T) {
	f, w, l := following(t)
	if err := os.Rename(w.Path, w.Path+"x"); err != nil {
		t.Fatal(err)
	}
	_, err := f.More()
	wantText(t, err, "there is no such record")
	if err := os.Rename(w.Path+"x", w.Path); err != nil {
		t.Fatal(err)
	}
	forward(t, l, 1)
	if got := more(t, f); len(got) != 1 {
		t.Errorf("after it %v", got)
	}
}

func TestABrokenRecordIsNotFollowed(t *testing.T) {
	_, w, l := following(t)
	forward(t, l, 2)
	data := readFile(t, w.Path)
	writeFile(t, w.Path, bytes.Replace(data, []byte("confirmed"), []byte("confirmeb"), 1))
	_, _, err := Follow(w.Path)
	wantText(t, err, "broken at line")
	_, _, err = Follow(w.Path + "x")
	wantText(t, err, "there is no such record")
}
