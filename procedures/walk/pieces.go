package walk

import (
	"fmt"
	"strings"
	"time"

	"evenpull/spec/ident"
)

// Renewable is something that must be new before done: a one-use fastener or
// washer, a one-use part, or whatever gave trouble.
type Renewable struct {
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
	Lot       string // number on the bag that has arrived for it
	At        time.Time
	Late      bool   // recorded only after a stage of its fastener was confirmed (under the first rules)
	Why       string // why a new one is needed: one-use, angle lost …
}

// OneUse is why a piece is new each time.
const OneUse = "one-use"

// due: a new one is wanted and has not been recorded.
func (p Renewable) due() bool { return p.Needed && !p.Renewed }

// Text gives a piece in words: "2 × sealing washer", "the fastener itself".
func (p Renewable) Text() string {
	switch {
	case p.Name == Itself && p.Part == "":
		return "the fastener itself"
	case p.Count > 1:
		return fmt.Sprintf("%d × %s", p.Count, p.Name)
	}
	return p.Name
}

// BelongsTo reports whether a piece is of a thing.
func (p Renewable) BelongsTo(t ident.Thing) bool {
	if t.IsFastener() {
		return p.Fastener == t.ID && (p.Thread == "" || p.Thread == t.Thread)
	}
	return p.Fastener == "" && p.Part == t.ID
}

// Owner is the thing a piece belongs to.
func (s *State) Owner(p Renewable) ident.Thing {
	switch {
	case p.Thread != "":
		return ident.Fastener(p.Fastener, p.Thread)
	case p.Fastener != "":
		return s.fastenerThing(p.Fastener)
	}
	return ident.Part(p.Part)
}

// unchanged are the pieces before the first event.
func (c *Course) unchanged() []*Renewable {
	list := make([]*Renewable, len(c.pieces))
	for i := range c.pieces {
		list[i] = &c.pieces[i]
	}
	return list
}

func (s *State) piecesFor(t ident.Thing) []int {
	list := s.piecesOf(t)
	if more := s.strays[t]; len(more) > 0 {
		list = append(list[:len(list):len(list)], more...)
	}
	return list
}

// Pieces lists everything that must be new or was fitted new, with what is known of it.
func (s *State) Pieces() []Renewable {
	var list []Renewable
	for _, is := range s.pieces {
		if p := *is; p.Needed || p.Renewed {
			p.Lot = s.lotFor(p)
			list = append(list, p)
		}
	}
	return list
}

// Due lists the pieces of a thing that must be new and are not.
func (s *State) Due(t ident.Thing) []Renewable {
	var list []Renewable
	for _, i := range s.piecesFor(t) {
		if p := *s.pieces[i]; p.due() {
			p.Lot = s.lotFor(p)
			list = append(list, p)
		}
	}
	return list
}

// lotFor is the number on the bag that has arrived for a piece still to be fitted. A
// second one in its place is out of another bag.
func (s *State) lotFor(p Renewable) string {
	t := s.Owner(p)
	if c := s.carried[t]; c != nil && !p.Renewed && p.Was == "" {
		return c.Lots[p.Name]
	}
	return ""
}

// Fitted is the piece a thing was replaced by in this walk, itself and not what goes with it.
func (s *State) Fitted(t ident.Thing) (Renewable, bool) {
	name := Itself
	if !t.IsFastener() {
		name = s.nameOfThing(t)
	}
	if at := s.pieceNamed(t, name); at >= 0 && s.pieces[at].Renewed {
		return *s.pieces[at], true
	}
	return Renewable{}, false
}

// DueNow lists the pieces that have to be new before the current item is confirmed.
func (s *State) DueNow() []Renewable {
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
	return s.needsNew(i) || it.Kind == PrepItem || it.Kind == StageItem && s.lies[it.Stage.Fastener.Index].tight < 0
}

// tightBy: stage i is, or comes after, the first that tightens or holds the fastener.
func (s *State) tightBy(fastener string, i int) bool {
	l := s.liesOf(fastener)
	return l != nil && l.tight >= 0 && i >= l.tight
}

// tightened reports whether any stage that loads the fastener stands confirmed.
func (s *State) tightened(fastener string) bool {
	for _, i := range s.StagesOf(fastener) {
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

// useUp asks for a new piece in place of one that has served.
func (s *State) useUp(c *change, i int, why string) {
	p := *s.pieces[i]
	was := p.Was
	if p.Renewed && p.Number != s.sheetNumber(p) {
		was = p.Number
	}
	s.setPiece(c, i, Renewable{Fastener: p.Fastener, Thread: p.Thread, Part: p.Part, Name: p.Name, Count: p.Count, Needed: true, Number: s.sheetNumber(p), Was: was, Why: why})
}

// sheetNumber is the part number the sheet gives a piece, not what was on its bag.
func (s *State) sheetNumber(p Renewable) string {
	for _, i := range s.piecesOf(s.Owner(p)) {
		if s.Course.pieces[i].Name == p.Name {
			return s.Course.pieces[i].Number
		}
	}
	return ""
}
