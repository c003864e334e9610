package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// Facts is what is known of a thing that came off, by the keys below.
type Facts map[string]string

// Keys of Facts. Values are the person's own words, but for the condition.
const (
	Condition = "condition" // one of Conditions
	Where     = "where"     // where it sat
	Face      = "face"      // which face out, which way up
	Box       = "box"
	Bag       = "bag"
	Size      = "measured" // a measured value, with its unit
	Goes      = "goes"     // back, replace, or the work it goes out for
)

// FactKeys in the order they are shown.
var FactKeys = []string{Condition, Size, Where, Face, Box, Bag, Goes}

// Conditions something can be found in; the ones from Pitted on condemn it
// unless the person says that it goes back all the same.
var Conditions = []string{"good", "worn", "pitted", "rounded", "stretched", "scored", "burnt", "stripped", "missing"}

// Condemned reports whether a condition means that a new one is needed.
func (f Facts) Condemned() bool {
	switch {
	case f[Condition] == "missing" || f[Goes] == "replace":
		return true
	case f[Goes] != "":
		return false
	}
	return f[Condition] != "" && f[Condition] != "good" && f[Condition] != "worn"
}

// Work names the work a thing goes out for, or "".
func (f Facts) Work() string {
	if g := f[Goes]; g != "back" && g != "replace" {
		return g
	}
	return ""
}

// Text gives the facts in one line: "scored, 0.8 mm, box 2, bag 7".
func (f Facts) Text() string {
	var words []string
	for _, key := range FactKeys {
		switch v := f[key]; {
		case v == "":
		case key == Box, key == Bag, key == Goes:
			words = append(words, key+" "+v)
		default:
			words = append(words, v)
		}
	}
	return strings.Join(words, ", ")
}

// Carried is one thing that came off this engine in an earlier walk and is not
// back on it, as it stands when this walk is opened.
type Carried struct {
	ID       string    `json:"id"`                 // a part's id, or a fastener's
	Fastener bool      `json:"fastener,omitempty"` // which of the two
	Thread   string    `json:"thread,omitempty"`   // of a fastener
	Name     string    `json:"name"`
	Count    int       `json:"count"`
	Facts    Facts     `json:"facts,omitempty"`
	Away     string    `json:"away,omitempty"`    // the work it is out for, and not back from
	Unclean  string    `json:"unclean,omitempty"` // the work it came back from, not yet cleaned after
	Arrived  bool      `json:"arrived,omitempty"` // a new one is on the shelf
	Loose    bool      `json:"loose,omitempty"`   // it did not come off, but was let go and not tightened since
	Record   string    `json:"record"`            // where it came off
	At       time.Time `json:"at"`
}

// Thing is what it is called.
func (c Carried) Thing() ident.Thing {
	if c.Fastener {
		return ident.Fastener(c.ID, c.Thread)
	}
	return ident.Part(c.ID)
}

// NameCarried names what is carried as this sheet does: old records give a fastener
// no thread.
func (s *State) NameCarried(c Carried) ident.Thing {
	if c.Fastener && c.Thread == "" {
		return s.fastenerThing(c.ID)
	}
	return c.Thing()
}

// Text names a thing as a person would: "1 × shim, 0.8 mm, off the selector drum".
func (c Carried) Text() string {
	text := c.Name
	if c.Count > 1 {
		text = fmt.Sprintf("%d × %s", c.Count, c.Name)
	}
	if f := c.Facts.Text(); f != "" {
		text += ", " + f
	}
	return text
}

// thing is a carried one with what became of it in this walk.
type thing struct {
	Carried
	settled string // refitted, or why it will not go back
	cleaned bool
}

// draftThing names what found, refit, account and clean are about.
func (s *State) draftThing(c Command, e Event) (Event, *Refusal) {
	e.Kind = map[Verb]Kind{Find: Found, Refit: Refitted, Account: Accounted, Clean: Cleaned}[c.Do]
	t, refusal := s.thingCalled(c.Target)
	s.name(&e, t)
	return e, refusal
}

// thingCalled finds a fastener, a part, or something the engine brought.
func (s *State) thingCalled(name string) (ident.Thing, *Refusal) {
	if t, ok := s.carriedCalled(name); ok {
		return t, nil
	}
	return s.owner(name)
}

func (s *State) carriedCalled(name string) (ident.Thing, bool) {
	for _, t := range s.order {
		if c := s.carried[t]; strings.EqualFold(c.ID, name) || strings.EqualFold(c.Name, name) || strings.EqualFold(t.String(), name) {
			return t, true
		}
	}
	return ident.Thing{}, false
}

// eventThing is what an event is about; what the engine brought is known by
// its thread even where the event is not.
func (s *State) eventThing(e Event) ident.Thing {
	t := s.ThingOf(e)
	if t.Thread != ident.UnknownThread {
		return t
	}
	for _, other := range s.order {
		if other.IsFastener() && other.ID == t.ID {
			return other
		}
	}
	return t
}

// judgeFound holds what is said of a thing to the words a list can be made of.
func (s *State) judgeFound(e Event) *Refusal {
	t := s.eventThing(e)
	if !s.hasPlace(t) {
		return unknown(t.ID)
	}
	for k := range e.Facts {
		if !slices.Contains(FactKeys, k) {
			return &Refusal{What: fmt.Sprintf("%q is not kept of a thing", spec.Printable(k)), Remedy: "one of: " + strings.Join(FactKeys, ", ")}
		}
	}
	if c := e.Facts[Condition]; c != "" && !slices.Contains(Conditions, c) {
		return &Refusal{What: fmt.Sprintf("%q is not a condition", spec.Printable(c)), Remedy: "one of: " + strings.Join(Conditions, ", ")}
	}
	if len(e.Facts) == 0 {
		return &Refusal{What: "nothing is said of it", Remedy: "give a condition: " + strings.Join(Conditions, ", ")}
	}
	if _, again := s.found[t]; again && e.Text == "" {
		return &Refusal{What: t.ID + " has been described before; that stays in the record", Remedy: "correct it with a reason: …, because REASON"}
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
	case t.IsFastener() && s.hasPlace(t) && len(s.stagesOf[t.ID]) > 0:
		return &Refusal{What: t.ID + " is tightened here, so it or a new one goes in", Remedy: "fit it, or a new one, at its place", Ways: []Way{{Do: Renew, Target: t.ID}}}
	case s.wantedNew(t):
		return &Refusal{What: t.ID + " is one-use: whatever became of the old one, a new one goes in", Remedy: "fit a new one at its place", Ways: []Way{{Do: Renew, Target: t.ID}}}
	}
	return needReason(e)
}

// wantedNew: the sheet itself wants a new one, however it was found.
func (s *State) wantedNew(t ident.Thing) bool {
	for _, i := range s.piecesOf[t] {
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
		return &Refusal{What: fmt.Sprintf("%s came back from %s: no media in oilways, threads chased, faces bare where sealant or clamp goes?", c.Name, c.Unclean), Remedy: "clean it, then say so",
			Ways: []Way{{Do: Clean, Target: c.ID}}}
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

// bring takes in what the engine brings; a later one replaces an earlier one,
// but what was settled in this walk stays so, unless it came off again since.
// It cannot be undone, nor anything before it.
func (s *State) bring(e Event) {
	s.history = nil
	if s.carried == nil {
		s.carried, s.loosed = map[ident.Thing]*thing{}, map[ident.Thing]string{}
	}
	s.forget(e.Brought)
	var apart []ident.Thing
	for _, c := range e.Brought {
		t := s.NameCarried(c)
		if s.takenApart(t, c) {
			apart = append(apart, t)
		}
		if c.Loose {
			s.loosed[t] = c.Record
			continue
		}
		old := s.carried[t]
		switch {
		case old == nil:
			s.carried[t] = &thing{Carried: c}
			s.order = append(s.order, t)
		case old.Record != c.Record && !s.lenient():
			*old = thing{Carried: c} // it came off again: nothing said before holds
		default:
			old.Carried = c
		}
	}
	var c change
	s.apart(&c, e, apart)
	for _, brought := range e.Brought {
		switch t := s.NameCarried(brought); {
		case brought.Loose, s.Plan.Procedure.Direction != spec.Close && !s.lenient(), s.carried[t].settled != "" && !s.lenient():
		case brought.Facts.Condemned():
			s.condemn(&c, t, brought)
		default:
			s.acquit(&c, t)
		}
	}
}

// forget drops what is no longer off the engine: another walk has had it.
func (s *State) forget(list []Carried) {
	still := map[ident.Thing]bool{}
	for _, c := range list {
		still[s.NameCarried(c)] = true
	}
	var c change
	s.order = slices.DeleteFunc(s.order, func(t ident.Thing) bool {
		if still[t] || s.carried[t].settled != "" {
			return false
		}
		delete(s.carried, t)
		s.acquit(&c, t)
		return true
	})
}

// takenApart: another walk has taken off, or let go, what this one had tightened
// or fitted; it is news if this walk was not told of that record before.
func (s *State) takenApart(t ident.Thing, c Carried) bool {
	if s.lenient() || s.Plan.Procedure.Direction != spec.Close {
		return false
	}
	if old := s.carried[t]; old != nil && old.Record == c.Record || s.loosed[t] == c.Record {
		return false
	}
	if t.IsFastener() {
		return s.hasPlace(t) && s.tightened(t.ID)
	}
	i, ok := s.places[t]
	return ok && s.marks[i].Closed
}

// apart reopens what another walk has taken apart, and the sealed joint if
// nothing is left that holds it.
func (s *State) apart(c *change, e Event, things []ident.Thing) {
	if len(things) == 0 {
		return
	}
	names := make([]string, len(things))
	for i, t := range things {
		names[i] = t.ID
	}
	s.deviate(e, "taken apart again by another walk: "+strings.Join(names, ", ")+"; to be done again")
	s.undoFor(c, ApartAgain, "it was taken apart again", things...)
	if s.smear < 0 || !s.marks[s.smear].Closed {
		return
	}
	for _, f := range s.Plan.Procedure.Fasteners {
		if stages := s.stagesOf[f.ID]; len(stages) > 0 && stages[0] > s.smear && s.tightened(f.ID) {
			return
		}
	}
	s.undoWhole(c, SealedAfresh, "the joint was taken apart again")
}

// condemn asks for a new one of something that was condemned at strip-down, and
// where it is in already, starts that again.
func (s *State) condemn(c *change, t ident.Thing, brought Carried) {
	name := brought.Name
	if t.IsFastener() {
		name = itself
	}
	why := "condemned at strip-down"
	if cond := brought.Facts[Condition]; cond != "" {
		why = "it was " + cond + " at strip-down"
	}
	at := s.pieceNamed(t, name)
	if at < 0 {
		p := Piece{Name: name, Count: brought.Count}
		if t.IsFastener() {
			p.Fastener, p.Thread = t.ID, t.Thread
		} else {
			p.Part = t.ID
		}
		if s.strays == nil {
			s.strays = map[ident.Thing][]int{}
		}
		at = len(s.pieces)
		s.strays[t] = append(s.strays[t], at)
		s.pieces = append(s.pieces, p)
	}
	p := s.pieces[at]
	if p.Needed || p.Renewed && !s.lenient() {
		return // it is due new in any case, or has been replaced by now
	}
	p.Needed, p.Condemned, p.Why = true, true, why
	s.pieces[at] = p
	i, placed := s.places[t]
	if !s.lenient() && (t.IsFastener() && s.hasPlace(t) && s.tightened(t.ID) || placed && s.marks[i].Closed) {
		s.undoFor(c, CondemnedLate, why, t)
		s.pieces[at].Condemned = true
	}
}

// acquit lifts a renewal that only a condemnation asked for, once that is
// corrected, or the thing is no longer off. What has been fitted new stays so.
func (s *State) acquit(c *change, t ident.Thing) {
	if s.lenient() {
		return
	}
	for _, i := range s.piecesFor(t) {
		if p := s.pieces[i]; p.Condemned && !p.Renewed {
			p.Needed, p.Condemned, p.Why = false, false, ""
			s.setPiece(c, i, p)
		}
	}
}

// thing applies found, refitted, accounted and cleaned.
func (s *State) thing(c *change, e Event) {
	t := s.eventThing(e)
	if e.Kind == Found {
		s.describeThing(c, e, t)
		return
	}
	had := s.carried[t]
	was := *had
	c.restore = append(c.restore, func() { had.settled, had.cleaned = was.settled, was.cleaned })
	switch e.Kind {
	case Cleaned:
		had.cleaned = true
	case Refitted:
		had.settled = "refitted"
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
	c.restore = append(c.restore, func() {
		if delete(s.found, t); had {
			s.found[t] = old
		}
	})
	merged := Facts{}
	for _, from := range []Facts{old, e.Facts} {
		for k, v := range from {
			merged[k] = v
		}
	}
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
		if p := s.pieces[i]; p.Needed && p.Condemned {
			p.Needed = false
			s.setPiece(c, i, p)
		}
	}
}

// FoundOf is what was said of how a thing came off.
func (s *State) FoundOf(t ident.Thing) Facts { return s.found[t] }

// CarriedOf is what an earlier walk knows of a thing, and whether there is such
// a thing.
func (s *State) CarriedOf(t ident.Thing) (Carried, bool) {
	if c := s.carried[t]; c != nil {
		return c.now(), true
	}
	return Carried{}, false
}

// now is the thing as it stands: once cleaned there is nothing to clean.
func (t *thing) now() Carried {
	c := t.Carried
	if t.cleaned {
		c.Unclean = ""
	}
	return c
}

// LeftOver lists what the engine brought and nothing has been said of: things
// the procedure has no place for, and more of a thing than go in.
func (s *State) LeftOver() []Carried {
	var list []Carried
	for _, t := range s.order {
		c := s.carried[t]
		if c.settled != "" {
			continue
		}
		if !s.hasPlace(t) {
			if !s.renewed(t) {
				list = append(list, c.now())
			}
			continue
		}
		if part := s.Plan.Procedure.Part(t.ID); !t.IsFastener() && part != nil && c.Count > part.Count {
			rest := c.now()
			rest.Count -= part.Count
			list = append(list, rest)
		}
	}
	return list
}

// RepairOf is what was recorded of the repaired thread a fastener goes into.
func (s *State) RepairOf(fastener string) Facts {
	if m, ok := s.mineOf[fastener]; ok {
		return s.marks[m.repair].Facts
	}
	return nil
}
