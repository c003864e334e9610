package entry

import (
	"slices"
	"strings"
	"unicode"

	"evenpull/spec/pattern"
	"evenpull/spec/quantity"
)

// Like lists the units of one kind, beginning with the one given.
func Like(u quantity.Unit) []quantity.Unit {
	list := []quantity.Unit{u}
	for _, other := range quantity.Units(u.Dimension()) {
		if other != u {
			list = append(list, other)
		}
	}
	return list
}

var figure = pattern.Of(`^[+-]?[0-9.,/ +-]*[0-9.,]`)

// WithNext gives the last figure of a text the unit that follows, in a list of units,
// on the one it has; the first where it has none of them. What is no figure with a unit
// is left as it stands, and the unit is set behind it.
func WithNext(text string, list []quantity.Unit) string {
	text = strings.TrimSpace(text)
	if at := strings.LastIndex(text, ";"); at >= 0 { // of several figures the last
		return text[:at+1] + " " + WithNext(text[at+1:], list)
	}
	next := list[0]
	if q, err := quantity.ParseAny(text); err == nil {
		next = list[(slices.Index(list, q.Unit())+1)%len(list)]
		text = figure.RE().FindString(text)
	} else if s, err := quantity.ParseAnySpan(text); err == nil { // "37-43 N·m": its unit stands at the end
		next = list[(slices.Index(list, s.Unit())+1)%len(list)]
		bare := strings.TrimRightFunc(text, func(r rune) bool { return !unicode.IsNumber(r) })
		if _, err := quantity.ParseAnySpan(bare + " " + next.Symbol()); err != nil {
			return text
		}
		text = bare
	}
	if next == quantity.Degree {
		return text + next.Symbol()
	}
	return text + " " + next.Symbol()
}
