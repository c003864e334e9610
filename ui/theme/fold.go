package theme

import (
	"strings"
	"unicode"
)

// folds gives the 7-bit spelling of what the screens write. Lengths differ:
// fold before laying out.
var folds = strings.NewReplacer(
	"·", ".", "°", " deg", "±", "+/-", "×", "x", "µ", "u", "–", "-", "—", "-", "−", "-",
	"≤", "<=", "≥", ">=", "≈", "~", "→", "->", "←", "<-", "↑", "^", "↓", "v", "↻", "(cw)", "↺", "(ccw)",
	"…", "...", "‘", "'", "’", "'", "“", `"`, "”", `"`, "²", "2", "³", "3",
	"✓", "v", "▶", ">", "◆", "N", "◎", "O", "●", "*", "○", "o", "│", "|", "─", "-", "┼", "+",
)

// Text returns text as this terminal can show it: without control
// characters, and folded to 7-bit ones where nothing else may be drawn.
func Text(text string) string { return Clean(text, current.ASCII) }

// Clean is Text for a given kind of terminal. Line breaks stay.
func Clean(text string, ascii bool) string {
	if ascii {
		return Fold(text)
	}
	return strings.Map(func(r rune) rune {
		if r == '\n' || unicode.IsGraphic(r) {
			return r
		}
		return '?'
	}, text)
}

// Fold returns text in printable 7-bit characters and line breaks, with "?"
// for what has no spelling here. A fraction after a digit is set apart:
// "1½ flats" gives "1 1/2 flats".
func Fold(text string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || (r >= ' ' && r < 0x7f) {
			return r
		}
		return '?'
	}, folds.Replace(Fractions(text)))
}

var fractions = strings.NewReplacer("½", "1/2", "¼", "1/4", "¾", "3/4", "⅓", "1/3", "⅔", "2/3", "⅙", "1/6", "⅚", "5/6")

// Fractions spells the one-character fractions with digits, set apart from a
// whole number before them: "1½" gives "1 1/2".
func Fractions(text string) string {
	var out strings.Builder
	digit := false
	for _, r := range text {
		if digit && strings.ContainsRune("½¼¾⅓⅔⅙⅚", r) {
			out.WriteByte(' ')
		}
		out.WriteRune(r)
		digit = r >= '0' && r <= '9'
	}
	return fractions.Replace(out.String())
}
