package term

import (
	"bytes"
	"os"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	uv "github.com/charmbracelet/ultraviolet"
	"golang.org/x/sys/unix"
)

// keys are what a terminal sends for each named key.
var keys = map[string]string{
	"enter": "\r", "space": " ", "tab": "\t", "shift+tab": "\x1b[Z", "esc": "\x1b", "backspace": "\x7f",
	"up": "\x1b[A", "down": "\x1b[B", "right": "\x1b[C", "left": "\x1b[D",
	"home": "\x1b[H", "end": "\x1b[F", "pgup": "\x1b[5~", "pgdown": "\x1b[6~", "insert": "\x1b[2~", "delete": "\x1b[3~",
	"f1": "\x1bOP", "f2": "\x1bOQ", "f3": "\x1bOR", "f4": "\x1bOS",
}

var ctrlKey = regexp.MustCompile(`^ctrl\+[a-z]$`)

// Press sends keys by name: a single character, ctrl+a to ctrl+z, or one of
// enter, space, tab, shift+tab, esc, backspace, the arrows, home, end, pgup,
// pgdown, insert, delete, f1 to f4. Wait for the screen between esc and the
// next key: together they would be read as one key with alt.
func (term *Term) Press(names ...string) {
	term.t.Helper()
	for _, name := range names {
		term.Type(term.sequence(name))
	}
}

func (term *Term) sequence(name string) string {
	term.t.Helper()
	if bytes, ok := keys[name]; ok {
		return bytes
	}
	if ctrlKey.MatchString(name) {
		return string(name[len(name)-1] - 'a' + 1)
	}
	if utf8.RuneCountInString(name) != 1 {
		known := make([]string, 0, len(keys))
		for k := range keys {
			known = append(known, k)
		}
		slices.Sort(known)
		term.t.Fatalf("no key is called %q: use one character, ctrl+a to ctrl+z, or one of %s", name, strings.Join(known, ", "))
	}
	return name
}

// pace is how far apart a hand presses keys.
const pace = 100 * time.Millisecond

// Type sends text as it stands, a moment after what was sent before.
func (term *Term) Type(text string) {
	term.t.Helper()
	if term.clock.path != "" {
		term.clock.Advance(pace)
	}
	term.Send(text)
}

// Send sends text without a moment between: as a tool does, or a key that chatters.
func (term *Term) Send(text string) {
	term.t.Helper()
	if _, err := term.tty.WriteString(text); err != nil {
		term.t.Fatalf("send %q: %v\n%s", text, err, term.report())
	}
}

// WaitText waits until the screen shows all the texts at once.
func (term *Term) WaitText(texts ...string) {
	term.t.Helper()
	term.WaitFor("the text "+strings.Join(texts, ", and "), func(screen string) bool {
		return !slices.ContainsFunc(texts, func(text string) bool { return !strings.Contains(screen, text) })
	})
}

// WaitGone waits until the screen no longer shows the text.
func (term *Term) WaitGone(text string) {
	term.t.Helper()
	term.WaitFor("the text "+text+" gone", func(screen string) bool { return !strings.Contains(screen, text) })
}

// WaitFor waits until the screen satisfies ok, and fails the test with the
// last screen when patience runs out or the program has ended without it.
// What says in words what is waited for.
func (term *Term) WaitFor(what string, ok func(screen string) bool) {
	term.t.Helper()
	patience := term.newPatience()
	defer patience.Stop()
	for {
		term.mu.Lock()
		screen, changed, ended := term.screen(), term.changed, term.ended
		term.mu.Unlock()
		if ok(screen) {
			return
		}
		if ended {
			term.t.Fatalf("the program ended before the screen showed %s\n%s", what, term.report())
		}
		select {
		case <-changed:
		case <-patience.C:
			if patience.out() {
				term.t.Fatalf("waited %v for %s\n%s", term.patience, what, term.report())
			}
		}
	}
}

// patience runs out after a hundred ticks that were seen: while the machine
// stands still none is, so a stall costs no test its patience.
type patience struct {
	*time.Ticker
	ticks int
}

func (term *Term) newPatience() *patience {
	return &patience{Ticker: time.NewTicker(max(time.Millisecond, term.patience/100))}
}

func (p *patience) out() bool {
	p.ticks++
	return p.ticks > 100
}

// WaitExit waits until the program has ended and returns its exit code, or
// 128 plus the number of the signal that ended it.
func (term *Term) WaitExit() int {
	term.t.Helper()
	patience := term.newPatience()
	defer patience.Stop()
	for {
		term.mu.Lock()
		changed, ended, code := term.changed, term.ended, term.code
		term.mu.Unlock()
		if ended {
			return code
		}
		select {
		case <-changed:
		case <-patience.C:
			if patience.out() {
				term.t.Fatalf("waited %v for the program to end\n%s", term.patience, term.report())
			}
		}
	}
}

// Resize changes the size of the terminal, in cells; the program is told.
func (term *Term) Resize(cols, rows int) {
	term.t.Helper()
	term.mu.Lock()
	term.em.Resize(cols, rows)
	term.mu.Unlock()
	size := unix.Winsize{Row: uint16(rows), Col: uint16(cols)}
	if err := term.control(func(fd int) error { return unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &size) }); err != nil {
		term.t.Fatalf("resize to %d×%d: %v", cols, rows, err)
	}
}

// Signal sends the program a signal.
func (term *Term) Signal(s os.Signal) {
	term.t.Helper()
	if err := term.cmd.Process.Signal(s); err != nil {
		term.t.Fatalf("send %v: %v\n%s", s, err, term.report())
	}
}

// Kill ends the program as a power cut does, with SIGKILL, and waits for it.
func (term *Term) Kill() {
	term.t.Helper()
	term.Signal(os.Kill)
	term.WaitExit()
}

// queries are the ways a program asks a terminal something: colours (OSC 10, 11), the
// cursor's place (CPR), device attributes and status.
// Sources: ECMA-48 (DSR, DA) and the xterm control sequences page, from memory.
var queries = []string{"\x1b]10;?", "\x1b]11;?", "\x1b[6n", "\x1b[5n", "\x1b[c", "\x1b[0c", "\x1b[>c", "\x1b[?u"}

// Asked is what the program has asked its terminal so far.
func (term *Term) Asked() (found []string) {
	raw := term.Raw()
	for _, q := range queries {
		if bytes.Contains(raw, []byte(q)) {
			found = append(found, q)
		}
	}
	return found
}

// Reversed reports whether text stands on the screen wholly in reverse video,
// which is how a screen without colour shows the current thing.
func (term *Term) Reversed(text string) bool { return term.has(text, uv.AttrReverse) }

// Bold reports whether text stands on the screen wholly in bold.
func (term *Term) Bold(text string) bool { return term.has(text, uv.AttrBold) }

// has looks for text of one-cell characters with an attribute on each cell.
func (term *Term) has(text string, attr uint8) bool {
	term.mu.Lock()
	defer term.mu.Unlock()
	want := []rune(text)
	at := func(x, y int) bool {
		for i, r := range want {
			cell := term.em.CellAt(x+i, y)
			if cell == nil || cell.Content != string(r) || cell.Style.Attrs&attr == 0 {
				return false
			}
		}
		return true
	}
	for y := range term.em.Height() {
		for x := 0; x+len(want) <= term.em.Width(); x++ {
			if at(x, y) {
				return true
			}
		}
	}
	return false
}

// report draws the last screen in a frame, for a failed test.
func (term *Term) report() string {
	term.mu.Lock()
	defer term.mu.Unlock()
	var out strings.Builder
	edge := "+" + strings.Repeat("-", term.em.Width()) + "+\n"
	out.WriteString("the last screen:\n" + edge)
	for row := range strings.SplitSeq(term.screen(), "\n") {
		out.WriteString("|" + row + "\n")
	}
	out.WriteString(edge)
	return out.String()
}
