package walk

import (
	"slices"

	"evenpull/spec/ident"
)

// A sheet lays its agenda out once. What the engine brings may ask for more: a
// finding to be answered, a thing no sheet foresaw at the place it came off. The
// walk then goes on along the sheet's course with these lines put in.

// extra is a line of the agenda that the sheet does not have.
type extra struct {
	item  Item
	after ident.Step // put in behind this line; zero: before all others
	last  bool       // asked for at the end, whatever else is said
}

// extras lists what is asked for besides what the sheet lays out.
func (s *State) extras() []extra {
	var list []extra
	for _, a := range s.faults {
		f := a.Fault
		x := extra{item: Item{Kind: FaultItem, Key: f.Step(), Fault: &f}, last: a.last}
		if i, ok := s.sheet.at[ident.CheckStep(f.ID).String()]; ok && f.Measured() && s.sheet.Items[i].Kind == MeasureItem {
			x.after = s.sheet.Items[i].Key // it is measured again there in any case
		}
		list = append(list, x)
	}
	return list
}

// with gives the course with lines put in: in the order given where several have
// one place.
func (c *Course) with(list []extra) *Course {
	if len(list) == 0 {
		return c
	}
	behind := map[ident.Step][]Item{}
	var last []Item
	for _, x := range list {
		if x.last {
			last = append(last, x.item)
		} else {
			behind[x.after] = append(behind[x.after], x.item)
		}
	}
	items := make([]Item, 0, len(c.Items)+len(list))
	add := func(more []Item, like Item) {
		for _, it := range more {
			it.Pass = like.Pass
			items = append(items, it)
		}
	}
	add(behind[ident.Step{}], c.Items[0])
	for _, it := range c.Items {
		items = append(items, it)
		add(behind[it.Key], it)
	}
	add(last, c.Items[len(c.Items)-1])
	return layOut(c.Plan, c.rules, items)
}

// relay goes over to the course that what is asked for now makes. What is known
// of each line and piece goes along.
func (s *State) relay() { s.goOver(s.sheet.with(s.extras())) }

func (s *State) goOver(to *Course) {
	from, marks, pieces := s.Course, s.marks, s.pieces
	s.Course = to
	s.marks = slices.Clone(to.blank)
	for i, it := range to.Items {
		if was, ok := from.at[it.Key.String()]; ok {
			s.marks[i] = marks[was]
		}
	}
	s.pieces, s.strays = slices.Clone(to.pieces), nil
	for _, p := range pieces {
		s.takePiece(p)
	}
	s.next = 0
	s.skip()
}

// takePiece keeps what is known of a piece. One that the course does not list is a stray.
func (s *State) takePiece(p Piece) {
	owner := s.Owner(p)
	if at := s.pieceNamed(owner, p.Name); at >= 0 {
		s.pieces[at] = p
		return
	}
	if s.strays == nil {
		s.strays = map[ident.Thing][]int{}
	}
	s.strays[owner] = append(s.strays[owner], len(s.pieces))
	s.pieces = append(s.pieces, p)
}

// draftPutOff is about what is in hand.
func (s *State) draftPutOff(_ Command, e Event) (Event, *Refusal) {
	e.Kind = PutOff
	it := s.CurrentItem()
	if it == nil {
		return e, &Refusal{What: "nothing is in hand"}
	}
	e.Item = it.Key.String()
	return e, nil
}

// judgePutOff: what the sheet lays out comes when it says; only what the engine
// brought can wait for the end, and only once.
func (s *State) judgePutOff(e Event) *Refusal {
	i, ok := s.at[e.Item]
	switch {
	case !ok:
		return unknown(e.Item)
	case i != s.next:
		return &Refusal{What: e.Item + " is not what comes next", Remedy: "next is " + s.nextText()}
	case s.brought(i) == nil:
		return &Refusal{What: "this comes here by the sheet: " + s.Items[i].Text(), Remedy: "do it, then confirm it"}
	case *s.brought(i):
		return &Refusal{What: "it has been put off already: " + s.Items[i].Text(), Remedy: "it is asked for before done", Ways: needed(s.Items[i])}
	}
	return needReason(e)
}

// CanPutOff reports whether what is in hand can be asked for at the end instead.
func (s *State) CanPutOff() bool {
	if s.next == len(s.Items) {
		return false
	}
	last := s.brought(s.next)
	return last != nil && !*last
}

func needed(it Item) []Way {
	if it.Kind == FaultItem {
		return it.Fault.Ways()
	}
	return nil
}

// brought is whether a line that the engine brought has been put off, or nil for
// one of the sheet.
func (s *State) brought(i int) *bool {
	if s.Items[i].Kind != FaultItem {
		return nil
	}
	at := slices.IndexFunc(s.faults, func(a asked) bool { return a.Step() == s.Items[i].Key })
	return &s.faults[at].last
}

// putOff moves a line to the end. Undo puts it back where it was.
func (s *State) putOff(c *change, e Event) {
	was, marks, pieces, strays, next, faults := s.Course, s.marks, s.pieces, s.strays, s.next, s.faults
	c.restore = append(c.restore, func() {
		s.Course, s.marks, s.pieces, s.strays, s.next, s.faults = was, marks, pieces, strays, next, faults
	})
	s.deviate(e, s.Items[s.at[e.Item]].Text()+": put off to the end ("+e.Text+")")
	s.faults = slices.Clone(faults)
	*s.brought(s.at[e.Item]) = true
	s.relay()
}
