package spec

// Before a text is decoded: what would cost too much, or needs a second look.

// tooDeep finds the first bracket inside more brackets, or dot in a key of more
// names, than any document of ours has. It reads as far as the text is TOML: a
// slip before that is for the decoder to find.
func tooDeep(text []byte) (at int, deep bool) {
	depth, dots := 0, 0
	for at < len(text) {
		switch c := text[at]; c {
		case '#':
			at = skipLine(text, at)
			continue
		case '"', '\'':
			end, ok := skipString(text, at)
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

func skipLine(text []byte, at int) int {
	for at < len(text) && text[at] != '\n' {
		at++
	}
	return at
}

// skipString gives the end of the string that begins here, if it has one.
func skipString(text []byte, at int) (end int, ok bool) {
	quote := text[at]
	long := at+2 < len(text) && text[at+1] == quote && text[at+2] == quote
	if long {
		at += 2
	}
	for at++; at < len(text); at++ {
		switch c := text[at]; {
		case c == '\\' && quote == '"':
			at++
		case c == '\n' && !long:
			return 0, false
		case c != quote:
		case !long:
			return at + 1, true
		case at+2 < len(text) && text[at+1] == quote && text[at+2] == quote:
			at += 3
			for n := 0; n < 2 && at < len(text) && text[at] == quote; n++ { // """a"" ends in up to five
				at++
			}
			return at, true
		}
	}
	return 0, false
}
