//go:build unix

package record

import (
	"fmt"
	"path/filepath"
	"testing"

	"evenpull/procedures/walk"
)

// A memo that says what no record does shows who asks it: Recall does, for every record that lies as the memo has it, and
// Search does not, nor Recall where no folder is named.
func TestRecallAsksItsMemo(t *testing.T) {
	s, cache := &Store{Dir: t.TempDir(), Now: clock(), disk: system{}}, t.TempDir()
	build, ok := thisBuild()
	if !ok {
		return // a file system that does not tell when a file was changed has no memo
	}
	said, ids := map[string][]byte{}, []string{}
	for i := range memoWorth {
		id := fmt.Sprintf("walk-%02d", i)
		writeFile(t, s.Path(id), []byte("no record\n"))
		ids, said[id] = append(ids, id), append([]byte(stampOf(s.Path(id)).key()+"\t"), newEntry(&Summary{State: StateOpen, Engine: "of the memo"})...)
	}
	writeFile(t, filepath.Join(cache, memoName), formatMemo(ids, said, build))
	writeFile(t, s.Path("walk-00"), []byte("no record, and another size\n"))
	for name, c := range map[string]struct {
		list func() ([]Summary, error)
		want int
	}{
		"recalled":                 {func() ([]Summary, error) { return s.Recall(cache, Filter{}) }, memoWorth - 1},
		"recalled with no folder":  {func() ([]Summary, error) { return s.Recall("", Filter{}) }, 0},
		"recalled from another":    {func() ([]Summary, error) { return s.Recall(t.TempDir(), Filter{}) }, 0},
		"searched for, not listed": {func() ([]Summary, error) { return s.Search(Filter{}) }, 0},
	} {
		list, err := c.list()
		got := 0
		for _, sum := range list {
			if sum.Engine == "of the memo" {
				got++
			}
		}
		if err != nil || len(list) != memoWorth || got != c.want {
			t.Errorf("%s: %d of %d from the memo, want %d (%v)", name, got, len(list), c.want, err)
		}
	}
}

// A word is looked for in all that a record holds behind its header, also where the rest is known of a memo.
func TestAWordIsFoundInARecordThatAMemoKnows(t *testing.T) {
	from := newStore(t)
	w := create(t, from, "7")
	l := walking(t, w)
	do(t, l, walk.Command{Do: walk.Note, Text: "periwinkle at the dowel"})
	do(t, l, walk.Command{Do: walk.Note, Text: "dry"})
	closeWriter(t, w)
	s, cache, text := &Store{Dir: t.TempDir(), Now: clock(), disk: system{}}, t.TempDir(), readFile(t, w.Path)
	for i := range memoWorth {
		writeFile(t, s.Path(fmt.Sprintf("walk-%02d", i)), text)
	}
	if _, anew := listed(t, s, Filter{}, cache); anew != memoWorth {
		t.Fatalf("%d are remembered", anew)
	}
	for word, want := range map[string]int{"periwinkle": memoWorth, "dry": memoWorth, "marigold": 0} {
		list, anew := listed(t, s, Filter{Word: word}, cache)
		if len(list) != want || anew != 0 {
			t.Errorf("%s: %d found, %d of them replayed; want %d and none", word, len(list), anew, want)
		}
	}
}
