package keys

import (
	"bytes"
	"fmt"
	"os"
	"reflect"
	"strconv"
	"sync"
	"time"
	"unicode/utf8"

	"evenpull/spec/pattern"
)

// Terminal is a terminal's input on which several keys that one read holds are one
// message. A screen that is given key by key what came at once could only tell from
// the second key on, and the first may confirm: the space that a gauge puts before its
// figure, the empty line at the top of a paste.
//
// They are handed on marked as pasted, but for a figure, which is handed on as it is
// without the space before it; the arrows; a key that repeats,
// unless it confirms; and a wish to leave.
//
// Each read is stamped in the stream itself, so that a key is known by when it was
// read, however long the program stands still before it comes to it.
type Terminal struct {
	*os.File
	Now     func() time.Time
	Ended   func() // called once when nothing more can be read: it was hung up
	pasting bool   // between the marks of the terminal's own paste
	reads   int    // how many were stamped

	mu      sync.Mutex
	stamps  [stamps]time.Time // when the last of them were
	current time.Time         // when the key in hand was read
}

// stamps is how many reads are remembered. Bubble Tea hands on all of one read before it
// asks for the next, so that two would do.
const stamps = 8

const (
	pasteBegins = "\x1b[200~"
	pasteEnds   = "\x1b[201~"
)

// Read needs room for the marks beside what it reads: at least 64 bytes.
func (t *Terminal) Read(p []byte) (int, error) {
	room := len(p) - len(pasteBegins) - len(pasteEnds) - len(stamp(0)) - 1 // never quite full, or more would be waited for
	n, err := t.File.Read(p[:max(1, room)])
	if n <= 0 && t.Ended != nil {
		t.Ended()
		t.Ended = nil
	}
	if n <= 0 || room <= 0 {
		return n, err
	}
	at := t.Now()
	for more := 1; more > 0 && n < room && waiting(t.File); n += more { // the program stood still, or it comes in pieces
		more, _ = t.File.Read(p[n:room])
		at = t.Now()
	}
	whole := t.pasting // then a stamp would be pasted with it
	b := bytes.Clone(p[:n])
	if n > 1 {
		b = t.mark(b)
	}
	if !whole {
		b = append(t.stamped(at), b...)
	}
	return copy(p, b), err
}

// stamp is what tells a read from the one before: a control sequence that no terminal
// sends, of one length.
func stamp(read int) []byte { return fmt.Appendf(nil, "\x1b[=%08d~", read%1e8) }

var stampOf = pattern.Of(`^\x1b\[=(\d{8})~$`)

// stamped notes when a read came.
func (t *Terminal) stamped(at time.Time) []byte {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.reads++
	t.stamps[t.reads%stamps] = at
	return stamp(t.reads)
}

// Stamp takes a stamp out of the messages of the program, in whose turn it has to be
// called for each of them, and reports whether it was one.
func (t *Terminal) Stamp(msg any) bool {
	v := reflect.ValueOf(msg) // Bubble Tea's type for an unknown sequence has no name outside
	if v.Kind() != reflect.Slice || v.Type().Elem().Kind() != reflect.Uint8 {
		return false
	}
	m := stampOf.RE().FindSubmatch(v.Bytes())
	if m == nil {
		return false
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if string(m[0]) == string(stamp(t.reads)) || string(m[0]) == string(stamp(t.reads-1)) {
		n, _ := strconv.Atoi(string(m[1]))
		t.current = t.stamps[n%stamps]
	}
	return true
}

// Arrived is when the key in hand was read: now, where the system hands over keys itself.
func (t *Terminal) Arrived() time.Time {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.current.IsZero() {
		return t.Now()
	}
	return t.current
}

var (
	sequence = pattern.Of(`^(\x1b(\[[0-?]*[ -/]*[@-~]|O[ -~]|[^\[O]))+$`)
	figure   = pattern.Of(`^[ \r\n]*([+-]?[0-9])`)
)

const leaves = "\x03\x1a" // ctrl+c and ctrl+z

// confirms are the keys that confirm. A few of one kind in one read are one press by a
// pedal that chatters; more of them a pedal that is stuck while the program stood still.
var confirms = []string{"\r", " ", "y", "\x1b[6~"}

const chatter = 3

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
	switch at := figure.RE().FindSubmatchIndex(b); {
	case at != nil:
		return b[at[2]:]
	case first == len(b), bytes.ContainsAny(b, leaves):
		return b
	}
	for _, key := range confirms {
		switch rest := bytes.ReplaceAll(b, []byte(key), nil); {
		case len(rest) == 0 && len(b) <= chatter*len(key):
			return []byte(key)
		case len(rest) < len(b) && (len(rest) == 0 || sequence.RE().Match(b)):
			return pasted(b)
		}
	}
	if len(bytes.Trim(b, string(b[:1]))) == 0 || sequence.RE().Match(b) {
		return b
	}
	return pasted(b)
}

func pasted(b []byte) []byte { return append(append([]byte(pasteBegins), b...), pasteEnds...) }
