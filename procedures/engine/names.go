package engine

import (
	"strings"
	"sync"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// names is what a procedure names, found without going through all of it each time.
type names struct {
	*spec.Procedure
	things    map[ident.Thing]bool
	fasteners map[string]*spec.Fastener // by id, and by id in small letters
	parts     map[string]*spec.Part     // by id or name in small letters, the first
}

func namesOf(p *spec.Procedure) names {
	n := names{p, map[ident.Thing]bool{}, map[string]*spec.Fastener{}, map[string]*spec.Part{}}
	for _, f := range p.Fasteners {
		n.things[fastenerThing(f)] = true
		n.fasteners[strings.ToLower(f.ID)] = f
	}
	for _, f := range p.Fasteners { // as it is written comes first
		n.fasteners[f.ID] = f
	}
	for _, part := range p.Parts {
		n.things[ident.Part(part.ID)] = true
		for _, called := range []string{part.ID, part.Name} {
			if called = strings.ToLower(called); n.parts[called] == nil {
				n.parts[called] = part
			}
		}
	}
	return n
}

// has reports whether a procedure names this very part or fastener.
func (n names) has(k ident.Thing) bool {
	k.Place = ""
	return n.things[k]
}

// fastener finds one by its id, and part one by its id or name, in any case of letters.
func (n names) fastener(id string) *spec.Fastener {
	if f := n.fasteners[id]; f != nil {
		return f
	}
	return n.fasteners[strings.ToLower(id)]
}

func (n names) part(name string) *spec.Part { return n.parts[strings.ToLower(name)] }

// closing matches what came off with what a procedure puts back, among the others that
// there are.
type closing struct {
	Engine
	names
	others func() []names
	shared map[sharing]int
}

// sharing is how much of the sheet of a strip-down a procedure names too.
type sharing struct {
	procedure *spec.Procedure
	record    string
}

func (e Engine) closing(p *spec.Procedure) closing {
	c := closing{Engine: e, names: namesOf(p), shared: map[sharing]int{}}
	c.others = sync.OnceValue(func() (list []names) {
		for _, other := range e.closers() {
			list = append(list, namesOf(other))
		}
		return list
	})
	return c
}

// sharesStripDown counts what the sheet of a strip-down and p both name.
func (c closing) sharesStripDown(p names, record string) int {
	key := sharing{p.Procedure, record}
	n, known := c.shared[key]
	if !known {
		n = c.Engine.sharesStripDown(p.Procedure, record)
		c.shared[key] = n
	}
	return n
}

// strayFor reports whether a thing without a place anywhere is for p to name:
// of the procedures that share something with its strip-down, p shares most.
func (c closing) strayFor(t Thing) bool {
	if t.IsFastener() && c.fastener(t.ID) != nil {
		return false // the same id with another thread: a difference, not this one
	}
	mine := c.sharesStripDown(c.names, t.Record)
	if mine == 0 {
		return t.New && !c.walked(t.Record) // said of the engine before it was taken apart: whoever closes it asks
	}
	for _, other := range c.others() {
		if other.Name == c.names.Name || !c.sameEngine(other.Procedure, t) {
			continue
		}
		if other.has(t.Thing) || c.sharesStripDown(other, t.Record) > mine {
			return false
		}
	}
	return true
}

// shelf is the list to order by the things that its rows are for.
type shelf struct {
	at    string
	rows  map[string][]Buy // by label
	needs map[ident.Thing][]bagged
}

// bagged is a need with the number of the one bag that all of its row came in.
type bagged struct {
	need
	number string
}

func (e Engine) shelf() shelf {
	s := shelf{e.place, map[string][]Buy{}, map[ident.Thing][]bagged{}}
	for _, b := range e.Buy {
		for _, name := range b.Things {
			s.rows[name] = append(s.rows[name], b)
		}
		if b.Missing() > 0 || len(b.Batches) != 1 || b.Batches[0] == "" {
			continue
		}
		for _, n := range b.of {
			s.needs[n.Thing] = append(s.needs[n.Thing], bagged{n, b.Batches[0]})
		}
	}
	return s
}

// lotsFor are the numbers on the bags that have arrived for the pieces of a thing, by
// what a walk calls them. Of two bags, or while some are still to come, nobody knows
// which one a piece comes out of.
func (s shelf) lotsFor(t Thing) walk.Facts {
	var lots walk.Facts
	for _, n := range s.needs[t.Thing.At(s.at)] {
		if lots == nil {
			lots = walk.Facts{}
		}
		lots[n.inWalk(t.Name)] = n.number
	}
	return lots
}
