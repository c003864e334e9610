package entry

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/walk"
	"evenpull/spec/quantity"
	"evenpull/ui/fit"
	"evenpull/ui/overlay"
)

// take keeps what is given as a note; "bad" is refused.
func take(text string) (overlay.Model, overlay.Answer, error) {
	if text == "bad" {
		return nil, overlay.Answer{}, errors.New("bad is refused")
	}
	return nil, overlay.Answer{Close: true, Commands: []walk.Command{{Do: walk.Note, Text: text}}}, nil
}

var named = map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "home": tea.KeyHome, "pgdown": tea.KeyPgDown}

// press gives keys by name; one that begins with + comes together with the one before.
func press(f Field, names ...string) (Field, overlay.Answer) {
	var did overlay.Answer
	for _, name := range names {
		name, together := strings.CutPrefix(name, "+")
		k := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
		if t, ok := named[name]; ok {
			k = tea.KeyMsg{Type: t}
		}
		var next overlay.Model
		next, did = f.Key(overlay.Press{KeyMsg: k, Together: together})
		f = next.(Field)
	}
	return f, did
}

func TestAFieldTakesWords(t *testing.T) {
	torque := Like(quantity.NewtonMetre)
	reasons := New("Why", "hint", take).With("phone rang", "lost count")
	figure := New("Reading", "hint", take).In(torque)
	tool := figure.FromTool()
	tests := []struct {
		name   string
		field  Field
		keys   []string
		given  string // what was sent off
		closed bool
		shows  string
	}{
		{"words, without the spaces around them", reasons, []string{" ", "dry", " ", "enter"}, "dry", true, ""},
		{"page down sends off too", reasons, []string{"dry", "pgdown"}, "dry", true, ""},
		{"esc gives up", reasons, []string{"dry", "esc"}, "", true, ""},
		{"a reason by its number", reasons, []string{"2", "enter"}, "lost count", true, ""},
		{"another instead of it", reasons, []string{"2", "1", "enter"}, "phone rang", true, ""},
		{"a number that stands for nothing", reasons, []string{"3", "enter"}, "3", true, ""},
		{"nor does 0", reasons, []string{"0", "enter"}, "0", true, ""},
		{"a number behind words is a number", reasons, []string{"M", "2", "enter"}, "M2", true, ""},
		{"what is refused stays", reasons, []string{"bad", "enter"}, "", false, "REFUSED  bad is refused"},
		{"and is gone with the next letter", reasons, []string{"bad", "enter", "x"}, "", false, "> badx"},
		{"an Enter that came with the text is asked for again", reasons, []string{"dry", "+enter"}, "", false, "enter once more"},
		{"and then counts", reasons, []string{"dry", "+enter", "enter"}, "dry", true, ""},
		{"tab adds the unit", figure, []string{"22", "tab", "enter"}, "22 N·m", true, ""},
		{"and then the next", figure, []string{"22", "tab", "tab"}, "", false, "> 22 " + torque[1].Symbol()},
		{"all the way round", figure, append([]string{"22"}, times("tab", len(torque)+1)...), "", false, "> 22 " + torque[0].Symbol()},
		{"a unit that was typed over is kept", figure, []string{"22", "tab", "x", "tab"}, "", false, "> 22 N·mx N·m"},
		{"a unit written in another way is one too", figure, []string{"22Nm", "tab"}, "", false, "> 22 " + torque[1].Symbol()},
		{"one of another kind gives way", figure, []string{"22 mm", "tab"}, "", false, "> 22 N·m"},
		{"of several figures the last gets it", figure, []string{"20 N·m; 21", "tab"}, "", false, "> 20 N·m; 21 N·m"},
		{"a fraction keeps its bar", New("Turn", "", take).In(Like(quantity.Turn)), []string{"1/4", "tab"}, "", false, "> 1/4 turn"},
		{"a unit answers a refusal", tool, []string{"bad", "enter", "tab", "2"}, "", false, "> bad N·m2"},
		{"tab does nothing where there are no units", reasons, []string{"dry", "tab", "enter"}, "dry", true, ""},
		{"what is typed after tab goes behind the unit", figure, []string{"22", "home", "tab", "!"}, "", false, "> 22 N·m!"},
		{"a tool sends its figure off", tool, []string{"22 N·m", "+enter"}, "22 N·m", true, ""},
		{"and begins anew after a refusal", tool, []string{"bad", "+enter", "22 N·m", "+enter"}, "22 N·m", true, ""},
		{"with its sign", tool, []string{"bad", "+enter", "-2", "+enter"}, "-2", true, ""},
		{"but in the middle of a text a digit is only a digit", tool, []string{"bad", "enter", "home", "2", "enter"}, "2bad", true, ""},
		{"and words go on", tool, []string{"bad", "enter", "ly", "enter"}, "badly", true, ""},
		{"a hand's digit after a refusal goes on where it was", figure, []string{"bad", "enter", "2", "enter"}, "bad2", true, ""},
	}
	for _, tt := range tests {
		f, did := press(tt.field, tt.keys...)
		given := ""
		if len(did.Commands) > 0 {
			given = did.Commands[0].Text
		}
		shown := ansi.Strip(strings.Join(f.Lines(60, 10), "\n"))
		if given != tt.given || did.Close != tt.closed || !strings.Contains(shown, tt.shows) {
			t.Errorf("%s: %v sent %q, closed %v, want %q, %v, and %q on\n%s", tt.name, tt.keys, given, did.Close, tt.given, tt.closed, tt.shows, shown)
		}
	}
}

func times(key string, n int) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = key
	}
	return list
}

func TestUnitsAreOfferedOnceEachTheSheetsFirst(t *testing.T) {
	for _, u := range []quantity.Unit{quantity.NewtonMetre, quantity.PoundForceFoot, quantity.Thou, quantity.Degree} {
		seen := map[string]bool{}
		list := Like(u)
		for _, l := range list {
			if seen[l.Symbol()] || l.Dimension() != u.Dimension() {
				t.Errorf("%s: %s twice, or of another kind", u.Symbol(), l.Symbol())
			}
			seen[l.Symbol()] = true
		}
		if list[0] != u || len(list) != len(quantity.Units(u.Dimension())) {
			t.Errorf("%s: %d units, %s first", u.Symbol(), len(list), list[0].Symbol())
		}
	}
	f, _ := press(New("Reading", "", take).In(Like(quantity.Degree)), "90", "tab")
	if got := f.input.Value(); got != "90°" {
		t.Errorf("tab makes %q of 90, want 90°", got)
	}
}

func TestTheFieldIsShownBeforeItsReasons(t *testing.T) {
	f := New("Why", "hint", take).With("phone rang")
	tests := []struct {
		h    int
		want string
	}{{10, "Why\n> hint\n1 phone rang"}, {5, "Why\n> hint\n1 phone rang"}, {4, "> hint"}, {1, "> hint"}, {0, ""}}
	for _, tt := range tests {
		lines := f.Lines(60, tt.h)
		for i := range lines {
			lines[i] = strings.TrimRight(ansi.Strip(lines[i]), " ")
		}
		if got := strings.Join(lines, "\n"); got != tt.want {
			t.Errorf("in %d lines:\n%s\nwant\n%s", tt.h, got, tt.want)
		}
	}
	long, _ := press(f, strings.Repeat("m", 300))
	if n := len(long.input.Value()); n != maxLength {
		t.Errorf("%d characters went in", n)
	}
	for _, w := range []int{1, 4, 9, 40, 80} {
		for _, line := range long.Lines(w, 10) {
			if fit.Width(line) > w {
				t.Errorf("%q is wider than %d", ansi.Strip(line), w)
			}
		}
	}
}
