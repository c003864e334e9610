package keys

import (
	"bytes"
	"os"
	"regexp"
	"unicode/utf8"
)

// Terminal is a terminal's input on which several keys that one read holds are one
// message. A screen that is given key by key what came at once could only tell from
// the second key on, and the first may confirm: the space that a gauge puts before its
// figure, the empty line at the top of a paste.
//
// They are handed on marked as pasted, but for a figure, which is handed on as it is
// without the space before it; the arrows; a key that repeats; and a wish to leave.
type Terminal struct {
	*os.File
	Ended   func() // called once when nothing more can be read: it was hung up
	pasting bool   // between the marks of the terminal's own paste
}

const (
	pasteBegins = "\x1b[200~"
	pasteEnds   = "\x1b[201~"
)

// Read needs room for the marks beside what it reads: at least 16 bytes.
func (t *Terminal) Read(p []byte) (int, error) {
	room := len(p) - len(pasteBegins) - len(pasteEnds) - 1 // never quite full, or more would be waited for
	n, err := t.File.Read(p[:max(1, room)])
	if n <= 0 && t.Ended != nil {
		t.Ended()
		t.Ended = nil
	}
	if n > 1 && room > 0 {
		n = copy(p, t.mark(bytes.Clone(p[:n])))
	}
	return n, err
}

var (
	sequence = regexp.MustCompile(`^(\x1b(\[[0-?]*[ -/]*[@-~]|O[ -~]|[^\[O]))+$`)
	figure   = regexp.MustCompile(`^[ \r\n]*([+-]?[0-9])`)
)

const leaves = "\x03\x1a" // ctrl+c and ctrl+z

// mark gives what is handed on of one read.
func (t *Terminal) mark(b []byte) []byte {
	begins, ends := bytes.LastIndex(b, []byte(pasteBegins)), bytes.LastIndex(b, []byte(pasteEnds))
	if t.pasting || begins >= 0 {
		t.pasting = begins > ends || t.pasting && ends < 0
		return b
	}
	if string(b) == "\r\n" {
		return b[:1] // Enter, as some serial terminals send it
	}
	_, first := utf8.DecodeRune(b)
	switch at := figure.FindSubmatchIndex(b); {
	case at != nil:
		return b[at[2]:]
	case first == len(b), len(bytes.Trim(b, string(b[:1]))) == 0, sequence.Match(b), bytes.ContainsAny(b, leaves):
		return b
	}
	return append(append([]byte(pasteBegins), b...), pasteEnds...)
}
