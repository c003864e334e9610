package sheet

import (
	"fmt"
	"strings"
)

// LineEnd is where the line that holds at ends, before its newline.
func LineEnd(text []byte, at int) int {
	for at < len(text) && text[at] != '\n' {
		at++
	}
	return at
}

// StringEnd gives the end of the TOML string that begins at a quote, if it has one.
func StringEnd(text []byte, at int) (end int, ok bool) {
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

// Text writes a string as a TOML value on one line.
func Text(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}

// Texts writes a list of strings as a TOML value on one line.
func Texts(list []string) string {
	quoted := make([]string, len(list))
	for i, s := range list {
		quoted[i] = Text(s)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}

// Key writes a name as TOML wants it: bare where it can be.
func Key(s string) string {
	for i := range len(s) {
		if !isBare(s[i]) {
			return Text(s)
		}
	}
	if s == "" {
		return `""`
	}
	return s
}
