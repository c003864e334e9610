package walk

import (
	"cmp"
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// Inside is the fact of a thing, or of a piece of it, that it may be in the engine:
// "yes", or "no" once that is taken back. It is a finding until a close-up says
// where it was found, or how it was made sure that it is not there.
const Inside = "may_be_inside"

// How a finding of that kind is answered.
const (
	ByFound = "found"
	ByProof = "not inside"
)

// insideFaults are the things of this walk that may be in the engine, in the order
// in which that was said.
func (s *State) insideFaults() []Fault {
	var order []ident.Thing
	last := map[ident.Thing]Event{}
	for _, ev := range s.Events {
		if t := s.eventThing(ev); ev.Kind == Found && ev.Facts[Inside] != "" {
			if _, again := last[t]; !again {
				order = append(order, t)
			}
			last[t] = ev
		}
	}
	var list []Fault
	for _, t := range order {
		if s.found[t][Inside] == "yes" {
			list = append(list, InsideFault(t, s.nameOfThing(t), s.found[t], last[t]))
		}
	}
	return list
}

// InsideFault is the finding that a thing, or a piece of it, may be in the engine.
func InsideFault(t ident.Thing, name string, facts Facts, said Event) Fault {
	return Fault{ID: t.ID + " inside", What: name, Found: facts[Condition], Where: cmp.Or(facts[Where], "place not known"), Inside: true, At: said.At}
}

func (s *State) nameOfThing(t ident.Thing) string {
	if i := s.unforeseenAt(t); i >= 0 {
		return s.Items[i].Part.Name
	}
	if part := s.Part(t.ID); !t.IsFastener() && part != nil {
		return part.Name
	}
	return t.ID
}

// judgeInside: where it was found, or how it is known not to be there.
func judgeInside(f *Fault, e Event) *Refusal {
	how := e.Facts[How]
	switch said := strings.TrimSpace(e.Text) != ""; {
	case how == ByFound && !said:
		return &Refusal{What: "found where?", Remedy: "say where it was", Ways: f.Ways()}
	case how == ByProof && !said:
		return &Refusal{What: "how is it known that it is not inside?", Remedy: "say how that was made sure", Ways: f.Ways()}
	case how == ByFound, how == ByProof:
		return nil
	}
	return needAnswer(f)
}

// judgeMayBeInside: on the way together it is looked for at once.
func (s *State) judgeMayBeInside(e Event) *Refusal {
	switch v := e.Facts[Inside]; {
	case v == "" || v == "no":
		return nil
	case v != "yes":
		return &Refusal{What: "what may be in the engine is said with yes or no"}
	case s.Plan.Procedure.Direction == spec.Close:
		return &Refusal{What: "nothing is closed over what may be in the engine", Remedy: "look for it now; then say in a note where it was"}
	}
	return nil
}
