package markup

import (
	"encoding/base64"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// escaped writes a text so that it is one in an element as well as in the quotes of a
// value, of HTML and of XML.
func (p *Page) escaped(text string) {
	from := 0
	for i, r := range text {
		var instead string
		switch {
		case r == '<':
			instead = "&lt;"
		case r == '>':
			instead = "&gt;"
		case r == '&':
			instead = "&amp;"
		case r == '"':
			instead = "&#34;"
		case r == '\'':
			instead = "&#39;"
		case r == '+':
			instead = "&#43;" // or a reader that guesses might guess UTF-7
		case !shown(r):
			instead = string(utf8.RuneError)
		default:
			continue
		}
		_, _ = p.out.WriteString(text[from:i])
		_, _ = p.out.WriteString(instead)
		_, n := utf8.DecodeRuneInString(text[i:])
		from = i + n
	}
	_, _ = p.out.WriteString(text[from:])
}

// shown reports whether a character may stand in a document: XML has no control
// characters, and what is no UTF-8 is read as RuneError.
func shown(r rune) bool {
	return r == '\n' || r == '\t' || r != utf8.RuneError && !unicode.IsControl(r) && r&0xfffe != 0xfffe
}

// quoted writes a text so that it stays in the quotes of a style.
func quoted(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r < ' ' || !shown(r):
			b.WriteRune(utf8.RuneError)
		case r < utf8.RuneSelf && !plainWord(string(r)) && !strings.ContainsRune(" ,._-", r):
			fmt.Fprintf(&b, `\%x `, r) // the blank ends the number
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// plainWord reports whether a text is of ASCII letters and digits alone.
func plainWord(text string) bool {
	for _, r := range text {
		if (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && (r < '0' || r > '9') {
			return false
		}
	}
	return text != ""
}

// Picture is an image that a page holds in itself.
type Picture struct {
	mime string
	data []byte
}

// PictureOf is an image; false when there is none, or its kind is not one of those a
// camera or a scanner makes: a drawing can hold scripts.
func PictureOf(kind string, data []byte) (Picture, bool) {
	switch kind {
	case "jpg":
		kind = "jpeg"
	case "png", "gif", "webp":
	default:
		return Picture{}, false
	}
	return Picture{"image/" + kind, data}, len(data) > 0
}

// write gives the picture as an address that leads nowhere but into itself.
func (pic Picture) write(p *Page) {
	p.escaped("data:" + pic.mime + ";base64,")
	const piece = 3 << 10 // whole letters of base64, and no second copy of the picture
	for rest := pic.data; len(rest) > 0; rest = rest[min(piece, len(rest)):] {
		p.escaped(base64.StdEncoding.EncodeToString(rest[:min(piece, len(rest))]))
	}
}
