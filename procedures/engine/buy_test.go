package engine

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// why lists the rows of the list to order with what each is for and why.
func why(e Engine) string {
	var list []string
	for _, b := range e.Buy {
		list = append(list, b.Name+" for "+strings.Join(b.Things, " ")+": "+strings.Join(b.Why, "; "))
	}
	return strings.Join(list, "\n")
}

// Each row says why it is there, with the sheet that asks. Bolts without a title are
// called by their group.
func TestARowSaysWhatItIsForAndWhy(t *testing.T) {
	down, _ := apart(t)
	closer := sheet(t, strings.Replace(closeSheet, "title  = \"cover bolts\"\n", "", 1))
	want := strings.Join([]string{
		"cover bolts M8x1.25 for M2: it was stretched at strip-down",
		"cover gasket for cover-gasket: one-use (Close the cover)",
		"sealing washer for M1 M2: one-use (Close the cover)",
		"thrust washer for thrust-washer: it was missing at strip-down",
	}, "\n")
	e := fold("7", []Walk{down}, nil, []*spec.Procedure{closer})
	if got := why(e); got != want {
		t.Errorf("to come:\n%s\nwant\n%s", got, want)
	}
	up := begin(t, "up", closer, day.AddDate(0, 1, 0)).bring(e)
	if got := why(fold("7", []Walk{down, up.walk()}, nil, []*spec.Procedure{closer})); got != want {
		t.Errorf("under way:\n%s\nwant\n%s", got, want)
	}
	if got := fastenerName(closer.Fasteners[0].Group); got != "main M8x1.25" {
		t.Errorf("without a title it is called %q", got)
	}
}

// Walks are listed by when they were begun, and those begun at one moment by their ids,
// in whatever order their records are found.
func TestWalksAreListedOldestFirst(t *testing.T) {
	at := func(id string, hours int) Walk {
		return Walk{ID: id, Tag: "7", Direction: spec.Close, Phase: walk.IsOpen, Started: day.Add(time.Duration(hours) * time.Hour)} // as of a record that cannot be replayed
	}
	walks := []Walk{at("c", 0), at("b", 1), at("d", 1), at("a", 2)}
	for i := range walks {
		for j := range walks {
			walks[i], walks[j] = walks[j], walks[i]
			var got []string
			for _, w := range fold("7", walks, nil, nil).Walks {
				got = append(got, w.ID)
			}
			wantList(t, "walks", got, []string{"c", "b", "d", "a"})
		}
	}
}

// What was said of buying stands in the history as it was said.
func TestTheHistorySaysWhatWasBought(t *testing.T) {
	s := newShopping(t)
	s.refuses(Marking{Kind: record.Cancelled, Because: "x", New: true}, "there is nothing to cancel", "stud")
	s.takes(Marking{Kind: record.Ordered, Count: 3, From: "the counter"}, "sealing washer")
	s.takes(Marking{Kind: record.Ordered}, "cover gasket")
	s.takes(Marking{Kind: record.Arrived, Count: 1, Number: "lot 4"}, "sealing washer")
	s.takes(Marking{Kind: record.Cancelled, Because: "sold out"}, "sealing washer")
	s.takes(Marking{Kind: record.Wanted, New: true, Count: 4}, "stud")
	s.takes(Marking{Kind: record.Arrived, Count: 3}, "stud")
	s.takes(Marking{Kind: record.Cancelled, Because: "enough"}, "stud")
	var got []string
	for _, h := range s.engine().Between() {
		got = append(got, h.Text)
	}
	wantList(t, "said", got, []string{"3 × sealing washer ordered from the counter", "1 × cover gasket ordered", "1 × sealing washer arrived, lot 4", "order of 2 × sealing washer cancelled: sold out",
		"4 × stud wanted", "3 × stud arrived", "1 × stud not wanted any more: enough"})
	if b := s.bought("stud"); b.Count != 3 || b.Missing() != 0 {
		t.Errorf("what has arrived stays: %+v", b)
	}
}

// What is ordered, arrives or is cancelled is of a row by its part number, whatever another
// sheet calls it, or else by its name.
func TestAnOrderIsOfItsRowByNumberOrName(t *testing.T) {
	facts := func(number string) map[string]string { return map[string]string{"number": number, "count": "2"} }
	for _, c := range []struct {
		name, number string
		ordered      int
	}{
		{"sealing washer", "125-12", 2}, {"crush washer", "125-12", 2}, {"Sealing Washer", "", 2}, {"crush washer", "", 0}, {"crush washer", "125-13", 0},
	} {
		s := newShopping(t)
		s.events = []walk.Event{{Kind: record.Ordered, At: day.Add(2 * time.Hour), Piece: c.name, Facts: facts(c.number)}}
		if b := s.bought("sealing washer"); b.Ordered != c.ordered || len(b.Orders) != c.ordered/2 {
			t.Errorf("%q %q: %d of the sealing washers are on order, want %d", c.name, c.number, b.Ordered, c.ordered)
		}
		s.events = append(s.events, walk.Event{Kind: record.Arrived, At: day.Add(3 * time.Hour), Piece: "sealing washer", Facts: facts("125-12")})
		if o := s.engine().Buy; c.ordered > 0 && s.bought("sealing washer").Ordered != 0 {
			t.Errorf("%q %q: came, and still on order: %+v", c.name, c.number, o)
		}
	}
}

// A price said for all of an order, or for its only piece, is owed until none of it is to come.
func TestACancelledOrderIsNotPaidFor(t *testing.T) {
	for _, c := range []struct {
		price         string
		count, arrive int
		want          string
	}{
		{"8 EUR in all", 4, 0, ""}, {"8 EUR in all", 4, 1, "8 EUR"}, {"2 EUR each", 4, 0, ""}, {"2 EUR each", 4, 3, "6 EUR"}, {"2 EUR", 1, 0, ""},
	} {
		s := newShopping(t)
		s.takes(Marking{Kind: record.Ordered, Count: c.count, Price: c.price}, "sealing washer")
		if c.arrive > 0 {
			s.takes(Marking{Kind: record.Arrived, Count: c.arrive}, "sealing washer")
		}
		s.takes(Marking{Kind: record.Cancelled, Because: "sold out"}, "sealing washer")
		if got := strings.Join(s.engine().Totals, ", "); got != c.want {
			t.Errorf("%d at %s, %d came: owed %q, want %q", c.count, c.price, c.arrive, got, c.want)
		}
	}
}

// Of an engine with nothing off and nothing to order no mark makes sense, and each says so.
func TestWithNothingOffNothingIsMarked(t *testing.T) {
	e := fold("7", nil, nil, nil)
	for _, c := range []struct {
		m    Marking
		want string
	}{
		{Marking{Thing: "shim", Kind: record.Arrived}, "nothing is to order for engine 7"},
		{Marking{Thing: "shim", Kind: record.Sent, Work: "coating"}, "nothing is off engine 7, so nothing can be marked but what has arrived"},
		{Marking{Thing: "shim", Kind: walk.Noted}, "nothing is noted"},
	} {
		if _, err := e.Mark(c.m); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: got %v, want %q", c.m, err, c.want)
		}
	}
}

// What a sheet has no place for is to order once, whether a close walk was brought it or not.
func TestACondemnedStrayIsToOrderOnce(t *testing.T) {
	down := begin(t, "down", sheet(t, strings.Replace(openSheet, "[[part]]", sideBolt+"[[part]]", 1)), day).
		on("", map[string]walk.Facts{"S1": {walk.Condition: "stretched"}}).done().walk()
	closer := sheet(t, closeSheet)
	e := fold("7", []Walk{down}, nil, []*spec.Procedure{closer})
	want := []string{"0/1 cover gasket 125-40", "0/4 sealing washer 125-12", "0/1 side M6x1 "}
	wantList(t, "to come", rows(e), want)
	up := begin(t, "up", closer, day.AddDate(0, 1, 0)).bring(e)
	wantList(t, "under way", rows(fold("7", []Walk{down, up.walk()}, nil, []*spec.Procedure{closer})), want)
}

// The one-use pieces of a strip-down are to order when no known sheet closes it; those of
// one that is under way, with nothing off yet, are not.
func TestOneUsePiecesAreToOrderBySheetThatCloses(t *testing.T) {
	gasket := "[[part]]\nname = \"cover gasket\"\nkind = \"gasket\"\none_use = true\nnumber = \"125-40\"\n"
	w := begin(t, "down", sheet(t, openSheet+gasket), day)
	if e := fold("7", []Walk{w.walk()}, nil, nil); len(e.Buy) > 0 {
		t.Errorf("nothing is off yet, and to order is %q", rows(e))
	}
	down := w.on("", nil).done().walk()
	if got := why(fold("7", []Walk{down}, nil, nil)); got != "cover gasket for cover-gasket: one-use (Open the cover)" {
		t.Errorf("no sheet closes it: %s", got)
	}
	if got := why(fold("7", []Walk{down}, nil, []*spec.Procedure{sheet(t, closeSheet)})); !strings.HasPrefix(got, "cover gasket for cover-gasket: one-use (Close the cover)\n") {
		t.Errorf("a sheet closes it: %s", got)
	}
}

// A walk under way wants what its own text of the sheet says, whatever the newer text wants.
func TestAWalkUnderWayWantsWhatItsOwnSheetSays(t *testing.T) {
	down := begin(t, "down", sheet(t, openSheet), day).on("", nil).done().walk()
	newer := []*spec.Procedure{sheet(t, strings.Replace(closeSheet, "cover gasket", "paper gasket", 1))}
	up := begin(t, "up", sheet(t, closeSheet), day.AddDate(0, 1, 0)).bring(fold("7", []Walk{down}, nil, newer)).walk()
	wantList(t, "under way", rows(fold("7", []Walk{down, up}, nil, newer)), []string{"0/1 cover gasket 125-40", "0/4 sealing washer 125-12"})
	wantList(t, "to come", rows(fold("7", []Walk{down}, nil, newer)), []string{"0/1 paper gasket 125-40", "0/4 sealing washer 125-12"})
}
