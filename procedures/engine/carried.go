package engine

import (
	"fmt"
	"slices"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Carried is what a close walk of p is to be brought: everything off that has a
// place in it, and from the strip-downs p closes best of all also what no
// procedure has a place for, so that it is named before done.
func (e Engine) Carried(p *spec.Procedure) []walk.Carried {
	if p.Direction != spec.Close {
		return nil
	}
	var list []walk.Carried
	shelf, named := e.shelf(), e.closing(p)
	for _, t := range e.Off {
		if e.sameEngine(p, t) && (named.has(t.Thing) || named.strayFor(t)) {
			c := t.carried(shelf.arrivedFor(t))
			c.Lots = shelf.lotsFor(t)
			c.Case = e.cased[t.Thing]
			if i := slices.IndexFunc(t.near, named.has); i >= 0 {
				c.Before = t.near[i].Text()
			} else if t.New {
				c.Before = namedWith(p, t)
			}
			list = append(list, c)
		}
	}
	return append(list, e.letGo(p, list)...)
}

// letGo is what p tightens and another walk has let go without taking it out, or
// what goes into a thread that was found stripped.
func (e Engine) letGo(p *spec.Procedure, off []walk.Carried) []walk.Carried {
	var list []walk.Carried
	isOff := map[ident.Thing]bool{}
	for _, c := range off {
		isOff[c.Thing()] = true
	}
	for _, f := range p.Fasteners {
		t := fastenerThing(f)
		l, ok := e.loose[t]
		in := e.cased[t]
		if !ok && in != "" {
			l = loosening{record: in}
		}
		if (ok || in != "") && !isOff[t] {
			list = append(list, walk.Carried{ID: t.ID, Fastener: true, Thread: t.Thread, Name: fastenerName(f.Group), Count: 1, Loose: true, Case: in, Record: l.record, At: l.at})
		}
	}
	return list
}

// walked reports whether a record is one of the engine's walks.
func (e Engine) walked(record string) bool {
	return slices.ContainsFunc(e.Walks, func(w Walk) bool { return w.ID == record })
}

// sharesStripDown counts what the sheet of a strip-down and p both name.
func (e Engine) sharesStripDown(p *spec.Procedure, record string) int {
	for _, w := range e.Walks {
		if w.ID == record && w.Proc != nil {
			return e.shares(p, thingsNamed(w.Proc))
		}
	}
	return 0
}

// thingsNamed lists what a procedure names, as if all of it were off.
func thingsNamed(p *spec.Procedure) []Thing {
	var list []Thing
	for _, part := range p.Parts {
		list = append(list, Thing{Thing: ident.Part(part.ID), Name: part.Name, Count: part.Count, OneUse: part.OneUse, Engine: p.Engine})
	}
	for _, f := range p.Fasteners {
		list = append(list, Thing{Thing: fastenerThing(f), Name: fastenerName(f.Group), Count: 1, Engine: p.Engine})
	}
	return list
}

// StripDowns are the open walks whose sheets share something with p.
func (e Engine) StripDowns(p *spec.Procedure) []Walk {
	var list []Walk
	for _, w := range e.Walks {
		if w.Proc != nil && w.Direction == spec.Open && e.shares(p, thingsNamed(w.Proc)) > 0 {
			list = append(list, w)
		}
	}
	return list
}

// Differences says where the sheets that an engine was taken apart by and p
// disagree on what there is. Things are matched by id, and fasteners by thread
// as well. It is empty when they agree or there was no strip-down.
func (e Engine) Differences(p *spec.Procedure) []string {
	downs := e.StripDowns(p)
	if len(downs) == 0 {
		return nil
	}
	var list []string
	said := map[string]bool{}
	say := func(text string) {
		if text != "" && !said[text] {
			said[text] = true
			list = append(list, text)
		}
	}
	came, named := map[ident.Thing]Thing{}, e.closing(p)
	for _, w := range downs {
		for _, t := range thingsNamed(w.Proc) {
			came[sameID(t.Thing)] = t
			say(named.differs(t, w))
		}
	}
	elsewhere := e.takenOff()
	for _, t := range thingsNamed(p) {
		if _, ok := came[sameID(t.Thing)]; !ok && !t.OneUse && !elsewhere[t.Thing] {
			say(fmt.Sprintf("%s (%s) goes in here and is on no sheet it was taken apart by", t.Name, t.Thing))
		}
	}
	return list
}

// sameID leaves the thread out: a bolt whose thread differs is a difference of
// its own, not one bolt missing and another too many.
func sameID(t ident.Thing) ident.Thing {
	if t.IsFastener() {
		return ident.Fastener(t.ID, "").At(t.Place)
	}
	return t
}

func (c closing) differs(t Thing, w Walk) string {
	part := c.part(t.ID)
	switch f := c.fastener(t.ID); {
	case t.IsFastener() && f != nil && f.ID == t.ID:
		if k := fastenerThing(f); k != t.Thing {
			return fmt.Sprintf("%s is %s here and was %s in %s", t.ID, k.Thread, t.Thread, w.ID)
		}
	case !t.IsFastener() && part != nil && part.ID == t.ID:
		if part.Count != t.Count {
			return fmt.Sprintf("%s: %d here, %d on the sheet of %s", part.Name, part.Count, t.Count, w.ID)
		}
	case c.strayFor(Thing{Thing: t.Thing, Record: w.ID, Engine: t.Engine}):
		return fmt.Sprintf("%s (%s) is on the sheet of %s and has no place here", t.Name, t.Thing, w.ID)
	}
	return ""
}

// takenOff are the things that some strip-down of the engine has on its sheet.
func (e Engine) takenOff() map[ident.Thing]bool {
	list := map[ident.Thing]bool{}
	for _, w := range e.Walks {
		if w.Proc == nil || w.Direction != spec.Open {
			continue
		}
		for _, t := range thingsNamed(w.Proc) {
			list[t.Thing] = true
		}
	}
	return list
}
