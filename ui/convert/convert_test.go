package convert

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/internal/golden"
)

func typed(text string) Model {
	m := New()
	for _, r := range text {
		m, _ = m.press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
	return m
}

func shown(m Model, w, h int) string { return ansi.Strip(strings.Join(m.Lines(w, h), "\n")) }

func TestGoldenScreens(t *testing.T) {
	drawn := map[string]string{}
	for name, text := range map[string]string{"empty": "", "torque": "22 Nm", "angle": "90 deg", "no-unit": "22"} {
		for _, size := range [][2]int{{80, 24}, {40, 15}, {120, 30}} {
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
		{"90 deg", []string{"90", "°  as typed", "1.5", "1/4", "turn"}},
		{"4 thou", []string{"4        thou  as typed", "0.1016", "mm"}},
		{"", []string{"a figure and its unit"}},
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

func TestEnterBeginsTheNextFigureAndEscLeaves(t *testing.T) {
	m, closed := typed("22 Nm").press(tea.KeyMsg{Type: tea.KeyEnter})
	if closed || !strings.Contains(shown(m, 80, 20), "a figure and its unit") {
		t.Errorf("enter did not begin anew: closed %v\n%s", closed, shown(m, 80, 20))
	}
	next, cmd := New().Update(tea.KeyMsg{Type: tea.KeyEsc})
	if _, ok := cmd().(tea.QuitMsg); !ok || next == nil {
		t.Error("esc does not end the screen")
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
		for w := range 90 {
			for h := range 20 {
				lines := m.Lines(w, h)
				if len(lines) != h {
					t.Fatalf("%q at %d×%d: %d lines", text, w, h, len(lines))
				}
				for _, l := range lines {
					if ansi.StringWidth(l) > w {
						t.Fatalf("%q at %d×%d: %q is too wide", text, w, h, ansi.Strip(l))
					}
				}
			}
		}
	}
}
