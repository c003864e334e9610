package walk

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// judgeFound holds what is said of a thing to the words a list can be made of.
func (s *State) judgeFound(e Event) *Refusal {
	t := s.eventThing(e)
	if e.Facts[NewName] != "" {
		if r := s.judgeUnforeseen(e, t); r != nil {
			return r
		}
	} else if !s.hasPlace(t) {
		return unknown(t.ID)
	}
	for k := range e.Facts {
		if isNew := e.Facts[NewName] != "" && (k == NewName || k == NewCount); !isNew && !slices.Contains(FactKeys, k) {
			return &Refusal{What: fmt.Sprintf("%q is not kept of a thing", spec.Printable(k)), Remedy: "one of: " + strings.Join(FactKeys, ", ")}
		}
	}
	if r := s.judgeCondition(e.Facts); r != nil {
		return r
	}
	if r := s.judgeMayBeInside(e); r != nil {
		return r
	}
	if len(e.Facts) == 0 {
		return &Refusal{What: "nothing is said of it", Remedy: "give a condition: " + strings.Join(Conditions, ", ")}
	}
	if e.Piece != "" {
		return s.judgePiece(t, e)
	}
	if _, again := s.found[t]; again && e.Text == "" {
		return &Refusal{What: t.ID + " has been described before; that stays in the record", Remedy: "correct it with a reason: …, because REASON"}
	}
	return nil
}

// longestCondition is how many characters words on a condition may have.
const longestCondition = 200

// judgeCondition: what may condemn a thing needs an answer, whether it is to be
// used again. Under the rules of before there were only the words of the list.
func (s *State) judgeCondition(f Facts) *Refusal {
	c := f[Condition]
	switch {
	case s.rules < findRules && (c != "" && !slices.Contains(Conditions, c) || f[Again] != ""):
		return &Refusal{What: fmt.Sprintf("%q is not a condition", spec.Printable(c)), Remedy: "one of: " + strings.Join(Conditions, ", ")}
	case len([]rune(c)) > longestCondition:
		return &Refusal{What: fmt.Sprintf("the words on its condition are longer than %d characters", longestCondition), Remedy: "say it shorter, and the rest in a note"}
	case f[Again] != "" && f[Again] != "yes" && f[Again] != "no":
		return &Refusal{What: fmt.Sprintf("%q does not say whether it is to be used again", spec.Printable(f[Again])), Remedy: "yes or no"}
	case f.AsksAgain():
		return &Refusal{What: c + ": is it to be used again?", Remedy: "say yes, or no", asksAgain: true}
	}
	return nil
}

func (s *State) judgeThing(e Event) *Refusal {
	t := s.eventThing(e)
	c := s.carried[t]
	switch {
	case c == nil:
		return &Refusal{What: fmt.Sprintf("%s did not come off in an earlier walk", t.ID), Remedy: "confirm it at its place"}
	case e.Kind == Accounted:
		return s.judgeAccounted(t, e)
	case e.Kind == Cleaned && c.Unclean == "":
		return &Refusal{What: c.Name + " does not wait to be cleaned"}
	case e.Kind == Cleaned && c.Away == "":
		return nil
	case e.Kind == Refitted && s.unforeseenAt(t) >= 0:
		if r := s.judgeNew(s.unforeseenAt(t)); r != nil {
			return r
		}
	case e.Kind == Refitted && s.hasPlace(t):
		return &Refusal{What: c.Name + " has a place in this procedure", Remedy: "confirm it there"}
	}
	return s.judgeReady(c)
}

// judgeAccounted: words lift no renewal. What the sheet tightens goes in, and
// what it wants new is new.
func (s *State) judgeAccounted(t ident.Thing, e Event) *Refusal {
	if s.lenient() {
		return needReason(e)
	}
	switch {
	case t.IsFastener() && s.hasPlace(t) && len(s.StagesOf(t.ID)) > 0:
		return &Refusal{What: t.ID + " is tightened here, so it or a new one goes in", Remedy: "fit it, or a new one, at its place", Ways: []Way{{Do: Renew, Target: t.ID}}}
	case s.wantedNew(t):
		return &Refusal{What: t.ID + " is one-use: whatever became of the old one, a new one goes in", Remedy: "fit a new one at its place", Ways: []Way{{Do: Renew, Target: t.ID}}}
	}
	return needReason(e)
}

// wantedNew: the sheet itself wants a new one, however it was found.
func (s *State) wantedNew(t ident.Thing) bool {
	for _, i := range s.piecesOf(t) {
		if s.Course.pieces[i].Needed {
			return true
		}
	}
	return false
}

// judgePart lets a part go in only if it is here, clean, and all of it.
func (s *State) judgePart(p *spec.Part) *Refusal {
	t := ident.Part(p.ID)
	c := s.carried[t]
	if c == nil || !s.lenient() && s.renewed(t) {
		return nil
	}
	if r := s.judgeReady(c); r != nil {
		return r
	}
	if c.Count < p.Count && !s.renewed(t) && s.Plan.Procedure.Direction == spec.Close {
		return &Refusal{What: fmt.Sprintf("%d × %s go in, %d came off", p.Count, p.Name, c.Count), Remedy: "fit new ones, or say why fewer go in",
			Ways: []Way{{Do: Renew, Target: p.ID}, {Do: Account, Target: p.ID, Needs: "a reason"}}}
	}
	return nil
}

// judgeHere: a bolt that is away, or back and not clean, tightens nothing.
func (s *State) judgeHere(i int) *Refusal {
	t := s.Items[i].Thing()
	c := s.carried[t]
	if c == nil || s.lenient() || !s.tightBy(t.ID, i) || s.renewed(t) {
		return nil
	}
	return s.judgeReady(c)
}

func (s *State) judgeReady(c *thing) *Refusal {
	switch {
	case c.Away != "":
		return &Refusal{What: fmt.Sprintf("%s is away for %s", c.Name, c.Away), Remedy: "mark it back first, then open this walk again", Ways: []Way{{Mark: "back", Target: c.ID}}}
	case c.Unclean != "" && !c.cleaned:
		return askClean(c)
	}
	return nil
}

func (s *State) renewed(t ident.Thing) bool {
	for _, i := range s.piecesFor(t) {
		if s.pieces[i].Renewed {
			return true
		}
	}
	return false
}

// thing applies found, refitted, accounted and cleaned.
func (s *State) thing(c *change, e Event) {
	t := s.eventThing(e)
	if e.Kind == Found {
		if e.Facts[NewName] != "" {
			s.findNew(c, e, t)
		}
		if e.Piece != "" {
			s.describePiece(c, e, t)
		} else {
			s.describeThing(c, e, t)
		}
		return
	}
	had := s.carried[t]
	was := *had
	c.onUndo(func() { had.settled, had.cleaned = was.settled, was.cleaned })
	switch e.Kind {
	case Cleaned:
		had.cleaned = true
	case Refitted:
		had.settled = "refitted"
		if i := s.unforeseenAt(t); i >= 0 {
			s.setMark(c, i, markOf(e))
		}
	case Accounted:
		had.settled = e.Text
		s.deviate(e, fmt.Sprintf("%s does not go back: %s", had.Text(), e.Text))
		s.waive(c, t, e)
	}
}

// describeThing keeps how something came off; said again, it is a correction.
func (s *State) describeThing(c *change, e Event, t ident.Thing) {
	if s.found == nil {
		s.found = map[ident.Thing]Facts{}
	}
	old, had := s.found[t]
	c.onUndo(func() {
		if delete(s.found, t); had {
			s.found[t] = old
		}
	})
	merged := correctedBy(old, e.Facts)
	s.found[t] = merged
	if had {
		s.deviate(e, fmt.Sprintf("%s: corrected to %s (%s)", t.ID, merged.Text(), e.Text))
	}
}

// waive closes what was asked for only because a thing came off. What the
// procedure itself wants new stays wanted.
func (s *State) waive(c *change, t ident.Thing, e Event) {
	if i, ok := s.places[t]; ok {
		s.setMark(c, i, Mark{Closed: true, Seq: e.Seq, At: e.At, Facts: map[string]string{"accounted": e.Text}})
	}
	for _, i := range s.piecesFor(t) {
		if p := *s.pieces[i]; p.Needed && p.Condemned {
			p.Needed = false
			s.setPiece(c, i, p)
		}
	}
}
