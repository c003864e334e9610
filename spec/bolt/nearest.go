package bolt

import (
	"fmt"
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

// choice joins names for an error: "a", "a or b", "a, b or c".
func choice(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}
