package cli

import (
	"fmt"
	"io"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/record"
	"evenpull/procedures/session"
	"evenpull/procedures/walk"
	"evenpull/spec/outside"
	"evenpull/ui/program"
)

// across is the whole program from its start screen on, without a terminal: its records
// on disk, its clock moved by the keys, and what comes of its commands let come when the
// test says so.
type across struct {
	testing.TB
	model   tea.Model
	now     time.Time
	dir     string
	waiting []tea.Cmd
	quit    bool
}

// newAcross has one walk left open, of a joint whose first step an Enter would confirm.
func newAcross(t testing.TB) *across {
	t.Helper()
	x := &across{TB: t, now: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), dir: t.TempDir()}
	a := &app{Env: Env{In: strings.NewReader(""), Out: io.Discard, Err: io.Discard, Now: func() time.Time { return x.now }, Getenv: func(string) string { return "" }}, recordsDir: x.dir}
	d, err := a.desk()
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Open(session.Request{Procedure: "crankcase-close", Engine: "7"})
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	first, err := a.startScreen()
	if err != nil {
		t.Fatal(err)
	}
	x.model = program.New(first, a.Now)
	x.wait(x.model.Init())
	x.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	x.come()
	return x
}

func (x *across) send(msg tea.Msg) {
	next, cmd := x.model.Update(msg)
	x.model = next
	x.wait(cmd)
}

func (x *across) wait(cmd tea.Cmd) {
	if cmd != nil {
		x.waiting = append(x.waiting, cmd)
	}
}

// one lets come what has waited longest.
func (x *across) one() {
	cmd := x.waiting[0]
	x.waiting = x.waiting[1:]
	switch msg := cmd().(type) {
	case nil:
	case tea.QuitMsg:
		x.quit = true
	case tea.BatchMsg:
		for _, c := range msg {
			x.wait(c)
		}
	default:
		x.send(msg)
	}
}

func (x *across) come() *across {
	for len(x.waiting) > 0 {
		x.one()
	}
	return x
}

var pressed = map[string]tea.KeyType{"enter": tea.KeyEnter, "space": tea.KeySpace, "pgdown": tea.KeyPgDown, "esc": tea.KeyEsc, "tab": tea.KeyTab, "down": tea.KeyDown, "up": tea.KeyUp, "ctrl+j": tea.KeyCtrlJ,
	"home": tea.KeyHome, "end": tea.KeyEnd, "left": tea.KeyLeft, "right": tea.KeyRight, "f1": tea.KeyF1, "ctrl+p": tea.KeyCtrlP}

func (x *across) keys(gap time.Duration, names ...string) *across {
	for _, name := range names {
		x.now = x.now.Add(gap)
		k := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
		if t, ok := pressed[name]; ok {
			k = tea.KeyMsg{Type: t}
		}
		x.send(k)
	}
	return x
}

func (x *across) screen() string { return ansi.Strip(x.model.View()) }

func (x *across) shows(texts ...string) {
	x.Helper()
	for _, text := range texts {
		if !strings.Contains(x.screen(), text) {
			x.Errorf("the screen does not show %q:\n%s", text, x.screen())
		}
	}
}

// events are those of all walks on disk, but for being gone on with.
func (x *across) events() (list []walk.Event) {
	x.Helper()
	files, _ := filepath.Glob(filepath.Join(x.dir, "*.jsonl"))
	for _, path := range files {
		f, err := record.Read(path)
		if err != nil {
			x.Fatal(err)
		}
		for _, e := range f.Events {
			if e.Kind != walk.Resumed && e.Kind != walk.Brought {
				list = append(list, e)
			}
		}
	}
	return list
}

func (x *across) confirmsNothing(what string) {
	x.Helper()
	if list := x.events(); len(list) > 0 {
		x.Fatalf("%s recorded %s, %s\n%s", what, list[0].Kind, list[0].Item, x.screen())
	}
}

const hand = 120 * time.Millisecond // between two keys of a hand

// The Enter that opens a walk confirms nothing of it, however often it comes, and
// whether the walk is open by then or not; one that is meant does.
func TestTheEnterThatOpensAWalkConfirmsNothing(t *testing.T) {
	for _, key := range []string{"enter", "space"} {
		gaps := []time.Duration{0, 33 * time.Millisecond, 399 * time.Millisecond, time.Millisecond, 10 * time.Millisecond, 100 * time.Millisecond}
		for _, gap := range gaps[:outside.Times(3, 6)] {
			for _, opens := range []int{0, 1, 20} { // keys until the walk is open
				x := newAcross(t)
				x.keys(time.Second, key)
				for i := range 20 {
					if i == opens {
						x.come()
					}
					x.keys(gap, key)
				}
				x.come().confirmsNothing(fmt.Sprintf("%s 20 times %s apart, open after %d,", key, gap, opens))
				x.shows("0 of 37 stages")
				x.keys(time.Second, "enter").come()
				if n := len(x.events()); n != 1 {
					t.Fatalf("%s: an Enter that is meant recorded %d events\n%s", gap, n, x.screen())
				}
			}
		}
	}
}

// No key is lost on the way to another screen or back.
func TestNoKeyIsLostBetweenScreens(t *testing.T) {
	x := newAcross(t)
	x.keys(hand, "c", "2", "2", " ", "N", "m").come() // none of it has come before all is pressed
	x.shows("> 22 Nm", "16.23")
	x.keys(hand, "esc", "down", "down").come()
	x.shows("Left open")
	x.keys(hand, "up", "up", "enter", "q").come()
	x.shows("0 of 37 stages", "LEAVE?")
	x.keys(hand, "q", "c", "5").come()
	x.shows("Convert", "> 5")
	x.keys(hand, "esc").come()
	x.keys(hand, "q").come()
	if !x.quit {
		t.Errorf("q does not leave:\n%s", x.screen())
	}
	x.confirmsNothing("all of it")
}

// A thousand keys a second, any keys, from the one that opens a walk on, whenever it
// opens: nothing is recorded. A gauge's figure and pasted text neither.
func TestAThousandKeysASecondAcrossScreensConfirmNothing(t *testing.T) {
	source := rand.New(rand.NewPCG(11, 2026))
	names := strings.Fields("a b c d e f i k l m n o p r s u w x y z N G ? / 1 2 3 9 . enter enter enter space space pgdown esc tab down up ctrl+j")
	for g, gap := range []time.Duration{0, time.Millisecond} {
		for range outside.Times(1, 6) {
			x := newAcross(t).keys(time.Second, "enter")
			for range 1000 {
				if len(x.waiting) > 0 && source.IntN(20) == 0 {
					x.one()
				}
				x.keys(gap, names[source.IntN(len(names))])
			}
			x.come().confirmsNothing("a thousand keys")
			x.shows("0 of 37 stages")
		}
		for i, text := range []string{"24.6\r", "22 N·m\r\n", "y\ry\r", "\r\r\r", "d\r", "ok\nyes\n"} {
			for k, open := range []bool{true, false} {
				if (g+i+k)%outside.Times(2, 1) != 0 {
					continue
				}
				x := newAcross(t).keys(time.Second, "enter")
				if open {
					x.come()
				}
				for _, r := range text {
					x.keys(gap, strings.NewReplacer("\r", "enter", "\n", "ctrl+j").Replace(string(r)))
				}
				x.come().confirmsNothing(fmt.Sprintf("%q", text))
				x = newAcross(t)
				x.keys(time.Second, "enter")
				if open {
					x.come()
				}
				x.now = x.now.Add(gap)
				x.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
				x.come().confirmsNothing(fmt.Sprintf("a paste of %q", text))
			}
		}
	}
}
