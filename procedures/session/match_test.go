package session

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

// asks opens what has to be asked about, and gives the relations.
func (r *room) asks(q Request) []Relation {
	r.Helper()
	_, err := r.Open(q)
	var which *WhichError
	if !errors.As(err, &which) {
		r.Fatalf("got %v, want a question", err)
	}
	var list []Relation
	for _, c := range which.Candidates {
		list = append(list, c.Relation)
	}
	return list
}

func TestAWalkIsGoneOnWithByTextTagAndPlace(t *testing.T) {
	r := newRoom(t)
	path := r.sheet("joint.toml", cover)
	first := r.opens(Request{Procedure: path, Engine: "Stand 2"})
	t.Chdir(r.dir)
	if err := os.Symlink(r.dir, filepath.Join(r.dir, "link")); err != nil {
		t.Fatal(err)
	}
	for _, q := range []Request{{Procedure: path, Engine: " stand 2"}, {Procedure: "joint.toml", Engine: "STAND 2"}, {Procedure: "./joint.toml", Engine: "Stand 2"},
		{Procedure: filepath.Join("link", "joint.toml"), Engine: "Stand 2"}} {
		if s := r.opens(q); s.ID != first.ID || s.ByID {
			t.Errorf("%+v: opened %s, want %s", q, s.ID, first.ID)
		}
	}
	if s := r.opens(Request{Procedure: path, Engine: "stand 3"}); s.ID == first.ID {
		t.Error("the walk of another engine was gone on with")
	}
}

func TestWhatMayBeMeantIsAskedAbout(t *testing.T) {
	r := newRoom(t)
	path := r.sheet("joint.toml", cover)
	r.opens(Request{Procedure: path, Engine: "7"})
	edited := strings.Replace(cover, "sheet 3", "sheet 33", 1)
	other := strings.Replace(cover, `"Close the cover"`, `"Close the pump"`, 1)
	cases := []struct {
		name string
		at   string
		text string
		want []Relation
	}{
		{"moved", r.sheet("else/where.toml", cover), cover, []Relation{Moved}},
		{"a namesake", r.sheet("name.toml", edited), edited, []Relation{Namesake}},
		{"edited", path, edited, []Relation{Edited}},
		{"edited and renamed inside", path, other, []Relation{Edited}},
		{"broken", path, "form = 1\n", []Relation{Gone}},
	}
	for _, c := range cases {
		if err := os.WriteFile(c.at, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		if got := r.asks(Request{Procedure: c.at, Engine: " 7 "}); !slices.Equal(got, c.want) {
			t.Errorf("%s: asked about %q, want %q", c.name, got, c.want)
		}
	}
	os.Remove(path)
	if got := r.asks(Request{Procedure: path, Engine: "7"}); !slices.Equal(got, []Relation{Gone}) {
		t.Errorf("missing: asked about %q", got)
	}
	if s := r.opens(Request{Procedure: r.sheet("pump.toml", other), Engine: "7"}); len(s.Live.State.Events) > 0 && s.Live.State.Events[0].Kind == walk.Resumed {
		t.Error("another procedure from another file was taken for this one")
	}
	var file *FileError
	if _, err := r.Open(Request{Procedure: path, Engine: "8"}); !errors.As(err, &file) {
		t.Errorf("a missing file with nothing open: %v", err)
	}
	if _, err := r.Open(Request{Procedure: path, Engine: "7", Fresh: true}); !errors.As(err, &file) {
		t.Errorf("a new walk of a missing file: %v", err)
	}
}

// Records written before the place was kept go on as they did: by what was
// typed and the text.
func TestOldRecordsWithoutAPlaceGoOn(t *testing.T) {
	r := newRoom(t)
	path := r.sheet("joint.toml", cover)
	p, _, err := r.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	w, err := r.Store.Create(record.NewHeader(p, path, "7", "old", r.Now()))
	if err != nil {
		t.Fatal(err)
	}
	w.Close()
	if s := r.opens(Request{Procedure: path, Engine: "7"}); s.ID != w.ID {
		t.Errorf("opened %s, want %s", s.ID, w.ID)
	}
	if s, err := r.Open(Request{Record: w.ID}); err != nil || len(s.Heed) > 0 {
		t.Errorf("resumed: %v, %q", err, s.Heed)
	} else {
		s.Close()
	}
	t.Chdir(r.dir)
	if got := r.asks(Request{Procedure: "joint.toml", Engine: "7"}); !slices.Equal(got, []Relation{Moved}) {
		t.Errorf("typed otherwise: asked about %q", got)
	}
}

func TestABundledProcedureIsItself(t *testing.T) {
	r := newRoom(t)
	s := r.opens(Request{Procedure: "crankcase-close", Engine: "7"})
	if h := r.file(s.ID).Header; h.From != "bundled" {
		t.Errorf("from %q", h.From)
	}
	if again := r.opens(Request{Procedure: "crankcase-close", Engine: "7"}); again.ID != s.ID {
		t.Error("a bundled walk is not gone on with")
	}
	if other := r.opens(Request{Procedure: "top-end-close", Engine: "7"}); other.ID == s.ID {
		t.Error("one bundled procedure is taken for another")
	}
	text, _ := r.Library.Find("crankcase-close")
	if got := r.asks(Request{Procedure: r.sheet("mine.toml", string(text.Text)), Engine: "7"}); !slices.Equal(got, []Relation{Moved}) {
		t.Errorf("a copy: asked about %q", got)
	}
}

// A choice is kept: a new walk beside open ones, or one whose file is no longer its own.
func TestAChoiceIsKeptInTheRecord(t *testing.T) {
	r := newRoom(t)
	path := r.sheet("joint.toml", cover)
	first := r.opens(Request{Procedure: path, Engine: "7"})
	r.sheet("joint.toml", strings.Replace(cover, "sheet 3", "sheet 33", 1))
	second := r.opens(Request{Procedure: path, Engine: "7", Fresh: true})
	if got := r.texts(second.ID, walk.Noted); !slices.Equal(got, []string{"begun anew while " + first.ID + " was open (its procedure file has changed since)"}) {
		t.Errorf("the new one notes %q", got)
	}
	for range 2 {
		s, err := r.Open(Request{Record: first.ID})
		if err != nil || !s.ByID || len(s.Heed) != 1 || !strings.Contains(s.Heed[0], "has changed since; this walk goes on with the text it was begun with") {
			t.Fatalf("%v, %+v", err, s)
		}
		s.Close()
	}
	if got := r.texts(first.ID, walk.Noted); len(got) != 1 || !strings.HasPrefix(got[0], "gone on with by choice: the procedure file ") {
		t.Errorf("the old one notes %q", got)
	}
	third := r.opens(Request{Procedure: path, Engine: "7", Fresh: true})
	if s := r.opens(Request{Procedure: path, Engine: "7"}); s.ID != third.ID || len(s.More) < 1 || !strings.Contains(strings.Join(s.More, "\n"), "evenpull walk --resume "+second.ID) {
		t.Errorf("of two the same, %s was opened, and %q said of the other", s.ID, s.More)
	}
}

func TestAWalkThatIsOverIsNotGoneOnWith(t *testing.T) {
	r := newRoom(t)
	s := r.does(Request{Procedure: r.sheet("joint.toml", cover), Engine: "7"}, walk.Command{Do: walk.Stop, Text: "seized"})
	before := len(r.file(s.ID).Events)
	if _, err := r.Open(Request{Record: s.ID}); err == nil || !strings.Contains(err.Error(), "is stopped and cannot be gone on with") {
		t.Errorf("got %v", err)
	}
	if len(r.file(s.ID).Events) != before {
		t.Error("something was written")
	}
}

// The relation goes by text and place; what was typed and the name only make it
// worth asking.
func TestRelationOfAWalkToWhatIsAskedFor(t *testing.T) {
	begun := record.Summary{Source: "joint.toml", From: "/a/joint.toml", SHA256: "one", Procedure: "Close"}
	old := record.Summary{Source: "joint.toml", SHA256: "one", Procedure: "Close"}
	bundled := record.Summary{Source: "flywheel-nut", From: "bundled", SHA256: "one", Procedure: "Flywheel"}
	own := record.Summary{Source: "flywheel-nut", From: "/own/flywheel-nut.toml", SHA256: "one", Procedure: "Flywheel"}
	piped := record.Summary{Source: "-", SHA256: "one", Procedure: "Close"}
	cases := []struct {
		name string
		sum  record.Summary
		w    wanted
		want Relation
	}{
		{"itself", begun, wanted{name: "a/joint.toml", from: "/a/joint.toml", hash: "one", procedure: "Close"}, Same},
		{"edited", begun, wanted{name: "joint.toml", from: "/a/joint.toml", hash: "two", procedure: "Open"}, Edited},
		{"moved", begun, wanted{name: "x.toml", from: "/b/x.toml", hash: "one", procedure: "Close"}, Moved},
		{"another of the name", begun, wanted{name: "x.toml", from: "/b/x.toml", hash: "two", procedure: "Close"}, Namesake},
		{"another typed alike", begun, wanted{name: "joint.toml", from: "/b/joint.toml", hash: "two", procedure: "Open"}, Namesake},
		{"another", begun, wanted{name: "x.toml", from: "/b/x.toml", hash: "two", procedure: "Open"}, Unrelated},
		{"gone from its place", begun, wanted{name: "./joint.toml", from: "/a/joint.toml"}, Gone},
		{"not there where it is typed", begun, wanted{name: "joint.toml", from: "/b/joint.toml"}, Gone},
		{"another that is not there", begun, wanted{name: "x.toml", from: "/b/x.toml"}, Unrelated},
		{"old, itself", old, wanted{name: "joint.toml", from: "/a/joint.toml", hash: "one", procedure: "Close"}, Same},
		{"old, edited", old, wanted{name: "joint.toml", from: "/a/joint.toml", hash: "two", procedure: "Close"}, Edited},
		{"bundled, itself", bundled, wanted{name: "flywheel-nut", from: "bundled", hash: "one", procedure: "Flywheel"}, Same},
		{"bundled in another version", bundled, wanted{name: "flywheel-nut", from: "bundled", hash: "two", procedure: "Flywheel"}, Edited},
		{"another bundled", bundled, wanted{name: "rod-bolts", from: "bundled", hash: "two", procedure: "Rods"}, Unrelated},
		{"one's own, now also bundled", own, wanted{name: "flywheel-nut", from: "bundled", hash: "one", procedure: "Flywheel"}, Moved},
		{"piped in again", piped, wanted{name: "-", hash: "one", procedure: "Close"}, Same},
		{"piped in, edited", piped, wanted{name: "-", hash: "two", procedure: "Close"}, Edited},
		{"piped in, another", piped, wanted{name: "-", hash: "two", procedure: "Open"}, Unrelated},
	}
	for _, c := range cases {
		if got := c.w.relation(c.sum); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What a request comes to is decided by the list of walks alone: one of this very
// procedure is gone on with, the newest of several; others are asked about; a new one
// passes over all of them.
func TestWhatARequestComesToAmongOpenWalks(t *testing.T) {
	w := wanted{name: "joint.toml", tag: "7", from: "/a/joint.toml", hash: "one", procedure: "Close"}
	open := func(id, from, tag string) record.Summary {
		return record.Summary{ID: id, State: record.StateOpen, Engine: tag, Source: "joint.toml", From: from, SHA256: "one", Procedure: "Close"}
	}
	over := open("over", "/a/joint.toml", "7")
	over.State = record.StateDone
	same, older, moved, away := open("same", "/a/joint.toml", "7"), open("older", "/a/joint.toml", " 7"), open("moved", "/b/joint.toml", "7"), open("away", "/a/joint.toml", "8")
	for _, tt := range []struct {
		name  string
		fresh bool
		list  []record.Summary
		want  string
	}{
		{"nothing", false, nil, "begin"},
		{"none that counts", false, []record.Summary{over, away}, "begin"},
		{"one of this very procedure", false, []record.Summary{moved, over, same, away}, "go on with same"},
		{"several", false, []record.Summary{same, older, moved}, "go on with same, open too: older"},
		{"one from elsewhere", false, []record.Summary{away, moved}, "ask: moved"},
		{"a new one", true, []record.Summary{moved, same, older, over}, "begin, passing over same older moved"},
	} {
		if got := w.choose(tt.fresh, tt.list).text(); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// text words a choice in short.
func (c choice) text() string {
	names := func(lead string, list []Candidate) string {
		var ids []string
		for _, c := range list {
			ids = append(ids, c.ID)
		}
		if ids == nil {
			return ""
		}
		return lead + strings.Join(ids, " ")
	}
	switch {
	case c.goOn != "":
		return "go on with " + c.goOn + names(", open too: ", c.also)
	case len(c.ask) > 0:
		return names("ask: ", c.ask)
	}
	return "begin" + names(", passing over ", c.passed)
}

// Walks of two of a kind are never taken for one another; where only one of the
// two names a place, it is asked.
func TestTwoOfAKindHaveAWalkEach(t *testing.T) {
	r := newRoom(t)
	path := r.sheet("joint.toml", cover)
	front := r.opens(Request{Procedure: path, Engine: "7", Place: " Front head"})
	rear := r.opens(Request{Procedure: path, Engine: "7", Place: "rear head"})
	if front.ID == rear.ID || front.Place != "Front head" {
		t.Errorf("%s at %q, %s at %q", front.ID, front.Place, rear.ID, rear.Place)
	}
	if s := r.opens(Request{Procedure: path, Engine: "7", Place: "front HEAD"}); s.ID != front.ID || s.Place != "Front head" {
		t.Errorf("went on with %s at %q", s.ID, s.Place)
	}
	if got := r.asks(Request{Procedure: path, Engine: "7"}); !slices.Equal(got, []Relation{Elsewhere, Elsewhere}) {
		t.Errorf("without a place: %v", got)
	}
	none := r.opens(Request{Procedure: path, Engine: "8"})
	_, err := r.Open(Request{Procedure: path, Engine: "8", Place: "front head"})
	if err == nil || !strings.Contains(err.Error(), none.ID) {
		t.Errorf("with a place, where the open walk has none: %v", err)
	}
}
