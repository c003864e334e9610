package spec

import (
	"strings"
	"time"

	"evenpull/spec/ident"
	"evenpull/spec/measure"
	"evenpull/spec/quantity"
)

// Sealant has a clock: WorkTime from first smear to the last stage of the last
// torque pass, CureTime from then until oil may go in.
type Sealant struct {
	Name     string
	WorkTime time.Duration
	CureTime time.Duration
	Before   *Pass // smeared just before this pass's first stage
}

// Cover is the clamped part as a plate on its joint face, for the estimate of
// what one bolt does to its neighbours.
type Cover struct {
	Part      string
	Material  string
	Thickness quantity.Length
	Face      string   // what lies between the faces: metal, sealant film, paper …
	Groups    []*Group // whose bolts hold it; all of the file's when it names none
}

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
