package keys

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"

	"evenpull/ui/internal/golden"
)

// stand is a keymap as a screen would have it.
type stand struct {
	confirm, undo, lost, note, move, help key.Binding
}

func newStand() stand {
	return stand{
		confirm: Confirm("done, next"),
		undo:    New("undo, with a reason", "u"),
		lost:    New("angle lost", "l"),
		note:    New("note", "n"),
		move:    New("look at others", "up", "down", "shift+tab"),
		help:    Help(),
	}
}

func (s stand) short() []key.Binding { return []key.Binding{s.confirm, s.undo, s.lost, s.note, s.help} }

func (s stand) full() []Group {
	return []Group{{"This stage", []key.Binding{s.confirm, s.lost}}, {"Any time", []key.Binding{s.undo, s.note, s.move, s.help}}}
}

func TestConfirmTakesEnterSpaceAndPageDown(t *testing.T) {
	for _, msg := range []tea.KeyMsg{{Type: tea.KeyEnter}, {Type: tea.KeySpace, Runes: []rune{' '}}, {Type: tea.KeyPgDown}} {
		if !key.Matches(msg, Confirm("done")) {
			t.Errorf("confirm doesn't match %q", msg)
		}
	}
	if key.Matches(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'y'}}, Confirm("done")) {
		t.Error("confirm matches y")
	}
	if got, want := Confirm("done").Help().Key, "enter, space, page down"; got != want {
		t.Errorf("label %q, want %q", got, want)
	}
}

func TestKeysAreCalledAsOnTheKeyboard(t *testing.T) {
	for key, want := range map[string]string{" ": "space", "pgdown": "page down", "ctrl+n": "ctrl-n", "shift+tab": "shift-tab", "+": "+", "m": "m", "up": "↑"} {
		if got := Name(key); got != want {
			t.Errorf("%q is called %q, want %q", key, got, want)
		}
	}
	if got := Span("that page", "1", "2", "3").Help().Key; got != "1-3" {
		t.Errorf("a row of keys is called %q, want 1-3", got)
	}
}

func TestLinesListWhatIsOnAndSplitNoEntry(t *testing.T) {
	got := Lines(24, Confirm("done, next"), When(New("undo", "u"), false), New("note", "n", "m"), Help())
	if want := []string{"enter done, next", "n note   ? keys"}; !slices.Equal(got, want) {
		t.Errorf("lines %q, want %q", got, want)
	}
}

func TestGoldenHelp(t *testing.T) {
	s := newStand()
	afterTorque := newStand()
	afterTorque.lost.SetEnabled(false)
	golden.Screens(t, map[string]string{
		"short-80":            Short(80, s.short()...),
		"short-40":            Short(40, s.short()...),
		"short-lost-disabled": Short(80, afterTorque.short()...),
		"full-80x24":          Full(80, 24, s.full()...),
		"full-80x5":           Full(80, 5, s.full()...),
		"full-40x4":           Full(40, 4, s.full()...),
		"full-lost-disabled":  Full(40, 15, afterTorque.full()...),
	})
}

func TestHelpFitsAnyRoom(t *testing.T) {
	s := newStand()
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(-1, 100).Draw(t, "w"), rapid.IntRange(-1, 20).Draw(t, "h")
		if got := Short(w, s.short()...); lipgloss.Width(got) > max(w, 0) || strings.Contains(got, "\n") {
			t.Fatalf("short help %q in %d cells", got, w)
		}
		if got := Full(w, h, s.full()...); got != "" && (lipgloss.Width(got) > w || lipgloss.Height(got) > h) {
			t.Fatalf("full help in %d×%d:\n%s", w, h, got)
		}
	})
}

func TestTheWayToAllKeysGivesWayLast(t *testing.T) {
	s := newStand()
	for w := len("? keys"); w < 70; w++ {
		if got := Short(w, s.short()...); !strings.HasSuffix(got, "? keys") {
			t.Fatalf("in %d cells short help is %q, want it to end in the key for all keys", w, got)
		}
	}
}

func TestKeymapOfAScreenHasNoProblems(t *testing.T) {
	if got := Problems(newStand(), newStand().full()...); got != nil {
		t.Errorf("problems: %q", got)
	}
	s := newStand()
	if got := Problems(&s, s.full()...); got != nil {
		t.Errorf("through a pointer: %q", got)
	}
}

func TestProblemsAreFound(t *testing.T) {
	cases := []struct {
		name  string
		spoil func(*stand)
		want  string
	}{
		{"a key bound twice", func(s *stand) { s.note = New("note", "u") }, `note and undo are both bound to "u"`},
		{"a label of another key", func(s *stand) { s.undo.SetHelp("x", "undo") }, `undo: label "x" names no key it is bound to`},
		{"no word on what it does", func(s *stand) { s.undo.SetHelp("u", "") }, "undo (u) doesn't say what it does"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := newStand()
			c.spoil(&s)
			if got := Problems(s, s.full()...); len(got) != 1 || !strings.Contains(got[0], c.want) {
				t.Errorf("problems %q, want one: %s", got, c.want)
			}
		})
	}
	s := newStand()
	if got := Problems(s, s.full()[:1]...); !slices.Contains(got, "undo (u) is in no group of the full help") {
		t.Errorf("problems %q, want undo missed in the help", got)
	}
	if got := Problems(struct{}{}); len(got) != 1 {
		t.Errorf("an empty keymap: %q, want one problem", got)
	}
}

func TestGuard(t *testing.T) {
	start := time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC)
	cases := []struct {
		name    string
		presses []int // ms after the start
		counts  []bool
	}{
		{"a double press counts once", []int{0, 120}, []bool{true, false}},
		{"just within", []int{0, 399}, []bool{true, false}},
		{"just after", []int{0, 400}, []bool{true, true}},
		{"a key held down counts once", []int{0, 300, 600, 900, 1200}, []bool{true, false, false, false, false}},
		{"let go and pressed again", []int{0, 100, 600}, []bool{true, false, true}},
		{"the clock set back an hour", []int{0, -3_600_000, -3_599_900}, []bool{true, true, false}},
		{"twice in the same instant", []int{0, 0}, []bool{true, false}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var g Guard
			for i, ms := range c.presses {
				var counts bool
				if g, counts = g.Press(start.Add(time.Duration(ms) * time.Millisecond)); counts != c.counts[i] {
					t.Errorf("press %d at %d ms counts: %v, want %v", i+1, ms, counts, c.counts[i])
				}
			}
		})
	}
}
