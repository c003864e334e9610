package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Buy is one row of the list to order.
type Buy struct {
	Name    string     `json:"name"`
	Number  string     `json:"number,omitempty"` // part number, where a sheet gives one
	Count   int        `json:"count"`
	Arrived int        `json:"arrived"`           // on the shelf, at most Count
	Batches []string   `json:"batches,omitempty"` // numbers on the bags that arrived
	Came    *time.Time `json:"came,omitempty"`    // when something last arrived
	Ordered int        `json:"ordered"`           // on order, and still to come
	Orders  []Order    `json:"orders,omitempty"`  // oldest first
	Why     []string   `json:"why"`
	Things  []string   `json:"things"` // ids of the fasteners and parts it is for
	of      []need     // the pieces it is for
	asked   bool       // by a person, not by a sheet alone
}

// isFor reports whether a person means one of the things it is for: "H3", "H3 (front
// head)", H3 at a place.
func (b Buy) isFor(name, place string) bool {
	return slices.ContainsFunc(b.of, func(n need) bool {
		t := n.Thing
		if place != "" && t.Place != record.PlaceKey(place) {
			return false
		}
		return strings.EqualFold(t.ID, name) || strings.EqualFold(label(t), name) || strings.EqualFold(t.String(), name)
	})
}

// Missing is how many are not here yet.
func (b Buy) Missing() int { return b.Count - b.Arrived }

// ToOrder is how many are neither here nor on order.
func (b Buy) ToOrder() int { return max(0, b.Missing()-b.Ordered) }

// piece is one place a new piece goes: a thing, and which piece of it; empty
// means the thing itself.
type piece struct {
	ident.Thing
	name string
}

// need is a piece that must be new, and why.
type need struct {
	piece
	called string
	number string
	count  int
	why    string
}

func (n need) row() string { return rowKey(n.number, n.called) }

// at is the need at a place.
func (n need) at(place string) need {
	n.Place = place
	return n
}

// label names what it is for: "B3", "B3 (front head)".
func label(t ident.Thing) string {
	if t.Place == "" {
		return t.ID
	}
	return fmt.Sprintf("%s (%s)", t.ID, t.Place)
}

func (n need) text() string {
	text := walk.Carried{Name: n.called, Count: n.count}.Text()
	if n.IsFastener() {
		text = n.ID + ": " + text
	}
	return text
}

// rowKey is what rows of the list are told apart by: the part number where
// there is one, or else the name.
func rowKey(number, name string) string {
	if number != "" {
		return "number " + strings.ToLower(number)
	}
	return "name " + strings.ToLower(name)
}

// pieceOf gives a walk's piece as a row of the list. The number is the sheet's,
// not the batch that was fitted.
func pieceOf(p names, wp walk.Renewable) need {
	n := need{called: wp.Name, count: wp.Count, why: wp.Why}
	if wp.Fastener == "" {
		n.ID = wp.Part
		if part := p.part(wp.Part); part != nil {
			n.number = part.Number
			if one, ok := strings.CutPrefix(wp.Name, part.Name+", "); ok {
				n.called, n.name = part.Name, one // of several
			}
		}
		return n
	}
	f := p.fastener(wp.Fastener)
	if f == nil { // something brought that the procedure has no place for
		n.Thing, n.called = ident.Fastener(wp.Fastener, ""), wp.Fastener
		return n
	}
	n.Thing, n.name = fastenerThing(f), wp.Name
	for _, w := range f.Group.With {
		if w.Part == wp.Name {
			n.number = w.Number
			return n
		}
	}
	n.name, n.called, n.number = "", fastenerName(f.Group), f.Group.Number
	return n
}

// sameEngine reports whether a procedure may be for what a thing came off.
func (e *Engine) sameEngine(p *spec.Procedure, t Thing) bool {
	return p.Engine == "" || t.Engine == "" || strings.EqualFold(p.Engine, t.Engine) || e.calledAlso(p.Engine)
}

// shares counts the things that have a place in a procedure.
func (e *Engine) shares(p *spec.Procedure, things []Thing) int {
	named, n := namesOf(p), 0
	for _, t := range things {
		if e.sameEngine(p, t) && named.has(t.Thing) {
			n++
		}
	}
	return n
}

// toBuy makes the list to order: what close walks under way still want new,
// what those to come will want, and what was condemned.
func (e *Engine) toBuy(f *folder) {
	needs := e.needs(f)
	seen := map[piece]bool{}
	rows, labelled := map[string]*Buy{}, map[[2]string]bool{}
	e.Buy = []Buy{}
	var order []string
	for _, n := range mergedNames(needs) {
		if seen[n.piece] {
			continue
		}
		seen[n.piece] = true
		row := rows[n.row()]
		if row == nil {
			row = &Buy{Name: n.called, Number: n.number, Things: []string{}}
			rows[n.row()] = row
			order = append(order, n.row())
		}
		row.Count += n.count
		row.asked = row.asked || n.ID == ""
		row.Why = addOnce(row.Why, n.why)
		if name := [2]string{n.row(), label(n.Thing)}; name[1] != "" && !labelled[name] {
			labelled[name] = true
			row.Things = append(row.Things, name[1])
		}
		row.of = append(row.of, n)
	}
	for _, key := range order {
		row := rows[key]
		row.Arrived, row.Batches = min(row.Count, f.arrived[key]), f.batches[key]
		e.Buy = append(e.Buy, *row)
	}
	e.onOrder(f)
	slices.SortFunc(e.Buy, func(a, b Buy) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Number, b.Number)) })
}

func addOnce(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// needs gathers every need, the same piece possibly more than once. What was
// condemned comes first, so that its reason is the one shown.
func (e *Engine) needs(f *folder) []need {
	var list []need
	for _, t := range e.Off {
		if t.Condemned() && !f.renewed[piece{Thing: t.Thing}] {
			list = append(list, need{piece{Thing: t.Thing}, t.Name, t.Number, t.Count, walk.Condemns(t.Facts, t.seen)})
		}
		for _, p := range t.Pieces {
			if one := (piece{t.Thing, p.Piece}); p.Facts.Condemned() && !t.Condemned() && !f.renewed[one] {
				list = append(list, need{one, t.Name, t.Number, 1, walk.Condemns(p.Facts, nil)})
			}
		}
	}
	list = append(list, e.homeless()...)
	underWay := map[Closing]bool{} // by the name of the procedure
	for _, w := range e.Walks {
		if w.State == nil || w.Direction != spec.Close || w.Phase != walk.IsOpen {
			continue
		}
		underWay[Closing{w.Procedure, w.Place}] = true
		named := namesOf(w.Proc)
		for _, p := range w.State.Pieces() {
			if !p.Renewed {
				n := pieceOf(named, p).at(w.Place)
				n.Thing = e.threadOf(n.Thing)
				list = append(list, because(n, w.Procedure))
			}
		}
	}
	for _, p := range e.closes() {
		for _, place := range e.closesAt(p) {
			if underWay[Closing{p.Name, place}] {
				continue
			}
			named := namesOf(p)
			for _, wp := range walk.New(plan.Of(p)).Pieces() {
				if n := pieceOf(named, wp).at(place); !f.renewed[n.piece] {
					list = append(list, because(n, p.Name))
				}
			}
		}
	}
	return slices.Concat(list, f.advisedNeeds(), f.askedFor())
}

// homeless are the one-use pieces of what no known procedure closes: the sheet
// it was taken apart by is all there is to go by.
func (e *Engine) homeless() []need {
	if len(e.Off) == 0 {
		return nil
	}
	var list []need
	var closers []names
	for _, p := range e.closers() {
		closers = append(closers, namesOf(p))
	}
	for _, t := range e.Off {
		if slices.ContainsFunc(closers, func(p names) bool { return e.sameEngine(p.Procedure, t) && p.has(t.Thing) }) {
			continue
		}
		why := fmt.Sprintf("one-use (%s)", t.Procedure)
		if t.OneUse {
			list = append(list, need{piece{Thing: t.Thing}, t.Name, t.Number, t.Count, why})
		}
		for _, w := range t.with {
			if w.OneUse {
				list = append(list, need{piece{t.Thing, w.Part}, w.Part, w.Number, w.Count, why})
			}
		}
	}
	return list
}

// threadOf finds the thread of a fastener that is known only by its id.
func (e *Engine) threadOf(k ident.Thing) ident.Thing {
	if k.Thread != ident.UnknownThread {
		return k
	}
	for _, t := range e.Off {
		if t.IsFastener() && t.ID == k.ID && t.Place == k.Place {
			return t.Thing
		}
	}
	return k
}

func because(n need, procedure string) need {
	n.why = fmt.Sprintf("%s (%s)", n.why, procedure)
	return n
}

// mergedNames gives a need without a part number the number another need of the
// same name has, where there is just one: one row, not two.
func mergedNames(needs []need) []need {
	numbers := map[string][]string{}
	for _, n := range needs {
		if n.number != "" {
			key := strings.ToLower(n.called)
			numbers[key] = addOnce(numbers[key], n.number)
		}
	}
	for i, n := range needs {
		if known := numbers[strings.ToLower(n.called)]; n.number == "" && len(known) == 1 {
			needs[i].number = known[0]
		}
	}
	return needs
}

// arrivedFor reports whether new ones for a thing itself are all on the shelf.
func (s shelf) arrivedFor(t Thing) bool {
	for _, b := range s.rows[label(t.Thing.At(s.at))] {
		if b.Number != "" && b.Number == t.Number || strings.EqualFold(b.Name, t.Name) {
			return b.Missing() == 0
		}
	}
	return false
}

// inWalk is what a walk calls a piece of a thing.
func (n need) inWalk(name string) string {
	switch {
	case n.IsFastener():
		return cmp.Or(n.name, walk.Itself)
	case n.name != "":
		return name + ", " + n.name
	}
	return name
}
