package engine

import (
	"slices"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// The clock was set back by a year between two walks: what is off, sent and
// back goes by what came after what, and every time is shown as it was written.
func TestTheOrderOfAnEngineIsNotThatOfItsDates(t *testing.T) {
	opener, closer := sheet(t, openSheet), sheet(t, closeSheet)
	down := begin(t, "down", opener, day).on("", nil)
	fold := func(walks []*walked, ledgers ...*record.File) Engine {
		var list []Walk
		for _, w := range walks {
			list = append(list, w.walk())
		}
		return fold("7", list, ledgers, []*spec.Procedure{closer})
	}
	e := fold([]*walked{down})
	past := day.AddDate(-1, 0, 0)
	if !e.Clock.Behind(past) || e.Clock.Behind(day.AddDate(0, 0, 1)) || e.Clock.Source != "down" || !e.Clock.At.Equal(down.now) {
		t.Fatalf("the clock of the engine: %+v", e.Clock)
	}
	after := func(c Clock) map[string]string {
		return map[string]string{record.After: c.Order.Format(time.RFC3339Nano)}
	}
	book := ledger("book", past, walk.Event{Kind: record.Sent, Item: "part:rotor", Text: "balancing", Facts: after(e.Clock)})
	e = fold([]*walked{down}, book)
	if len(e.Problems) > 0 || len(e.Off) != 5 {
		t.Fatalf("off %q, problems %q", keys(e.Off), e.Problems)
	}
	i := slices.IndexFunc(e.Off, func(t Thing) bool { return t.ID == "rotor" })
	if r := e.Off[i]; r.Work != "balancing" || !r.Sent.Equal(past) {
		t.Errorf("the rotor: %+v", r)
	}
	// a second ledger, of an even earlier clock, knows of the first
	other := ledger("another", past.AddDate(-1, 0, 0), walk.Event{Kind: record.Back, Item: "part:rotor", Facts: after(e.Clock)})
	e = fold([]*walked{down}, book, other)
	if r := e.Off[i]; len(e.Problems) > 0 || r.Work != "" || r.Unclean != "balancing" {
		t.Errorf("the rotor: %+v, problems %q", r, e.Problems)
	}
	// closing with a clock behind all of it, brought nothing so that no name of the strip-down helps
	up := begin(t, "up", closer, past.AddDate(-2, 0, 0))
	up.after = e.Clock.Order
	up.on("", nil)
	e = fold([]*walked{up, down}, book, other)
	if len(e.Off) > 0 || e.Walks[1].ID != "up" {
		t.Errorf("after closing: off %q, last %s", keys(e.Off), e.Walks[1].ID)
	}
	if what, at := e.lastDone(); what != "Close the cover left at 2 of 2 stages" || !at.Equal(up.now) {
		t.Errorf("last done: %s at %s", what, at)
	}
}

// Of records from before it was kept, the order is that of the dates.
func TestWithoutWordOfWhatCameBeforeTheDateCounts(t *testing.T) {
	events := []walk.Event{{At: day}, {At: day.Add(time.Hour)}, {At: day.Add(time.Minute)}}
	got := orderOf(time.Time{}, events)
	want := []time.Time{day, day.Add(time.Hour), day.Add(time.Hour + 1)}
	if !slices.EqualFunc(got, want, time.Time.Equal) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := orderOf(day.AddDate(0, 0, 1), events[:1]); !got[0].Equal(day.AddDate(0, 0, 1).Add(1)) {
		t.Errorf("with a header that knows more: %v", got)
	}
}

// What was measured and renewed last is what came last, not what has the
// newest date.
func TestTheLastFigureAndPieceAreThoseThatCameLast(t *testing.T) {
	closer := sheet(t, closeSheet)
	first := begin(t, "first", closer, day).on("", nil)
	e := fold("7", []Walk{first.walk()}, nil, nil)
	second := begin(t, "second", closer, day.AddDate(-1, 0, 0))
	second.after = e.Clock.Order
	second.on("", nil)
	e = fold("7", []Walk{second.walk(), first.walk()}, nil, nil)
	if len(e.Last) == 0 || len(e.Renewals) < 2 {
		t.Fatalf("last %v, renewed %v", e.Last, e.Renewals)
	}
	for key, r := range e.Last {
		if r.Record != "second" {
			t.Errorf("%s is of the %s walk", key, r.Record)
		}
	}
	if got := e.Renewals[len(e.Renewals)-1]; got.Record != "second" || got.At.Year() != 2024 {
		t.Errorf("the last renewal: %+v", got)
	}
}
