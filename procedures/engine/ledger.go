package engine

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec/ident"
)

// naming is one naming of the engine, with the ledger that holds it.
type naming struct {
	at     time.Time
	ledger string
	name   string
	reason string
}

// mostArrived bounds one arrival: a ledger may come from a stranger.
const mostArrived = 100_000

// threadFact is where a ledger keeps which thread a fastener has.
const threadFact = "thread"

// said folds one event of a ledger.
func (f *folder) said(ev walk.Event, ledger string) {
	e := f.e
	var text string
	switch ev.Kind {
	case record.Named:
		e.Name = ev.Text
		e.names = append(e.names, naming{ev.At, ledger, ev.Text, ev.Facts["because"]})
		text = "named " + ev.Text
	case record.Also:
		e.also = addOnce(e.also, ev.Text)
		text = "also called " + ev.Text
	case walk.Pictured:
		text = f.pictured(ev, ledger)
	case walk.Noted:
		if ev.Fastener+ev.Item != "" {
			text = f.marked(ev)
			break
		}
		e.Notes = append(e.Notes, Remark{ev.At, ev.Text})
		text = "noted: " + ev.Text
	case record.Metered:
		e.Meter = ev.Reading
		text = "at " + ev.Reading
	case record.Arrived:
		n := countOf(ev)
		f.cameIn(ev, n)
		key := rowKey(ev.Facts["number"], ev.Piece)
		f.arrived[key] += n
		f.batches[key] = addOnce(f.batches[key], ev.Number)
		f.alias[rowKey("", ev.Piece)] = key
		text = fmt.Sprintf("%d × %s arrived", n, ev.Piece)
		if ev.Number != "" {
			text += ", " + ev.Number
		}
		f.lotsOf[key] = append(f.lotsOf[key], Remark{ev.At, text})
	case record.Wanted:
		text = f.wanted(ev)
	case record.Ordered:
		text = f.ordered(ev)
	case record.Cancelled:
		text = f.cancelled(ev)
	case walk.Found:
		text = f.named(ev, ledger)
	default:
		text = f.marked(ev)
	}
	e.events = append(e.events, happening{Remark{ev.At, text}, ledger, f.now, aside(ev.Kind)})
}

// marked folds what happened to one thing while it was off.
func (f *folder) marked(ev walk.Event) string {
	key := ledgerThing(ev)
	t := f.offOrBack(key)
	if t == nil {
		f.problem("%s was marked %s on %s, but was not off then: are the clocks of two machines apart?", key, ev.Kind, ev.At.Format(time.DateOnly))
		return fmt.Sprintf("%s marked %s", key, ev.Kind)
	}
	name := t.Called()
	switch ev.Kind {
	case record.Sent:
		at := ev.At
		t.Work, t.To, t.Sent, t.Unclean = ev.Text, ev.Facts["to"], &at, ""
		text := "sent for " + ev.Text
		if t.To != "" {
			text = fmt.Sprintf("sent to %s for %s", t.To, ev.Text)
		}
		t.tell(ev, text)
		return name + " " + text
	case record.Back:
		f.spent(ev, workOn(*t)+", "+t.Work, 1, t.To)
		t.work = append(t.work, workDone{t.Work, t.To, ev.At})
		t.Unclean, t.Work, t.To, t.Sent = t.Work, "", "", nil
		t.tell(ev, "back from "+t.Unclean)
		return name + " back from " + t.Unclean
	case walk.Cleaned:
		t.Unclean = ""
		t.tell(ev, "cleaned")
		return name + " cleaned"
	case walk.Noted:
		t.tell(ev, ev.Text)
		return fmt.Sprintf("%s noted: %s", name, ev.Text)
	case record.Gone:
		delete(f.off, key)
		return fmt.Sprintf("%s will not go back: %s", name, ev.Text)
	case record.Corrected:
		f.correct(t, ev)
		t.tell(ev, fmt.Sprintf("corrected to %s: %s", t.Facts.Text(), ev.Text))
		return fmt.Sprintf("%s corrected: %s (%s)", name, t.Facts.Text(), ev.Text)
	}
	return fmt.Sprintf("%s: %s", name, ev.Kind)
}

// workOn names a thing on a bill: "cylinder head (rear head)".
func workOn(t Thing) string {
	if t.IsFastener() {
		return label(t.Thing)
	}
	return label(ident.Thing{ID: t.Name, Place: t.Place})
}

// ledgerThing is what an event of a ledger is about.
func ledgerThing(ev walk.Event) ident.Thing {
	if ev.Fastener != "" {
		return ident.Fastener(ev.Fastener, ev.Facts[threadFact]).At(record.PlaceKey(ev.Facts[record.Place]))
	}
	id, _ := ident.PartOf(ev.Item)
	return ident.Part(id).At(record.PlaceKey(ev.Facts[record.Place]))
}

// mayBeInside keeps what is said between walks of what may be in the engine.
func (f *folder) mayBeInside(t *Thing, ev walk.Event) {
	said := Fault{walk.InsideFault(t.Thing, t.Name, t.Facts, ev), t.Procedure, t.Place}
	said.Record = t.Record
	if ev.Facts[walk.Inside] == "" {
		return
	}
	f.e.inside = slices.DeleteFunc(f.e.inside, func(old Fault) bool { return old.Step() == said.Step() })
	if ev.Facts[walk.Inside] == "yes" {
		f.e.inside = append(f.e.inside, said)
	}
}

// correct changes what a thing was found as. The strip-down stays as it was
// written; only work that has not begun follows from the facts.
func (f *folder) correct(t *Thing, ev walk.Event) {
	old := maps.Clone(t.Facts)
	if ev.Facts[walk.Condition] != "" {
		delete(old, walk.Again) // it was said of what it was taken for
		at := ev.At
		t.seen = &at
	}
	facts := thingFacts(old, ev.Facts)
	t.Facts = facts
	f.mayBeInside(t, ev)
	if _, said := ev.Facts[walk.Goes]; said && t.Sent == nil {
		t.Work = facts.Work()
	}
	if size := ev.Facts[walk.Size]; size != "" {
		f.e.Last[lastOfThing(t.Thing)] = Reading{t.Name, size, ev.At, t.Record, t.Procedure, t.Place}
	}
}

// nameProblem says when two ledgers give one tag to two engines. A later naming
// with a reason settles it.
func (e *Engine) nameProblem() {
	last := map[string]naming{}
	for _, n := range e.names {
		last[n.ledger] = n
	}
	if len(last) < 2 || e.names[len(e.names)-1].reason != "" {
		return
	}
	var names []string
	for _, n := range last {
		if !slices.ContainsFunc(names, func(s string) bool { return strings.EqualFold(s, n.name) }) {
			names = append(names, n.name)
		}
	}
	if len(names) < 2 {
		return
	}
	slices.Sort(names)
	e.Problems = append(e.Problems, fmt.Sprintf("two engines may share the tag %s: %s; if they are one, say so with: %s; if they are two, keep the records of one in a folder of its own (--records DIR)",
		e.Tag, strings.Join(names, " and "), shell.Line("engine", []string{e.Tag}, "--name", "NAME", "--because", "REASON")))
}

// CheckName refuses to give a tag that already belongs to an engine of another
// name, unless a reason says that it is the same one.
func (e Engine) CheckName(name, reason string) error {
	if strings.TrimSpace(name) == "" {
		return fmt.Errorf("the name is empty; write one: --name \"Blue Osier\"")
	}
	if e.Name == "" || e.Name == name || reason != "" {
		return nil
	}
	return fmt.Errorf("the tag %s already belongs to %q; give the other engine another tag, or rename this one with a reason: --because REASON", e.Tag, e.Name)
}
