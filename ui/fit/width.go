package fit

import (
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// Width is the number of cells of one line. Characters of one cell that no other joins, and
// what sets a style, are counted here: a frame measures each of its lines several times. Any
// other makes it a question of how characters join.
func Width(s string) int {
	w := 0
	for i := 0; i < len(s); {
		n := 1
		switch c := s[i]; {
		case ' ' <= c && c <= '~':
			w++
		case c == '\x1b':
			if n = style(s[i:]); n == 0 {
				return ansi.StringWidth(s)
			}
		default:
			var r rune
			if r, n = utf8.DecodeRuneInString(s[i:]); !alone(r) {
				return ansi.StringWidth(s)
			}
			w++
		}
		i += n
	}
	return w
}

// style is the length of the sequence that sets a style, at the start of a text; 0 is none.
func style(s string) int {
	if len(s) < 3 || s[1] != '[' {
		return 0
	}
	for i := 2; i < len(s); i++ {
		switch c := s[i]; {
		case c == 'm':
			return i + 1
		case c != ';' && (c < '0' || c > '9'):
			return 0
		}
	}
	return 0
}

// alone reports whether a character takes one cell and stays for itself: letters of western
// languages, and the signs and lines that screens are drawn of.
func alone(r rune) bool {
	switch {
	case r < 0xa1, r == 0xad: // control characters, and the hyphen that is seldom there
		return false
	case r < 0x300:
		return r != 0xa9 && r != 0xae // both can be pictures
	}
	switch r {
	case '–', '—', '‘', '’', '“', '”', '…', '−', '≤', '≥', '≈', '←', '↑', '→', '↓', '↺', '↻', '▶', '●', '○', '◆', '◎', '✓', '█', '░', '▀', '▄':
		return true
	}
	return 0x2500 <= r && r < 0x2580 // box drawing
}
