package procedures

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"evenpull/spec"
	"evenpull/spec/near"
)

// unknown says that a name is known neither here nor as a file, and which
// names come near it.
func (l Library) unknown(name string) error {
	const longest = 60
	shown := name
	if utf8.RuneCountInString(shown) > longest {
		shown = string([]rune(shown)[:longest]) + "…"
	}
	names := l.Names()
	advice := "known are: " + strings.Join(names, ", ")
	if near := nearest(name, names); len(near) > 0 {
		advice = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return fmt.Errorf("there is no procedure and no file %q; %s", spec.Printable(shown), advice)
}

// nearest gives the names that are within a few letters of name, else those
// that share a whole word with it, at most three of either.
func nearest(name string, names []string) []string {
	name = strings.ToLower(strings.TrimSpace(name))
	if name == "" || len(name) > 64 {
		return nil
	}
	best := max(2, len(name)/4)
	var close, related []string
	for _, candidate := range names {
		switch d := near.Distance(name, candidate); {
		case d < best:
			best, close = d, []string{candidate}
		case d == best:
			close = append(close, candidate)
		}
		if shareWord(name, candidate) {
			related = append(related, candidate)
		}
	}
	if len(close) == 0 {
		close = related
	}
	return close[:min(3, len(close))]
}

// shareWord reports whether a word of name, parted by anything but letters,
// begins a word of the candidate: "flywheel", "crank case", "head_torque".
func shareWord(name, candidate string) bool {
	for _, word := range strings.FieldsFunc(name, func(r rune) bool { return r < 'a' || r > 'z' }) {
		if len(word) >= 3 && strings.Contains("-"+candidate, "-"+word) {
			return true
		}
	}
	return false
}
