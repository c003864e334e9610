package spec

import (
	"time"

	"evenpull/spec/quantity"
)

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

// Takes reports whether a group is in the pass: every step then has its figure.
func (p *Pass) Takes(g *Group) bool {
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

// Groups are those that the pass has fasteners of, in file order.
func (p *Pass) Groups() []*Group {
	var list []*Group
	seen := map[*Group]bool{}
	for _, f := range p.Fasteners {
		if !seen[f.Group] {
			seen[f.Group] = true
			list = append(list, f.Group)
		}
	}
	return list
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
