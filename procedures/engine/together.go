package engine

import (
	"cmp"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// putTogether notes what a close walk put back, renewed or accounted for.
func (f *folder) putTogether(w *Walk) {
	carried := lastBrought(w.State)
	rest := map[ident.Thing]int{}
	for _, c := range w.State.LeftOver() {
		rest[w.State.NameCarried(c)] = c.Count
	}
	back := func(k ident.Thing, at time.Time) {
		left := rest[k]
		if c, ok := carried[k]; ok {
			f.settled[cameFrom{c.Record, k.At(w.Place)}] = left
		}
		f.add(at, w.ID, func() { f.wentBack(k.At(w.Place), left) })
	}
	for i, it := range w.State.Items {
		if m := w.State.Mark(i); m.Closed && it.Kind == walk.PartItem {
			back(ident.Part(it.Part.ID), f.moments.of(m.Seq))
		}
	}
	for _, fast := range w.Proc.Fasteners {
		if at, ok := f.firstTightened(w.State, fast.ID); ok {
			back(fastenerThing(fast), at)
		}
	}
	f.wentIn(w)
	f.leftOpen(w)
	f.foundNew(w)
	f.strays(w, carried, rest)
	f.renewals(w)
}

// wentIn notes when things were confirmed in: one that is taken out again before its
// walk is done did not come off twice.
func (f *folder) wentIn(w *Walk) {
	for _, ev := range w.State.Events {
		i, ok := w.State.Find(ev.Item)
		if !ok || ev.Kind != walk.Confirmed || w.State.TakenBack(ev) {
			continue
		}
		it := w.State.Items[i]
		if it.Kind == walk.PartItem || it.Kind == walk.StageItem && it.Stage.Action.Tightens() {
			order, t := f.moments.of(ev.Seq), it.Thing().At(w.Place)
			f.add(order, w.ID, func() { f.hadIn[t] = order })
		}
	}
}

// leftOpen notes a fastener that a close walk let go, took beyond its figure or
// took out, and has not tightened to the end since: whatever another walk had
// confirmed of it no longer holds. A repaired thread is answered.
func (f *folder) leftOpen(w *Walk) {
	last, renewed := map[ident.Thing]int{}, map[ident.Thing]bool{}
	for _, ev := range w.State.Events {
		if ev.Kind == walk.Noted || ev.Kind == walk.Pictured {
			continue // nothing is done by saying something
		}
		t := w.State.ThingOf(ev)
		if t.IsZero() {
			t = w.State.ItemThing(ev.Item)
		}
		last[t] = ev.Seq
	}
	for _, p := range w.State.Pieces() {
		renewed[w.State.Owner(p)] = renewed[w.State.Owner(p)] || p.Renewed
	}
	for _, fast := range w.Proc.Fasteners {
		t := fastenerThing(fast)
		if f.leftLoose(w, fast, renewed[t]) && last[t] > 0 {
			f.letGo(t.At(w.Place), w.ID, f.moments.of(last[t]), w.State.Events[last[t]-1].At)
		}
	}
}

// leftLoose: it was let go or is new, and not all of its stages stand confirmed.
func (f *folder) leftLoose(w *Walk, fast *spec.Fastener, touched bool) bool {
	s, t := w.State, fastenerThing(fast)
	if i, ok := s.Find(ident.RepairStep(fast.ID).String()); ok && len(s.RepairOf(fast.ID)) > 0 {
		f.add(f.moments.of(s.Mark(i).Seq), w.ID, func() { delete(f.e.cased, t.At(w.Place)) })
	}
	whole := true
	see := func(i int, frees bool) {
		m := s.Mark(i)
		touched = touched || frees && (m.Closed && m.Seq > 0 || s.Items[i].Later && !m.Closed)
		whole = whole && m.Closed
	}
	for _, i := range s.StagesOf(fast.ID) {
		see(i, s.Items[i].Stage.Action.Frees())
	}
	if i, ok := s.Find(ident.SlackenStep(fast.ID).String()); ok {
		see(i, true)
	}
	return touched && !whole
}

// firstTightened is the order in which a fastener was first tightened, as it stands.
func (f *folder) firstTightened(s *walk.State, id string) (time.Time, bool) {
	for _, i := range s.StagesOf(id) {
		if s.Items[i].Stage.Action.Tightens() {
			m := s.Mark(i)
			return f.moments.of(m.Seq), m.Closed
		}
	}
	return time.Time{}, false
}

// strays notes what became of things the procedure has no place for.
func (f *folder) strays(w *Walk, carried map[ident.Thing]walk.Carried, rest map[ident.Thing]int) {
	said := lastSaid(w.State)
	for key, c := range carried {
		_, placed := w.State.PlaceOf(c.ID)
		if placed && !c.Fastener || w.Proc.Fastener(c.ID) != nil && c.Fastener || rest[key] > 0 {
			continue
		}
		at := f.moments.of(cmp.Or(said[sameID(key)], len(w.State.Events)))
		f.settledStray(w, c)
		f.add(at, w.ID, func() {
			for k, t := range f.off {
				if sameID(k) == sameID(key.At(w.Place)) && t.Record == c.Record {
					delete(f.off, k)
				}
			}
		})
	}
}

// settledStray remembers a stray by every key it may have: what was brought
// names no thread, but its strip-down does.
func (f *folder) settledStray(by *Walk, c walk.Carried) {
	if !c.Fastener {
		f.settled[cameFrom{c.Record, ident.Part(c.ID).At(by.Place)}] = 0
		return
	}
	for _, w := range f.e.Walks {
		if w.ID != c.Record || w.Proc == nil {
			continue
		}
		if fast := w.Proc.Fastener(c.ID); fast != nil {
			f.settled[cameFrom{c.Record, fastenerThing(fast).At(by.Place)}] = 0
		}
	}
}

// lastSaid are the numbers of the events that last said what became of things.
func lastSaid(s *walk.State) map[ident.Thing]int {
	last := map[ident.Thing]int{}
	for _, ev := range s.Events {
		switch ev.Kind {
		case walk.Refitted, walk.Accounted, walk.Renewed:
			last[sameID(s.ThingOf(ev))] = ev.Seq
		}
	}
	return last
}

func (f *folder) wentBack(k ident.Thing, left int) {
	delete(f.e.loose, k)
	t := f.off[k]
	switch {
	case t == nil:
	case left > 0 && left < t.Count:
		t.Count = left
	case left == 0:
		delete(f.off, k)
	}
}

// lastBrought is what a walk was brought, by the walk's own keys.
func lastBrought(s *walk.State) map[ident.Thing]walk.Carried {
	var list []walk.Carried
	for _, ev := range s.Events {
		if ev.Kind == walk.Brought {
			list = ev.Brought
		}
	}
	by := map[ident.Thing]walk.Carried{}
	for _, c := range list {
		by[s.NameCarried(c)] = c
	}
	return by
}
