package walk

import (
	"slices"
	"strings"
	"unicode"
)

// Facts is what is known of a thing that came off, by the keys below.
type Facts map[string]string

// Keys of Facts. Values are the person's own words, but for the condition.
const (
	Condition = "condition" // one of Conditions, or in the person's words
	Again     = "again"     // whether it is to be used again: yes or no
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
var FactKeys = []string{Condition, Again, Size, Where, Face, Box, Bag, Goes, Inside}

// Conditions something can be found in; the ones from Pitted on condemn it
// unless the person says that it goes back all the same.
var Conditions = []string{"good", "worn", "pitted", "rounded", "stretched", "scored", "burnt", "stripped", "missing"}

// condemning are further words that leave open whether a thing goes in again: it is asked.
var condemning = []string{"cracked", "crack", "cracks", "bent", "chipped", "blued", "broken", "snapped", "sheared", "seized", "galled", "corroded", "rusted", "rusty",
	"eroded", "dented", "burred", "torn", "perished", "hardened", "warped", "twisted", "flattened", "fretted", "spalled", "flaking", "melted", "split", "oval", "holed"}

// Condemning reports whether words speak of what usually condemns a thing: one of
// these, not right behind a "not" or a "no".
func Condemning(text string) bool {
	said := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
	for i, word := range said {
		spared := i > 0 && slices.Contains([]string{"not", "no", "never", "without"}, said[i-1])
		if !spared && (slices.Contains(condemning, word) || slices.Contains(Conditions[firstCondemned:], word)) {
			return true
		}
	}
	return false
}

// firstCondemned of Conditions: Pitted.
const firstCondemned = 2

// AsksAgain: whether a thing in this condition is to be used again has not been said.
func (f Facts) AsksAgain() bool {
	c := f[Condition]
	return !slices.Contains(Conditions, c) && Condemning(c) && f[Again] == "" && f[Goes] == ""
}

// Condemned reports whether a condition means that a new one is needed.
func (f Facts) Condemned() bool {
	switch {
	case f[Again] != "":
		return f[Again] == "no"
	case f[Condition] == "missing" || f[Goes] == "replace":
		return true
	case f[Goes] != "":
		return false
	}
	return Condemning(f[Condition])
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
		case v == "", key == Inside && v != "yes":
		case key == Inside:
			words = append(words, "may be in the engine")
		case key == Again && v == "no":
			words = append(words, "not to be used again")
		case key == Again:
			words = append(words, "to be used again")
		case key == Box, key == Bag, key == Goes:
			words = append(words, key+" "+v)
		default:
			words = append(words, v)
		}
	}
	return strings.Join(words, ", ")
}
