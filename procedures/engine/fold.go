package engine

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// entry is one thing that happened, to be carried out in the order of time.
type entry struct {
	at     time.Time // its order
	source string    // record or ledger: breaks ties the same way in every order of the files
	n      int       // place in the source
	do     func()
}

// cameFrom names a thing of one strip-down.
type cameFrom struct {
	record string
	key    ident.Thing
}

type folder struct {
	e       *Engine
	moments moments   // of the walk being folded
	now     time.Time // order of the entry being carried out
	entries []entry
	off     map[ident.Thing]*Thing
	settled map[cameFrom]int            // by a close walk that named the strip-down: how many are left
	hadIn   map[ident.Thing]time.Time   // when a close walk last had it in, whatever became of that
	back    map[ident.Thing]*Thing      // had back by a close walk that named the strip-down
	arrived map[string]int              // by row of the list to order
	batches map[string][]string         // by row
	alias   map[string]string           // row by name of what arrived under a part number
	before  map[ident.Thing][]walk.Said // when a thing was last fitted new: its lot numbers
	lotsOf  map[string][]Remark         // by row: what arrived, and when
	renewed map[piece]bool              // in close walks that are still open
	shop    shop
}

func newFolder(e *Engine) *folder {
	return &folder{e: e, off: map[ident.Thing]*Thing{}, settled: map[cameFrom]int{}, hadIn: map[ident.Thing]time.Time{}, back: map[ident.Thing]*Thing{}, arrived: map[string]int{}, alias: map[string]string{}, batches: map[string][]string{}, renewed: map[piece]bool{}, before: map[ident.Thing][]walk.Said{}, lotsOf: map[string][]Remark{}}
}

func (f *folder) add(at time.Time, source string, do func()) {
	f.entries = append(f.entries, entry{at, source, len(f.entries), do})
}

func (f *folder) run() {
	slices.SortStableFunc(f.e.Renewals, func(a, b Renewal) int {
		return cmp.Or(a.order.Compare(b.order), cmp.Compare(a.Record, b.Record), cmp.Compare(a.Piece, b.Piece))
	})
	slices.SortFunc(f.entries, func(a, b entry) int {
		return cmp.Or(a.at.Compare(b.at), cmp.Compare(a.source, b.source), cmp.Compare(a.n, b.n))
	})
	for _, x := range f.entries {
		f.now = x.at
		x.do()
	}
}

// things gives what is off, in the order it came off.
func (f *folder) things() []Thing {
	list := []Thing{}
	for _, t := range f.off {
		list = append(list, *t)
	}
	slices.SortFunc(list, func(a, b Thing) int {
		return cmp.Or(a.order.Compare(b.order), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Thread, b.Thread))
	})
	return list
}

func (f *folder) walk(w *Walk) {
	h := record.Header{Started: w.Started, After: w.After}
	w.order = record.Order(w.Started, w.After)
	if w.State == nil {
		f.e.Clock = f.e.Clock.With(w.ID, h, nil)
		return
	}
	f.e.Clock = f.e.Clock.With(w.ID, h, w.State.Events)
	f.moments = momentsOf(w)
	if n := len(f.moments.orders); n > 0 {
		w.order = f.moments.orders[n-1]
	}
	f.readings(w)
	f.advises(w)
	f.metered(w)
	f.remarks(w)
	if w.Direction == spec.Open {
		f.tookApart(w)
		return
	}
	f.putTogether(w)
}

// readings notes what was measured at the checks of a walk.
func (f *folder) readings(w *Walk) {
	for i, it := range w.State.Items {
		m := w.State.Mark(i)
		if it.Kind != walk.MeasureItem || !m.Closed || m.Reading == "" {
			continue
		}
		r := Reading{it.Check.Measure, m.Reading, m.At, w.ID, w.Procedure, w.Place}
		if v := m.Facts["result"]; v != "" {
			r.Text += ": " + v
		}
		f.add(f.moments.of(m.Seq), w.ID, func() { f.e.Last[it.Key().String()+lastAt(w.Place)] = r })
	}
}

// tookApart notes what an open walk confirmed out.
func (f *folder) tookApart(w *Walk) {
	for _, fast := range w.Proc.Fasteners {
		if t := fastenerThing(fast).At(w.Place); w.State.CaseStripped(fast.ID) {
			f.add(f.moments.of(len(w.State.Events)), w.ID, func() { f.e.cased[t] = w.ID })
		}
	}
	for i, it := range w.State.Items {
		m := w.State.Mark(i)
		if !m.Closed {
			continue
		}
		t := Thing{Record: w.ID, Procedure: w.Procedure, Engine: w.Proc.Engine, At: m.At}
		switch {
		case it.Kind == walk.PartItem:
			t.Thing, t.Name, t.Count, t.Number, t.OneUse = ident.Part(it.Part.ID), it.Part.Name, it.Part.Count, it.Part.Number, it.Part.OneUse
			if t.New = it.Unforeseen; t.New {
				t.near = cameOffBefore(w.State, i)
			}
		case it.Kind == walk.StageItem && it.Stage.Action == spec.Remove:
			g := it.Stage.Fastener.Group
			t.Thing, t.Name, t.Count, t.Number, t.OneUse = fastenerThing(it.Stage.Fastener), fastenerName(g), 1, g.Number, g.OneUse
			t.with = g.With
		case it.Kind == walk.StageItem && it.Stage.Action == spec.Loosen:
			f.letGo(fastenerThing(it.Stage.Fastener).At(w.Place), w.ID, f.moments.of(m.Seq), m.At)
			continue
		default:
			continue
		}
		t.Facts, t.Said, t.Pieces = w.State.FoundOf(t.Thing), w.State.SaidOf(t.Thing), w.State.PiecesFound(t.Thing)
		t.Work, t.Place = t.Facts.Work(), w.Place // a walk knows its things without their place
		t.order = f.moments.of(m.Seq)
		f.add(t.order, w.ID, func() { f.cameOff(t) })
	}
}

// letGo notes a fastener that an open walk loosened, which it may leave at that.
func (f *folder) letGo(t ident.Thing, record string, order, at time.Time) {
	f.add(order, record, func() { f.e.loose[t] = loosening{record, at} })
}

func (f *folder) cameOff(t Thing) {
	if size := t.Facts[walk.Size]; size != "" {
		f.e.Last[lastOfThing(t.Thing)] = Reading{t.Name, size, t.At, t.Record, t.Procedure, t.Place}
	}
	for _, p := range t.Pieces {
		if size := p.Facts[walk.Size]; size != "" {
			f.e.Last[lastOfThing(t.Thing)+"/"+p.Piece] = Reading{t.Name + ", " + p.Piece, size, t.At, t.Record, t.Procedure, t.Place}
		}
	}
	f.apartFromNew(&t)
	if rest, ok := f.settled[cameFrom{t.Record, t.Thing}]; ok {
		if rest == 0 {
			f.back[t.Thing] = &t
			return
		}
		t.Count = rest
	}
	if was := f.off[t.Thing]; was != nil && was.Record != t.Record && !f.hadIn[t.Thing].After(was.order) {
		f.problem("%s came off twice, in %s and in %s, and was not put back between; it is counted once", t.Thing, was.Record, t.Record)
	}
	t.Said = append(f.before[t.Thing], t.Said...)
	f.off[t.Thing] = &t
	delete(f.before, t.Thing)
}

func (f *folder) problem(format string, args ...any) {
	f.e.Problems = append(f.e.Problems, fmt.Sprintf(format, args...))
}

// renewals notes new pieces; each takes what arrived off the shelf.
func (f *folder) renewals(w *Walk) {
	named := namesOf(w.Proc)
	for _, p := range w.State.Pieces() {
		if !p.Renewed {
			continue
		}
		row := pieceOf(named, p).at(w.Place)
		if w.Phase == walk.IsOpen {
			f.renewed[row.piece] = true
		}
		order := f.moments.renewal(p)
		f.e.Renewals = append(f.e.Renewals, Renewal{p.At, row.text(), w.Place, p.Number, w.ID, order})
		f.add(order, w.ID, func() {
			f.used(row)
			f.fitted(row, p, w.Procedure)
		})
	}
}

// used takes a piece off the shelf. It may have arrived under a part number
// that this sheet does not give, or without the one it gives.
func (f *folder) used(n need) {
	key, byName := n.row(), rowKey("", n.called)
	if other, ok := f.alias[byName]; ok && f.arrived[key] == 0 && (n.number == "" || other == byName) {
		key = other
	}
	if f.arrived[key] = max(0, f.arrived[key]-n.count); f.arrived[key] == 0 {
		delete(f.batches, key)
	}
}

// ledger notes what was said between walks. Events behind a break don't count.
func (f *folder) ledger(l *record.File) {
	if !l.Chain.Whole() && !l.Chain.Torn {
		f.problem("%s: the ledger is %s", l.ID(), l.Chain)
	}
	events := l.Events[:l.Trusted]
	f.e.Clock = f.e.Clock.With(l.ID(), l.Header, events)
	orders := orderOf(l.Header.After, events)
	for i, ev := range events {
		f.add(orders[i], l.ID(), func() { f.said(ev, l.ID()) })
	}
}
