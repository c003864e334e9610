package convert

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/spec/quantity"
	"evenpull/ui/internal/anysize"
	"evenpull/ui/internal/golden"
)

func typed(text string) Model {
	m := New()
	for i, line := range strings.Split(text, "\r") {
		if i > 0 {
			m = m.after("enter")
		}
		m = m.after(line)
	}
	return m
}

func shown(m Model, w, h int) string { return ansi.Strip(strings.Join(m.Lines(w, h), "\n")) }

func TestGoldenScreens(t *testing.T) {
	drawn := map[string]string{}
	for name, text := range map[string]string{"empty": "", "torque": "22 Nm", "range": "37-43 Nm", "kept": "22 Nm\r18.4 ft-lb\r", "angle": "90 deg", "no-unit": "22"} {
		for _, size := range [][2]int{{80, 24}, {40, 15}, {120, 30}, {80, 11}, {40, 8}} {
			drawn[fmt.Sprintf("%s-%dx%d", name, size[0], size[1])] = shown(typed(text), size[0], size[1])
		}
	}
	golden.Screens(t, drawn)
}

// Factors: 1 lbf·ft = 1.3558179483 N·m, 1 kgf·m = 9.80665 N·m, 1 in = 25.4 mm
// (NIST SP 811, appendix B); the figures below are worked out from them.
func TestShowsEveryUnitAsItIsTyped(t *testing.T) {
	tests := []struct {
		typed string
		want  []string
	}{
		{"22 Nm", []string{"22        N·m  as typed", "16.23     lbf·ft", "2.243    kgf·m"}},
		{"18.4 ft-lb", []string{"18.4      lbf·ft  as typed", "24.95     N·m"}},
		{"37-43 Nm", []string{"37 to 43       N·m  as typed", "27.3 to 31.7   lbf·ft", "3.77 to 4.385  kgf·m"}},
		{"90 deg", []string{"90", "°  as typed", "1.5", "1/4", "turn"}},
		{"4 thou", []string{"4        thou  as typed", "0.1016", "mm"}},
		{"", []string{"a figure and its unit", "for example 22 Nm"}},
		{"22", []string{"it has no unit", "write the unit too"}},
		{"22 bananas", []string{`"bananas" is not a unit known here`}},
		{"1,250 Nm", []string{"read as 1.25 N·m; a thousand is written 1250 N·m", "1.25     N·m  as typed"}},
		{"20/25 Nm", []string{`"20/25" may be a range or a fraction`, "20 to 25 N·m?"}},
		{"25 lb", []string{"lbf·ft (or lbf·in), or a force: lbf?"}},
		{"22\x1b[2J", []string{"22"}},
	}
	for _, tt := range tests {
		got := shown(typed(tt.typed), 80, 20)
		for _, want := range tt.want {
			if !strings.Contains(got, want) {
				t.Errorf("%q does not show %q:\n%s", tt.typed, want, got)
			}
		}
	}
}

// after gives keys by name, other texts letter by letter.
func (m Model) after(keys ...string) Model {
	named := map[string]tea.KeyType{"enter": tea.KeyEnter, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "backspace": tea.KeyBackspace}
	for _, k := range keys {
		if t, ok := named[k]; ok {
			m, _ = m.press(tea.KeyMsg{Type: t})
			continue
		}
		for _, r := range k {
			m, _ = m.press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
	}
	return m
}

func TestEnterKeepsTheAnswerInView(t *testing.T) {
	const first, second = "✓ 22 N·m = 16.23 lbf·ft = 2.243 kgf·m", "✓ 18.4 lbf·ft = 24.95 N·m = 2.544 kgf·m"
	tests := []struct {
		name         string
		keys         []string
		shows, hides []string
	}{
		{"the answer stays as it was", []string{"22 Nm", "enter"}, []string{"> 22 Nm", "16.23     lbf·ft", first}, []string{"enter keep it"}},
		{"a second enter keeps nothing more", []string{"22 Nm", "enter", "enter"}, []string{first}, []string{first + "\n" + first}},
		{"a digit begins the next figure, what was kept stays", []string{"22 Nm", "enter", "18.4 ft-lb"}, []string{"> 18.4 ft-lb", "18.4      lbf·ft  as typed", first}, nil},
		{"the newest is first", []string{"22 Nm", "enter", "18.4 ft-lb", "enter"}, []string{second + "\n" + first}, nil},
		{"anything else goes on with the figure", []string{"22 Nm", "enter", "backspace", "backspace", "kgm"}, []string{"> 22 kgm", first}, nil},
		{"no answer is not kept", []string{"22", "enter"}, []string{"> 22", "it has no unit"}, []string{"✓", "enter keep it"}},
	}
	for _, tt := range tests {
		got := trimmed(shown(New().after(tt.keys...), 80, 24))
		for _, want := range tt.shows {
			if !strings.Contains(got, want) {
				t.Errorf("%s: %q is not shown:\n%s", tt.name, want, got)
			}
		}
		for _, not := range tt.hides {
			if strings.Contains(got, not) {
				t.Errorf("%s: %q is shown:\n%s", tt.name, not, got)
			}
		}
	}
	m := New()
	for i := range 100 {
		m = m.after(fmt.Sprintf("%d Nm", i+1), "enter")
	}
	if got := shown(m, 80, 60); len(m.kept) > 30 || !strings.Contains(got, "✓ 100 N·m") || strings.Contains(got, "✓ 9 N·m") {
		t.Errorf("%d are kept:\n%s", len(m.kept), got)
	}
}

func trimmed(screen string) string {
	lines := strings.Split(screen, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// Tab goes through the units of the kind, as in a field at the stand; shift+tab through
// the kinds.
func TestTabGoesThroughTheUnits(t *testing.T) {
	tests := []struct {
		keys []string
		want string
	}{
		{[]string{"22", "tab"}, "22 N·m"}, {[]string{"22", "tab", "tab"}, "22 lbf·ft"}, {[]string{"22 Nm", "tab"}, "22 lbf·ft"}, {[]string{"4 thou", "tab"}, "4 mm"},
		{append([]string{"22"}, slices.Repeat([]string{"tab"}, 1+len(quantity.Units(quantity.TorqueKind)))...), "22 N·m"},
		{[]string{"22", "shift+tab"}, "22 N·m"}, {[]string{"22 Nm", "shift+tab"}, "22°"}, {[]string{"22°", "shift+tab"}, "22 mm"},
		{[]string{"37-43 Nm", "tab"}, "37-43 lbf·ft"}, {[]string{"27 N·m ± 5 %", "tab"}, "27 N·m ± 5 %"}, {[]string{"90-95°", "tab"}, "90-95 turn"}, {[]string{"½ to ¾ turn", "tab"}, "½ to ¾ flat"},
		{[]string{"22 Nm", "enter", "tab"}, "22 lbf·ft"}, {[]string{"22 Nm", "enter", "tab", "0"}, "22 lbf·ft0"}, {[]string{"tab", "shift+tab"}, ""},
	}
	for _, tt := range tests {
		if got := New().after(tt.keys...).input.Value(); got != tt.want {
			t.Errorf("%q gives %q, want %q", tt.keys, got, tt.want)
		}
	}
	if next, cmd := New().Update(tea.KeyMsg{Type: tea.KeyEsc}); cmd() != (tea.QuitMsg{}) || !next.(Model).Going() {
		t.Error("esc does not end the screen")
	}
}

// Every unit there is can be reached, converted and kept.
func TestEveryUnitIsReached(t *testing.T) {
	seen := map[string]bool{}
	m := New().after("22", "tab")
	for !seen[m.input.Value()] {
		first := m.input.Value()
		for m = m.after("tab"); !seen[m.input.Value()]; m = m.after("tab") {
			seen[m.input.Value()] = true
			if kept := m.after("enter").kept; len(kept) != 1 || !strings.Contains(kept[0], " = ") && len(m.units()) > 1 {
				t.Errorf("%s is kept as %q", m.input.Value(), kept)
			}
		}
		if !seen[first] {
			t.Fatalf("tab does not come round to %s", first)
		}
		m = New().after(first, "shift+tab")
	}
	all := 0
	for d := quantity.TorqueKind; len(quantity.Units(d)) > 0; d++ {
		all += len(quantity.Units(d))
	}
	if len(seen) != all {
		t.Errorf("%d units are reached of %d", len(seen), all)
	}
}

// Nothing typed looks as if something was.
func TestTheExampleDoesNotLookTyped(t *testing.T) {
	if got := shown(New(), 80, 20); !strings.Contains(got, "> a figure and its unit") || !strings.Contains(got, "for example 22 Nm") || strings.Contains(got, "> 2") {
		t.Errorf("got\n%s", got)
	}
}

func TestScreenDrawsAtTheSizeItIsTold(t *testing.T) {
	next, _ := typed("22 Nm").Update(tea.WindowSizeMsg{Width: 40, Height: 15})
	if lines := strings.Split(next.View(), "\n"); len(lines) != 15 {
		t.Errorf("%d lines at a height of 15", len(lines))
	}
	if got := ansi.Strip(next.View()); !strings.Contains(got, "16.23") {
		t.Errorf("the conversion is not on the screen:\n%s", got)
	}
}

func TestFitsEveryBox(t *testing.T) {
	for _, text := range []string{"", "22 Nm", "22", "5 furlongs per fortnight and more", "1.5 flats", "1000000000000000000000 kgm"} {
		m := typed(text)
		for s := range anysize.Between(anysize.Size{}, anysize.Size{W: 89, H: 19}) {
			lines := m.Lines(s.W, s.H)
			if len(lines) != s.H {
				t.Fatalf("%q at %v: %d lines", text, s, len(lines))
			}
			for _, l := range lines {
				if ansi.StringWidth(l) > s.W {
					t.Fatalf("%q at %v: %q is too wide", text, s, ansi.Strip(l))
				}
			}
		}
	}
}
