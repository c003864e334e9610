package record

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// shelfOf makes a store with walks of several engines, states and days.
func shelfOf(t *testing.T) *Store {
	t.Helper()
	s := newStore(t)
	for n, engine := range []string{"stand 2", "Stand 2", "7", "", "quote \" and \\"} {
		finished(t, s, engine)
		h := NewHeader(procedureOf(t, cover), fmt.Sprintf("cover-%d.toml", n), engine, "test", started.AddDate(0, 0, -n))
		if n == 3 {
			h.After = started.AddDate(0, 1, 0)
		}
		w, err := s.Create(h)
		if err != nil {
			t.Fatal(err)
		}
		l := walking(t, w)
		forward(t, l, 2)
		do(t, l, walk.Command{Do: walk.Note, Text: fmt.Sprintf("Batch %d \"4471\" µ", n)})
		if n == 2 {
			do(t, l, walk.Command{Do: walk.Stop, Text: "a thread is gone"})
		}
		closeWriter(t, w)
	}
	writeFile(t, s.Path("2026-11-25-rubbish-1"), []byte("no record\n"))
	return s
}

func idsOf(list []Summary) []string {
	var ids []string
	for _, s := range list {
		ids = append(ids, s.ID)
	}
	return ids
}

// What a search finds is what a plain look at the whole list would.
func TestASearchFindsWhatTheListHolds(t *testing.T) {
	s := shelfOf(t)
	all, err := s.List()
	if err != nil || len(all) != 11 {
		t.Fatal(len(all), err)
	}
	unread := func(sum Summary) bool { return sum.Procedure == "" }
	for name, c := range map[string]struct {
		f    Filter
		want func(Summary) bool
		n    int // how many, without what cannot be read
	}{
		"all":             {Filter{}, func(Summary) bool { return true }, 10},
		"an engine":       {Filter{Engine: "STAND 2 "}, func(s Summary) bool { return SameTag(s.Engine, "stand 2") }, 4},
		"an odd tag":      {Filter{Engine: `quote " and \`}, func(s Summary) bool { return strings.HasPrefix(s.Engine, "quote") }, 2},
		"nobody":          {Filter{Engine: "8"}, func(Summary) bool { return false }, 0},
		"a name":          {Filter{Procedure: "THE COVER"}, func(Summary) bool { return true }, 10},
		"a file":          {Filter{Procedure: "cover-3"}, func(s Summary) bool { return s.Source == "cover-3.toml" }, 1},
		"a day and later": {Filter{Since: started.AddDate(0, 0, -2)}, func(s Summary) bool { return !s.Started.Before(started.AddDate(0, 0, -2)) }, 8},
		"before a day":    {Filter{Before: started.AddDate(0, 0, -2)}, func(s Summary) bool { return s.Started.Before(started.AddDate(0, 0, -2)) }, 2},
		"open":            {Filter{State: StateOpen}, func(s Summary) bool { return s.State == StateOpen }, 4},
		"stopped":         {Filter{State: StateStopped}, func(s Summary) bool { return s.State == StateStopped }, 1},
		"done of 7":       {Filter{State: StateDone, Engine: "7"}, func(s Summary) bool { return s.State == StateDone && s.Engine == "7" }, 1},
	} {
		got, err := s.Search(c.f)
		if err != nil {
			t.Fatal(err)
		}
		want := slices.DeleteFunc(slices.Clone(all), func(s Summary) bool { return !unread(s) && !c.want(s) })
		if !slices.Equal(idsOf(got), idsOf(want)) || len(got) != c.n+1 {
			t.Errorf("%s: %v\nwant %v, %d and one that cannot be read", name, idsOf(got), idsOf(want), c.n)
		}
		c.f.Newest = 3
		if newest, err := s.Search(c.f); err != nil || len(newest) != min(3, len(got)) {
			t.Errorf("%s, newest 3: %v, %v", name, idsOf(newest), err)
		} else if name != "all" && name != "a name" && name != "a day and later" && !slices.Equal(idsOf(newest), idsOf(got[:len(newest)])) && !slices.ContainsFunc(newest, unread) {
			t.Errorf("%s, newest 3: %v of %v", name, idsOf(newest), idsOf(got))
		}
	}
}

func TestASearchForAWordReadsWhatAPersonWrote(t *testing.T) {
	s := shelfOf(t)
	for word, want := range map[string]int{
		`Batch 2 "4471"`: 1, "batch": 5, "BATCH": 5, `"4471" µ`: 5, "thread is gone": 1, "stand": 4, "cover-4.toml": 1,
		"sealing washer": 5, // in every renewal
		"0.12 mm":        5,
		"invented":       0, // in the procedure's text alone
		"prev":           0, // the name of a field
		"bAtCh":          5,
		"2026-11-25T":    0, // a time
	} {
		list, err := s.Search(Filter{Word: word})
		if err != nil {
			t.Fatal(err)
		}
		got := len(slices.DeleteFunc(list, func(s Summary) bool { return s.Procedure == "" }))
		if got != want {
			t.Errorf("%q: %d records, want %d", word, got, want)
		}
	}
}

// A glance at a header gives what reading it gives, or leaves it to that.
func TestAGlanceSeesWhatReadingSees(t *testing.T) {
	taken := 0
	for _, h := range []Header{
		{ID: "a-1", Procedure: "Close", Source: "x.toml", Engine: "7", Direction: "close", Program: "test", Started: started},
		{ID: "a-1", Procedure: "", Source: "", Engine: "", Started: started.UTC(), After: started.Add(time.Hour)},
		{ID: "a-1", Procedure: `x","engine":"9`, Source: "µ·", Engine: "real", Started: started},
		{ID: "a-1", Procedure: "bell\a", Engine: "new\nline", Started: started},
		{ID: "a-1", Procedure: "bidi \u202e", Engine: "7", Started: started},
		{ID: "a-1", Engine: "7", Ledger: true, Started: started, Rules: walk.Rules, From: "bundled"},
		{ID: "a-1", Engine: "7", Started: started, Rules: walk.Rules + 1},
	} {
		h.Format = FormatVersion
		line, err := encodeLine(h)
		if err != nil {
			t.Fatal(err)
		}
		head, _, _ := strings.Cut(string(line), textKey)
		got, ok := glance([]byte(head))
		if !ok {
			continue
		}
		taken++
		want, _, err := decodeHeaderHead(line)
		if err != nil || got.ID != want.ID || got.Procedure != want.Procedure || got.Source != want.Source || got.Engine != want.Engine || !got.Started.Equal(want.Started) || !got.After.Equal(want.After) {
			t.Errorf("%s\nglanced %+v\nread    %+v, %v", line, got, want, err)
		}
	}
	if taken < 4 {
		t.Errorf("only %d were glanced at", taken)
	}
	for _, odd := range []string{"", "{}", `{"evenpull":2,"id":"a"`, `{"id":"a","evenpull":1,"procedure":"p"`, `{"evenpull":1,"id":"a","procedure":"p","source":"s","engine":"e","started":"yesterday"`} {
		if h, ok := glance([]byte(odd)); ok {
			t.Errorf("%q is taken for %+v", odd, h)
		}
	}
}

func TestTagsAreGivenOnceFromRecordsAndLedgers(t *testing.T) {
	s := shelfOf(t)
	w, _, err := s.OpenLedger("blue one", "test", started)
	if err != nil {
		t.Fatal(err)
	}
	closeWriter(t, w)
	tags, err := s.Tags()
	if want := []string{"7", "Stand 2", "blue one", `quote " and \`}; err != nil || !slices.Equal(tags, want) {
		t.Errorf("%q, %v, want %q", tags, err, want)
	}
}

// Tools that keep folders alike leave a copy beside a record that two machines
// wrote. It is no second walk: it is named, and nobody goes on with it.
func TestACopyBesideItsRecordIsNamed(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "stand 2")
	l := walking(t, w)
	forward(t, l, 2)
	closeWriter(t, w)
	forked := readFile(t, w.Path)
	w, _, err := s.Resume(w.ID)
	if err != nil {
		t.Fatal(err)
	}
	l.Append = w.Append
	forward(t, l, 1)
	closeWriter(t, w)
	copies := []string{w.ID + " (jo's conflicted copy 2026-11-26)", w.ID + ".sync-conflict-20261126-101500-ABCDEF", w.ID + "-2 copy"}
	for _, name := range copies {
		writeFile(t, s.Path(name), forked)
	}
	list, err := s.List()
	if err != nil || len(list) != 1+len(copies) {
		t.Fatal(idsOf(list), err)
	}
	for _, sum := range list {
		isCopy := slices.Contains(copies, sum.ID)
		if (sum.CopyOf == w.ID) != isCopy || (sum.State == StateBroken) != isCopy || strings.Contains(sum.Problem, "it is a copy of "+w.ID) != isCopy {
			t.Errorf("%+v", sum)
		}
	}
	// alone in the folder, renamed by hand, it is a record like any other
	alone := &Store{filepath.Join(t.TempDir(), "alone"), clock(), system{}}
	if err := os.MkdirAll(alone.Dir, 0o700); err != nil {
		t.Fatal(err)
	}
	writeFile(t, alone.Path("renamed"), forked)
	if list, err := alone.List(); err != nil || list[0].State != StateOpen || list[0].CopyOf != "" {
		t.Errorf("%+v, %v", list, err)
	}
}

// Of a record that a later program wrote, what can be read is listed, and why no
// more.
func TestARecordOfALaterFormatIsListedAsFarAsItReads(t *testing.T) {
	s := newStore(t)
	path := finished(t, s, "stand 2")
	data := strings.Replace(string(readFile(t, path)), `{"evenpull":1,`, `{"evenpull":2,`, 1)
	writeFile(t, path, []byte(data))
	list, err := s.List()
	if err != nil || len(list) != 1 {
		t.Fatal(list, err)
	}
	sum := list[0]
	if sum.State != StateBroken || sum.Procedure != "Close the cover" || sum.Engine != "stand 2" || !sum.Started.Equal(started) || !strings.Contains(sum.Problem, "record format 2 is not known here, only 1") {
		t.Errorf("%+v", sum)
	}
	_, err = Read(path)
	wantText(t, err, "record format 2 is not known here", `Close the cover, engine "stand 2", begun 2026-11-25, by test`, "read it with the program that wrote it")
}
