package words

import (
	"slices"
	"strconv"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

var ordinals = []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth"}

// PieceIn takes off the front of what is said of a part which of several it is:
// "3 worn", "third: worn".
func PieceIn(text string, p *spec.Part) (piece, rest string) {
	first, rest, _ := strings.Cut(text, " ")
	if n := numberOf(strings.TrimRight(first, ",:")); p != nil && p.Count > 1 && n >= 1 && n <= p.Count {
		return strconv.Itoa(n), strings.TrimSpace(rest)
	}
	return "", text
}

// numberOf reads "3", "3rd" or "third"; 0 is none.
func numberOf(word string) int {
	low := strings.ToLower(word)
	if i := slices.Index(ordinals, low); i >= 0 {
		return i + 1
	}
	n, err := strconv.Atoi(strings.TrimRight(low, "stndrh"))
	if err != nil {
		return 0
	}
	return n
}

// PieceBefore takes which of several off the front of "third shim worn", "inlet
// cam scored". What is left begins with the thing.
func PieceBefore(text string) (piece, rest string, ok bool) {
	first, rest, ok := strings.Cut(text, " ")
	low := strings.ToLower(first)
	if !ok || slices.Contains(walk.Conditions, low) || slices.Contains(walk.FactKeys, low) || walk.Condemning(low) {
		return "", text, false
	}
	if n := numberOf(first); n > 0 {
		return strconv.Itoa(n), strings.TrimSpace(rest), true
	}
	return first, strings.TrimSpace(rest), true
}
