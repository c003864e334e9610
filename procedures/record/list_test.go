package record

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

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
	h, err := NewHeader(procedureOf(t, cover), "cover.toml", "2", "test", started).complete()
	if err != nil {
		t.Fatal(err)
	}
	header, err := encodeLine(h)
	if err != nil {
		t.Fatal(err)
	}
	course := readCourse(header)
	var list lister
	rapid.Check(t, func(t *rapid.T) {
		s := course.Start()
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
			list.replay(&sum, course.Start(), lines)
			if sum.Confirmed != Confirmed(s) || sum.State != State(s.Phase) {
				t.Fatalf("after %+v: listed %d stages and %s, the walk has %d and %s\n%s", c, sum.Confirmed, sum.State, Confirmed(s), s.Phase, lines)
			}
		}
	})
}

// Events nobody could have earned do not count in a list either.
func TestStagesConfirmedOutOfOrderAreNotCounted(t *testing.T) {
	s := newStore(t)
	h := NewHeader(procedureOf(t, cover), "cover.toml", "2", "test", started)
	forge(t, s, h, []walk.Event{{At: started, Kind: walk.Confirmed, Item: "Turn/M2"}})
	list, err := s.List()
	if err != nil || len(list) != 1 || list[0].Confirmed != 0 || list[0].State != StateOpen {
		t.Errorf("got %+v, %v", list, err)
	}
}

// What is taken apart where it stands is what encoding/json reads, for every
// line that Append writes.
func TestALineTakenApartIsTheLineAsJSON(t *testing.T) {
	text := rapid.SampledFrom([]string{"", "M1", "20 N·m", "wait, \"quoted\"", "back\\slash", "tab\there", "\x1b[2J", "½ turn", "\u202e", "\u2028", "<b>&"})
	rapid.Check(t, func(t *rapid.T) {
		e := walk.Event{Seq: rapid.IntRange(0, 2_000_000_000).Draw(t, "seq"), At: started.Add(time.Duration(rapid.IntRange(0, 1e9).Draw(t, "ns"))), Kind: walk.Kind(text.Draw(t, "kind"))}
		for _, s := range []*string{&e.Item, &e.Fastener, &e.Thread, &e.Piece, &e.Number, &e.Reading, &e.Answer, &e.Text} {
			*s = text.Draw(t, "text")
		}
		for range rapid.IntRange(0, 2).Draw(t, "facts") {
			if e.Facts == nil {
				e.Facts = map[string]string{}
			}
			e.Facts[text.Draw(t, "key")] = text.Draw(t, "value")
		}
		e.Restarts, e.Outstanding = rapid.SliceOfN(text, 0, 2).Draw(t, "restarts"), rapid.SliceOfN(text, 0, 3).Draw(t, "outstanding")
		line, err := encodeLine(eventLine{e, strings.Repeat("0", hexLen)})
		if err != nil {
			t.Fatal(err)
		}
		want, err := decodeJSON(line)
		if err != nil {
			t.Fatal(err)
		}
		got, ok := takeApart(line)
		if ok && !reflect.DeepEqual(got, want) {
			t.Fatalf("taken apart: %+v\nas JSON:     %+v\n%s", got, want, line)
		}
		if _, plain := takeApart([]byte(strings.Replace(string(line), `"seq"`, `"sEq"`, 1))); plain {
			t.Fatalf("a line that is not as it is written was taken apart: %s", line)
		}
	})
	line, _ := encodeLine(eventLine{walk.Event{Seq: 7, At: started, Kind: walk.Confirmed, Item: "Final/M1", Reading: "20 N·m", Facts: map[string]string{"wrench": "3/8 click"}}, strings.Repeat("0", hexLen)})
	if _, ok := takeApart(line); !ok {
		t.Errorf("an ordinary line is not taken apart: %s", line)
	}
}

// The same of a header, but for its text.
func TestAHeaderTakenApartIsTheHeaderAsJSON(t *testing.T) {
	plain, sly := []string{"", "7", "½ turn", "\u202e"}, []string{"wait, \"quoted\"", "back\\slash", "a,\"text\":b"}
	rapid.Check(t, func(t *rapid.T) {
		h := Header{Format: FormatVersion, Started: started.Add(time.Duration(rapid.IntRange(0, 1e9).Draw(t, "ns"))), Rules: rapid.IntRange(0, 9).Draw(t, "rules"), Ledger: rapid.IntRange(0, 9).Draw(t, "ledger") == 0, Text: "x"}
		texts := []*string{&h.ID, &h.Procedure, &h.Source, &h.From, &h.Engine, &h.Place, (*string)(&h.Direction), &h.SHA256, &h.Program}
		for _, s := range texts {
			*s = rapid.SampledFrom(plain).Draw(t, "text")
		}
		if rapid.Bool().Draw(t, "one is sly") {
			*rapid.SampledFrom(texts).Draw(t, "which") = rapid.SampledFrom(sly).Draw(t, "how")
		}
		if rapid.Bool().Draw(t, "behind") {
			h.After = h.Started.Add(time.Hour)
		}
		line, err := encodeLine(h)
		if err != nil {
			t.Fatal(err)
		}
		head, _, found := cutText(line)
		if !found {
			t.Fatalf("no text in %s", line)
		}
		var want Header
		if err := json.Unmarshal(head, &want); err != nil {
			t.Fatal(err)
		}
		got, ok := takeHeaderApart(head[:len(head)-1])
		want, _ = want.checked()
		if ok && !reflect.DeepEqual(got, want) {
			t.Fatalf("taken apart: %+v\nas JSON:     %+v\n%s", got, want, line)
		}
		for _, key := range []string{`"id"`, `"direction"`, `"program"`} {
			if _, plain := takeHeaderApart([]byte(strings.Replace(string(head[:len(head)-1]), key, strings.ToUpper(key), 1))); plain {
				t.Fatalf("a header that is not as it is written was taken apart: %s", line)
			}
		}
	})
	line, _ := encodeLine(NewHeader(procedureOf(t, cover), "cover.toml", "2", "test", started))
	head, _, _ := cutText(line)
	if _, ok := takeHeaderApart(head[:len(head)-1]); !ok {
		t.Errorf("an ordinary header is not taken apart: %s", head)
	}
}
