// Package spec says what a procedure file means: the model, how it is read,
// and every problem in it with its place and a remedy.
//
// Read is the way in. It is pure: bytes in, a procedure and problems out. A
// procedure it returns without errors is complete and consistent, so the
// packages above never have to check it again.
package spec

import (
	"fmt"
	"strings"
	"time"

	"evenpull/spec/bolt"
	"evenpull/spec/ident"
	"evenpull/spec/measure"
	"evenpull/spec/quantity"
)

// Limits on a file, which may come from a stranger.
const (
	MaxFileBytes = 1 << 20 // 1 MiB
	MaxFasteners = 10_000
	MaxPasses    = 200
	MaxStages    = 200_000 // a stage is one fastener in one step of a pass
	maxDepth     = 100     // names in one dotted key
	maxText      = 400     // characters in any one text
	maxProblems  = 200     // reported in one go; the rest are counted
)

// Direction says whether a procedure tightens a joint or takes it apart.
type Direction string

const (
	Close Direction = "close"
	Open  Direction = "open"
	Both  Direction = "both" // of a file alone: a procedure is one or the other
)

// Procedure is a file of format 1, read and checked.
type Procedure struct {
	File      string
	Name      string
	Engine    string
	Direction Direction
	Source    string // empty: figures without a source of their own are unsourced
	Cautions  []string
	Sealant   *Sealant
	Cover     *Cover
	Groups    []*Group
	Fasteners []*Fastener // in file order
	Passes    []*Pass
	Checks    []*Check
	Parts     []*Part
	Callouts  []*Callout
	Verdicts  []Verdict // what was held against the bolt, group by group
	Text      []byte    // the file as read
	// Other is how the same file opens the joint, on the procedure that closes it: set
	// where the file goes both ways and nobody has said which. See Toward.
	Other *Procedure
}

// Toward is the procedure of one direction; an error where its file has not got it.
func (p *Procedure) Toward(way Direction) (*Procedure, error) {
	one := *p
	switch {
	case p.Direction == way:
	case p.Other != nil && p.Other.Direction == way:
		one = *p.Other
	default:
		return nil, fmt.Errorf("%s only goes one way: %s", quote(p.Name), p.Direction)
	}
	one.Other = nil
	return &one, nil
}

// Sealant has a clock: WorkTime from first smear to the last stage of the last
// torque pass, CureTime from then until oil may go in.
type Sealant struct {
	Name     string
	WorkTime time.Duration
	CureTime time.Duration
	Before   *Pass // smeared just before this pass's first stage
}

// Group is a set of like fasteners.
type Group struct {
	ID         string
	Title      string
	Thread     bolt.Thread
	Class      bolt.Class
	HasClass   bool
	Nut        bolt.Nut // its class; zero: not given
	LeftHand   bool
	Friction   Friction
	Into       string
	WireInsert bool   // the hole has a wire thread insert, as long as the engagement
	Light      string // why the figure is light on purpose: a key, or known by its words
	Engagement quantity.Length
	Grip       quantity.Length
	Clamps     string           // what lies under the head, for turns and for heat
	Shank      *quantity.Length // plain shank within the grip, waist and all; nil: not given
	Waist      Waist
	CrossHole  quantity.Length // radial oil hole; 0: none
	Bore       quantity.Length
	Drive      string
	Torque     *TorqueSpan // the sheet's final figure, if it gives one
	OneUse     bool
	With       []Piece
	Prep       string // thread preparation, as the sheet words it
	PrepEach   bool   // the sheet wants it confirmed at every fastener
	Caution    string
	Number     string // part number of the fastener
	Source     string
	LookFor    []string // what to look for on one that has come off
	Condemn    []string // what condemns it
	StrengthN  float64  // proof stress × (stress area − bore area); 0 without a class
	Members    []*Fastener
	Caps       []*Cap // which of them hold one cap together
}

// Cap is a bearing cap, or anything else that several bolts of a group hold together.
type Cap struct {
	Name    string
	Members []*Fastener // in the order the sheet names them
}

// Hollow reports whether the group's bolts are bored through for oil.
func (g *Group) Hollow() bool { return !g.Bore.IsZero() }

// Friction is the state of the threads: a word of the trade or a coefficient.
type Friction struct {
	Word        string  // dry, oiled, moly, threadlock; empty if a number was given
	Coefficient float64 // 0.04 to 0.5; 0 if a word was given
}

// Waist is where a bolt is turned down.
type Waist struct {
	Diameter quantity.Length // 0: none
	Length   quantity.Length // 0: the whole shank
}

// Piece goes on with each fastener of a group.
type Piece struct {
	Part   string
	Count  int
	OneUse bool
	Number string // part number
}

// Fastener is one bolt, nut or stud, at its place on the joint face in mm:
// x right, y up, as seen at the stand.
type Fastener struct {
	ID    string
	Group *Group
	X, Y  float64
	Index int  // in Procedure.Fasteners
	Cap   *Cap // nil: it holds none together with others
}

// Action is what a step does to a fastener.
type Action string

const (
	Torque  Action = "torque"
	Turn    Action = "turn"
	Loosen  Action = "loosen"
	Remove  Action = "remove"
	Verify  Action = "verify"
	Stretch Action = "stretch"
	Wait    Action = "wait"
)

// Actions in the order the manual lists them.
var Actions = []Action{Torque, Turn, Loosen, Remove, Verify, Stretch, Wait}

// Tightens reports whether the action loads the bolt.
func (a Action) Tightens() bool { return a == Torque || a == Turn || a == Stretch }

// Frees reports whether the action takes load off the bolt.
func (a Action) Frees() bool { return a == Loosen || a == Remove }

type (
	TorqueSpan = quantity.Span[quantity.Torque]
	AngleSpan  = quantity.Span[quantity.Angle]
	LengthSpan = quantity.Span[quantity.Length]
)

// Target is the figure of one stage. Which field counts is the action's to say.
type Target struct {
	Torque  TorqueSpan       // torque, verify
	Turn    AngleSpan        // turn, and loosen unless Fully
	Fully   bool             // loosen to nothing
	Stretch LengthSpan       // stretch
	Ceiling *quantity.Torque // stretch: never beyond this torque
	Percent string           // "40 %" when the sheet gave a share of the final figure
}

// Step is one action of a pass, with its target for every group in the pass.
type Step struct {
	Action  Action
	Targets map[*Group]*Target
}

// Target is what the step asks of a group's fasteners; no figures where it has none for them.
func (s Step) Target(g *Group) *Target {
	if t := s.Targets[g]; t != nil {
		return t
	}
	return &noTarget
}

var noTarget Target

// PartsPass is what the one pass of a sheet with parts only is called. Nothing is
// done to fasteners in it.
const PartsPass = "Parts"

// Pass is one round over some fasteners.
type Pass struct {
	Name      string
	Index     int
	Fasteners []*Fastener // in file order
	Steps     []Step      // more than one only for "each"
	Wait      time.Duration
	First     string // weak, strong, or empty when all are alike
	Order     Order
	Because   string
	Source    string
	Caution   string
	Prepare   string // what to do to the threads before this pass
}

// IsWait reports whether the pass is only a time to let go by.
func (p *Pass) IsWait() bool { return p.Steps[0].Action == Wait }

// takes reports whether a group is in the pass: every step then has its figure.
func (p *Pass) takes(g *Group) bool {
	_, ok := p.Steps[0].Targets[g]
	return ok
}

// Tightens reports whether any step of the pass loads a bolt.
func (p *Pass) Tightens() bool {
	for _, s := range p.Steps {
		if s.Action.Tightens() {
			return true
		}
	}
	return false
}

// HollowFirst reports whether hollow fasteners go before the others in a pass: in
// one that leaves its fasteners loose, so that they don't carry the joint alone as
// the others let go. In one that leaves them tight they go last. A pass that moves
// nothing goes as the procedure does.
func (p *Procedure) HollowFirst(pass *Pass) bool {
	for i := len(pass.Steps) - 1; i >= 0; i-- {
		if a := pass.Steps[i].Action; a.Tightens() || a.Frees() {
			return a.Frees()
		}
	}
	return p.Direction == Open
}

// Order is how the fasteners of one block follow each other.
type Order struct {
	Kind      string      // listed, cross, spiral, reverse; empty with a list
	List      []*Fastener // the sheet's own numbered order
	By        string      // cap: the rule orders caps, and the bolts of one follow each other
	Name      string      // of the [order.NAME] it comes from
	Backwards bool        // the rule's order, turned round
}

// ByCap is what an order may go by.
const ByCap = "cap"

// Orders are the named ones.
var Orders = []string{"listed", "cross", "spiral", "reverse"}

// Check is a question or a measurement before or after a pass.
type Check struct {
	Order   int    // place in the file among checks, parts and callouts
	ID      string // unique in the file
	Before  *Pass
	After   *Pass
	Ask     string // a yes-or-no question
	Measure string // what to measure; then at least one of Min and Max is given
	Min     *quantity.Quantity
	Max     *quantity.Quantity
	Remedy  string // what to do when out of range, or when the answer is no
	Caution string
	Source  string
	Shim    *Shim
	// Of is what the check is about: asked again whenever one of these is done
	// again, and for nothing else. Empty: about all that was done before it, and
	// about the fasteners of its pass.
	Of []ident.Thing
	// NoRestarts are the fasteners that start again when the answer is no, or
	// the figure out of range.
	NoRestarts []*Fastener
	How        measure.Setup // how a measurement is taken and worked out; zero for a question
}

// Shim tells how a measured float chooses a shim.
type Shim struct {
	Part  *Part
	Stock []quantity.Length
	Ends  int // 1 or 2: the float is shared by shims at this many ends
}

// Part comes off or goes on, and must be accounted for.
type Part struct {
	Order   int // place in the file among checks, parts and callouts
	ID      string
	Name    string
	Kind    string
	Count   int
	OneUse  bool
	Before  *Pass // accounted for before this pass, or after the other one
	After   *Pass
	Where   string // where it sits, which face out
	Number  string // part number
	Caution string
	LookFor []string
	Condemn []string
	Measure string // what to measure on it at strip-down
	Work    string // work it is sent out for: balancing, coating …
}

// PartKinds are the kinds of part a file may name.
var PartKinds = []string{"washer", "shim", "key", "seal", "o-ring", "circlip", "dowel", "gasket", "tab-washer", "bearing", "other"}

// Callout is something to have ready, or to beware of, before a pass.
type Callout struct {
	Order   int // place in the file among checks, parts and callouts
	ID      string
	Before  *Pass
	Kind    string // tool, heat, spring, press, lift
	Say     string
	Caution string
	To      *quantity.Quantity // heat: the temperature to bring it to; nil: not said
	Within  time.Duration      // heat: the time from hot to what is done next to the joint; 0: any
}

// Heat says to what temperature, and how soon after it what follows has to be done: "to
// 120 °C, then within 30 s"; empty where neither is said.
func (c *Callout) Heat() string {
	var words []string
	if c.To != nil {
		words = append(words, "to "+c.To.String())
	}
	if c.Within > 0 {
		words = append(words, "then within "+Span(c.Within))
	}
	return strings.Join(words, ", ")
}

// Text is what is to be ready, with its heat.
func (c *Callout) Text() string {
	if heat := c.Heat(); heat != "" {
		return strings.TrimRight(c.Say, ".") + ": " + heat
	}
	return c.Say
}

// CalloutKinds are the kinds of callout a file may name.
var CalloutKinds = []string{"tool", "heat", "spring", "press", "lift"}

// Group finds a group by its id, or nil.
func (p *Procedure) Group(id string) *Group {
	for _, g := range p.Groups {
		if g.ID == id {
			return g
		}
	}
	return nil
}

// Fastener finds a fastener by its id, in any case of letters, or nil.
func (p *Procedure) Fastener(id string) *Fastener {
	var folded *Fastener
	for _, f := range p.Fasteners {
		if f.ID == id {
			return f
		}
		if strings.EqualFold(f.ID, id) {
			folded = f
		}
	}
	return folded
}

// Part finds a part by its id or name, or nil.
func (p *Procedure) Part(name string) *Part {
	for _, part := range p.Parts {
		if strings.EqualFold(part.ID, name) || strings.EqualFold(part.Name, name) {
			return part
		}
	}
	return nil
}

// SourceOf says where the figures of a group in a pass come from: the pass's
// own source, the group's, or the file's. Empty means unsourced.
func (p *Procedure) SourceOf(pass *Pass, g *Group) string {
	for _, s := range []string{pass.Source, g.Source, p.Source} {
		if s != "" {
			return s
		}
	}
	return ""
}
