package engine

import (
	"slices"
	"strings"

	"evenpull/procedures/record"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Two of a kind on one engine, a front and a rear head, are told apart by the
// place that their walks name. A sheet knows of no place, and neither does a walk
// once it is begun: what it is brought is seen from its own place.

// At is the engine as a walk at a place sees it: what came off there, was let go
// there, measured and found there. Empty is where no place was named.
func (e Engine) At(place string) Engine {
	place = record.PlaceKey(place)
	view := e
	view.place = place
	view.Walks, view.Off, view.Faults = nil, nil, nil
	for _, w := range e.Walks {
		if w.Place == place {
			view.Walks = append(view.Walks, w)
		}
	}
	for _, t := range e.Off {
		if t.Place == place {
			t.Place = ""
			view.Off = append(view.Off, t)
		}
	}
	for _, f := range e.Faults {
		if f.Place == place {
			view.Faults = append(view.Faults, f)
		}
	}
	view.loose, view.cased, view.Last = here(e.loose, place), here(e.cased, place), map[string]Reading{}
	for key, r := range e.Last {
		if base, ok := strings.CutSuffix(key, lastAt(place)); ok && r.Place == place {
			view.Last[base] = r
		}
	}
	return view
}

func here[T any](all map[ident.Thing]T, place string) map[ident.Thing]T {
	some := map[ident.Thing]T{}
	for t, what := range all {
		if t.Place == place {
			some[t.At("")] = what
		}
	}
	return some
}

// lastAt is what the keys of Engine.Last end in at a place.
func lastAt(place string) string {
	if place == "" {
		return ""
	}
	return ", " + place
}

// Closing is a close procedure with something off, and where.
type Closing struct {
	Procedure string `json:"procedure"`
	Place     string `json:"place"`
}

// Text names it for a list.
func (c Closing) Text() string {
	if c.Place == "" {
		return c.Procedure
	}
	return c.Procedure + ", " + c.Place
}

// Places lists where something is off or was walked; the empty one first.
func (e Engine) Places() []string {
	list := []string{""}
	for _, w := range e.Walks {
		if !slices.Contains(list, w.Place) {
			list = append(list, w.Place)
		}
	}
	for _, t := range e.Off {
		if !slices.Contains(list, t.Place) {
			list = append(list, t.Place)
		}
	}
	return list
}

// toClose finds the close procedures that have something of what is off.
func (e *Engine) toClose() {
	e.ToClose, e.closings, e.Closings = []string{}, nil, nil
	if len(e.Off) == 0 {
		return
	}
	places := e.Places()
	for _, p := range e.closers() {
		for _, place := range places {
			if view := e.At(place); view.shares(p, view.Off) > 0 {
				e.ToClose = addOnce(e.ToClose, p.File)
				e.closings = append(e.closings, Closing{p.File, place})
			}
		}
	}
	if slices.ContainsFunc(e.closings, func(c Closing) bool { return c.Place != "" }) {
		e.Closings = e.closings
	}
}

// closes are the procedures that have something to close.
func (e *Engine) closes() []*spec.Procedure {
	if len(e.closings) == 0 {
		return nil
	}
	return e.closers()
}

// closesAt lists the places at which a procedure has something to close.
func (e *Engine) closesAt(p *spec.Procedure) []string {
	var list []string
	for _, c := range e.closings {
		if c.Procedure == p.File {
			list = append(list, c.Place)
		}
	}
	return list
}
