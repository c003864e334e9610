package report

import (
	"strings"

	"evenpull/spec"
)

// clean makes text from a record safe to show: one line, nothing that moves
// the cursor, hides or reverses text.
func clean(text string) string {
	text = strings.NewReplacer("\r\n", " ", "\n", " ", "\t", " ").Replace(text)
	return spec.Printable(text)
}

// cleanAll is never nil, so that JSON shows an empty list.
func cleanAll(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = clean(t)
	}
	return out
}
