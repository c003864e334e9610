package bolt

import (
	"fmt"
	"slices"
	"strings"
)

// longestName bounds what is parsed or echoed of a name from a file.
const longestName = 64

// fold makes names comparable: lower case, one space between words.
func fold(name string) string {
	return strings.Join(strings.Fields(strings.ToLower(name)), " ")
}

// quoted shows a name in an error: control characters escaped, long names cut.
func quoted(name string) string {
	if r := []rune(name); len(r) > longestName {
		name = string(r[:longestName]) + "…"
	}
	return fmt.Sprintf("%q", name)
}

// nearest returns up to n of the names, the closest in spelling first.
func nearest(name string, names []string, n int) []string {
	if r := []rune(name); len(r) > longestName {
		name = string(r[:longestName])
	}
	ranked := slices.Clone(names)
	slices.SortStableFunc(ranked, func(a, b string) int {
		return edits(fold(name), fold(a)) - edits(fold(name), fold(b))
	})
	return ranked[:min(n, len(ranked))]
}

// edits counts the single-letter changes between a and b (Levenshtein distance).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// choice joins names for an error: "a", "a or b", "a, b or c".
func choice(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}
