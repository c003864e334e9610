package session

import (
	"errors"
	"os"
	"strings"
	"testing"

	"evenpull/procedures/walk"
)

// watched is a walk somebody has open and another looks at.
func watched(t *testing.T) (*room, Request, *Session, *Watch) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	s, err := r.Open(q)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	w, err := r.begun(q)
	if err != nil {
		t.Fatal(err)
	}
	return r, q, s, w
}

// look takes the news into the state, as a screen does.
func look(t *testing.T, w *Watch) News {
	t.Helper()
	n := w.Look()
	if n.Err != nil {
		t.Fatal(n.Err)
	}
	if found := walk.Replay(w.State, n.Events); len(found) > 0 {
		t.Fatal(found)
	}
	return n
}

func (r *room) did(s *Session, c walk.Command) {
	r.Helper()
	if refusal, err := s.Live.Do(c); refusal != nil || err != nil {
		r.Fatalf("%+v: %v %v", c, refusal, err)
	}
}

func TestAWatchedWalkIsSeenAsItGoesOnAndWhoHasIt(t *testing.T) {
	r, _, s, w := watched(t)
	if n := look(t, w); len(n.Events) > 0 || n.Holder == nil || n.Holder.PID != os.Getpid() {
		t.Errorf("before anything was done: %+v", n)
	}
	if w.ID != s.ID || w.Tag != "7" || w.State.CurrentItem().Key() != s.Live.State.CurrentItem().Key() {
		t.Errorf("%s of engine %s at %v, want %s at %v", w.ID, w.Tag, w.State.CurrentItem().Key(), s.ID, s.Live.State.CurrentItem().Key())
	}
	r.did(s, walk.Command{Do: walk.Confirm})
	if n := look(t, w); len(n.Events) != 1 || w.State.CurrentItem().Key().String() != "Final/M2" {
		t.Errorf("after one stage: %+v, at %v", n, w.State.CurrentItem().Key())
	}
	r.did(s, walk.Command{Do: walk.Confirm})
	r.did(s, walk.Command{Do: walk.FinishUp})
	s.Close()
	if n := look(t, w); n.Holder != nil || len(n.Events) != 2 || w.State.Phase != walk.IsDone {
		t.Errorf("at the end: %+v, %s", n, w.State.Phase)
	}
}

func TestAWatchedWalkCanBeLeftAndGoneOnWith(t *testing.T) {
	r, q, s, w := watched(t)
	s.Close()
	if n := look(t, w); n.Holder != nil {
		t.Errorf("it was left, and %v has it", n.Holder)
	}
	again, err := r.Open(q) // watching has not locked it
	if err != nil || again.ID != s.ID {
		t.Fatal(again, err)
	}
	defer again.Close()
	if n := look(t, w); n.Holder == nil || len(n.Events) != 1 || n.Events[0].Kind != walk.Resumed {
		t.Errorf("it is gone on with: %+v", n)
	}
}

func TestWhichWalkIsWatched(t *testing.T) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	var none *NotBegunError
	for _, want := range []string{"no walk of", "cover.toml is open on engine 7", "begun with: evenpull walk", "--engine 7"} {
		if _, err := r.begun(q); !errors.As(err, &none) || !strings.Contains(err.Error(), want) {
			t.Errorf("with nothing begun: %v, want %q", err, want)
		}
	}
	if r.Store.Exists() {
		t.Error("watching has made the folder of records")
	}
	first := r.opens(q)
	for _, tt := range []struct {
		q    Request
		want string // id; empty: none
	}{
		{q, first.ID},
		{Request{Procedure: q.Procedure, Engine: "8"}, ""},
		{Request{Procedure: q.Procedure}, ""},
		{Request{Procedure: r.sheet("apart.toml", apart), Engine: "7"}, ""},
	} {
		w, err := r.begun(tt.q)
		if tt.want == "" && !errors.As(err, &none) || tt.want != "" && (err != nil || w.ID != tt.want) {
			t.Errorf("%+v: %+v, %v, want %q", tt.q, w, err, tt.want)
		}
	}
	var which *WhichError
	r.sheet("cover.toml", strings.Replace(cover, "22 N·m", "23 N·m", 1))
	if _, err := r.begun(q); !errors.As(err, &which) || which.Candidates[0].ID != first.ID {
		t.Errorf("after the sheet was changed: %v", err)
	}
	if _, err := r.watch(first.ID); err != nil {
		t.Error(err)
	}
	if _, err := r.watch("20010101-none"); err == nil || !strings.Contains(err.Error(), "no such record") {
		t.Errorf("a record that is not there: %v", err)
	}
	var file *FileError
	if _, err := r.begun(Request{Procedure: "no-such-sheet"}); !errors.As(err, &file) {
		t.Errorf("a sheet that is not there: %v", err)
	}
}

// A walk that has not begun is waited for; what goes wrong meanwhile ends the waiting.
func TestAWalkThatHasNotBegunIsWaitedFor(t *testing.T) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	var ids, waits []string
	w, err := r.Watch(q, func(none *NotBegunError) {
		waits = append(waits, none.Error())
		switch len(waits) {
		case 2:
			r.opens(Request{Procedure: q.Procedure, Engine: "8"}) // not that one
		case 4:
			ids = append(ids, r.opens(q).ID)
		}
	})
	if err != nil || len(waits) != 4 || w.ID != ids[0] {
		t.Errorf("waited %d times for %v: %+v, %v", len(waits), ids, w, err)
	}
	if !strings.Contains(waits[0], "is open on engine 7") {
		t.Errorf("waits for %s", waits[0])
	}
	never := func(*NotBegunError) { t.Fatal("it is waited for") }
	if w, err := r.Watch(Request{Record: ids[0][:len(ids[0])-1]}, never); err != nil || w.ID != ids[0] {
		t.Errorf("by the start of its id: %+v, %v", w, err)
	}
	var words *RequestError
	if _, err := r.Watch(Request{Procedure: q.Procedure, Engine: strings.Repeat("7", MaxTag+1)}, never); !errors.As(err, &words) {
		t.Errorf("a tag that no walk can have: %v", err)
	}
	var file *FileError
	if _, err := r.Watch(Request{Procedure: "no-such-sheet"}, never); !errors.As(err, &file) {
		t.Errorf("a sheet that is not there: %v", err)
	}
	_, err = r.Watch(Request{Procedure: q.Procedure, Engine: "9"}, func(*NotBegunError) {
		if err := errors.Join(os.RemoveAll(r.Store.Dir), os.WriteFile(r.Store.Dir, nil, 0o600)); err != nil {
			t.Fatal(err)
		}
	})
	if err == nil || !strings.Contains(err.Error(), "records") {
		t.Errorf("with the folder gone: %v", err)
	}
}

// Whoever finds a walk open elsewhere sees it go on, too.
func TestAWalkThatIsHeldIsWatched(t *testing.T) {
	r, q, s, _ := watched(t)
	held, err := r.Open(q)
	if err != nil || held.Held == nil {
		t.Fatal(held, err)
	}
	r.did(s, walk.Command{Do: walk.Confirm})
	if n := look(t, held.Watch); len(n.Events) != 1 || held.Live.State.CurrentItem().Key().String() != "Final/M2" {
		t.Errorf("%+v, at %v", n, held.Live.State.CurrentItem().Key())
	}
	if held.Tag != "7" || held.Live.Append != nil {
		t.Error("a held walk can be written")
	}
}

// A walk that is done is no longer the one to be watched: the next is waited for.
func TestAWalkThatIsDoneIsWatchedByItsIdAlone(t *testing.T) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	s := r.does(q, walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.FinishUp})
	var none *NotBegunError
	if _, err := r.begun(q); !errors.As(err, &none) {
		t.Errorf("by its procedure: %v", err)
	}
	if w, err := r.watch(s.ID); err != nil || w.State.Phase != walk.IsDone || look(t, w).Holder != nil {
		t.Errorf("by its id: %+v, %v", w, err)
	}
}
