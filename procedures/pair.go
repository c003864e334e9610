package procedures

import (
	"fmt"
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// Counterpart is the name of what closes where a name is of what opens, and the other way
// round: gearbox-open and gearbox-close, with a folder before and .toml behind or without. It
// is empty for other names.
func Counterpart(name string) string {
	stem, ext := name, ""
	if s, ok := strings.CutSuffix(name, extension); ok {
		stem, ext = s, extension
	}
	for from, to := range map[string]string{"-open": "-close", "-close": "-open"} {
		if s, ok := strings.CutSuffix(stem, from); ok {
			return s + to + ext
		}
	}
	return ""
}

// ArePair reports whether one procedure opens and the other closes one joint of one engine:
// they are written for the same engine, and at least one bolt or part is in both.
func ArePair(a, b *spec.Procedure) bool {
	if a.Direction == b.Direction || !strings.EqualFold(a.Engine, b.Engine) {
		return false
	}
	there := things(b)
	for _, t := range things(a).order {
		if there.has(t) {
			return true
		}
	}
	return false
}

// inSheet is what a procedure names: bolts by id and thread, parts by id, what goes on with
// bolts by its name.
type inSheet struct {
	order []ident.Thing
	name  map[ident.Thing]string
	count map[ident.Thing]int
	once  map[ident.Thing]bool
}

func (s inSheet) has(t ident.Thing) bool { _, ok := s.name[t]; return ok }

func (s *inSheet) add(t ident.Thing, name string, count int, once bool) {
	if !s.has(t) {
		s.order = append(s.order, t)
	}
	s.name[t] = name
	s.count[t] += count
	s.once[t] = s.once[t] || once
}

// withBolts marks a thing that goes on with bolts, which has no id of its own.
const withBolts = "with:"

func things(p *spec.Procedure) inSheet {
	s := inSheet{name: map[ident.Thing]string{}, count: map[ident.Thing]int{}, once: map[ident.Thing]bool{}}
	for _, f := range p.Fasteners {
		s.add(ident.Fastener(f.ID, f.Group.Thread.Name), f.ID+" "+f.Group.Thread.Name, 1, f.Group.OneUse)
		for _, piece := range f.Group.With {
			s.add(ident.Part(withBolts+strings.ToLower(piece.Part)), piece.Part, piece.Count, piece.OneUse)
		}
	}
	for _, part := range p.Parts {
		s.add(ident.Part(part.ID), part.Name, part.Count, part.OneUse)
	}
	return s
}

// Unmatched says where a procedure that opens a joint and the one that closes it disagree on
// what there is: what comes off and never goes back, what goes on and never came off, and what
// only one of them renews. openName and closeName are what messages call them.
func Unmatched(open, closed *spec.Procedure, openName, closeName string) []string {
	off, on := things(open), things(closed)
	var list []string
	say := func(format string, args ...any) { list = append(list, spec.Printable(fmt.Sprintf(format, args...))) }
	for _, t := range off.order {
		switch {
		case !on.has(t):
			say("%s comes off in %s and is not in %s", off.name[t], openName, closeName)
		case off.count[t] != on.count[t]:
			say("%s: %d in %s and %d in %s", off.name[t], off.count[t], openName, on.count[t], closeName)
		case off.once[t] != on.once[t]:
			where, not := closeName, openName
			if off.once[t] {
				where, not = not, where
			}
			say("%s is used once in %s and not in %s", off.name[t], where, not)
		}
	}
	for _, t := range on.order {
		if !off.has(t) {
			say("%s goes on in %s and is not in %s", on.name[t], closeName, openName)
		}
	}
	return list
}
