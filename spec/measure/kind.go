package measure

import (
	"math/big"

	"evenpull/spec/quantity"
)

// Kind is a way to measure: what is read, how the result comes of it, and
// what to do when it is out of range.
type Kind struct {
	Name    string
	Inputs  []Input  // what the person reads, in the order they give it
	Needs   []string // keys the procedure must give: pitch_radius …
	Takes   []string // keys it may give besides readings and spread
	Length  bool     // only lengths; otherwise any dimension, that of the limits
	Derived bool     // the result is computed, not read off
	Under   string   // what to do when the result is under the limit
	Over    string   // and over it

	// Compute gives the result of readings that fit the inputs; its verdict
	// follows from them. The error is a *quantity.ParseError.
	Compute func(Setup, Readings) (Result, error)
}

// Input is one figure to read, or several alike.
type Input struct {
	Label    string // what it may be called in a reading: "float 0.32 mm"
	Count    int    // how many of it
	Optional bool   // all of them or none
	Instead  string // given by its label in place of this other input
}

// Readings are what the person gave, all of one dimension.
type Readings struct {
	Unit quantity.Unit // of the first one given; results are in it
	Of   map[string][]quantity.Quantity
}

// exact gives the readings under a label in the common unit.
func (r Readings) exact(label string) []*big.Rat {
	list := make([]*big.Rat, len(r.Of[label]))
	for i, q := range r.Of[label] {
		list[i] = q.Exact(r.Unit)
	}
	return list
}

// Names of the kinds, as a procedure file gives them.
const (
	Direct     = "direct"
	Difference = "difference"
	Float      = "float"
	Valve      = "valve"
	Backlash   = "backlash"
	Gap        = "gap"
	Squish     = "squish"
	Strip      = "strip"
	Spread     = "spread"
)

// kinds is the one table that reading files, screens and help go by. It is set
// in init because its functions look things up in it again.
var kinds []Kind

func init() { kinds = table() }

// table holds the advice too, which is common practice, no source.
func table() []Kind {
	return []Kind{
		{Name: Direct, // the reading
			Inputs: []Input{{Label: "reading"}}, Compute: asRead},
		{Name: Difference, // the first less the second
			Inputs: []Input{{Label: "bore"}, {Label: "journal"}},
			Takes:  []string{"inputs"}, Derived: true,
			Under: "measure both parts again, then choose parts that give more", Over: "measure both parts again, then choose parts that give less", Compute: difference},
		{Name: Float, // end float, and the shim that brings it in: new float = float + shims now − new shims
			Inputs: []Input{{Label: "float"}, {Label: "shim", Optional: true}},
			Takes:  []string{"shim", "wanted"}, Length: true, Under: "fit a thinner shim", Over: "fit a thicker shim", Compute: shimmed("float", true)},
		{Name: Valve, // valve clearance, cam's back on the follower, and the shim that sets it: new shim = shim now + clearance − wanted
			Inputs: []Input{{Label: "clearance"}, {Label: "shim", Optional: true}},
			Takes:  []string{"shim", "wanted"}, Length: true, Under: "fit a thinner shim", Over: "fit a thicker shim", Compute: shimmed("clearance", false)},
		{Name: Backlash, // dial × pitch radius / dial radius
			Inputs: []Input{{Label: "dial"}},
			Needs:  []string{"pitch_radius", "dial_radius"}, Length: true, Derived: true,
			Under: "part the gears a little", Over: "bring the gears closer, or look for wear", Compute: backlash},
		{Name: Gap, // ring gap by feeler: go ≤ gap < no-go; a bore larger by d opens it by π × d
			Inputs: []Input{{Label: "gap"}, {Label: "go", Instead: "gap"}, {Label: "no-go", Instead: "gap"}},
			Length: true, Under: "dress the ring's ends, square, and measure again", Over: "try another ring, then measure the bore", Compute: ringGap},
		{Name: Squish, // by solder, both sides: their mean; tilt is their difference
			Inputs: []Input{{Label: "left"}, {Label: "right"}},
			Takes:  []string{"inputs"}, Length: true, Derived: true,
			Under: "fit a thicker base gasket", Over: "fit a thinner base gasket", Compute: squish},
		{Name: Strip, // what the packet's scale says for the flattened width
			Inputs: []Input{{Label: "place"}}, Length: true,
			Under: "look for dirt behind the shell, then choose a thinner shell", Over: "measure the journal, then choose a thicker shell", Compute: asRead},
		{Name: Spread, // the highest reading less the lowest
			Inputs: []Input{{Label: "reading"}}, Derived: true,
			Under: "measure again", Over: "measure again; if it stays, the part is worn or bent", Compute: spread},
	}
}

// Kinds lists every kind, in the order the manual explains them.
func Kinds() []Kind { return append([]Kind(nil), kinds...) }

// Names lists the names of the kinds.
func Names() []string {
	var list []string
	for _, k := range kinds {
		list = append(list, k.Name)
	}
	return list
}

// Named finds a kind; "" is direct.
func Named(name string) (Kind, bool) {
	if name == "" {
		name = Direct
	}
	for _, k := range kinds {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// MayTake reports whether a key of the procedure file belongs to this kind.
func (k Kind) MayTake(key string) bool {
	for _, list := range [][]string{k.Needs, k.Takes} {
		for _, have := range list {
			if have == key {
				return true
			}
		}
	}
	return false
}
