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

// damaged asks for a walk that has to be answered for first, and lists what for.
func damaged(t *testing.T, err error) []Damage {
	t.Helper()
	var d *DamageError
	if !errors.As(err, &d) {
		t.Fatalf("got %v, want damage to answer for", err)
	}
	return d.List
}

// named words damage in short: the file, then what is said of it.
func named(list []Damage) []string {
	var words []string
	for _, d := range list {
		w := d.File
		if d.Unnamed {
			w += " any engine's"
		}
		if d.ThisWalk {
			w += " this walk's"
		}
		words = append(words, w)
	}
	slices.Sort(words)
	return words
}

// stripped is a room in which engine 7 was taken apart, with a bolt condemned.
func stripped(t *testing.T) (r *room, sheet, down string) {
	r = newRoom(t)
	s := r.does(Request{Procedure: r.sheet("apart.toml", apart), Engine: "7"},
		walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.Find, Facts: walk.Facts{walk.Condition: "stretched"}}, walk.Command{Do: walk.Confirm})
	return r, r.sheet("joint.toml", cover), s.ID
}

func TestADamagedRecordOfTheEngineIsAnsweredForOnce(t *testing.T) {
	r, sheet, down := stripped(t)
	open := r.opens(Request{Procedure: sheet, Engine: "7"})
	r.spoil(down+".jsonl", `"stretched"`, `"good"`)
	for _, q := range []Request{{Procedure: sheet, Engine: "7"}, {Procedure: sheet, Engine: "7", Fresh: true}, {Procedure: sheet, Engine: "7", Despite: " "}} {
		_, err := r.Open(q)
		if got := named(damaged(t, err)); !slices.Equal(got, []string{down + ".jsonl"}) {
			t.Errorf("%+v: %q", q, got)
		}
	}
	if list, err := r.Store.List(); err != nil || len(list) != 2 {
		t.Fatalf("%d records after refusals, want 2", len(list))
	}
	_, err := r.Open(Request{Record: open.ID})
	damaged(t, err)
	s := r.opens(Request{Procedure: sheet, Engine: "7", Despite: "looked it over"})
	if s.ID != open.ID || !strings.Contains(s.Notice+strings.Join(s.More, "\n"), down+".jsonl is damaged") {
		t.Errorf("answered: %s, %q %q", s.ID, s.Notice, s.More)
	}
	if got := r.texts(s.ID, walk.Noted); len(got) != 1 || !strings.HasPrefix(got[0], "despite "+down+".jsonl (broken at line ") || !strings.HasSuffix(got[0], "): looked it over") {
		t.Errorf("the record notes %q", got)
	}
	r.opens(Request{Procedure: sheet, Engine: "7"})
	if got := r.texts(s.ID, walk.Noted); len(got) != 1 {
		t.Errorf("asked for once, it notes %q", got)
	}
	r.spoil(down+".jsonl", `"kind":"confirmed"`, `"kind":"Confirmed"`)
	_, err = r.Open(Request{Procedure: sheet, Engine: "7"})
	damaged(t, err) // worse than what was answered for
	r.opens(Request{Procedure: sheet, Engine: "8"})
}

func TestAFreshWalkAnswersForWhatMayBeItself(t *testing.T) {
	r, sheet, down := stripped(t)
	open := r.does(Request{Procedure: sheet, Engine: "7"}, walk.Command{Do: walk.Note, Text: "here"})
	r.spoil(open.ID+".jsonl", `"here"`, `"there"`)
	_, err := r.Open(Request{Procedure: sheet, Engine: "7"})
	if got := named(damaged(t, err)); !slices.Equal(got, []string{open.ID + ".jsonl this walk's"}) {
		t.Errorf("%q", got)
	}
	r.spoil(down+".jsonl", `"engine":"7"`, `"engine":"9"`) // no tag can be relied on any more
	for _, tag := range []string{"7", "8"} {
		_, err = r.Open(Request{Procedure: sheet, Engine: tag})
		if got := named(damaged(t, err)); !slices.Contains(got, down+".jsonl any engine's this walk's") {
			t.Errorf("engine %s: %q", tag, got)
		}
	}
	_, err = r.Open(Request{Procedure: sheet}) // of no engine
	if got := named(damaged(t, err)); !slices.Equal(got, []string{down + ".jsonl any engine's this walk's"}) {
		t.Errorf("without a tag: %q", got)
	}
	e, err := r.Engine("12")
	if err != nil || len(e.Problems) != 1 || !strings.Contains(e.Problems[0], "may be of this engine") {
		t.Errorf("%v, to sort out: %q", err, e.Problems)
	}
}

func TestAnUnreadableFileMayBeAnyones(t *testing.T) {
	r, sheet, _ := stripped(t)
	open := r.opens(Request{Procedure: sheet, Engine: "7"})
	bare := r.opens(Request{Procedure: sheet})
	lost := filepath.Join(r.Store.Dir, "lost.jsonl")
	if err := os.WriteFile(lost, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := r.Open(Request{Record: open.ID})
	if got := named(damaged(t, err)); !slices.Equal(got, []string{"lost.jsonl any engine's"}) {
		t.Errorf("resumed: %q", got)
	}
	_, err = r.Open(Request{Procedure: sheet, Engine: "new"})
	if got := named(damaged(t, err)); !slices.Equal(got, []string{"lost.jsonl any engine's this walk's"}) {
		t.Errorf("begun: %q", got)
	}
	if s, err := r.Open(Request{Record: bare.ID}); err != nil { // known by itself, and of no engine
		t.Error(err)
	} else {
		s.Close()
	}
}

func TestADamagedLedgerIsAnsweredFor(t *testing.T) {
	r, sheet, _ := stripped(t)
	r.writeLedger("7", walk.Event{Kind: walk.Noted, Text: "first"})
	files, _ := filepath.Glob(filepath.Join(r.Store.Dir, "*.ledger"))
	name := filepath.Base(files[0])
	r.spoil(name, `"first"`, `"worst"`)
	_, err := r.Open(Request{Procedure: sheet, Engine: "7"})
	if got := named(damaged(t, err)); !slices.Equal(got, []string{name}) {
		t.Errorf("%q", got)
	}
	r.opens(Request{Procedure: sheet, Engine: "8"})
	r.opens(Request{Procedure: sheet})
	r.spoil(name, `"engine":"7"`, `"engine":"9"`) // no tag can be relied on any more
	_, err = r.Open(Request{Procedure: sheet, Engine: "8"})
	if got := named(damaged(t, err)); !slices.Equal(got, []string{name + " any engine's"}) {
		t.Errorf("another tag in it: %q", got)
	}
	r.spoil(name, `"evenpull":1`, `"evenpull":7`)
	_, err = r.Open(Request{Procedure: sheet, Engine: "9"})
	if got := named(damaged(t, err)); !slices.Equal(got, []string{name + " any engine's"}) {
		t.Errorf("%q", got)
	}
}

// A last line that was cut off is put aside and is no damage.
func TestATornLineIsNoDamage(t *testing.T) {
	r, sheet, down := stripped(t)
	path := r.Store.Path(down)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data[:len(data)-9], 0o644); err != nil {
		t.Fatal(err)
	}
	if list, _ := r.Store.List(); list[0].State != record.StateOpen {
		t.Fatalf("the record is %s", list[0].State)
	}
	r.opens(Request{Procedure: sheet, Engine: "7"})
}
