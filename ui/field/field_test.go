package field

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"evenpull/ui/fit"
	"evenpull/ui/internal/anysize"
)

var keys = []tea.KeyMsg{
	{Type: tea.KeyLeft}, {Type: tea.KeyRight}, {Type: tea.KeyHome}, {Type: tea.KeyEnd}, {Type: tea.KeyBackspace}, {Type: tea.KeyDelete},
	{Type: tea.KeyLeft, Alt: true}, {Type: tea.KeyRight, Alt: true}, {Type: tea.KeyBackspace, Alt: true}, {Type: tea.KeyDelete, Alt: true},
	{Type: tea.KeyCtrlLeft}, {Type: tea.KeyCtrlRight}, {Type: tea.KeyCtrlA}, {Type: tea.KeyCtrlB}, {Type: tea.KeyCtrlD}, {Type: tea.KeyCtrlE},
	{Type: tea.KeyCtrlF}, {Type: tea.KeyCtrlH}, {Type: tea.KeyCtrlK}, {Type: tea.KeyCtrlU}, {Type: tea.KeyCtrlW},
	{Type: tea.KeyUp}, {Type: tea.KeyTab}, {Type: tea.KeyF1}, {Type: tea.KeyCtrlN}, {Type: tea.KeySpace, Runes: []rune(" ")},
	{Type: tea.KeyRunes, Runes: []rune("b"), Alt: true}, {Type: tea.KeyRunes, Runes: []rune("f"), Alt: true}, {Type: tea.KeyRunes, Runes: []rune("d"), Alt: true},
}

func text(s string, paste bool) tea.KeyMsg {
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s), Paste: paste}
}

// pressed gives a key to the other field. What takes a word out takes what lies between
// here and where the cursor goes by a word; the other one takes more where a word has one
// letter or the text begins with a space.
func pressed(other textinput.Model, k tea.KeyMsg) textinput.Model {
	byWord := map[string]tea.KeyType{"alt+d": tea.KeyCtrlRight, "alt+delete": tea.KeyCtrlRight, "ctrl+w": tea.KeyCtrlLeft, "alt+backspace": tea.KeyCtrlLeft}
	move, ok := byWord[k.String()]
	if !ok {
		k.Runes = slices.Clone(k.Runes) // it cleans them in place
		other, _ = other.Update(k)
		return other
	}
	a, text := other.Position(), []rune(other.Value())
	other, _ = other.Update(tea.KeyMsg{Type: move})
	b := other.Position()
	other.SetValue(string(text[:min(a, b)]) + string(text[max(a, b):]))
	other.SetCursor(min(a, b))
	return other
}

// Of one key after the other a field makes the same text and the same place in it as the
// one of Bubbles, which knows keys by their names: those are not typed here.
func TestAFieldIsTypedIntoAsEverywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		other := textinput.New()
		other.CharLimit = 12
		other.Focus()
		f := New("", 12).Focus()
		for range rapid.IntRange(1, 60).Draw(t, "keys") {
			k := rapid.SampledFrom(keys).Draw(t, "key")
			if rapid.Bool().Draw(t, "types") {
				k = text(rapid.StringOf(rapid.SampledFrom([]rune("a1 µ轴\t\n\x1b\ufffd"))).Draw(t, "text"), rapid.Bool().Draw(t, "pasted"))
			}
			before := f
			value, view := before.Value(), before.View(8)
			f = f.Key(k)
			other = pressed(other, k)
			if f.Value() != other.Value() || f.at != other.Position() {
				t.Fatalf("%q at %d after %s, want %q at %d", f.Value(), f.at, k, other.Value(), other.Position())
			}
			if before.Value() != value || before.View(8) != view {
				t.Fatalf("%s changed the field that it was typed into", k)
			}
			if f.AtEnd() != (f.at == len([]rune(f.Value()))) {
				t.Fatalf("%q at %d: at its end %v", f.Value(), f.at, f.AtEnd())
			}
		}
	})
}

func TestATextThatIsNamedLikeAKeyIsAText(t *testing.T) {
	for _, word := range []string{"left", "home", "backspace", "ctrl+u"} {
		if got := New("", 40).With("22").Focus().Key(text(word, false)).Value(); got != "22"+word {
			t.Errorf("%s makes %q of 22", word, got)
		}
	}
	if got := New("", 40).With("22").Focus().Key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("d"), Alt: true, Paste: true}).Value(); got != "22d" {
		t.Errorf("a pasted d makes %q of 22", got)
	}
}

func TestAFieldWithoutTheKeysTakesNone(t *testing.T) {
	f := New("", 40).With("22").Focus().Blur()
	if got := f.Key(text("3", false)).Value(); got != "22" {
		t.Errorf("3 makes %q of 22", got)
	}
}

// Whatever its width, the cursor is in view on the character it stands on, and nothing is
// wider than asked for.
func TestTheCursorIsAlwaysInView(t *testing.T) {
	anysize.On(t, false)
	rapid.Check(t, func(t *rapid.T) {
		f := New("", 40).With(rapid.StringOf(rapid.SampledFrom([]rune("abc 轴°"))).Draw(t, "text")).Focus()
		for range rapid.IntRange(0, 40).Draw(t, "left") {
			f = f.Key(tea.KeyMsg{Type: tea.KeyLeft})
		}
		w := rapid.IntRange(2, 30).Draw(t, "width")
		on := string(append([]rune(f.Value()), ' ')[f.at])
		view := f.View(w)
		if !strings.Contains(view, f.cursor(on, lipgloss.NewStyle())) {
			t.Fatalf("%q at %d in %d cells: %q does not show the cursor on %q", f.Value(), f.at, w, view, on)
		}
		if got := fit.Width(view); got != w+1 {
			t.Fatalf("%q in %d cells takes %d: %q", f.Value(), w, got, view)
		}
		if plain := strings.TrimRight(ansi.Strip(view), " "); !strings.Contains(f.Value(), plain) {
			t.Fatalf("%q shown as %q", f.Value(), plain)
		}
		if whole := ansi.Strip(view); fit.Width(f.Value()) <= w && strings.TrimRight(whole, " ") != strings.TrimRight(f.Value(), " ") {
			t.Fatalf("%q has room and is shown as %q", f.Value(), whole)
		}
	})
}

func TestAnExampleStandsUntilSomethingIsTyped(t *testing.T) {
	f := New("for example 22 N·m", 40).Focus()
	for w, want := range map[int]string{30: "for example 22 N·m", 8: "for exa…"} {
		if got := strings.TrimRight(ansi.Strip(f.View(w)), " "); got != want {
			t.Errorf("in %d cells %q, want %q", w, got, want)
		}
	}
	if got := strings.TrimRight(ansi.Strip(f.Key(text("1", false)).View(30)), " "); got != "1" {
		t.Errorf("%q, want 1", got)
	}
}

// A field is drawn letter for letter, so that its cursor stands where it types.
func TestAFieldIsDrawnAsTheTerminalCanShowIt(t *testing.T) {
	f := New("", 40).With("22 N·m, 90°, 1½ … 轴")
	for ascii, want := range map[bool]string{false: "22 N·m, 90°, 1½ … 轴", true: "22 N.m, 90d, 1? . ?"} {
		t.Run(want, func(t *testing.T) {
			anysize.On(t, ascii)
			if got := strings.TrimRight(f.View(30), " "); got != want {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}
