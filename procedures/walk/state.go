package walk

import (
	"time"

	"evenpull/procedures/plan"
	"evenpull/spec"
)

// Phase says where a walk stands as a whole.
type Phase string

const (
	IsOpen    Phase = "open"
	IsDone    Phase = "done"
	IsStopped Phase = "stopped"
)

// Mark is what is known of one agenda item.
type Mark struct {
	Closed  bool
	At      time.Time
	Reading string
	Answer  string
	Facts   map[string]string
}

// Piece is something that must be new before done: a one-use fastener or
// washer, a one-use part, or a fastener that gave trouble.
type Piece struct {
	Fastener  string // empty for a part
	Part      string // a part's id; empty for a fastener's piece
	Name      string
	Count     int
	Needed    bool // must be new before done
	Condemned bool // needed only because an earlier walk found it so
	Renewed   bool
	Number    string // part or batch number
	At        time.Time
	Late      bool   // recorded only after a stage of its fastener was confirmed
	Why       string // why a new one is needed: one-use, angle lost …
}

// Deviation is anything a later reader should know went other than straight.
type Deviation struct {
	Seq  int
	At   time.Time
	Text string
}

// State is the fold of a walk's events. Only Apply changes it.
type State struct {
	Plan       *plan.Plan
	Items      []Item
	Phase      Phase
	Events     []Event
	Deviations []Deviation

	marks    []Mark
	pieces   []Piece
	at       map[string]int   // item key → index
	stagesOf map[string][]int // fastener → its stage items
	piecesOf map[string][]int // fastener or part:ID → its pieces
	next     int              // no open item lies before this
	open     int              // number of open items
	history  []change         // what undo can take back, oldest first
	sealHeld time.Time        // when everything under the sealant's clock was confirmed, in time; zero: not yet
	sealEnd  int              // index of the last item inside the sealant's clock
	byID     map[string]*spec.Fastener

	found   map[string]Facts  // by fastener or part:ID
	carried map[string]*thing // what the engine brought, by fastener or part:ID
	order   []string          // of carried
}

// New is the state before the first event.
func New(p *plan.Plan) *State {
	s := &State{Plan: p, Items: agenda(p), Phase: IsOpen, at: map[string]int{}, stagesOf: map[string][]int{}, piecesOf: map[string][]int{}, byID: map[string]*spec.Fastener{}, found: map[string]Facts{}, carried: map[string]*thing{}}
	s.marks = make([]Mark, len(s.Items))
	s.open = len(s.Items)
	for i, it := range s.Items {
		s.at[it.Key] = i
		if it.Kind == StageItem {
			s.stagesOf[it.Stage.Fastener.ID] = append(s.stagesOf[it.Stage.Fastener.ID], i)
		}
	}
	for _, f := range p.Procedure.Fasteners {
		s.byID[f.ID] = f
	}
	s.listPieces()
	s.sealEnd = s.endOfSealing()
	return s
}

// itself is how a fastener is called among its own pieces.
const itself = "fastener"

func (s *State) listPieces() {
	proc := s.Plan.Procedure
	if proc.Direction != spec.Close {
		return // nothing is renewed on the way apart; it goes on the list to order
	}
	for _, f := range proc.Fasteners {
		if len(s.stagesOf[f.ID]) == 0 {
			continue
		}
		s.addPiece(f.ID, Piece{Fastener: f.ID, Name: itself, Count: 1, Needed: f.Group.OneUse, Number: f.Group.Number, Why: "one-use"})
		for _, w := range f.Group.With {
			if w.OneUse {
				s.addPiece(f.ID, Piece{Fastener: f.ID, Name: w.Part, Count: w.Count, Needed: true, Number: w.Number, Why: "one-use"})
			}
		}
	}
	for _, part := range proc.Parts {
		if part.OneUse {
			s.addPiece("part:"+part.ID, Piece{Part: part.ID, Name: part.Name, Count: part.Count, Needed: true, Number: part.Number, Why: "one-use"})
		}
	}
}

func (s *State) addPiece(owner string, p Piece) {
	s.piecesOf[owner] = append(s.piecesOf[owner], len(s.pieces))
	s.pieces = append(s.pieces, p)
}

// Mark gives what is known of item i.
func (s *State) Mark(i int) Mark { return s.marks[i] }

// Current is the index of the first open item, or len(Items) when none is.
func (s *State) Current() int { return s.next }

// CurrentItem is the item to do now, or nil when all are closed.
func (s *State) CurrentItem() *Item {
	if s.next == len(s.Items) {
		return nil
	}
	return &s.Items[s.next]
}

// Find gives the index of an item by its key.
func (s *State) Find(key string) (int, bool) {
	i, ok := s.at[key]
	return i, ok
}

// StagesOf gives the indexes of a fastener's stages, in order.
func (s *State) StagesOf(fastener string) []int { return s.stagesOf[fastener] }

// OpenItems counts what is not closed yet.
func (s *State) OpenItems() int { return s.open }

// Pieces lists everything that must be new, with what is known of it.
func (s *State) Pieces() []Piece {
	var list []Piece
	for _, p := range s.pieces {
		if p.Needed {
			list = append(list, p)
		}
	}
	return list
}

// Due lists the pieces of a fastener, or of a part by "part:ID", that must be
// new and are not.
func (s *State) Due(owner string) []Piece {
	var list []Piece
	for _, i := range s.piecesOf[owner] {
		if p := s.pieces[i]; p.Needed && !p.Renewed {
			list = append(list, p)
		}
	}
	return list
}

// DueNow lists the pieces due at the current item.
func (s *State) DueNow() []Piece {
	it := s.CurrentItem()
	switch {
	case it == nil:
		return nil
	case it.Kind == StageItem:
		return s.Due(it.Stage.Fastener.ID)
	case it.Kind == PartItem:
		return s.Due(it.Key)
	}
	return nil
}

// LastAt is the time of the last event, zero before the first.
func (s *State) LastAt() time.Time {
	if len(s.Events) == 0 {
		return time.Time{}
	}
	return s.Events[len(s.Events)-1].At
}

// change is what one event did, so that undo can put it back.
type change struct {
	text    string
	marks   map[int]Mark
	pieces  map[int]Piece
	restore []func() // for what is kept in maps
}

func (s *State) setMark(c *change, i int, m Mark) {
	if _, saved := c.marks[i]; !saved {
		c.marks[i] = s.marks[i]
	}
	s.put(i, m)
}

// put writes a mark and keeps next and open right.
func (s *State) put(i int, m Mark) {
	was := s.marks[i].Closed
	s.marks[i] = m
	if m.Closed && !was {
		s.open--
	} else if !m.Closed && was {
		s.open++
		s.next = min(s.next, i)
	}
	for s.next < len(s.Items) && s.marks[s.next].Closed {
		s.next++
	}
}

func (s *State) setPiece(c *change, i int, p Piece) {
	if _, saved := c.pieces[i]; !saved {
		c.pieces[i] = s.pieces[i]
	}
	s.pieces[i] = p
}

// restart sends a fastener back to its first stage. Its one-use pieces have
// been used up; with replace, the fastener itself too. Waits and checks made
// after its first stage were made on a joint that no longer is.
func (s *State) restart(c *change, fastener string, replace bool, why string) {
	stages := s.stagesOf[fastener]
	for _, i := range stages {
		if s.marks[i].Closed {
			s.setMark(c, i, Mark{})
		}
	}
	for i := max(0, stages[0]-1); i < len(s.Items); i++ { // its own threads are made ready just before
		it := s.Items[i]
		since := i > stages[0] && (it.Kind == WaitItem || it.Check != nil && it.Check.After != nil)
		if (since || it.prepares(fastener)) && s.marks[i].Closed {
			s.setMark(c, i, Mark{})
		}
	}
	for _, i := range s.piecesOf[fastener] {
		p := s.pieces[i]
		if p.Needed || replace && p.Name == itself {
			s.setPiece(c, i, Piece{Fastener: p.Fastener, Name: p.Name, Count: p.Count, Needed: true, Why: why})
		}
	}
}

// endOfSealing is the last stage inside the sealant's clock: of the last
// tightening pass after the smear, up to the first wait, if there is one.
func (s *State) endOfSealing() int {
	start, ok := s.at["sealant"]
	if !ok {
		return -1
	}
	end := start
	for i := start; i < len(s.Items); i++ {
		it := s.Items[i]
		if it.Kind == WaitItem {
			break
		}
		if it.Kind == StageItem && it.Stage.Action.Tightens() {
			end = i
		}
	}
	return end
}
