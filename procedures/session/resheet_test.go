package session

import (
	"errors"
	"os"
	"strings"
	"testing"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

func because(reason string) Why {
	return func(walk.Resheeting) (string, error) { return reason, nil }
}

func over(q Request, why Why) Request {
	q.Resheet = why
	return q
}

// As long as somebody walks it, nobody else goes over to another sheet; after that, only
// with a reason, and without one nothing is written.
func TestAnEditedSheetWaitsForItsWalkerAndForAReason(t *testing.T) {
	r := newRoom(t)
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	s, err := r.Open(q)
	if err != nil {
		t.Fatal(err)
	}
	r.did(s, walk.Command{Do: walk.Confirm})
	r.sheet("cover.toml", strings.Replace(cover, "M2 = [70, 0]", "M2 = [70, 0]\nM3 = [0, 70]", 1))
	var held *record.LockedError
	if _, err := r.Open(over(q, because("one more"))); !errors.As(err, &held) {
		t.Errorf("while it is walked: %v", err)
	}
	s.Close()
	before, err := os.ReadFile(r.Store.Path(s.ID))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.Open(over(q, because(" "))); !errors.Is(err, ErrLeft) {
		t.Errorf("without a reason: %v", err)
	}
	if after, _ := os.ReadFile(r.Store.Path(s.ID)); string(after) != string(before) {
		t.Error("without a reason something was written")
	}
	s, err = r.Open(over(q, func(makes walk.Resheeting) (string, error) {
		if len(makes.Changes) != 2 || len(makes.Open) > 0 || makes.Kept != 1 {
			t.Errorf("it is said to make %+v", makes)
		}
		return "one more", nil
	}))
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Live.State.StageCount(); got != 3 {
		t.Errorf("%d stages by the sheet as it is now", got)
	}
	s.Close()

	// what reads it has the sheet of now: the list, and who asks for it
	list, err := r.Store.List()
	if err != nil || len(list) != 1 || list[0].Stages != 3 || list[0].Confirmed != 1 {
		t.Errorf("listed: %+v, %v", list, err)
	}
	if s, err = r.Open(q); err != nil || s.ID != list[0].ID {
		t.Fatalf("opened again: %v", err)
	}
	s.Close()
	if s, err = r.Open(Request{Record: list[0].ID}); err != nil || len(s.Heed) > 0 {
		t.Fatalf("gone on with: %v", err)
	}
	s.Close()
}

// What the engine brings is brought anew by another sheet, even if it is the same.
func TestWhatTheEngineBringsIsBroughtAnewByAnEditedSheet(t *testing.T) {
	r := newRoom(t)
	open, err := r.Open(Request{Procedure: r.sheet("apart.toml", apart), Engine: "7"})
	if err != nil {
		t.Fatal(err)
	}
	for open.Live.State.CurrentItem() != nil {
		r.did(open, walk.Command{Do: walk.Confirm})
	}
	r.did(open, walk.Command{Do: walk.FinishUp})
	open.Close()
	q := Request{Procedure: r.sheet("cover.toml", cover), Engine: "7"}
	s, err := r.Open(q)
	if err != nil {
		t.Fatal(err)
	}
	if left := s.Live.State.LeftOver(); len(left) != 1 || left[0].ID != "rotor" {
		t.Fatalf("left over: %v", left)
	}
	s.Close()
	r.sheet("cover.toml", cover+"[[part]]\nname = \"rotor\"\n")
	if s, err = r.Open(Request{Engine: "7", Resheet: because("it was forgotten")}); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if events := s.Live.State.Events; events[len(events)-1].Kind != walk.Brought || len(s.Live.State.LeftOver()) > 0 || s.Live.State.CurrentItem().Part == nil {
		t.Errorf("last is %s, left over %v", events[len(events)-1].Kind, s.Live.State.LeftOver())
	}
}

// A folder of records that cannot be listed is said as that, not as an engine with nothing open.
func TestAFolderThatCannotBeListedIsSaid(t *testing.T) {
	r := newRoom(t)
	if err := os.WriteFile(r.Store.Dir, []byte("a file"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := r.Open(Request{Engine: "7", Resheet: because("misread")})
	var wrong *record.Error
	if s != nil || !errors.As(err, &wrong) {
		t.Errorf("opened %v, %v", s, err)
	}
}
