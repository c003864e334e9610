package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

// A clock that is set back between a strip-down, what is said of the engine and
// its close-up: each says so, keeps what it came after, and counts after it.
func TestAClockSetBackIsSaidAndChangesNoOrder(t *testing.T) {
	r, sheet, down := stripped(t)
	r.now = day.AddDate(-1, 0, 0)
	s, err := r.Open(Request{Record: down})
	if err != nil || len(s.Heed) != 1 || !strings.Contains(s.Heed[0], "this clock says 2025-03-02 09:00:") || !strings.Contains(s.Heed[0], "an entry of 2026-03-02 09:00:") || !strings.Contains(s.Heed[0], "in "+down) {
		t.Fatalf("resumed: %v, %q", err, s.Heed)
	}
	if _, err := s.Live.Do(walk.Command{Do: walk.Confirm}); err != nil { // the rotor comes off
		t.Fatal(err)
	}
	s.Close()
	events := r.file(down).Events
	if i := slices.IndexFunc(events, func(ev walk.Event) bool { return ev.Kind == walk.Resumed }); events[i].Facts[record.After] == "" {
		t.Errorf("resumed: %+v", events[i])
	}

	r.now = day.AddDate(-2, 0, 0)
	said, err := r.Enter("7", r.Store.Pictures(), func(e engine.Engine) ([]walk.Event, error) {
		ev, err := e.Mark(engine.Marking{Kind: record.Sent, Thing: "rotor", Work: "balancing"})
		return []walk.Event{ev}, err
	})
	if err != nil || len(said.Heed) != 1 || !strings.Contains(said.Heed[0], "this clock says 2024-03-02") {
		t.Fatalf("sent: %v, %q", err, said.Heed)
	}
	r.now = day.AddDate(-3, 0, 0)
	if said, err = r.Enter("7", r.Store.Pictures(), func(e engine.Engine) ([]walk.Event, error) {
		ev, err := e.Mark(engine.Marking{Kind: record.Back, Thing: "rotor"})
		return []walk.Event{ev}, err
	}); err != nil || len(said.Heed) != 1 {
		t.Fatalf("back: %v, %q", err, said.Heed)
	}
	r.now = day.AddDate(-4, 0, 0)
	up := r.does(Request{Procedure: sheet, Engine: "7"}, walk.Command{Do: walk.Confirm})
	if len(up.Heed) != 1 || !strings.Contains(up.Heed[0], "this clock says 2022-03-02") {
		t.Errorf("begun: %q", up.Heed)
	}
	if h := r.file(up.ID).Header; !h.After.After(day) || !h.Started.Before(day.AddDate(-3, 0, 0)) {
		t.Errorf("header: started %s, after %s", h.Started, h.After)
	}
	e, err := r.Engine("7")
	if err != nil || len(e.Problems) > 0 || e.Walks[len(e.Walks)-1].ID != up.ID {
		t.Fatalf("%v, problems %q", err, e.Problems)
	}
	for _, thing := range e.Off {
		if thing.ID == "M1" || thing.ID == "rotor" && (thing.Work != "" || thing.Unclean != "balancing") {
			t.Errorf("off: %+v", thing)
		}
	}
}

// A clock that is ahead of all that is on record, or behind by less than anyone
// can read, is not spoken of; and nothing is kept of it that need not be.
func TestAClockThatIsRightIsNotSpokenOf(t *testing.T) {
	r, sheet, down := stripped(t)
	s := r.opens(Request{Procedure: sheet, Engine: "7"})
	if h := r.file(s.ID).Header; len(s.Heed) > 0 || !h.After.IsZero() {
		t.Errorf("%q, after %s", s.Heed, h.After)
	}
	if s, err := r.Open(Request{Record: down}); err != nil || len(s.Heed) > 0 {
		t.Errorf("%v, %q", err, s.Heed)
	} else {
		s.Close()
	}
	for _, ev := range r.file(down).Events {
		if ev.Facts[record.After] != "" {
			t.Errorf("%+v", ev)
		}
	}
	c := engine.Clock{}.With("x", record.Header{Started: day}, nil)
	cases := []struct {
		ahead       time.Duration
		kept, heeds bool
	}{{time.Nanosecond, false, false}, {0, true, false}, {-999 * time.Millisecond, true, false}, {-time.Second, true, true}, {-time.Hour, true, true}}
	for _, k := range cases {
		after, heed := behind(c, day.Add(k.ahead))
		if after.IsZero() == k.kept || (heed != "") != k.heeds {
			t.Errorf("%s ahead: after %v, %q", k.ahead, after, heed)
		}
	}
	if after, heed := behind(engine.Clock{}, day); !after.IsZero() || heed != "" {
		t.Errorf("with nothing on record: %v, %q", after, heed)
	}
}

// Records whose clock was behind are listed by what they came after, and so is
// what was last done of their engine.
func TestTheListGoesByWhatCameAfterWhat(t *testing.T) {
	r, sheet, down := stripped(t)
	r.now = day.AddDate(-1, 0, 0)
	up := r.does(Request{Procedure: sheet, Engine: "7"}, walk.Command{Do: walk.Confirm})
	list, err := r.Store.List()
	if err != nil || len(list) != 2 || list[0].ID != up.ID || list[1].ID != down {
		t.Fatalf("%v: %+v", err, list)
	}
	b := engine.Overview(list, nil)
	if len(b) != 1 || !strings.HasPrefix(b[0].What, "Close the cover left") || b[0].Last.Year() != 2025 {
		t.Errorf("%+v", b)
	}
}
