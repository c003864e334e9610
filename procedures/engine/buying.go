package engine

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// markBuying turns what is said of a row of the list to order into its event.
func (e Engine) markBuying(m Marking) (walk.Event, error) {
	b, err := e.row(m.Thing, m.Place)
	if m.Kind == record.Wanted {
		if t, off := e.thing(m.Thing, m.Place, m.fits); err != nil && off == nil {
			b, err = Buy{Name: t.Name, Number: t.Number}, nil
		}
		if err != nil {
			return walk.Event{}, fmt.Errorf("%w; something no sheet has is asked for with NEW: %s", err, shell.Line("mark", []string{e.Tag, "NEW", m.Thing, "wanted"}))
		}
	}
	if err != nil {
		return walk.Event{}, err
	}
	if m.Kind != record.Arrived && (m.Count < 0 || m.Count > mostArrived) {
		return walk.Event{}, fmt.Errorf("%d is no count of %s; write --count 1 to %d", m.Count, b.Name, mostArrived)
	}
	ev := walk.Event{Kind: m.Kind, Piece: b.Name, Facts: map[string]string{}}
	if b.Number != "" {
		ev.Facts[numberFact] = b.Number
	}
	switch m.Kind {
	case record.Cancelled:
		return e.markCancelled(b, m, ev)
	case record.Wanted:
		m.Count, ev.Text = max(m.Count, 1), m.Because
	case record.Ordered:
		if m.Count == 0 {
			m.Count = b.ToOrder()
		}
		if m.Count == 0 {
			return ev, fmt.Errorf("nothing is left to order of %s; say how many more: --count 1", b.Name)
		}
	case record.Arrived:
		if m.Count, err = b.mayArrive(m.Count); err != nil {
			return ev, err
		}
		ev.Number = m.Number
	}
	ev.Facts[countFact] = strconv.Itoa(m.Count)
	if m.From != "" {
		ev.Facts[fromFact] = m.From
	}
	return ev, priced(b, m, ev)
}

// mayArrive is how many arrive, 0 standing for all that are missing.
func (b Buy) mayArrive(n int) (int, error) {
	most := max(b.Missing(), b.Ordered)
	switch {
	case most == 0:
		return 0, fmt.Errorf("%d × %s, all that is needed, have arrived already", b.Count, b.Name)
	case n < 0 || n > most:
		return 0, fmt.Errorf("%d × %s cannot have arrived for this engine: %d are still to come; write --count 1 to %d", n, b.Name, most, most)
	case n == 0:
		return most, nil
	}
	return n, nil
}

// priced keeps the price of what is ordered or bought. One that may be of a piece
// or of all of them is asked back.
func priced(b Buy, m Marking, ev walk.Event) error {
	if m.Price == "" {
		return nil
	}
	for _, o := range b.Orders {
		if m.Kind == record.Arrived && o.Due() > 0 && o.Price != "" {
			return fmt.Errorf("the price of %s was given when it was ordered, on %s: %s; leave --price out", b.Name, o.At.Format(time.DateOnly), o.Price)
		}
	}
	figure, each := strings.CutSuffix(strings.TrimSpace(m.Price), " each")
	figure, inAll := strings.CutSuffix(figure, " in all")
	p, err := ParsePrice(figure)
	switch {
	case err != nil:
		return err
	case m.Count > 1 && !each && !inAll:
		return fmt.Errorf("%s for %d × %s: each, or in all? write --price %q or --price %q", p.Text(), m.Count, b.Name, p.Text()+" each", p.Text()+" in all")
	}
	if ev.Facts[priceFact] = p.Text(); inAll && m.Count > 1 {
		ev.Facts[inAllFact] = "yes"
	}
	return nil
}

func (e Engine) markCancelled(b Buy, m Marking, ev walk.Event) (walk.Event, error) {
	if ev.Text = m.Because; ev.Text == "" {
		return ev, fmt.Errorf("what is cancelled needs a reason; add --because REASON")
	}
	if b.Ordered == 0 && !b.asked {
		return ev, fmt.Errorf("%s is not on order", b.Name)
	}
	return ev, nil
}

// MarkedEach gives the events of one marking of several things. What several of
// them are in one row of the list to order is said of the row once.
func (e Engine) MarkedEach(things []string, m Marking) ([]walk.Event, error) {
	if price := strings.TrimSpace(m.Price); len(things) > 1 && price != "" && !strings.HasSuffix(price, " each") {
		return nil, fmt.Errorf("%s for several things: write --price %q if it is that for each piece, or mark them one by one", price, strings.TrimSuffix(price, " in all")+" each")
	}
	var events []walk.Event
	for _, name := range things {
		m.Thing = name
		list, err := e.Marked(m)
		if err != nil {
			return nil, err
		}
		for _, ev := range list {
			if slices.ContainsFunc(events, func(o walk.Event) bool {
				return o.Kind == ev.Kind && o.Item == ev.Item && o.Fastener == ev.Fastener && strings.EqualFold(o.Piece, ev.Piece) && sameFacts(o, ev, threadFact, numberFact, record.Place)
			}) {
				continue
			}
			events = append(events, ev)
			if ev.Kind == walk.Found {
				e.Off = append(slices.Clip(e.Off), Thing{Thing: ledgerThing(ev), Name: ev.Facts[walk.NewName], Count: 1, New: true})
			}
		}
	}
	return events, nil
}

// isBuying tells what is said of a row of the list to order from what is said of a
// thing that is off.
func isBuying(k walk.Kind) bool {
	return k == record.Wanted || k == record.Ordered || k == record.Arrived || k == record.Cancelled
}

// markedNew asks for something no sheet has, and says what became of it at once.
func (e Engine) markedNew(m Marking) ([]walk.Event, error) {
	name := strings.TrimSpace(m.Thing)
	if name == "" {
		return nil, fmt.Errorf("the thing has no name; write it like: %s", shell.Line("mark", []string{e.Tag, "NEW", "grinding paste", "wanted"}))
	}
	_, err := e.row(name, "")
	if err == nil || slices.ContainsFunc(e.Buy, func(b Buy) bool { return strings.EqualFold(b.Name, name) }) {
		return nil, fmt.Errorf("%s is on the list to order already; leave NEW out", spec.Printable(name))
	}
	if m.Kind == record.Cancelled {
		return nil, fmt.Errorf("%q is not on the list to order; there is nothing to cancel", spec.Printable(name))
	}
	b := Buy{Name: name, Count: max(m.Count, 1), asked: true, Things: []string{}}
	e.Buy = append(slices.Clip(e.Buy), b)
	want, err := e.markBuying(Marking{Thing: name, Kind: record.Wanted, Count: b.Count, Because: m.Because})
	if err != nil || m.Kind == record.Wanted {
		return []walk.Event{want}, err
	}
	m.Thing = name
	ev, err := e.markBuying(m)
	return []walk.Event{want, ev}, err
}

func sameFacts(a, b walk.Event, keys ...string) bool {
	return !slices.ContainsFunc(keys, func(k string) bool { return a.Facts[k] != b.Facts[k] })
}
