package walk

import (
	"time"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/ident"
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
	Seq     int // of the event that closed or answered it; 0: none has
	At      time.Time
	Reading string
	Answer  string
	Facts   map[string]string
	Fault   string // closed as a finding: what was found
}

// Deviation is anything a later reader should know went other than straight.
type Deviation struct {
	Seq  int
	At   time.Time
	Text string
}

// State is the fold of a walk's events. Only Apply changes it.
type State struct {
	*Course
	Phase      Phase
	Events     []Event // all so far; none once it has been told to Forget them
	Deviations []Deviation

	soFar

	rules   int     // what holds from here on
	begun   *Course // as the sheet it was begun by lays it out
	past    []past  // what it went by before its sheet was edited, oldest first
	sheet   *Course // as the sheet lays it out, without what the engine brings
	faults  []asked // findings that this walk has to answer, in the order they were brought
	fresh   []fresh // things no sheet has, found in this walk
	inUse   map[string]bool
	marks   []*Mark               // of each item; never changed, only put in place of each other
	pieces  []*Renewable          // the same: what is not changed is the course's own
	strays  map[ident.Thing][]int // pieces of things the procedure has no place for
	next    int                   // no open item lies before this
	history []change              // what undo can take back, oldest first

	late Deviation // the last act that came too late after its heat

	hand hand // what the wrench is set to and what is on it

	sealHeld   time.Time // when everything under the sealant's clock was confirmed, in time; zero: not yet
	sinceSmear time.Time // the latest time of any event since the first smear, whatever the clock did after

	said   map[topic][]int // indexes of the events that say something of it
	struck map[int]bool    // indexes of the events that were taken back

	found   map[ident.Thing]Facts
	each    map[ident.Thing][]PieceFound // of the single ones of a part
	carried map[ident.Thing]*thing       // what the engine brought
	order   []ident.Thing                // of carried
	loosed  map[ident.Thing]string       // fasteners another walk has loosened since: its record, and when
	cased   map[ident.Thing]string       // threads in the case found stripped: the record that says so

	stripped map[ident.Thing]bool // threads in the case found stripped in this walk, on the way apart
}

// New is the state before the first event of a new walk.
func New(p *plan.Plan) *State { return CourseOf(p, Rules).Start() }

// Start is the state before the first event of a walk.
func (c *Course) Start() *State {
	s := &State{Course: c, begun: c, sheet: c, Phase: IsOpen, rules: c.rules}
	s.marks = c.unmarked()
	s.pieces = c.unchanged()
	s.skip()
	return s
}

// lenient: the first rules hold here, which let more go by.
func (s *State) lenient() bool { return s.rules < strictRules }

// finds: what is wrong on the way apart is a finding, and holds nothing up.
func (s *State) finds() bool {
	return s.rules >= findRules && s.Plan.Procedure.Direction == spec.Open
}

// answers: this walk is asked what its engine's strip-downs left open.
func (s *State) answers() bool {
	return s.rules >= findRules && s.Plan.Procedure.Direction == spec.Close
}

// Rules is which rules events from here on are judged by.
func (s *State) Rules() int { return s.rules }

// Mark gives what is known of item i.
func (s *State) Mark(i int) Mark { return *s.marks[i] }

// Current is the index of the first open item, or len(Items) when none is.
func (s *State) Current() int { return s.next }

// CurrentItem is the item to do now, or nil when all are closed.
func (s *State) CurrentItem() *Item {
	if s.next == len(s.Items) {
		return nil
	}
	return &s.Items[s.next]
}

// change is what one event did, so that undo can put it back: marks as they were,
// newest last, and what few change besides. A large sheet has hundreds of thousands.
type change struct {
	event int // index of the event
	did   step
	marks []markWas
	rest  *changed
}

// changed is what most events leave as it is: pieces, and what is kept elsewhere.
type changed struct {
	pieces  []pieceWas
	restore []func()
	final   string // why it cannot be taken back; empty: it can
}

func (c *change) besides() *changed {
	if c.rest == nil {
		c.rest = &changed{}
	}
	return c.rest
}

// onUndo keeps how to put back what is no mark and no piece.
func (c *change) onUndo(restore func()) {
	c.besides().restore = append(c.besides().restore, restore)
}

// final is why it cannot be taken back; empty: it can.
func (c *change) final() string {
	if c.rest == nil {
		return ""
	}
	return c.rest.final
}

type markWas struct {
	at   int
	mark *Mark
}

type pieceWas struct {
	at    int
	piece *Renewable
}

func (s *State) setMark(c *change, i int, m Mark) {
	c.marks = append(c.marks, markWas{i, s.marks[i]})
	s.put(i, &m)
}

// reopen asks for an item again, if it stands closed.
func (s *State) reopen(c *change, i int) {
	if i >= 0 && s.marks[i].Closed {
		s.setMark(c, i, Mark{})
	}
}

// put writes a mark and keeps next right.
func (s *State) put(i int, m *Mark) {
	s.marks[i] = m
	if !m.Closed {
		s.next = min(s.next, i)
	}
	s.skip()
}

// skip goes on to the first open item.
func (s *State) skip() {
	for s.next < len(s.Items) && s.marks[s.next].Closed {
		s.next++
	}
}

func (s *State) setPiece(c *change, i int, p Renewable) {
	c.besides().pieces = append(c.besides().pieces, pieceWas{i, s.pieces[i]})
	s.pieces[i] = &p
}
