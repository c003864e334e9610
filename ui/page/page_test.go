package page

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"

	"evenpull/ui/internal/golden"
)

func long() Model {
	var lines []string
	for i := range 40 {
		lines = append(lines, fmt.Sprintf("line %d of a page that is longer than any screen it is read on", i))
	}
	return New("engine 7", tea.Quit, Section{"off", lines}, Section{"closed", nil}, Section{"notes", []string{"the last line"}})
}

func TestAPageScrollsToItsEndAndLeaves(t *testing.T) {
	var m tea.Model = long()
	if v := m.View(); !strings.Contains(v, "engine 7") || !strings.Contains(v, "off: 40") || strings.Contains(v, "closed") || strings.Contains(v, "the last line") {
		t.Errorf("at the top:\n%s", v)
	}
	for range 50 {
		m, _ = m.Update(tea.KeyMsg{Type: tea.KeyPgDown})
	}
	if v := m.View(); !strings.Contains(v, "the last line") || strings.Contains(v, "line 0 ") {
		t.Errorf("at the end:\n%s", v)
	}
	if _, cmd := m.Update(tea.KeyMsg{Type: tea.KeyEsc}); cmd == nil {
		t.Error("esc does not leave")
	}
}

func TestGoldenPages(t *testing.T) {
	drawn := map[string]string{}
	for _, size := range []struct{ w, h int }{{80, 24}, {40, 15}} {
		var m tea.Model = New("engine 7, Osier 380", tea.Quit, Section{"", []string{"last: Close the crankcase done, 2025-11-25 (a year ago); next: evenpull walk top-end-close"}}, Section{"to buy", []string{"2 × sealing washer 10 mm, for F1", "1 × base gasket"}})
		m, _ = m.Update(tea.WindowSizeMsg{Width: size.w, Height: size.h})
		drawn[fmt.Sprintf("engine-%dx%d", size.w, size.h)] = m.View()
	}
	golden.Screens(t, drawn)
}

func TestAPageFitsItsBox(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(0, 130).Draw(t, "w"), rapid.IntRange(0, 50).Draw(t, "h")
		var m tea.Model = long()
		m, _ = m.Update(tea.WindowSizeMsg{Width: w, Height: h})
		for range rapid.IntRange(0, 9).Draw(t, "downs") {
			m, _ = m.Update(tea.KeyMsg{Type: tea.KeyDown})
		}
		lines := strings.Split(m.View(), "\n")
		if len(lines) > max(h, 1) {
			t.Fatalf("%d lines in %d×%d", len(lines), w, h)
		}
		for _, line := range lines {
			if lipgloss.Width(line) > w {
				t.Fatalf("%q is wider than %d", line, w)
			}
		}
	})
}
