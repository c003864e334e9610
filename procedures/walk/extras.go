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
	item   Item
	before ident.Step // put in before this line of the sheet,
	after  ident.Step // or behind this one; neither: before all others
	last   bool       // asked for at the end, whatever else is said
}

// extras lists what is asked for besides what the sheet lays out.
func (s *State) extras() []extra {
	var list []extra
	for _, a := range s.faults {
		f := a.Fault
		x := extra{item: Item{Asked: &Asked{Kind: FaultItem, Fault: &f}}, last: a.last}
		if i, ok := s.sheet.Find(ident.CheckStep(f.ID).String()); ok && f.Measured() && s.sheet.Items[i].Kind == MeasureItem {
			x.after = s.sheet.Items[i].Key() // it is measured again there in any case
		}
		list = append(list, x)
	}
	return append(list, s.unforeseen()...)
}

// with gives the course with lines put in: in the order given where several have
// one place.
func (c *Course) with(list []extra) *Course {
	if len(list) == 0 {
		return c
	}
	before, behind := map[ident.Step][]Item{}, map[ident.Step][]Item{}
	var last []Item
	for _, x := range list {
		switch {
		case x.last:
			last = append(last, x.item)
		case x.before != ident.Step{}:
			before[x.before] = append(before[x.before], x.item)
		default:
			behind[x.after] = append(behind[x.after], x.item)
		}
	}
	items := make([]Item, 0, len(c.Items)+len(list))
	add := func(more []Item, like Item) {
		for _, it := range more {
			asked := *it.Asked
			asked.Pass = like.Pass
			items = append(items, Item{Asked: &asked})
		}
	}
	add(behind[ident.Step{}], c.Items[0])
	for _, it := range c.Items {
		add(before[it.Key()], it)
		items = append(items, it)
		add(behind[it.Key()], it)
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
	s.marks = to.unmarked()
	for i, it := range to.Items {
		if was, ok := from.Find(it.Key().String()); ok {
			s.marks[i] = marks[was]
		}
	}
	s.pieces, s.strays = to.unchanged(), nil
	for _, p := range pieces {
		s.takePiece(*p)
	}
	s.next = 0
	s.skip()
}

// takePiece keeps what is known of a piece. One that the course does not list is
// a stray, unless nothing is known of it.
func (s *State) takePiece(p Renewable) {
	owner := s.Owner(p)
	if at := s.pieceNamed(owner, p.Name); at >= 0 {
		s.pieces[at] = &p
		return
	}
	if !p.Needed && !p.Renewed {
		return
	}
	if s.strays == nil {
		s.strays = map[ident.Thing][]int{}
	}
	s.strays[owner] = append(s.strays[owner], len(s.pieces))
	s.pieces = append(s.pieces, &p)
}

// keepCourse lets undo go back to the course of now, and to what is known along it.
func (s *State) keepCourse(c *change) {
	was, marks, pieces, strays, next, faults, fresh := s.Course, s.marks, s.pieces, s.strays, s.next, s.faults, s.fresh
	c.onUndo(func() {
		s.Course, s.marks, s.pieces, s.strays, s.next, s.faults, s.fresh = was, marks, pieces, strays, next, faults, fresh
	})
}

// draftPutOff is about what is in hand.
func (s *State) draftPutOff(_ Command, e Event) (Event, *Refusal) {
	e.Kind = PutOff
	it := s.CurrentItem()
	if it == nil {
		return e, &Refusal{What: "nothing is in hand"}
	}
	e.Item = it.Key().String()
	return e, nil
}

// judgePutOff: what the sheet lays out comes when it says; only what the engine
// brought can wait for the end, and only once.
func (s *State) judgePutOff(e Event) *Refusal {
	i, ok := s.Find(e.Item)
	switch {
	case !ok:
		return unknown(e.Item)
	case i != s.next:
		return &Refusal{What: e.Item + " is not what comes next", Remedy: "next is " + s.nextText()}
	}
	last, brought := s.putsOff(i)
	switch it := s.Items[i]; {
	case !brought:
		return &Refusal{What: "this comes here by the sheet: " + it.Text(), Remedy: "do it, then confirm it"}
	case last && it.Kind == FaultItem:
		return &Refusal{What: "it has been put off already: " + it.Text(), Remedy: "it is asked for before done", Ways: it.Fault.Ways()}
	case last:
		return &Refusal{What: "it is asked for last already: " + it.Text(), Remedy: "fit it, or say why it does not go back", Ways: []Way{{Do: Account, Target: it.Part.ID, Needs: "a reason"}}}
	}
	return needReason(e)
}

// CanPutOff reports whether what is in hand can be asked for at the end instead.
func (s *State) CanPutOff() bool {
	if s.next == len(s.Items) {
		return false
	}
	last, brought := s.putsOff(s.next)
	return brought && !last
}

// putsOff reports whether a line was brought by the engine, and is asked for last.
func (s *State) putsOff(i int) (last, brought bool) {
	for _, x := range s.extras() {
		if x.item.Key() == s.Items[i].Key() {
			return x.last, true
		}
	}
	return false, false
}

// putOff moves a line to the end. Undo puts it back where it was.
func (s *State) putOff(c *change, e Event) {
	s.keepCourse(c)
	it := s.Items[s.itemOf(e.Item)]
	s.deviate(e, it.Text()+": put off to the end ("+e.Text+")")
	if it.Kind == PartItem {
		had := s.carried[it.Thing()]
		c.onUndo(func() { had.last = false })
		had.last = true
	} else {
		s.faults = slices.Clone(s.faults)
		s.faults[slices.IndexFunc(s.faults, func(a asked) bool { return a.Step() == it.Key() })].last = true
	}
	s.relay()
}
