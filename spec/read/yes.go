package read

import (
	"slices"
	"strings"
)

// What the words of a question tell of a yes to it. English only, and from common
// use, no source: a question in other words is never doubted.
const (
	// faults are what nobody wants to find: as something, or as a state.
	faults wordList = "crack cracks leak leaks damage wear rust corrosion burr burrs nick nicks scratch scratches score scores dent dents debris swarf play wobble pitting scoring fretting"
	states wordList = "cracked leaking damaged worn rusty rusted corroded burred nicked scratched scored dented broken bent seized missing torn split chipped warped distorted stripped pitted scuffed burnt blocked clogged contaminated dirty frayed perished sticking binding rubbing noisy"
	// denied takes a fault back.
	denied wordList = "no not none nothing never without free clear neither nor isn't aren't doesn't don't hasn't haven't wasn't weren't beyond within under below"
	// handled says that something was done about it, or it was looked at.
	handled wordList = "removed cleaned repaired replaced renewed dressed polished filed gone off out away aside checked measured noted marked written recorded scrapped thrown looked inspected passed known mended chased blown washed wiped same alike even acceptable ok okay right good even"
	// perceived only says that the fault was seen.
	perceived wordList = "found seen felt heard visible present noticed there anywhere left showing"
	asks      wordList = "is are was were does do did has have had can could"
	leads     wordList = "on in at of from round around along between to by near under over behind inside through when"
)

// wordList is words with a blank between.
type wordList string

func (l wordList) has(word string) bool {
	for w := range strings.FieldsSeq(string(l)) {
		if w == word {
			return true
		}
	}
	return false
}

// yesIsBad reports whether a yes to a question would be bad news: "Any cracks?", "Is
// it worn?", "Seal leaking?". Confirming at the stand says yes.
func yesIsBad(question string) bool {
	return slices.ContainsFunc(strings.FieldsFunc(strings.ToLower(question), func(r rune) bool { return strings.ContainsRune(",;:?!.()", r) }), clauseIsBad)
}

// clauseIsBad judges one clause: a fault in it that is neither denied nor handled,
// asked for with "any" or a verb, or standing where the answer goes.
func clauseIsBad(clause string) bool {
	said := strings.Fields(clause)
	if len(said) == 0 || slices.ContainsFunc(said, denied.has) {
		return false
	}
	state := slices.IndexFunc(said, states.has)
	at := state
	if at < 0 {
		at = slices.IndexFunc(said, faults.has)
	}
	if at < 0 || slices.ContainsFunc(said[at+1:], handled.has) {
		return false
	}
	after := said[at+1:]
	ends := len(after) == 0 || len(after) == 1 && perceived.has(after[0]) || len(after) > 1 && after[0] == "or"
	led := len(after) > 0 && leads.has(after[0])
	switch {
	case strings.HasPrefix(said[0], "any"), slices.Contains(said[:at], "any"):
		return ends || led || perceived.has(after[0])
	case asks.has(said[0]):
		return ends || led
	}
	return ends || led && state >= 0
}
