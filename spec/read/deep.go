package read

import "evenpull/spec/sheet"

// Before a text is decoded: what would cost too much, or needs a second look.

// tooDeep finds the first bracket inside more brackets, or dot in a key of more
// names, than any document of ours has. It reads as far as the text is TOML: a
// slip before that is for the decoder to find.
func tooDeep(text []byte) (at int, deep bool) {
	depth, dots := 0, 0
	for at < len(text) {
		switch c := text[at]; c {
		case '#':
			at = sheet.LineEnd(text, at)
			continue
		case '"', '\'':
			end, ok := sheet.StringEnd(text, at)
			if !ok {
				return 0, false
			}
			at = end
			continue
		case '[', '{':
			depth++
			dots = 0
		case ']', '}':
			depth = max(0, depth-1)
			dots = 0
		case '.':
			dots++
		case '=', ',', '\n':
			dots = 0
		}
		if depth > maxDepth || dots >= maxDepth {
			return at, true
		}
		at++
	}
	return 0, false
}

// hasInlineTable reports whether a key may have a table in braces: in a text
// that only looks so, it says yes as well.
func hasInlineTable(text []byte) bool {
	for at, c := range text {
		if c != '=' {
			continue
		}
		for at++; at < len(text) && (text[at] == ' ' || text[at] == '\t'); at++ {
		}
		if at < len(text) && text[at] == '{' {
			return true
		}
	}
	return false
}
