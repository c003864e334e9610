package procedures

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"evenpull/spec"
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
	var near, related []string
	for _, candidate := range names {
		switch d := letters(name, strings.ToLower(candidate)); {
		case d < best:
			best, near = d, []string{candidate}
		case d == best:
			near = append(near, candidate)
		}
		if shareWord(name, candidate) {
			related = append(related, candidate)
		}
	}
	if len(near) == 0 {
		near = related
	}
	return near[:min(3, len(near))]
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

// letters counts those to insert, drop or change to make a into b.
func letters(a, b string) int {
	from, to := []rune(a), []rune(b)
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range from {
		diagonal := row[0]
		row[0] = i + 1
		for j, s := range to {
			change := diagonal
			if r != s {
				change++
			}
			diagonal, row[j+1] = row[j+1], min(row[j+1]+1, row[j]+1, change)
		}
	}
	return row[len(to)]
}
