package walk

import (
	"fmt"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// Piece is something that must be new before done: a one-use fastener or
// washer, a one-use part, or whatever gave trouble.
type Piece struct {
	Fastener  string // empty for a part
	Thread    string // of a fastener that is not the sheet's own
	Part      string // a part's id; empty for a fastener's piece
	Name      string
	Count     int
	Needed    bool // must be new before done
	Condemned bool // needed only because an earlier walk found it so
	Renewed   bool
	Number    string // part or batch number
	Was       string // the number of the one before it, which is used up
	At        time.Time
	Late      bool   // recorded only after a stage of its fastener was confirmed (under the first rules)
	Why       string // why a new one is needed: one-use, angle lost …
}

const oneUse = "one-use"

// due: a new one is wanted and has not been recorded.
func (p Piece) due() bool { return p.Needed && !p.Renewed }

// Text gives a piece in words: "2 × sealing washer", "the fastener itself".
func (p Piece) Text() string {
	switch {
	case p.Name == itself && p.Part == "":
		return "the fastener itself"
	case p.Count > 1:
		return fmt.Sprintf("%d × %s", p.Count, p.Name)
	}
	return p.Name
}

// BelongsTo reports whether a piece is of a thing.
func (p Piece) BelongsTo(t ident.Thing) bool {
	if t.IsFastener() {
		return p.Fastener == t.ID && (p.Thread == "" || p.Thread == t.Thread)
	}
	return p.Fastener == "" && p.Part == t.ID
}

// Owner is the thing a piece belongs to.
func (s *State) Owner(p Piece) ident.Thing {
	switch {
	case p.Thread != "":
		return ident.Fastener(p.Fastener, p.Thread)
	case p.Fastener != "":
		return s.fastenerThing(p.Fastener)
	}
	return ident.Part(p.Part)
}

func (s *State) piecesFor(t ident.Thing) []int {
	list := s.piecesOf[t]
	if more := s.strays[t]; len(more) > 0 {
		list = append(list[:len(list):len(list)], more...)
	}
	return list
}

// Pieces lists everything that must be new or was fitted new, with what is known of it.
func (s *State) Pieces() []Piece {
	var list []Piece
	for _, p := range s.pieces {
		if p.Needed || p.Renewed {
			list = append(list, p)
		}
	}
	return list
}

// Due lists the pieces of a thing that must be new and are not.
func (s *State) Due(t ident.Thing) []Piece {
	var list []Piece
	for _, i := range s.piecesFor(t) {
		if p := s.pieces[i]; p.due() {
			list = append(list, p)
		}
	}
	return list
}

// DueNow lists the pieces that have to be new before the current item is confirmed.
func (s *State) DueNow() []Piece {
	it := s.CurrentItem()
	if it == nil || !s.needsNew(s.next) {
		return nil
	}
	return s.Due(it.Thing())
}

// needsNew: what goes on new has to be there before this item is confirmed: a
// part at its place, a fastener from the first stage that tightens it on.
func (s *State) needsNew(i int) bool {
	it := s.Items[i]
	return it.Kind == PartItem || it.Kind == StageItem && s.tightBy(it.Stage.Fastener.ID, i)
}

// takesNew: a new piece can go in at this item. While a bolt is being let go, or
// the thread it goes into made good, the old one is what is there.
func (s *State) takesNew(i int) bool {
	it := s.Items[i]
	return s.needsNew(i) || it.Kind == PrepItem || it.Kind == StageItem && s.mineOf[it.Stage.Fastener.ID].tight < 0
}

// tightBy: stage i is, or comes after, the first that tightens or holds the fastener.
func (s *State) tightBy(fastener string, i int) bool {
	m, ok := s.mineOf[fastener]
	return ok && m.tight >= 0 && i >= m.tight
}

// tightened reports whether any stage that loads the fastener stands confirmed.
func (s *State) tightened(fastener string) bool {
	for _, i := range s.stagesOf[fastener] {
		if s.marks[i].Closed && s.tightBy(fastener, i) {
			return true
		}
	}
	return false
}

// judgeNew holds back what is confirmed while something of it is due new.
func (s *State) judgeNew(i int) *Refusal {
	if s.lenient() || !s.needsNew(i) {
		return nil
	}
	t := s.Items[i].Thing()
	due := s.Due(t)
	if len(due) == 0 {
		return nil
	}
	words := make([]string, len(due))
	for n, p := range due {
		words[n] = fmt.Sprintf("%s (%s)", p.Text(), p.Why)
	}
	what := fmt.Sprintf("%s first has to be new: %s", t.ID, strings.Join(words, ", "))
	if !t.IsFastener() {
		what = "it first has to be new: " + strings.Join(words, ", ")
	}
	return &Refusal{What: what, Remedy: "fit what is new, then record it", Ways: []Way{{Do: Renew, Target: t.ID}}}
}

// judgeRenewal lets a piece be recorded new only where it goes in.
func (s *State) judgeRenewal(e Event) *Refusal {
	t := s.ThingOf(e)
	at := s.pieceNamed(t, e.Piece)
	if at < 0 {
		return unknown(strings.TrimSpace(t.ID + " " + e.Piece))
	}
	if s.lenient() {
		return nil
	}
	if i, elsewhere := s.goesIn(t); elsewhere {
		r := &Refusal{What: fmt.Sprintf("%s is not in hand; a new piece is recorded where it goes in, at: %s", t.ID, s.Items[i].Text())}
		if it := s.CurrentItem(); it != nil && it.Thing() == t {
			r.What = fmt.Sprintf("first this: %s; a new piece is recorded where it goes in, at: %s", it.Text(), s.Items[i].Text())
		} else if t.IsFastener() && s.tightened(t.ID) {
			r.What = fmt.Sprintf("%s is not in hand, and has been tightened", t.ID)
			r.Remedy = "if it is taken out again, say so: it then starts again"
			r.Ways = []Way{{Do: Problem, Target: t.ID, Needs: "a reason"}}
		}
		return r
	}
	if was := s.numberBefore(t, at); was != "" && e.Number == "" && e.Facts["number"] != NoNumber {
		return &Refusal{What: fmt.Sprintf("the number of the one before was %s; the new one has its own", was), Remedy: "give the number on its bag, or say that it has none",
			Ways: []Way{{Do: Renew, Target: t.ID, Needs: "its number, or none"}}}
	}
	return nil
}

// numberBefore is the number on the bag of the piece that a new one takes the
// place of, or "" where none was given.
func (s *State) numberBefore(t ident.Thing, at int) string {
	p := s.pieces[at]
	if p.Renewed && p.Number != s.sheetNumber(p) && t.IsFastener() && s.hasPlace(t) && s.tightened(t.ID) {
		return p.Number // it is taken out again
	}
	return p.Was
}

// goesIn gives the open item where a thing goes in, and whether that is not the
// one in hand. What has no place here, or no open one, can be recorded any time.
func (s *State) goesIn(t ident.Thing) (item int, elsewhere bool) {
	if it := s.CurrentItem(); it != nil && it.Thing() == t && s.takesNew(s.next) {
		return s.next, false
	}
	if !t.IsFastener() {
		i, placed := s.places[t]
		return i, placed && (!s.marks[i].Closed || len(s.Due(t)) == 0)
	}
	stages := s.stagesOf[t.ID]
	if !s.hasPlace(t) || len(stages) == 0 {
		return 0, false // a stray
	}
	for _, i := range stages {
		if !s.marks[i].Closed && s.takesNew(i) {
			return i, true
		}
	}
	if len(s.Due(t)) > 0 {
		return 0, false // one recorded late under the first rules
	}
	return stages[0], true
}

func (s *State) pieceNamed(t ident.Thing, name string) int {
	for _, i := range s.piecesFor(t) {
		if s.pieces[i].Name == name {
			return i
		}
	}
	return -1
}

// renew records a new piece. On a fastener that has been tightened it starts
// that fastener again.
func (s *State) renew(c *change, e Event) {
	t := s.ThingOf(e)
	at := s.pieceNamed(t, e.Piece)
	tight := t.IsFastener() && s.hasPlace(t) && s.tightened(t.ID)
	if tight && !s.lenient() {
		s.deviate(e, fmt.Sprintf("%s: new %s after it was tightened; it starts again", t.ID, s.pieces[at].Text()))
		act := NewWasher
		if e.Piece == itself {
			act = NewFastener
		}
		s.undoFor(c, act, "it was taken out again", t)
	}
	p := s.pieces[at]
	p.Renewed, p.At, p.Late = true, e.At, tight && s.lenient()
	if e.Number != "" {
		p.Number = e.Number
	} else if e.Facts["number"] == NoNumber {
		p.Number = ""
	}
	if p.Late {
		s.deviate(e, fmt.Sprintf("%s: new %s recorded only after a stage was confirmed", e.Fastener, p.Text()))
	}
	s.setPiece(c, at, p)
	if i, ok := s.places[t]; ok && s.lenient() && !s.marks[i].Closed {
		s.setMark(c, i, Mark{Closed: true, Seq: e.Seq, At: e.At, Facts: e.Facts})
	}
}

// useUp asks for a new piece in place of one that has served.
func (s *State) useUp(c *change, i int, why string) {
	p := s.pieces[i]
	was := p.Was
	if p.Renewed && p.Number != s.sheetNumber(p) {
		was = p.Number
	}
	s.setPiece(c, i, Piece{Fastener: p.Fastener, Thread: p.Thread, Part: p.Part, Name: p.Name, Count: p.Count, Needed: true, Number: s.sheetNumber(p), Was: was, Why: why})
}

// sheetNumber is the part number the sheet gives a piece, not what was on its bag.
func (s *State) sheetNumber(p Piece) string {
	for _, i := range s.piecesOf[s.Owner(p)] {
		if s.Course.pieces[i].Name == p.Name {
			return s.Course.pieces[i].Number
		}
	}
	return ""
}

// draftRenewal finds the owner of a new piece: the fastener or part named, or
// the current one. Without a piece it is the first one due; Expand gives all.
func (s *State) draftRenewal(c Command, e Event) (Event, *Refusal) {
	e.Kind = Renewed
	owner, r := s.owner(c.Target)
	if r != nil {
		return e, r
	}
	s.name(&e, owner)
	if strings.EqualFold(e.Number, NoNumber) {
		e.Number, e.Facts = "", map[string]string{"number": NoNumber}
	}
	e.Piece, r = s.pieceCalled(owner, c.Piece)
	return e, r
}

// name writes which thing the event is about; of a fastener the sheet has not,
// its thread as well.
func (s *State) name(e *Event, t ident.Thing) {
	if t.IsFastener() {
		if e.Fastener = t.ID; t != s.fastenerThing(t.ID) {
			e.Thread = t.Thread
		}
	} else {
		e.Item = t.Text()
	}
}

func (s *State) owner(target string) (ident.Thing, *Refusal) {
	if target == "" {
		if it := s.CurrentItem(); it != nil && !it.Thing().IsZero() {
			return it.Thing(), nil
		}
		return ident.Thing{}, &Refusal{What: "nothing is in hand to renew", Remedy: "name the fastener or the part"}
	}
	if f := s.fastener(target); f != nil {
		return thingOf(f), nil
	}
	if t, ok := s.carriedCalled(target); ok {
		return t, nil
	}
	if p := s.Plan.Procedure.Part(target); p != nil {
		return ident.Part(p.ID), nil
	}
	return ident.Thing{}, &Refusal{What: fmt.Sprintf("there is no fastener or part %q", spec.Printable(target)), Remedy: "use an id from the bolt map"}
}

// pieceCalled finds a piece by name or the start of it; empty means the first due.
func (s *State) pieceCalled(owner ident.Thing, name string) (string, *Refusal) {
	var names []string
	for _, i := range s.piecesFor(owner) {
		p := s.pieces[i]
		names = append(names, p.Name)
		if name == "" && p.due() || name != "" && strings.EqualFold(p.Name, name) {
			return p.Name, nil
		}
	}
	if name != "" {
		for _, n := range names {
			if strings.HasPrefix(strings.ToLower(n), strings.ToLower(name)) {
				return n, nil
			}
		}
		return "", &Refusal{What: fmt.Sprintf("%s has no piece %q to renew", owner.ID, spec.Printable(name)), Remedy: "its pieces: " + strings.Join(names, ", ")}
	}
	if len(names) == 0 || !s.hasPlace(owner) {
		return "", &Refusal{What: fmt.Sprintf("nothing of %s has to be new", owner.ID), Remedy: "keep a remark of it", Ways: []Way{{Do: Note, Needs: "a remark"}}}
	}
	return names[0], nil // not due, but a new one was fitted all the same
}
