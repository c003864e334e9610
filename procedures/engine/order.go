package engine

import (
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec/ident"
)

// A clock may be wrong, be set back, or differ between two machines. What is
// shown of an event is the time it says. What it counts as having come after is
// its order: not before the event before it in its file, and not before what its
// writer knew of the engine, which stands in it when the clock was behind that.

// Clock is the newest there is on record of an engine: what a clock has to be
// ahead of.
type Clock struct {
	Order  time.Time // the last of all orders
	At     time.Time // the last of all times that were written down
	Source string    // the record or ledger it stands in
}

// Behind reports whether a clock is behind, so that what is written now has to
// say what it came after.
func (c Clock) Behind(now time.Time) bool { return !c.Order.IsZero() && !now.After(c.Order) }

// With takes in one file of events.
func (c Clock) With(source string, h record.Header, events []walk.Event) Clock {
	orders := orderOf(h.After, events)
	last := record.Order(h.Started, h.After)
	if n := len(orders); n > 0 {
		last = later(last, orders[n-1])
	}
	c.Order = later(c.Order, last)
	c = c.at(h.Started, source)
	for _, ev := range events {
		c = c.at(ev.At, source)
	}
	return c
}

func (c Clock) at(t time.Time, source string) Clock {
	if t.After(c.At) {
		c.At, c.Source = t, source
	}
	return c
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

// orderOf gives the order of each event of one file, always rising.
func orderOf(after time.Time, events []walk.Event) []time.Time {
	orders := make([]time.Time, len(events))
	last := after
	for i, ev := range events {
		if known, err := time.Parse(time.RFC3339Nano, ev.Facts[record.After]); err == nil {
			last = later(last, known)
		}
		last = record.Order(ev.At, last)
		orders[i] = last
	}
	return orders
}

// moments are the orders of what a walk says happened.
type moments struct {
	orders  []time.Time         // of its events
	renewed map[owned]time.Time // when each piece was last recorded new
}

// owned is a piece by what renewals call it.
type owned struct{ owner, piece string }

func momentsOf(w *Walk) moments {
	m := moments{orderOf(w.After, w.State.Events), map[owned]time.Time{}}
	for i, ev := range w.State.Events {
		if ev.Kind == walk.Renewed {
			m.renewed[owned{ev.Fastener + ev.Item, ev.Piece}] = m.orders[i]
		}
	}
	return m
}

// of gives the order of an event by its number.
func (m moments) of(seq int) time.Time {
	if seq < 1 || seq > len(m.orders) {
		return time.Time{} // said by nobody: before all else
	}
	return m.orders[seq-1]
}

// renewal gives the order in which a piece was recorded new.
func (m moments) renewal(p walk.Renewable) time.Time {
	owner := p.Fastener
	if owner == "" {
		owner = ident.Part(p.Part).Text()
	}
	if order, ok := m.renewed[owned{owner, p.Name}]; ok {
		return order
	}
	return p.At
}
