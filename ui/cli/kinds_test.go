//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"evenpull/ui/internal/term"
)

// on is a walk of the small cover on a terminal of some kind.
func on(t *testing.T, env ...string) *bench {
	home := t.TempDir()
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	sheet := filepath.Join(home, "cover.toml")
	if err := os.WriteFile(sheet, []byte(toolSheet), 0o600); err != nil {
		t.Fatal(err)
	}
	b.Term = term.Start(t, term.Options{Home: home, Clock: b.Clock, Env: env}, b.program, "walk", sheet, "--engine", "7", "--records", b.records)
	return b
}

// atFirst sets the wrench.
func (b *bench) atFirst() *bench {
	b.Helper()
	b.WaitText("enter it is set")
	b.Advance(time.Second)
	b.Press("enter")
	b.WaitText("0 of 4 stages", "enter confirm")
	b.Advance(time.Second)
	return b
}

// Colours as a terminal is asked for them: one of the 16 there have always been, one of
// 256, any.
var (
	colour16  = regexp.MustCompile(`\x1b\[(\d+;)*(3[0-7]|4[0-7]|9[0-7]|10[0-7])(;\d+)*m`)
	colour256 = regexp.MustCompile(`\x1b\[(\d+;)*[34]8;5;\d+(;\d+)*m`)
	colourAny = regexp.MustCompile(`\x1b\[(\d+;)*[34]8;2;`)
)

// Every kind of terminal gets the walk, and no colours that its kind does not know.
func TestEveryKindOfTerminalGetsWhatItKnows(t *testing.T) {
	t.Parallel()
	for kind, most := range map[string]int{"xterm-256color": 256, "screen-256color": 256, "tmux-256color": 256, "xterm": 16, "linux": 16, "screen": 0, "tmux": 0, "vt100": 0} {
		b := on(t, "TERM="+kind).atFirst()
		b.Press("enter")
		b.WaitText("1 of 4 stages", "confirmed: Final: M1, 22 N", "= 16.23 lbf") // in seven bits the dot is one too
		b.leave()
		b.WaitExit()
		b.sane(kind)
		raw := b.Raw()
		if colourAny.Match(raw) || most < 256 && colour256.Match(raw) || most < 16 && colour16.Match(raw) {
			t.Errorf("%s is sent more than %d colours", kind, most)
		}
		if most == 256 && !colour256.Match(raw) || most == 16 && !colour16.Match(raw) {
			t.Errorf("%s is sent none of its %d colours", kind, most)
		}
		if got := b.confirmedNow(); got != 1 {
			t.Errorf("%s: %d confirmed, want 1", kind, got)
		}
	}
}

// However often the window is pulled about between two keys, the screen is that of its
// last size, and nothing was done.
func TestAStormOfSizesEndsInTheLast(t *testing.T) {
	b := on(t).atFirst()
	want := b.Screen()
	for i := range 200 {
		b.Resize(20+i*7%101, 5+i*11%37)
	}
	b.Resize(40, 15)
	b.WaitText("0/4", "= 16.23 lbf·ft")
	b.WaitGone("0 of 4 stages")
	b.Resize(80, 24)
	b.WaitFor("what was there before", func(screen string) bool { return screen == want })
	b.Press("enter")
	b.WaitText("1 of 4 stages")
	if got := b.confirmedNow(); got != 1 {
		t.Errorf("%d confirmed, want 1", got)
	}
}

// From every screen the program goes with its terminal.
func TestEveryScreenGoesWithItsTerminal(t *testing.T) {
	t.Parallel()
	b := on(t).atFirst()
	b.Press("enter")
	b.WaitText("1 of 4 stages")
	b.leave()
	b.WaitExit()
	for _, tt := range []struct {
		args        []string
		shows, then string
		keys        []string
	}{
		{nil, "Left open", "all keys", nil},
		{nil, "Left open", "for example", []string{"c"}},
		{[]string{"review"}, "1/4", "", nil},
		{[]string{"review", "last"}, "Cover", "", nil},
		{[]string{"new", "own.toml", "--ask"}, "own.toml", "", nil},
	} {
		b.start(tt.args...)
		b.WaitText(tt.shows)
		b.Press(tt.keys...)
		b.WaitText(tt.then)
		if len(b.Left()) == 0 {
			t.Fatalf("%v is no screen", tt.args)
		}
		b.HangUp()
		b.WaitExit()
		if raw := string(b.Raw()); strings.Contains(raw, "panic") {
			t.Errorf("%v: %q", tt.args, raw)
		}
	}
}
