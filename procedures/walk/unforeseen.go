package walk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// What no sheet foresaw has a name the person gives it, an id made of that name,
// and a place: on the way apart, what came off before it was found.

// fresh is a thing no sheet has that was found in this walk.
type fresh struct {
	part   *spec.Part
	before ident.Step // what was in hand; zero: nothing was
}

// mostNew is how many of one thing can be found at once.
const mostNew = 1000

// InUse tells which ids of things the engine has in use, so that what is found
// anew gets one of its own. It is no part of the state: an id once given stands in
// its event.
func (s *State) InUse(ids []string) {
	s.inUse = map[string]bool{}
	for _, id := range ids {
		s.inUse[strings.ToLower(id)] = true
	}
}

// MayFindNew reports whether things that no sheet has can be recorded.
func (s *State) MayFindNew() bool { return s.rules >= findRules && s.Phase == IsOpen }

// draftNew gives a thing found its id.
func (s *State) draftNew(c Command, e Event) (Event, *Refusal) {
	name := strings.TrimSpace(c.New)
	if t, refusal := s.thingCalled(name); refusal == nil {
		return e, &Refusal{What: fmt.Sprintf("there is one called %s already", spec.Printable(name)), Remedy: "speak of it by its name, or give this one another", Ways: []Way{{Do: Find, Target: t.ID, Needs: "worn, box 3"}}}
	}
	id := spec.Slug(name)
	for n := 2; s.taken(id); n++ {
		id = fmt.Sprintf("%s-%d", spec.Slug(name), n)
	}
	e.Kind, e.Item = Found, ident.PartStep(id).String()
	e.Facts = merged(c.Facts, map[string]string{NewName: name})
	if c.Count > 1 {
		e.Facts[NewCount] = strconv.Itoa(c.Count)
	}
	return e, nil
}

func (s *State) taken(id string) bool {
	return s.inUse[id] || s.Part(id) != nil || s.fastener(id) != nil || s.carried[ident.Part(id)] != nil
}

// judgeUnforeseen: a new thing has a name, and is none that is known here.
func (s *State) judgeUnforeseen(e Event, t ident.Thing) *Refusal {
	name := strings.TrimSpace(e.Facts[NewName])
	count, given := e.Facts[NewCount]
	n, err := strconv.Atoi(count)
	switch {
	case s.rules < findRules:
		return unknown(t.ID)
	case name == "" || t.IsFastener() || t.ID == "":
		return &Refusal{What: "the new thing has no name", Remedy: "say what it is"}
	case s.Part(t.ID) != nil || s.carried[t] != nil:
		return &Refusal{What: t.ID + " is known here already"}
	case given && (err != nil || n < 1 || n > mostNew):
		return &Refusal{What: fmt.Sprintf("%s is no number of things", spec.Printable(count)), Remedy: fmt.Sprintf("1 to %d", mostNew)}
	}
	return nil
}

// findNew gives a thing found its line: on the way apart it is off; on the way
// together it has to go somewhere before done.
func (s *State) findNew(c *change, e Event, t ident.Thing) {
	s.keepCourse(c)
	p := &spec.Part{ID: t.ID, Name: strings.TrimSpace(e.Facts[NewName]), Kind: "other", Count: 1, Where: e.Facts[Where]}
	if n, err := strconv.Atoi(e.Facts[NewCount]); err == nil {
		p.Count = n
	}
	u := fresh{part: p}
	if it := s.CurrentItem(); it != nil {
		u.before = it.Key()
	}
	s.fresh = append(slices.Clip(s.fresh), u)
	s.deviate(e, "found, on no sheet: "+PartText(p))
	if s.Plan.Procedure.Direction == spec.Close {
		s.take(c, t, p, e)
	}
	s.relay()
	if s.Plan.Procedure.Direction == spec.Open {
		s.setMark(c, s.places[t], markOf(e))
	}
}

// take makes a thing found on the way together one of those that have to go back.
func (s *State) take(c *change, t ident.Thing, p *spec.Part, e Event) {
	if s.carried == nil {
		s.carried, s.loosed, s.cased = map[ident.Thing]*thing{}, map[ident.Thing]string{}, map[ident.Thing]string{}
	}
	order := s.order
	c.onUndo(func() {
		delete(s.carried, t)
		s.order = order
	})
	facts := Facts(merged(e.Facts))
	delete(facts, NewName)
	delete(facts, NewCount)
	s.carried[t] = &thing{Carried: Carried{ID: t.ID, Name: p.Name, Count: p.Count, Facts: facts, New: true, At: e.At}}
	s.order = append(slices.Clip(order), t)
}

// unforeseen lists the lines of things that the sheet does not have: where they
// were found, before what they came off with, or at the end.
func (s *State) unforeseen() []extra {
	var list []extra
	if s.Plan.Procedure.Direction == spec.Open {
		for _, u := range s.fresh {
			if s.sheet.hasPlace(ident.Part(u.part.ID)) {
				continue // by now the sheet has it
			}
			x := newExtra(u.part)
			if _, ok := s.sheet.Find(u.before.String()); ok {
				x.before = u.before
			} else {
				x.last = true
			}
			list = append(list, x)
		}
		return list
	}
	if !s.answers() {
		return nil
	}
	for _, t := range s.order {
		c := s.carried[t]
		if !c.New || s.sheet.hasPlace(t) || t.IsFastener() {
			continue
		}
		x := newExtra(&spec.Part{ID: t.ID, Name: c.Name, Kind: "other", Count: max(1, c.Count), Where: c.Facts[Where]})
		if key, ok := s.anchor(c.Before); ok && !c.last {
			x.before = key
		} else {
			x.last = true
		}
		list = append(list, x)
	}
	return list
}

func newExtra(p *spec.Part) extra {
	return extra{item: Item{Asked: &Asked{Kind: PartItem, Part: p, Unforeseen: true}}}
}

// anchor is the line that a thing goes in before: where a part goes in, or where
// the first pass of a fastener begins.
func (s *State) anchor(before string) (ident.Step, bool) {
	if id, ok := ident.PartOf(before); ok {
		i, ok := s.sheet.places[ident.Part(id)]
		if !ok {
			return ident.Step{}, false
		}
		return s.sheet.Items[i].Key(), true
	}
	stages := s.sheet.StagesOf(before)
	if len(stages) == 0 {
		return ident.Step{}, false
	}
	pass := s.sheet.Items[stages[0]].Pass
	first := slices.IndexFunc(s.sheet.Items, func(it Item) bool { return it.Pass == pass })
	return s.sheet.Items[first].Key(), true
}

// unforeseenAt is the line of a thing that the sheet does not have, or -1.
func (s *State) unforeseenAt(t ident.Thing) int {
	if i, ok := s.places[t]; ok && s.Items[i].Unforeseen {
		return i
	}
	return -1
}
