package record

import (
	"os"
	"path/filepath"
	"testing"

	"evenpull/procedures/walk"

	"pgregory.net/rapid"
)

func TestListTellsStateAndCountsAndHidesNothing(t *testing.T) {
	s := newStore(t)
	finished(t, s, "done")
	w := create(t, s, "open")
	forward(t, walking(t, w), 5) // dowels, new gasket, its place, M1 and its washers new, M1
	closeWriter(t, w)
	w = create(t, s, "stopped")
	do(t, walking(t, w), walk.Command{Do: walk.Stop, Text: "thread stripped"})
	closeWriter(t, w)
	torn := create(t, s, "torn")
	closeWriter(t, torn)
	writeFile(t, torn.Path, append(readFile(t, torn.Path), `{"seq":1,"at":"2026`...))
	writeFile(t, s.Path("rubbish"), []byte("no record\n"))
	if err := os.Mkdir(s.Path("folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	writeFile(t, filepath.Join(s.Dir, "notes.txt"), []byte("not listed"))
	before := everything(t, s.Dir)
	list, err := s.List()
	if err != nil {
		t.Fatal(err)
	}
	type row struct {
		state             State
		confirmed, stages int
		torn, problem     bool
	}
	want := map[string]row{
		"2026-11-25-done-close-the-cover-1":    {StateDone, 4, 4, false, false},
		"2026-11-25-open-close-the-cover-1":    {StateOpen, 1, 4, false, false},
		"2026-11-25-stopped-close-the-cover-1": {StateStopped, 0, 4, false, false},
		"2026-11-25-torn-close-the-cover-1":    {StateOpen, 0, 4, true, false},
		"rubbish":                              {StateBroken, 0, 0, false, true},
		"folder":                               {StateBroken, 0, 0, false, true},
	}
	for _, sum := range list {
		got := row{sum.State, sum.Confirmed, sum.Stages, sum.Torn, sum.Problem != ""}
		if got != want[sum.ID] {
			t.Errorf("%s: got %+v, want %+v (%s)", sum.ID, got, want[sum.ID], sum.Problem)
		}
	}
	if len(list) != len(want) {
		t.Errorf("%d listed, want %d", len(list), len(want))
	}
	if after := everything(t, s.Dir); after != before {
		t.Error("listing changed the folder")
	}
}

func everything(t *testing.T, dir string) string {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	all := ""
	for _, f := range files {
		all += f.Name() + "\n"
		if !f.IsDir() {
			all += string(readFile(t, filepath.Join(dir, f.Name())))
		}
	}
	return all
}

// The quick count of a list and the walk's own replay never disagree, whatever
// was done.
func TestTheQuickCountAgreesWithReplay(t *testing.T) {
	verbs := []walk.Verb{walk.Confirm, walk.Confirm, walk.Confirm, walk.Confirm, walk.Yes, walk.No, walk.Measure, walk.Renew, walk.Renew,
		walk.Undo, walk.Lose, walk.Problem, walk.Note, walk.Resume, walk.FinishUp, walk.Stop}
	targets := []string{"", "", "", "M1", "M2", "cover gasket"}
	readings := []string{"", "", "", "0.12 mm", "90°", "9 N·m", "99 N·m"}
	h, err := NewHeader(read(t, cover), "cover.toml", "2", "test", started).complete()
	if err != nil {
		t.Fatal(err)
	}
	header, err := encodeLine(h)
	if err != nil {
		t.Fatal(err)
	}
	course := readCourse(header)
	rapid.Check(t, func(t *rapid.T) {
		s := course.Start(walk.Rules)
		var lines [][]byte
		now, prev := started, lineHash(header)
		write := func(e walk.Event) error {
			line, err := encodeLine(eventLine{e, string(prev[:])})
			lines, prev = append(lines, line), lineHash(line)
			return err
		}
		l := walk.Live{State: s, Now: clockAt(now), Append: write}
		for range rapid.IntRange(0, 30).Draw(t, "n") {
			c := walk.Command{Do: rapid.SampledFrom(verbs).Draw(t, "verb"), Text: "why", Target: rapid.SampledFrom(targets).Draw(t, "target"),
				Reading: rapid.SampledFrom(readings).Draw(t, "reading")}
			if _, err := l.Do(c); err != nil {
				t.Fatal(err)
			}
			var sum Summary
			sum.replay(course.Start(walk.Rules), lines)
			if sum.Confirmed != Confirmed(s) || sum.State != State(s.Phase) {
				t.Fatalf("after %+v: listed %d stages and %s, the walk has %d and %s\n%s", c, sum.Confirmed, sum.State, Confirmed(s), s.Phase, lines)
			}
		}
	})
}

// Events nobody could have earned do not count in a list either.
func TestStagesConfirmedOutOfOrderAreNotCounted(t *testing.T) {
	s := newStore(t)
	h := NewHeader(read(t, cover), "cover.toml", "2", "test", started)
	forge(t, s, h, []walk.Event{{At: started, Kind: walk.Confirmed, Item: "Turn/M2"}})
	list, err := s.List()
	if err != nil || len(list) != 1 || list[0].Confirmed != 0 || list[0].State != StateOpen {
		t.Errorf("got %+v, %v", list, err)
	}
}
