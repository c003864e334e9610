package engine

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

func TestPricesAreReadAsWrittenAndAddUpExactly(t *testing.T) {
	cases := []struct{ text, want string }{
		{"12.50 EUR", "12.50 EUR"}, {"12,50 eur", "12.50 EUR"}, {"€12.5", "12.5 EUR"}, {"EUR 0", "0 EUR"}, {" 3 kr. ", "3 kr."}, {"£ 0.05", "0.05 £"}, {"00.10 GBP", "0.10 GBP"},
		{"0.1250 EUR", "0.1250 EUR"},
		{"12.50", "no currency"}, {"EUR", "no figure"}, {"1,250 EUR", "thousands"}, {"1.250,00 EUR", "one point"}, {"-3 EUR", "sign"}, {"3- EUR", "sign"}, {"EUR 3 EUR", "before the figure and behind"},
		{"3. EUR", "no currency"}, {"1e3 EUR", "one point"}, {"3 =SUM", "no currency"}, {"1234567890123 EUR", "too long"}, {"1.23456 EUR", "too long"}, {"12 pieces of gold", "no currency"}, {"٣ EUR", "no figure"},
	}
	for _, c := range cases {
		p, err := ParsePrice(c.text)
		got := ""
		if err != nil {
			got = err.Error()
		} else {
			got = p.Text()
		}
		if err == nil && got != c.want || !strings.Contains(got, c.want) {
			t.Errorf("%q: got %q, want %q", c.text, got, c.want)
		}
	}
	sum, _ := ParsePrice("0.1 EUR")
	for range 9 {
		tenth, _ := ParsePrice("0.1 EUR")
		sum = sum.plus(tenth)
	}
	cent, _ := ParsePrice("0.05 EUR")
	if got := sum.plus(cent.times(3)).Text(); got != "1.15 EUR" {
		t.Errorf("ten tenths and three times five hundredths: %s", got)
	}
}

// shopping is an engine whose strip-down lost a thrust washer and four sealing
// washers are to be had for, and what is said of it, an hour apart.
type shopping struct {
	*testing.T
	walks  []Walk
	events []walk.Event
}

func (s *shopping) engine() Engine {
	return fold("7", s.walks, []*record.File{ledger("l", day.Add(time.Hour), s.events...)}, []*spec.Procedure{sheet(s, closeSheet)})
}

func (s *shopping) mark(m Marking, things ...string) string {
	s.Helper()
	events, err := s.engine().MarkedEach(things, m)
	if err != nil {
		return err.Error()
	}
	for _, ev := range events {
		ev.At = day.Add(time.Duration(len(s.events)+2) * time.Hour)
		s.events = append(s.events, ev)
	}
	return ""
}

func (s *shopping) bought(name string) Buy {
	s.Helper()
	for _, b := range s.engine().Buy {
		if b.Name == name {
			return b
		}
	}
	s.Fatalf("%s is not on the list", name)
	return Buy{}
}

func newShopping(t *testing.T) *shopping {
	down := begin(t, "down", sheet(t, openSheet), day).on("", map[string]walk.Facts{"part:shim": {walk.Condition: "missing"}}).done()
	return &shopping{T: t, walks: []Walk{down.walk()}}
}

func (s *shopping) refuses(m Marking, want string, things ...string) {
	s.Helper()
	if got := s.mark(m, things...); !strings.Contains(got, want) {
		s.Errorf("%v %+v: got %q, want %q", things, m, got, want)
	}
}

func (s *shopping) takes(m Marking, things ...string) {
	s.Helper()
	if got := s.mark(m, things...); got != "" {
		s.Fatalf("%v %+v: %s", things, m, got)
	}
}

func TestWhatIsOrderedComesInPartsOrIsCancelled(t *testing.T) {
	s := newShopping(t)
	stands := func(toOrder, ordered, arrived int) {
		s.Helper()
		if b := s.bought("sealing washer"); b.ToOrder() != toOrder || b.Ordered != ordered || b.Arrived != arrived {
			s.Errorf("to order %d, on order %d, arrived %d, want %d, %d, %d", b.ToOrder(), b.Ordered, b.Arrived, toOrder, ordered, arrived)
		}
	}
	stands(4, 0, 0)
	s.refuses(Marking{Kind: record.Ordered, Price: "0.40 EUR"}, `each, or in all? write --price "0.40 EUR each"`, "sealing washer")
	s.takes(Marking{Kind: record.Ordered, Count: 3, Price: "0.40 EUR each", From: "the counter"}, "sealing washer")
	stands(1, 3, 0)
	s.takes(Marking{Kind: record.Ordered, Count: 2, Price: "5 GBP in all"}, "125-12") // one more than needed, by the part number
	stands(0, 5, 0)
	s.refuses(Marking{Kind: record.Ordered}, "nothing is left to order", "sealing washer")
	s.refuses(Marking{Kind: record.Arrived, Price: "1 EUR in all"}, "was given when it was ordered", "sealing washer")
	s.refuses(Marking{Kind: record.Arrived, Count: 6}, "5 are still to come", "sealing washer")
	s.takes(Marking{Kind: record.Arrived, Count: 2}, "sealing washer")
	stands(0, 3, 2)
	if b := s.bought("sealing washer"); b.Orders[0].Arrived != 2 || b.Orders[1].Arrived != 0 || b.Came == nil || !b.Came.Equal(s.events[2].At) {
		t.Errorf("the oldest order comes first: %+v", b)
	}
	s.refuses(Marking{Kind: record.Cancelled}, "needs a reason", "sealing washer")
	s.takes(Marking{Kind: record.Cancelled, Because: "sold out"}, "sealing washer")
	stands(2, 0, 2)
	s.refuses(Marking{Kind: record.Cancelled, Because: "again"}, "is not on order", "sealing washer")
	e := s.engine()
	if got, _ := json.Marshal(e.Totals); string(got) != `["0.80 EUR"]` || len(e.Costs) != 1 || e.Costs[0].Count != 2 || e.Costs[0].From != "the counter" {
		t.Errorf("totals %s of %+v: what came is paid for, what was cancelled is not", got, e.Costs)
	}
}

// What is on its way and not needed any more stays on the list.
func TestWhatIsOrderedForNothingIsSeen(t *testing.T) {
	s := newShopping(t)
	s.takes(Marking{Kind: record.Ordered}, "shim")
	s.takes(Marking{Kind: record.Corrected, Facts: walk.Facts{walk.Condition: "good"}, Because: "it was in the rag"}, "shim")
	if b := s.bought("shim"); b.Count != 0 || b.Ordered != 2 || b.ToOrder() != 0 || strings.Join(b.Why, "") != "not needed any more" {
		t.Errorf("got %+v", b)
	}
}

func TestFreeItemsAndSeveralAtOnce(t *testing.T) {
	s := newShopping(t)
	s.refuses(Marking{Kind: record.Wanted}, `is asked for with NEW: evenpull mark 7 NEW 'grinding paste' wanted`, "grinding paste")
	s.takes(Marking{New: true, Kind: record.Wanted, Count: 2, Because: "valves"}, "grinding paste")
	s.refuses(Marking{New: true, Kind: record.Wanted}, "already; leave NEW out", "Grinding Paste")
	if b := s.bought("grinding paste"); b.Count != 2 || !strings.HasSuffix(strings.Join(b.Why, ""), ": valves") || b.Things == nil {
		t.Errorf("got %+v", b)
	}
	s.refuses(Marking{Kind: record.Ordered, Price: "12 EUR"}, `write --price "12 EUR each"`, "grinding paste", "shim")
	s.refuses(Marking{Kind: record.Ordered}, "not on the list", "grinding paste", "nothing")
	if len(s.events) != 1 {
		t.Fatalf("a part of what was refused was written: %+v", s.events)
	}
	s.takes(Marking{Kind: record.Ordered, Price: "1.5 EUR each"}, "grinding paste", "shim", "sealing washer", "125-12")
	if len(s.events) != 4 {
		t.Errorf("one row, said twice, is ordered once: %+v", s.events)
	}
	if got := strings.Join(s.engine().Totals, ", "); got != "12.0 EUR" {
		t.Errorf("2, 2 and 4 at 1.5 EUR: %s", got)
	}
	s.takes(Marking{New: true, Kind: record.Ordered, Count: 1}, "stud", "Stud")
	if b := s.bought("stud"); b.Count != 1 || b.Ordered != 1 {
		t.Errorf("got %+v", b)
	}
	s.refuses(Marking{Kind: record.Ordered, Count: -1}, "-1 is no count of stud", "stud")
	s.refuses(Marking{Kind: record.Wanted, Count: mostArrived + 1}, "is no count of stud", "stud")
	s.takes(Marking{Kind: record.Cancelled, Because: "no"}, "stud")
	s.takes(Marking{Kind: record.Cancelled, Because: "not at all"}, "stud")
	for _, b := range s.engine().Buy {
		if b.Name == "stud" {
			t.Errorf("it is wanted no more: %+v", b)
		}
	}
	s.takes(Marking{Kind: record.Wanted}, "rotor") // a spare of what is off
	if b := s.bought("rotor"); b.Count != 1 {
		t.Errorf("got %+v", b)
	}
	s.takes(Marking{Kind: record.Arrived, Price: "9 EUR", From: "the shop", Count: 1}, "cover gasket")
	if c := s.engine().Costs; c[len(c)-1].What != "cover gasket" || c[len(c)-1].Total != "9 EUR" || c[len(c)-1].From != "the shop" {
		t.Errorf("bought at once: %+v", c[len(c)-1])
	}
	s.refuses(Marking{Kind: record.Arrived}, "have arrived already", "cover gasket")
	s.takes(Marking{Kind: record.Sent, Work: "balancing", To: "the balancer"}, "rotor", "shim")
	s.takes(Marking{Kind: record.Back, Price: "80 EUR"}, "rotor")
	if c := s.engine().Costs; c[len(c)-1].What != "rotor, balancing" || c[len(c)-1].From != "the balancer" {
		t.Errorf("the bill: %+v", c[len(c)-1])
	}
}

// Asked for twice, once before its part number was known, it is one row, and tells the same whenever it is looked at.
func TestWhatIsAskedForTwiceIsOneRow(t *testing.T) {
	asked := func(name, number, why string) walk.Event {
		return walk.Event{Kind: record.Wanted, Piece: name, Text: why, Facts: map[string]string{numberFact: number, countFact: "1"}}
	}
	l := ledger("l", day, asked("Lock wire", "125-77", "the sump"), asked("lock wire", "", "the filter"))
	for range 20 { // what is asked for is kept in a map
		e := fold("7", nil, []*record.File{l}, nil)
		if len(e.Buy) != 1 || e.Buy[0].Name != "lock wire" || e.Buy[0].Number != "125-77" || e.Buy[0].Count != 2 {
			t.Fatalf("the list is %+v", e.Buy)
		}
	}
}
