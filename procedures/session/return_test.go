package session

import (
	"slices"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// Who goes on with a walk is told where it was left; who begins one, or has done
// nothing in it yet, is not.
func TestWhoGoesOnIsToldWhereItWasLeft(t *testing.T) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	if s := r.opens(q); s.Return != nil {
		t.Errorf("begun: %+v", s.Return)
	}
	if s := r.does(q, walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.Note, Text: "lunch"}); s.Return != nil {
		t.Errorf("nothing had been done in it: %+v", s.Return)
	}
	left := r.now
	r.now = r.now.AddDate(1, 0, 0)
	s := r.opens(q)
	if s.Return == nil || s.Return.Last != "Final: M1, 22 N·m" || s.Return.Left.Before(left.Add(-time.Minute)) || s.Return.Left.After(left) || !s.Return.LastAt.Before(s.Return.Left) {
		t.Errorf("%+v, left %s", s.Return, left)
	}
	held, err := r.Open(q)
	if err != nil {
		t.Fatal(err)
	}
	defer held.Close()
	if only, err := r.Open(q); err != nil || only.Held == nil || only.Return != nil {
		t.Errorf("only looking on: %v, %+v", err, only.Return)
	}
}

// What another walk has taken apart since is told.
func TestWhoGoesOnIsToldWhatWasTakenApart(t *testing.T) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	r.does(q, walk.Command{Do: walk.Confirm})
	r.does(Request{Procedure: r.sheet("apart.toml", apart), Engine: "7"}, walk.Command{Do: walk.Confirm})
	s := r.opens(q)
	want := []string{"taken apart again by another walk: M1; to be done again"}
	if s.Return == nil || s.Return.Last != "Final: M1, 22 N·m" || !slices.Equal(s.Return.Apart, want) {
		t.Errorf("%+v", s.Return)
	}
}
