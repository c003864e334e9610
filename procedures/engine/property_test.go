package engine

import (
	"encoding/json"
	"fmt"
	"math/rand"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// life is a random life of an engine, written down twice: as walks and ledgers,
// and as a plain set of what a person would see lying on the bench.
type life struct {
	t      *rapid.T
	tb     testing.TB
	now    time.Time
	walks  []*walked
	events map[string][]walk.Event // by ledger: two machines
	bench  map[string]int          // key → how many lie there
	closer *spec.Procedure
	opener *spec.Procedure
}

func (l *life) folded() ([]Walk, []*record.File) {
	var walks []Walk
	for _, w := range l.walks {
		walks = append(walks, w.walk())
	}
	var ledgers []*record.File
	for _, id := range []string{"a", "b"} {
		ledgers = append(ledgers, ledger(id, l.now, slices.Clone(l.events[id])...))
	}
	return walks, ledgers
}

func (l *life) engine() Engine {
	walks, ledgers := l.folded()
	return fold("7", walks, ledgers, []*spec.Procedure{l.closer})
}

// jump sets the clock forward or back by up to three years.
func (l *life) jump() {
	l.now = l.now.AddDate(0, rapid.IntRange(-36, 36).Draw(l.t, "months"), 0)
}

// begin starts a walk; when the clock is behind it says what it comes after.
func (l *life) begin(p *spec.Procedure) *walked {
	w := begin(l.tb, fmt.Sprintf("walk-%d", len(l.walks)), p, l.now)
	if c := l.engine().Clock; c.Behind(l.now) {
		w.after = c.Order
	}
	l.walks = append(l.walks, w)
	return w
}

// open walks a strip-down for a few steps.
func (l *life) open() {
	w := l.begin(l.opener)
	for range rapid.IntRange(0, 6).Draw(l.t, "steps") {
		it := w.live.State.CurrentItem()
		if it == nil {
			break
		}
		if rapid.Bool().Draw(l.t, "look") {
			w.do(walk.Command{Do: walk.Find, Facts: walk.Facts{walk.Condition: rapid.SampledFrom(walk.Conditions).Draw(l.t, "condition")}})
		}
		w.do(walk.Command{Do: walk.Confirm})
		if it.Kind == walk.PartItem {
			l.bench[it.Part.ID] = it.Part.Count
		} else {
			l.bench[it.Stage.Fastener.ID+" M8x1.25"] = 1
		}
	}
	l.now = w.now.Add(time.Hour)
}

// close walks a close-up for a few steps, with what the engine brings.
func (l *life) close() {
	e := l.engine()
	w := l.begin(l.closer)
	w.bring(e)
	for range rapid.IntRange(0, 9).Draw(l.t, "steps") {
		it := w.live.State.CurrentItem()
		if it == nil {
			break
		}
		w.on(nextKey(w.live.State), nil)
		if it.Kind == walk.PartItem {
			delete(l.bench, it.Part.ID)
		} else if it.Kind == walk.StageItem {
			delete(l.bench, it.Stage.Fastener.ID+" M8x1.25")
		}
	}
	l.now = w.now.Add(time.Hour)
}

// nextKey is the item after the current one, "" at the end.
func nextKey(s *walk.State) string {
	for i := s.Current() + 1; i < len(s.Items); i++ {
		if !s.Mark(i).Closed {
			return s.Items[i].Key().String()
		}
	}
	return ""
}

// mark says something of a thing in one of two ledgers, if it is allowed.
func (l *life) mark() {
	e := l.engine()
	m := Marking{Kind: rapid.SampledFrom(Marks).Draw(l.t, "mark"), Because: "looked again", Facts: walk.Facts{walk.Condition: "good"}}
	switch {
	case isBuying(m.Kind) && len(e.Buy) > 0:
		m.Price = rapid.SampledFrom([]string{"", "1.25 EUR each", "10 EUR in all", "3 GBP each"}).Draw(l.t, "price")
		m.Count = rapid.IntRange(0, 3).Draw(l.t, "count")
		m.Thing = rapid.SampledFrom(e.Buy).Draw(l.t, "row").Name
	case len(e.Off) > 0:
		m.Thing = rapid.SampledFrom(e.Off).Draw(l.t, "thing").Thing.String()
	}
	ev, err := e.Mark(m)
	if err != nil {
		return
	}
	if ev.At = l.now; e.Clock.Behind(l.now) {
		if ev.Facts == nil {
			ev.Facts = map[string]string{}
		}
		ev.Facts[record.After] = e.Clock.Order.Format(time.RFC3339Nano)
	}
	id := rapid.SampledFrom([]string{"a", "b"}).Draw(l.t, "ledger")
	l.events[id] = append(l.events[id], ev)
	if m.Kind == record.Gone {
		delete(l.bench, m.Thing)
	}
	l.now = l.now.Add(time.Hour)
}

func (l *life) check() {
	e := l.engine()
	want := []string{}
	for key, n := range l.bench {
		want = append(want, fmt.Sprintf("%d %s", n, key))
	}
	slices.Sort(want)
	if got := keys(e.Off); !slices.Equal(got, want) {
		l.t.Fatalf("off: got %q, the bench has %q", got, want)
	}
	for _, t := range e.Off {
		if t.Count < 1 || t.Work != "" && t.Unclean != "" {
			l.t.Fatalf("off: %+v", t)
		}
	}
	for _, b := range e.Buy {
		due := 0
		for _, o := range b.Orders {
			if due += o.Due(); o.Due() < 0 {
				l.t.Fatalf("on order: %+v", o)
			}
		}
		if b.Count < 1 && b.Ordered < 1 || b.Arrived < 0 || b.Missing() < 0 || due != b.Ordered {
			l.t.Fatalf("to buy: %+v", b)
		}
	}
	for _, c := range e.Carried(l.closer) {
		if c.Count < 1 || l.bench[c.ID] == 0 && l.bench[c.ID+" M8x1.25"] == 0 {
			l.t.Fatalf("brought, and not on the bench: %+v", c)
		}
	}
	l.anyOrder(e)
}

// anyOrder: the same engine from the same files in any order.
func (l *life) anyOrder(e Engine) {
	walks, ledgers := l.folded()
	r := rand.New(rand.NewSource(int64(rapid.IntRange(0, 1000).Draw(l.t, "order"))))
	r.Shuffle(len(walks), func(i, j int) { walks[i], walks[j] = walks[j], walks[i] })
	slices.Reverse(ledgers)
	other := fold("7", walks, ledgers, []*spec.Procedure{l.closer})
	one, _ := json.Marshal(e)
	two, _ := json.Marshal(other)
	if string(one) != string(two) || e.Headline(l.now) != other.Headline(l.now) {
		l.t.Fatalf("another order of the files gives another engine:\n%s\n%s", one, two)
	}
}

// What is off is what a person would see on the bench, no count is ever below
// one, and neither the order of the files nor a clock that jumps makes a difference.
func TestAnEngineIsWhatLiesOnTheBenchInAnyOrderOfItsFiles(t *testing.T) {
	opener, closer := sheet(t, openSheet), sheet(t, closeSheet)
	rapid.Check(t, func(rt *rapid.T) {
		l := &life{t: rt, tb: t, now: day, events: map[string][]walk.Event{}, bench: map[string]int{}, closer: closer, opener: opener}
		for range rapid.IntRange(1, 8).Draw(rt, "moves") {
			switch rapid.IntRange(0, 3).Draw(rt, "move") {
			case 3:
				l.jump()
			case 0:
				l.open()
			case 1:
				l.close()
			default:
				l.mark()
			}
			l.check()
		}
	})
}
