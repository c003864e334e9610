//go:build unix

package record

import (
	"fmt"
	"path/filepath"
	"testing"
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
