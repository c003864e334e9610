package session

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/engine"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

func TestAWalkThatIsNamedIsGoneOnWith(t *testing.T) {
	r := newRoom(t)
	sheet := r.sheet("cover.toml", cover)
	first := r.opens(Request{Procedure: sheet, Engine: "7"})
	second := r.opens(Request{Procedure: sheet, Engine: "8"})
	elsewhere := filepath.Join(r.dir, "copy.jsonl")
	text, err := os.ReadFile(r.Store.Path(first.ID))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(elsewhere, text, 0o600); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name, record string
		want, says   string
	}{
		{"by its id", first.ID, first.ID, ""},
		{"by the start of its id", second.ID[:len("2026-03-02-8")], second.ID, ""},
		{"by its file", r.Store.Path(first.ID), first.ID, ""},
		{"the newest", "last", second.ID, ""},
		{"one elsewhere", elsewhere, "", "is not in the folder of records"},
		{"several", "2026-03-02", "", "this could be"},
		{"none", "2031", "", "no such record"},
	}
	for _, tt := range tests {
		s, err := r.Open(Request{Record: tt.record})
		switch {
		case tt.want == "" && (err == nil || !strings.Contains(err.Error(), tt.says)):
			t.Errorf("%s: %v, want %q", tt.name, err, tt.says)
		case tt.want != "" && (err != nil || s.ID != tt.want || !s.ByID):
			t.Errorf("%s: %v", tt.name, err)
		}
		if s != nil {
			s.Close()
		}
	}
	r = newRoom(t)
	if _, err := r.Open(Request{Record: "last"}); err == nil || !strings.Contains(err.Error(), "there are no records yet") {
		t.Errorf("the newest of none: %v", err)
	}
}

// What cannot be asked for begins nothing.
func TestWordsThatCannotBeAskedForBeginNothing(t *testing.T) {
	r := newRoom(t)
	sheet := r.sheet("cover.toml", cover)
	long := strings.Repeat("ö", MaxTag)
	for _, tt := range []struct {
		q     Request
		words bool // of the request itself
		says  string
	}{
		{Request{Procedure: sheet, Engine: long + "x"}, true, "the engine's tag has 61 characters; 60 at most"},
		{Request{Procedure: sheet, Engine: "7", Place: long + "x"}, true, "the place has 61 characters; 60 at most"},
		{Request{Procedure: sheet, Engine: "7", At: "many"}, false, "many"},
	} {
		s, err := r.Open(tt.q)
		var words *RequestError
		if s != nil || err == nil || !strings.Contains(err.Error(), tt.says) || errors.As(err, &words) != tt.words {
			t.Errorf("%+v: %v", tt.q, err)
		}
	}
	if _, err := os.Stat(r.Store.Dir); err == nil {
		t.Error("something was begun")
	}
	if s := r.opens(Request{Procedure: sheet, Engine: long, Place: long, At: "1240 h"}); len(s.Live.State.Events) == 0 || !strings.Contains(s.Live.State.Events[len(s.Live.State.Events)-1].Text, "at 1240 h") {
		t.Errorf("the longest there may be: %+v", s.Live.State.Events)
	}
}

// A counter cannot be kept in a record that somebody else writes; it is not opened then.
func TestACounterIsNotKeptInARecordThatIsHeld(t *testing.T) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	first, err := r.Open(q)
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	q.At = "1240 h"
	if s, err := r.Open(q); s != nil || err == nil || !strings.Contains(err.Error(), "1240 h is not kept: the record is held by") {
		t.Errorf("opened %v, %v", s, err)
	}
}

// A sheet that goes both ways is not walked before it is said which.
func TestOfASheetThatGoesBothWaysOneIsSaid(t *testing.T) {
	r := newRoom(t)
	both := strings.Replace(strings.Replace(cover, `direction = "close"`, "direction = \"both\"\nopening = \"Open the cover\"", 1), "[[pass]]", "[[pass]]\nname = \"Out\"\ndirection = \"open\"\ngroups = [\"main\"]\nremove = true\n[[pass]]\ndirection = \"close\"", 1)
	sheet := r.sheet("both.toml", both)
	if p, _, err := r.Read(sheet); p != nil || err == nil || !strings.Contains(err.Error(), "goes both ways; say which") {
		t.Errorf("read as %v, %v", p, err)
	}
	if p, _, err := r.Read(sheet + ":open"); err != nil || p.Direction != spec.Open {
		t.Errorf("opened as %+v, %v", p, err)
	}
}

// What is wrong with a sheet is counted.
func TestHowManyProblemsASheetHas(t *testing.T) {
	r := newRoom(t)
	for text, want := range map[string]string{
		strings.Replace(cover, "22 N·m", "22", 1):                                                      "cannot be walked: 1 problem",
		strings.NewReplacer("22 N·m", "22", `order  = "listed"`, `order  = "sideways"`).Replace(cover): "cannot be walked: 2 problems",
	} {
		if _, _, err := r.Read(r.sheet("x.toml", text)); err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func TestAWalkSaysHowItWasLeftAndHowToComeBack(t *testing.T) {
	r := newRoom(t)
	sheet := r.sheet("cover.toml", cover)
	open := r.opens(Request{Procedure: sheet, Engine: "blue one", Place: "front"})
	if got, want := open.Line(), `evenpull walk `+sheet+` --engine "blue one" --place front`; strings.ReplaceAll(got, "'", `"`) != want {
		t.Errorf("comes back by %s, want %s", got, want)
	}
	if got := open.Left(open.Line() + " --from-paper"); !strings.HasPrefix(got, "left open with 2 outstanding; go on with: evenpull walk ") || !strings.HasSuffix(got, " --from-paper") {
		t.Errorf("left open: %s", got)
	}
	again, err := r.Open(Request{Record: open.ID})
	if err != nil {
		t.Fatal(err)
	}
	if got := again.Line(); got != "evenpull walk --resume "+open.ID {
		t.Errorf("named by its record it comes back by %s", got)
	}
	again.Close()
	stopped := r.does(Request{Procedure: sheet, Engine: "8"}, walk.Command{Do: walk.Stop, Text: "sold"})
	if got, want := stopped.Left(""), "stopped with 2 outstanding; see it with: evenpull show "+stopped.ID; got != want {
		t.Errorf("stopped: %s, want %s", got, want)
	}
	done := r.does(Request{Procedure: sheet, Engine: "9"}, walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.FinishUp})
	if got := done.Left("x"); got != "" {
		t.Errorf("done: %s", got)
	}
}

// After it was let go of, nothing is written any more, and somebody else may go on.
func TestAClosedSessionWritesNothing(t *testing.T) {
	r := newRoom(t)
	s, err := r.Open(Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"})
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	s.Close()
	if _, err := s.Live.Do(walk.Command{Do: walk.Confirm}); !errors.Is(err, walk.ErrLost) {
		t.Errorf("after closing: %v", err)
	}
	again := r.opens(Request{Record: s.ID})
	if done := slices.ContainsFunc(again.Live.State.Events, func(e walk.Event) bool { return e.Kind == walk.Confirmed }); again.Held != nil || done {
		t.Errorf("gone on with: %+v, %+v", again.Held, again.Live.State.Events)
	}
}

// The last figures of an engine are said beside what asks for them again; what was found
// at strip-down, beside the check it will be measured by.
func TestTheLastFiguresOfAnEngineAreSaid(t *testing.T) {
	read := func(text string, day int) engine.Reading {
		return engine.Reading{Text: text, At: time.Date(2026, 3, day, 9, 0, 0, 0, time.UTC)}
	}
	s := Session{Engine: engine.Engine{Last: map[string]engine.Reading{
		"check:clearance": read("0.10 mm", 1), "check:clearance-was": read("0.14 mm", 2), "check:gap-was": read("0.30 mm", 3),
	}}}
	want := map[string]string{
		"check:clearance":     "last time 0.10 mm (2026-03-01); at strip-down 0.14 mm (2026-03-02)",
		"check:clearance-was": "last time 0.14 mm (2026-03-02)",
		"check:gap-was":       "last time 0.30 mm (2026-03-03)",
		"check:gap":           "at strip-down 0.30 mm (2026-03-03)",
	}
	if got := s.Memory(); !maps.Equal(got, want) {
		t.Errorf("remembers %q, want %q", got, want)
	}
}
