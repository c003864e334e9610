package cli

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
	"evenpull/ui/internal/term"
)

const toolSheet = `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
M3 = [70, 70]
M4 = [0, 70]
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
order = "listed"
`

func toolBench(t *testing.T, arguments ...string) *bench {
	home := t.TempDir()
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	sheet := filepath.Join(home, "cover.toml")
	if err := os.WriteFile(sheet, []byte(toolSheet), 0o600); err != nil {
		t.Fatal(err)
	}
	b.start(append([]string{"walk", sheet, "--engine", "7"}, arguments...)...)
	return b
}

// confirmedNow counts the stages on disk.
func (b *bench) confirmedNow() int {
	b.Helper()
	return confirmed(b.state())
}

// through waits until all that was sent has been handled: ctrl+c is never dropped, and
// its turn comes last.
func (b *bench) through() {
	b.Helper()
	b.Press("ctrl+c")
	b.WaitText("come back")
	b.Advance(time.Second)
	b.Press("esc")
	b.WaitGone("come back")
	b.Advance(time.Second)
}

// On a real terminal: what a gauge, a wrench, a scanner or a paste sends in one write
// is a reading or nothing, wherever it comes.
func TestATerminalTakesWhatComesAtOnceForATool(t *testing.T) {
	t.Parallel()
	b := toolBench(t)
	b.WaitText("enter it is set")
	b.Advance(time.Second)
	b.Press("enter")
	b.WaitText("0 of 4 stages", "enter confirm")
	for _, send := range []string{" \r", "y\r", "ready\r", "\x1b[B\r", "enter", "\x1b[200~\r\r\x1b[201~"} {
		b.Advance(time.Second)
		b.Send(send)
		b.WaitText("several keys came at once")
		b.Press("?")
		b.WaitText("Keys of this moment")
		b.Press("esc")
		b.WaitGone("Keys of this moment")
	}
	b.Advance(time.Second)
	b.Send("24.6\r")
	b.WaitText("> 24.6", "it has no unit")
	b.Press("esc")
	b.WaitText("enter dismiss")
	b.Advance(time.Second)
	b.Send("  22.1 N·m\r\n\r\n22.2 N·m\r\n")
	b.WaitText("1 of 4 stages", "read 22.1 N·m")
	b.through()
	b.Send("\x1b[200~22.1 N·m\r\n22.1 N·m\r\n\x1b[201~")
	b.WaitText("> 22.1 N·m")
	if got := b.confirmedNow(); got != 1 {
		t.Fatalf("%d confirmed, want the one whose figure came with its unit\n%s", got, b.Screen())
	}
	b.Advance(time.Second)
	b.Press("enter")
	b.WaitText("2 of 4 stages")
	b.Advance(time.Second)
	b.Send("\r\n") // Enter of a serial terminal
	b.WaitText("3 of 4 stages")
	if got := b.confirmedNow(); got != 3 {
		t.Errorf("%d confirmed, want 3", got)
	}
}

// The clock runs on wildly while a burst is handled, as it does for a program that stands
// still between two keys: what came in one write stays one thing.
func TestATerminalKnowsABurstHoweverSlowlyItIsHandled(t *testing.T) {
	for _, send := range []string{"22.1 N·m\r\n\r\n22.2 N·m\r\n", "22.1 N·m\r" + strings.Repeat(" ", 150)} {
		b := toolBench(t)
		b.WaitText("enter it is set")
		b.Advance(time.Second)
		b.Press("enter")
		b.WaitText("0 of 4 stages", "enter confirm")
		b.Advance(time.Minute)
		b.Send(send)
		for range 3000 { // some ten milliseconds, in which it is handled
			b.Advance(time.Second)
		}
		b.WaitText("1 of 4 stages")
		b.through()
		if got := b.confirmedNow(); got != 1 {
			t.Fatalf("%q: %d confirmed, want 1\n%s", send, got, b.Screen())
		}
	}
}

// A thousand keys in less than a second, each in a write of its own: a tool that types
// slowly, a book on the keyboard, a pedal that is stuck. (All in less time than two
// presses take: the system hands on keys when it likes, and the clock moves on.) At most what one figure or one press
// confirms is confirmed, and nothing else is written.
func TestATerminalAtAThousandKeysASecond(t *testing.T) {
	t.Parallel()
	mixed := rand.New(rand.NewPCG(1, 2))
	anything := make([]string, 1000)
	for i := range anything {
		anything[i] = []string{"\r", " ", "y", "2", "\n", "\x1b[6~", "r", "d", "u"}[mixed.IntN(9)]
	}
	for _, tt := range []struct {
		name string
		keys []string
		most int
	}{
		{"a figure without its unit", strings.Split("24.6\r", ""), 0},
		{"a figure with its unit", strings.Split("22.1 N·m\r\n", ""), 1},
		{"a word", strings.Split("ready\r", ""), 0},
		{"a pedal", strings.Split(strings.Repeat("\r", 1000), ""), 1},
		{"a book", anything, 1},
	} {
		b := toolBench(t)
		b.WaitText("enter it is set")
		b.Advance(time.Second)
		b.Press("enter")
		b.WaitText("0 of 4 stages", "enter confirm")
		before := len(b.state().Events)
		b.Advance(time.Minute)
		for _, k := range tt.keys {
			b.Send(k)
			b.Advance(390 * time.Microsecond)
		}
		b.Send("\x03\x03\x03") // never dropped: out of a field, to the question, out
		b.WaitExit()
		if got := b.confirmedNow(); got > tt.most || len(b.state().Events) > before+tt.most {
			t.Errorf("%s: %d confirmed, %d written, want %d at most\n%s", tt.name, got, len(b.state().Events)-before, tt.most, b.Screen())
		}
	}
}

// As lines on a terminal: a CR LF is one Enter, and what follows a figure in the same
// breath confirms nothing.
func TestLinesOnATerminalTakeACRLFForOne(t *testing.T) {
	b := toolBench(t, "--plain")
	b.WaitText("1/4  M1, bottom row, left one: tighten to 22 N·m", ">")
	// Each line is waited for: the next question comes with its answer.
	nothing := func(times int) {
		b.WaitFor("nothing confirmed", func(string) bool { return strings.Count(string(b.Raw()), "nothing confirmed") == times })
		b.Advance(time.Second)
	}
	b.Send("\n") // at once: of the Enter that started it, perhaps
	nothing(1)
	b.Send("\r\n") // the terminal makes two lines of it
	b.WaitText("confirmed: Final: M1")
	nothing(2)
	b.Send("22.1 N·m\r\n")
	b.WaitText("read 22.1 N·m")
	nothing(3)
	b.Send("list\n")
	b.WaitText("2 outstanding")
	events := b.state().Events
	n := 0
	for _, e := range events {
		if e.Kind == walk.Confirmed {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d confirmed, want 2\n%s", n, b.Screen())
	}
}
