package engine

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// cameOffBefore lists what item i of a strip-down came off with: first the part
// that is named with it, "the washer under the sprocket", then what came off
// before it, the newest first. In assembly it goes in before that.
func cameOffBefore(s *walk.State, i int) []ident.Thing {
	type off struct {
		ident.Thing
		seq int
	}
	var list []off
	mine := s.Items[i]
	said := strings.ToLower(mine.Part.Name + " " + mine.Part.Where)
	for j, it := range s.Items {
		m := s.Mark(j)
		if j == i || it.Unforeseen || !(it.Kind == walk.PartItem || it.Kind == walk.StageItem && it.Stage.Action == spec.Remove) {
			continue
		}
		switch {
		case it.Kind == walk.PartItem && strings.Contains(said, strings.ToLower(it.Part.Name)):
			list = append(list, off{it.Thing(), len(s.Events) + len(it.Part.Name)})
		case m.Closed && m.Seq < s.Mark(i).Seq:
			list = append(list, off{it.Thing(), m.Seq})
		}
	}
	slices.SortStableFunc(list, func(a, b off) int { return cmp.Compare(b.seq, a.seq) })
	things := make([]ident.Thing, len(list))
	for n, o := range list {
		things[n] = o.Thing
	}
	return things
}

// namedWith is the part of a sheet that a thing no strip-down met is named with: an
// exhaust valve guide goes in before the exhaust valve.
func namedWith(p *spec.Procedure, t Thing) string {
	said := strings.ToLower(t.Name + " " + t.Facts[walk.Where])
	var best *spec.Part
	for _, part := range p.Parts {
		if strings.EqualFold(part.Name, t.Name) {
			return "" // another one of that name
		}
		if strings.Contains(said, strings.ToLower(part.Name)) && (best == nil || len(part.Name) > len(best.Name)) {
			best = part
		}
	}
	if best == nil {
		return ""
	}
	return ident.Part(best.ID).Text()
}

// apartFromNew keeps two things apart that are called alike, where one of them is
// on no sheet: on two machines nobody knew of the other.
func (f *folder) apartFromNew(t *Thing) {
	was := f.off[t.Thing]
	other := t.ID + "@" + t.Record
	_, settled := f.settled[cameFrom{t.Record, ident.Part(other).At(t.Place)}]
	switch {
	case t.New && settled:
		t.ID = other
	case was == nil || was.Record == t.Record:
	case t.New:
		t.ID = other
	case was.New:
		delete(f.off, was.Thing)
		was.ID += "@" + was.Record
		f.off[was.Thing] = was
	}
}

// named notes a thing that was said to be off between walks: it came off in the
// strip-down before, if there is one.
func (f *folder) named(ev walk.Event, ledger string) string {
	at := ev.At
	t := Thing{Thing: ledgerThing(ev), Name: ev.Facts[walk.NewName], Count: 1, Facts: thingFacts(ev.Facts), New: true, Record: ledger, At: ev.At, seen: &at, order: f.now}
	for _, w := range f.e.Walks {
		if w.Direction == spec.Open && w.Place == t.Place && !record.Order(w.Started, w.After).After(f.now) {
			t.Record, t.Procedure = w.ID, w.Procedure
		}
	}
	if n, err := strconv.Atoi(ev.Facts[walk.NewCount]); err == nil && n > 0 && n <= mostArrived {
		t.Count = n
	}
	t.Work = t.Facts.Work()
	if ev.Text != "" {
		t.tell(ev, ev.Text)
	}
	f.cameOff(t)
	text := "found, on no sheet: " + t.Text()
	if ev.Text != "" {
		text += " (" + ev.Text + ")"
	}
	return text
}

// thingFacts are those of an event that are said of a thing.
func thingFacts(list ...map[string]string) walk.Facts {
	facts := walk.Facts{}
	for _, from := range list {
		for k, v := range from {
			if slices.Contains(walk.FactKeys, k) {
				facts[k] = v
			}
		}
	}
	return facts
}

// NewThing is what is said between walks of a thing that no sheet has.
func (e Engine) NewThing(name, place string, facts walk.Facts) (walk.Event, error) {
	if name = strings.TrimSpace(name); name == "" {
		return walk.Event{}, fmt.Errorf("the thing has no name; write it like: %s", shell.Line("mark", []string{e.Tag, "NEW", "upper case half", "sent", "coating"}))
	}
	for _, t := range e.Off {
		if here := t.Place == record.PlaceKey(place); here && (strings.EqualFold(t.Name, name) || strings.EqualFold(t.ID, name)) {
			return walk.Event{}, fmt.Errorf("%s is off engine %s already; leave NEW out, or give the new one another name", t.Name, e.Tag)
		}
	}
	id := spec.Slug(name)
	for n := 2; slices.Contains(e.IDs(), id); n++ {
		id = fmt.Sprintf("%s-%d", spec.Slug(name), n)
	}
	ev := walk.Event{Kind: walk.Found, Item: ident.Part(id).Text(), Facts: map[string]string{walk.NewName: name}}
	maps.Copy(ev.Facts, facts)
	if place = strings.TrimSpace(place); place != "" {
		ev.Facts[record.Place] = place
	}
	return ev, nil
}

// foundNew notes what a close walk found that no sheet has, and has not settled.
func (f *folder) foundNew(w *Walk) {
	for i, it := range w.State.Items {
		t := Thing{Thing: it.Thing().At(w.Place), Record: w.ID, Procedure: w.Procedure, Engine: w.Proc.Engine, New: true}
		c, ok := w.State.CarriedOf(it.Thing())
		if !it.Unforeseen || !ok || c.Record != "" || w.State.Mark(i).Closed {
			continue
		}
		t.Name, t.Count, t.Facts, t.At = c.Name, c.Count, c.Facts, c.At
		t.Work, t.Said = t.Facts.Work(), w.State.SaidOf(it.Thing())
		t.order = f.moments.of(foundIn(w.State, it.Key().String()))
		f.add(t.order, w.ID, func() { f.cameOff(t) })
	}
}

// foundIn is the number of the event that found a thing.
func foundIn(s *walk.State, item string) int {
	for _, ev := range s.Events {
		if ev.Kind == walk.Found && ev.Item == item {
			return ev.Seq
		}
	}
	return 0
}

// IDs lists what the things of the engine that are off are called, for walks that
// name new ones.
func (e Engine) IDs() []string {
	var list []string
	for _, t := range e.Off {
		list = append(list, t.ID)
	}
	return list
}
