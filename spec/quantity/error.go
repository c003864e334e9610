package quantity

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// ParseError says why a figure could not be read and what to write instead, in the
// form that every error of a file, a record and a walk has: what is wrong, and a remedy.
// Both are safe to print: whatever they repeat of the input is quoted.
type ParseError struct {
	Input  string // as given, cut to the first bytes when far too long
	What   string // "it has no unit"
	Remedy string // "write the unit too, such as 22 N·m"
	NoUnit bool   // a unit is all that is missing
}

// Error is one line: "25": it has no unit; write the unit too, such as 22 N·m.
func (e *ParseError) Error() string {
	return quote(e.Input) + ": " + e.What + "; " + e.Remedy
}

// fault is a ParseError before the input is known.
type fault struct{ what, remedy string }

const unitMissing = "it has no unit"

func (f *fault) of(input string) error {
	return &ParseError{Input: strings.Clone(head(input)), What: f.what, Remedy: f.remedy, NoUnit: f.what == unitMissing}
}

// quote shows text with every control and invisible character escaped.
func quote(s string) string {
	if h := head(s); len(h) < len(s) {
		return strconv.Quote(h + "…")
	}
	return strconv.Quote(s)
}

// head is the part of an input worth repeating.
func head(s string) string {
	if len(s) <= maxInput {
		return s
	}
	cut := maxInput
	for cut > maxInput-utf8.UTFMax && !utf8.RuneStart(s[cut]) {
		cut--
	}
	return s[:cut]
}
