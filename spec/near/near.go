// Package near finds the name somebody probably meant.
package near

import (
	"slices"
	"strings"
)

// longest is how much of a word is looked at, in characters; no name here is longer.
const longest = 64

// Distance counts the letters to insert, drop or change to make one word of
// the other (Levenshtein), whatever their case.
func Distance(a, b string) int {
	from, to := letters(a), letters(b)
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

func letters(s string) []rune {
	r := []rune(strings.ToLower(strings.TrimSpace(s)))
	return r[:min(len(r), longest)]
}

// Best is the closest of the names, or "" if none is close: within a third of
// the word's letters, but always within two. Of equals it is the first.
func Best(word string, names []string) string {
	size := len(letters(word))
	best, within := "", min(max(2, size/3)+1, size) // something of it has to be right
	for _, n := range names {
		if strings.EqualFold(n, word) {
			return n
		}
		if d := Distance(word, n); d < within {
			best, within = n, d
		}
	}
	return best
}

// Ranked gives at most n of the names, closest first; equals keep their order.
func Ranked(word string, names []string, n int) []string {
	far := make(map[string]int, len(names))
	for _, name := range names {
		far[name] = Distance(word, name)
	}
	ranked := slices.Clone(names)
	slices.SortStableFunc(ranked, func(a, b string) int { return far[a] - far[b] })
	return ranked[:min(n, len(ranked))]
}
