package read

import (
	"strings"
	"testing"
)

// What is too deep is found before it is decoded, and what only looks so, in
// texts and comments, is not taken for it.
func TestTooDeepIsFoundWhereItStands(t *testing.T) {
	open, close := strings.Repeat("[", maxDepth), strings.Repeat("]", maxDepth)
	names := strings.Repeat("a.", maxDepth-1) + "a"
	for _, c := range []struct {
		name, text string
		at         int
		deep       bool
	}{
		{"as deep as may be", "a=" + open + close, 0, false},
		{"one deeper", "a=" + open + "[" + close + "]", 2 + maxDepth, true},
		{"one after another", "a=[" + strings.Repeat("[],", 200) + "]", 0, false},
		{"closed more than opened", "a=" + close + open, 0, false},
		{"braces and brackets", "a=" + strings.Repeat("{a=[", maxDepth/2) + "[", 2 + 4*maxDepth/2, true},
		{"as many names as may be", names + " = 1.5\n" + names + "=1.5", 0, false},
		{"as many in a header", "[" + names + "]\n[" + names + "]", 0, false},
		{"as many in braces", "a={" + names + "=1.5," + names + "=2.5}", 0, false},
		{"one name more", names + ".a = 1", 2*maxDepth - 1, true},
		{"in a comment, the last line", "a=1 # " + open + open + names + names, 0, false},
		{"after a comment", "# [\na=" + open + "[", 6 + maxDepth, true},
		{"in a text", `a = "` + open + open + `"`, 0, false},
		{"in a text after a quote", `a = "\"` + open + open + `"`, 0, false},
		{"in a plain text after a stroke", `a = ['\', ` + open, 10 + maxDepth - 1, true},
		{"after an empty text", "a = [" + `"", ''` + open, 11 + maxDepth - 1, true},
		{"in a long text", "a = \"\"\"\n" + open + "\"\"\\\"\"\"\\\"" + open + "\"\"\"", 0, false},
		{"in a long plain text", "a = '''\n" + open + "''" + open + "'''", 0, false},
		{"after an empty long text", `a = [""""""` + open, 11 + maxDepth - 1, true},
		{"after a long text that ends in quotes", `a = ["""b"""""` + open, 14 + maxDepth - 1, true},
		{"in a text that does not end", "a = \"\n" + open + open, 0, false},
		{"in a long text that does not end", `a = """` + open + open, 0, false},
		{"in a text cut off", `a = "` + open + open, 0, false},
	} {
		if at, deep := tooDeep([]byte(c.text)); deep != c.deep || at != c.at {
			t.Errorf("%s: %v at %d, want %v at %d", c.name, deep, at, c.deep, c.at)
		}
	}
}

func TestInlineTablesAreSeen(t *testing.T) {
	for text, want := range map[string]bool{"a = {}": true, "a=\t{": true, "a = [{}]": false, "a = 1 # {": false, "a =": false, "a = \n{": false, "": false} {
		if got := hasInlineTable([]byte(text)); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}
