package read

import (
	"strings"

	"evenpull/spec"
)

// shown is the problem with its line of text and, under it, a caret: so a person sees
// in testdata/bad that its place is right.
// Tabs are kept in the margin so that the caret stays under its column.
func shown(p Problem, text []byte) string {
	lines := strings.Split(strings.TrimPrefix(string(text), string(byteOrderMark)), "\n")
	if p.Line < 1 || p.Line > len(lines) {
		return ""
	}
	line := strings.TrimSuffix(lines[p.Line-1], "\r")
	var margin strings.Builder
	for i, r := range []rune(line) {
		if i >= p.Column-1 {
			break
		}
		if r == '\t' {
			margin.WriteRune('\t')
		} else {
			margin.WriteRune(' ')
		}
	}
	return spec.Printable(line) + "\n" + margin.String() + "^"
}
