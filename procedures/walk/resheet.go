package walk

import (
	"fmt"
	"sync"
	"time"

	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/spec/read"
)

// A sheet that is edited while it is walked can be gone over to. What means the same
// by both sheets still stands, and what does not is open again. It cannot be undone,
// nor anything before it: edit the sheet again and go over to that.

// Sheet is the text of the procedure that holds now, and whether it is another than
// the one the walk was begun by.
func (s *State) Sheet() (text []byte, edited bool) {
	return s.sheet.Plan.Procedure.Text, s.begun != s.sheet
}

// past is a course that a walk went along up to the event of a number.
type past struct {
	until  int
	course *Course
}

// Anew is the walk before its first event.
func (s *State) Anew() *State { return s.begun.Start() }

// ItemAt is the line of a step as the sheet had it that held at the event of a number.
func (s *State) ItemAt(seq int, step string) (Item, bool) {
	c := s.Course
	for _, p := range s.past {
		if seq < p.until {
			c = p.course
			break
		}
	}
	if i, ok := c.Find(step); ok {
		return c.Items[i], true
	}
	return Item{}, false
}

// otherSheets remembers what the sheets came to that walks of a course were asked to go over to:
// each is laid out to judge it, to go over to it, and once more for whoever reads the record.
type otherSheets struct {
	mu   sync.Mutex
	list []otherSheet
}

type otherSheet struct {
	text    string
	course  *Course
	refusal *Refusal
}

const mostOthers = 8 // texts may be long

// of gives what a text comes to, by asking if need be.
func (e *otherSheets) of(text string, ask func() (*Course, *Refusal)) (*Course, *Refusal) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, one := range e.list {
		if one.text == text {
			return one.course, one.refusal
		}
	}
	to, r := ask()
	e.list = append(e.list[max(0, len(e.list)-mostOthers+1):], otherSheet{text, to, r})
	return to, r
}

// sheetOf lays out a text for this walk, or says why it cannot be walked as that. All
// sheets of a walk have its file, its name and its direction.
func (s *State) sheetOf(text string) (*Course, *Refusal) {
	return s.begun.others.of(text, func() (*Course, *Refusal) { return s.laidOut(text) })
}

func (s *State) laidOut(text string) (*Course, *Refusal) {
	was := s.begun.Plan.Procedure
	p, problems := read.Recorded(was.File, []byte(text))
	if p == nil {
		return nil, &Refusal{What: "the sheet as it is now cannot be walked: " + problems.Errors()[0].Error(), Remedy: "mend it, or go on by the one that holds now"}
	}
	one, err := p.Toward(was.Direction)
	switch {
	case err != nil:
		return nil, &Refusal{What: fmt.Sprintf("the sheet as it is now is to %s, and this walk is to %s", p.Direction, was.Direction), Remedy: "begin a new walk of it"}
	case one.Name != was.Name:
		return nil, &Refusal{What: fmt.Sprintf("this is a walk of %q, and the sheet is of another procedure: %q", spec.Printable(was.Name), spec.Printable(one.Name)),
			Remedy: "begin a new walk of that, or give the sheet its name back"}
	}
	return CourseOf(PlanOf(one, s.begun.rules), s.begun.rules), nil
}

// judgeSheet: it is a sheet of the same procedure, and not the one that holds already.
func (s *State) judgeSheet(e Event) *Refusal {
	if e.Sheet == string(s.sheet.Plan.Procedure.Text) {
		return &Refusal{What: "the sheet is as it was, to the letter", Remedy: "go on with the walk"}
	}
	to, r := s.sheetOf(e.Sheet)
	if r == nil {
		r = s.wouldLose(to)
	}
	if r == nil {
		r = needReason(e)
	}
	return r
}

// wouldLose refuses a sheet by which something would be forgotten that is known: a
// thread to be repaired, what has come off, what was found wrong.
func (s *State) wouldLose(to *Course) *Refusal {
	lost := func(what, why string) *Refusal {
		return &Refusal{What: fmt.Sprintf("%s is no longer on the sheet, and %s", what, why), Remedy: "keep it on the sheet"}
	}
	open := s.Plan.Procedure.Direction == spec.Open
	for i, it := range s.Items {
		_, still := to.Find(it.Key().String())
		closed := s.marks[i].Closed
		switch t := it.Thing(); {
		case it.Kind == RepairItem && !closed && !still:
			return lost(t.ID, "its thread in the case is stripped and not recorded as repaired")
		case open && closed && it.Kind == StageItem && len(to.StagesOf(t.ID)) == 0:
			return lost(t.ID, "it has been let go or come off")
		case open && closed && it.Kind == PartItem && !it.Unforeseen && !still:
			return lost(PartText(it.Part), "it has come off")
		case open && s.marks[i].Fault != "" && !still:
			return lost("the "+it.Text(), "something was found wrong there")
		}
	}
	return nil
}

// resheet goes over to another sheet.
func (s *State) resheet(e Event) {
	to, r := s.sheetOf(e.Sheet)
	if r != nil {
		return
	}
	s.history, s.hand = nil, hand{} // a socket called otherwise may be the same one
	s.deviate(e, "the sheet was edited: "+e.Text)
	s.listChanges(e, spec.Changes(s.sheet.Plan.Procedure, to.Plan.Procedure))
	keep := s.keeps(to)
	again, tight := s.groundless(to, keep), s.tight()
	smeared := s.smear >= 0 && s.marks[s.smear].Closed
	s.rename(to)
	s.unsettle(to, keep)
	was, old, pieces := s.Course, s.sheet, s.pieces
	s.past = append(s.past, past{e.Seq, was})
	s.sheet = to
	s.relay()
	s.reconsider(keep)
	s.piecesOver(old, pieces, len(was.pieces))
	var c change
	again = s.openSheet(&c, keep, again, smeared, tight)
	s.undoFor(&c, SheetChanged, "the sheet was edited", again...)
	for _, t := range s.order {
		s.stripCase(&c, t, s.carried[t].Carried)
	}
	for _, t := range s.order {
		if brought := s.carried[t].Carried; brought.Record != "" { // else it was found in this walk, and is judged where it goes in
			s.weigh(&c, t, brought)
		}
	}
}

// mostChanges is how many differences are listed: a record says them all, as two texts.
const mostChanges = 40

func (s *State) listChanges(e Event, changes []spec.Change) {
	for i, c := range changes {
		if i == mostChanges {
			s.deviate(e, fmt.Sprintf("on the sheet: %d more differences", len(changes)-i))
			return
		}
		s.deviate(e, "on the sheet: "+c.Text())
	}
	if len(changes) == 0 {
		s.deviate(e, "on the sheet: nothing that is read from it")
	}
}

// tight lists what stands tightened.
func (s *State) tight() map[string]bool {
	list := map[string]bool{}
	for _, f := range s.Plan.Procedure.Fasteners {
		list[f.ID] = s.tightened(f.ID)
	}
	return list
}

// groundless lists what stands tightened or fitted by a line that another sheet does
// not have so.
func (s *State) groundless(to *Course, keep map[string]bool) (list []ident.Thing) {
	for _, f := range to.Plan.Procedure.Fasteners {
		if !s.tightened(f.ID) {
			continue
		}
		for _, i := range s.StagesOf(f.ID) {
			if s.marks[i].Closed && !keep[s.Items[i].Key().String()] {
				list = append(list, thingOf(f))
				break
			}
		}
	}
	for _, p := range to.Plan.Procedure.Parts {
		t := ident.Part(p.ID)
		if i, ok := s.places[t]; ok && s.marks[i].Closed && !keep[s.Items[i].Key().String()] && s.Plan.Procedure.Direction == spec.Close {
			list = append(list, t)
		}
	}
	return list
}

// openSheet opens a joint whole that has to be sealed afresh by the new sheet, and gives
// what is left to start again one by one.
func (s *State) openSheet(c *change, keep map[string]bool, again []ident.Thing, smeared bool, tight map[string]bool) []ident.Thing {
	if s.smear < 0 || !s.marks[s.smear].Closed {
		s.sealHeld, s.sinceSmear = time.Time{}, time.Time{}
	}
	if s.smear < 0 || keep[ident.SmearStep().String()] {
		return again
	}
	behind := func(t ident.Thing) bool {
		stages := s.StagesOf(t.ID)
		return t.IsFastener() && len(stages) > 0 && stages[0] > s.smear
	}
	for _, f := range s.Plan.Procedure.Fasteners {
		smeared = smeared || tight[f.ID] && behind(thingOf(f))
	}
	if !smeared {
		return again
	}
	s.undoWhole(c, SealedAfresh, "the sheet was edited: it is sealed otherwise")
	var rest []ident.Thing
	for _, t := range again {
		if !behind(t) {
			rest = append(rest, t)
		}
	}
	return rest
}

// Resheeting is what another sheet makes of a walk.
type Resheeting struct {
	Changes []spec.Change
	Open    []string // what stands confirmed and would be open again
	Gone    []string // what stands confirmed and would no longer be asked for
	Kept    int      // stages that stay confirmed
}

// Resheeting says what going over to a text would change; nothing is changed yet.
func (s *State) Resheeting(text string) (r Resheeting, refusal *Refusal) {
	e := Event{Seq: s.events + 1, At: s.LastAt(), Kind: Resheeted, Sheet: text, Text: "to be said"}
	if refusal = s.Judge(e); refusal != nil {
		return r, refusal
	}
	then := s.Anew()
	Replay(then, s.Events)
	then.Apply(e)
	r.Changes = spec.Changes(s.sheet.Plan.Procedure, then.sheet.Plan.Procedure)
	for i, it := range s.Items {
		if !s.marks[i].Closed || s.marks[i].Seq == 0 {
			continue
		}
		switch at, ok := then.Find(it.Key().String()); {
		case !ok:
			r.Gone = append(r.Gone, it.Text())
		case !then.marks[at].Closed:
			r.Open = append(r.Open, it.Text())
		case it.Kind == StageItem:
			r.Kept++
		}
	}
	return r, nil
}
