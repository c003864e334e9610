package spec

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"evenpull/spec/near"
)

// Printable makes text from a file safe for a terminal: control, format and
// direction characters become the replacement character.
func Printable(s string) string {
	if plain(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r == '\t' {
			return r
		}
		if !Harmless(r) {
			return utf8.RuneError
		}
		return r
	}, s)
}

// plain is true of what most texts are made of, which costs no look into tables.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c != '\t' && (c < ' ' || c > '~') {
			return false
		}
	}
	return true
}

// Quote shows a piece of the file inside a message: bounded, and harmless on a terminal.
func Quote(s string) string {
	const longest = 60
	if utf8.RuneCountInString(s) > longest {
		s = string([]rune(s)[:longest]) + "…"
	}
	return `"` + Printable(strings.ReplaceAll(s, "\n", " ")) + `"`
}

// Harmless reports whether a character may come from a file to a screen:
// no control characters, no formatting ones (they reverse or hide text).
func Harmless(r rune) bool {
	return r != utf8.RuneError && !unicode.IsControl(r) && !unicode.Is(unicode.Cf, r) && r != '\u2028' && r != '\u2029'
}

// Hint names the nearest name, or the ones there are.
func Hint(word string, names []string, what string) string {
	if n := near.Best(word, names); n != "" {
		return "did you mean " + Quote(n) + "?"
	}
	if len(names) == 0 {
		return "define it first"
	}
	list := names
	if len(list) > 8 {
		list = append(append([]string{}, list[:8]...), "…")
	}
	return what + " in this file: " + Printable(strings.Join(list, ", "))
}

// Slug makes the short id that a part without one of its own gets: its words in
// small letters, joined by hyphens. Records name parts by it, so it stays as it is.
func Slug(words string) string { return ShortID(words, 40, "item") }

// ShortID makes an id of words, "main cap" → "main-cap", that ends once it has so many
// letters; without any it is otherwise.
func ShortID(words string, most int, otherwise string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(words) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= most {
			break
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return otherwise
}
