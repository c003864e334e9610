package walk

import "strings"

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

// Facts of the event that finds a thing no sheet has.
const (
	NewName  = "new"   // what the person calls it
	NewCount = "count" // how many there are, when not one
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
