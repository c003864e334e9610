package walk

import (
	"fmt"
	"slices"
	"sync"
	"time"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Act is something that takes the ground from under what was confirmed before.
type Act string

const (
	AngleLost     Act = "angle lost"
	PulledOver    Act = "pulled beyond its figure"
	DidNotHold    Act = "did not hold its figure"
	OverStretched Act = "stretched or torqued too far"
	GaveTrouble   Act = "a problem with a fastener"
	CaseStripped  Act = "thread in the case stripped"
	NewFastener   Act = "fastener new after it was tightened"
	NewWasher     Act = "its washer new after it was tightened"
	CameLoose     Act = "a no that names it"
	ApartAgain    Act = "taken off or loosened by another walk"
	CondemnedLate Act = "condemned after it went in"
	SheetChanged  Act = "its sheet edited"
	SealedAfresh  Act = "joint opened and sealed afresh"
)

// which says what of several a row of the table reaches.
type which int

const (
	none   which = iota
	later        // what comes after its first tightening stage
	its          // that, and what belongs to a pass it is in
	each         // where the sheet wants it at each fastener
	always       // whether or not the sheet wants it at each
	spent        // what can be used once
	all          // that, and the fastener or part itself
)

var whichWords = map[which]string{none: "–", later: "later ones", its: "later ones, and of its passes", each: "if prepared one by one", always: "yes", spent: "one-use ones", all: "one-use ones, and itself"}

func (w which) String() string { return whichWords[w] }

// Undoing is one row of the table: what is open, due or asked again after an
// act. It says all there is to say; nothing else in this package reopens
// anything but undo itself.
type Undoing struct {
	Act     Act
	Whole   bool  // the whole joint from the smear on, not one fastener or part
	Stages  bool  // its stages, from the first that tightens it; of a part, its place
	Slacken bool  // it is let go fully first, as a step of its own
	Repair  bool  // the thread in the case is made good first
	Prep    which // its threads are made ready again
	Checks  which // questions and measurements
	Heat    bool  // what it follows in time is heated again
	Waits   bool  // waits after its first tightening stage
	New     which // pieces that have to be new
	Final   bool  // undo gives nothing back that can be used once
	Stays   bool  // undo takes nothing of it back
}

// Table is what an act undoes.
var Table = []Undoing{
	{Act: AngleLost, Stages: true, Heat: true, Slacken: true, Prep: each, Checks: later, Waits: true, New: spent},
	{Act: PulledOver, Stages: true, Heat: true, Slacken: true, Prep: each, Checks: later, Waits: true, New: spent, Final: true},
	{Act: DidNotHold, Stages: true, Heat: true, Slacken: true, Prep: each, Checks: later, Waits: true, New: spent},
	{Act: OverStretched, Stages: true, Heat: true, Prep: always, Checks: its, Waits: true, New: all, Final: true},
	{Act: GaveTrouble, Stages: true, Heat: true, Prep: always, Checks: its, Waits: true, New: all},
	{Act: CaseStripped, Stages: true, Heat: true, Repair: true, Prep: always, Checks: its, Waits: true, New: spent},
	{Act: NewFastener, Stages: true, Heat: true, Prep: always, Checks: its, Waits: true, New: spent},
	{Act: NewWasher, Stages: true, Heat: true, Prep: each, Checks: later, Waits: true, New: spent},
	{Act: CameLoose, Stages: true, Heat: true, Slacken: true, Prep: each, Checks: later, Waits: true, New: spent},
	{Act: ApartAgain, Stages: true, Heat: true, Prep: always, Checks: its, Waits: true, New: spent, Stays: true},
	{Act: CondemnedLate, Stages: true, Heat: true, Prep: always, Checks: its, Waits: true, New: spent, Stays: true},
	{Act: SheetChanged, Stages: true, Heat: true, Slacken: true, Prep: always, Checks: its, Waits: true, New: spent, Stays: true},
	{Act: SealedAfresh, Whole: true, Stages: true, Heat: true, Prep: always, Checks: its, Waits: true, New: spent},
}

var rowOf = sync.OnceValue(func() map[Act]Undoing {
	rows := map[Act]Undoing{}
	for _, r := range Table {
		rows[r.Act] = r
	}
	return rows
})

// row is the row of an act under the rules that hold: those of before asked
// for no slackening, no preparation but one by one, and only questions that
// come after a pass.
func (s *State) row(act Act) Undoing {
	r := rowOf()[act]
	if s.lenient() {
		r.Slacken, r.Repair, r.Final, r.Prep = false, false, false, each
	}
	return r
}

// undoFor carries out a row of the table for fasteners or parts.
func (s *State) undoFor(c *change, act Act, why string, things ...ident.Thing) {
	row := s.row(act)
	since := len(s.Items)
	for _, t := range things {
		if !t.IsFastener() {
			s.undoPart(c, row, t, why)
			continue
		}
		since = min(since, s.undoFastener(c, row, t, why))
	}
	s.undoAround(c, row, since, things)
}

// undoFastener sends one fastener back and gives the index of the stage it
// starts again from.
func (s *State) undoFastener(c *change, row Undoing, t ident.Thing, why string) int {
	from := len(s.Items)
	for _, i := range s.StagesOf(t.ID) {
		if row.Stages && (s.tightBy(t.ID, i) || s.lenient()) {
			from = min(from, i)
			s.cool(c, row, i)
			s.reopen(c, i)
		}
	}
	if l := s.liesOf(t.ID); l != nil && l.repair >= 0 {
		if row.Slacken {
			s.reopen(c, l.slacken)
		}
		if row.Repair {
			s.reopen(c, l.repair)
		}
		if row.Whole && l.prep >= 0 && s.readyAhead(s.Items[l.prep].Group) {
			s.withItsGroup(c, l.prep)
		} else if l.prep >= 0 && (row.Prep == always || row.Prep == each && s.Items[l.prep].Group.PrepEach) {
			s.reopen(c, l.prep)
		}
	}
	for _, i := range s.piecesFor(t) {
		p := s.pieces[i]
		if row.New >= spent && (p.Needed || row.New == all && p.Name == Itself) {
			if row.Final && c.final() == "" {
				c.besides().final = fmt.Sprintf("%s: %s, and what can be used once stays used", t.ID, why)
			}
			s.useUp(c, i, why)
		}
	}
	return from
}

// withItsGroup asks no more for the threads of one fastener: those of its group are
// made ready, all of them.
func (s *State) withItsGroup(c *change, prep int) {
	if !s.marks[prep].Closed {
		s.setMark(c, prep, Mark{Closed: true})
	}
}

func (s *State) undoPart(c *change, row Undoing, t ident.Thing, why string) {
	if i, ok := s.places[t]; ok && row.Stages {
		s.cool(c, row, i)
		s.reopen(c, i)
	}
	for _, i := range s.piecesFor(t) {
		if s.pieces[i].Needed && row.New >= spent {
			s.useUp(c, i, why)
		}
	}
}

// undoAround asks again what was asked, measured or waited for on a joint that
// no longer is: since is the first stage that starts again.
func (s *State) undoAround(c *change, row Undoing, since int, things []ident.Thing) {
	for _, i := range s.around {
		it := s.Items[i]
		switch {
		case it.Kind == WaitItem:
			if row.Waits && i > since {
				s.reopen(c, i)
			}
		case s.lenient() && it.Check.After == nil:
		case len(it.Check.Of) > 0 && !s.lenient():
			if row.Checks >= later && anyOf(it.Check.Of, things) {
				s.reopen(c, i)
			}
		case row.Checks >= later && i > since, row.Checks == its && s.passHas(it.Pass, things):
			s.reopen(c, i)
		}
	}
}

func anyOf(list, things []ident.Thing) bool {
	return slices.ContainsFunc(things, func(t ident.Thing) bool { return slices.Contains(list, t) })
}

// passHas reports whether any of these fasteners has a stage in a pass.
func (s *State) passHas(pass *spec.Pass, things []ident.Thing) bool {
	if s.lenient() {
		return false
	}
	for _, t := range things {
		if !t.IsFastener() {
			continue
		}
		if _, ok := s.Find(plan.KeyOf(pass, t.ID, 0).String()); ok {
			return true
		}
	}
	return false
}

// undoWhole opens the joint: everything from the smear on, every fastener that
// held it, what was asked of the open joint, and what can be used once.
func (s *State) undoWhole(c *change, act Act, why string) {
	row := s.row(act)
	if held := s.sealHeld; !held.IsZero() {
		s.sealHeld = time.Time{}
		c.onUndo(func() { s.sealHeld = held })
	}
	s.cool(c, row, s.smear)
	for i := s.smear; i < len(s.Items); i++ {
		if it := s.Items[i]; !it.Later && it.Kind != FaultItem { // what was done about a finding stays done
			s.reopen(c, i)
		}
	}
	for g, i := range s.ready {
		if s.readyAhead(g) {
			s.reopen(c, i)
		}
	}
	var held []ident.Thing
	for _, f := range s.Plan.Procedure.Fasteners {
		if stages := s.StagesOf(f.ID); len(stages) > 0 && stages[0] > s.smear {
			held = append(held, thingOf(f))
		}
	}
	s.undoFor(c, act, why, held...)
	if s.lenient() {
		return
	}
	for i := range s.smear {
		it := s.Items[i]
		if it.Check != nil && it.Pass == s.Items[s.smear].Pass {
			s.reopen(c, i)
		}
	}
	for _, p := range s.Plan.Procedure.Parts {
		if p.OneUse {
			s.undoPart(c, row, ident.Part(p.ID), why)
		}
	}
}
