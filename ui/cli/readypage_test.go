package cli

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/record"
	"evenpull/ui/internal/golden"
	"evenpull/ui/start"
)

// What is chosen with one key on the start screen is the whole of plan --ready, to
// be scrolled, at the design size and at the smallest.
func TestGoldenReadyPages(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	dir := t.TempDir()
	a := &app{Env: Env{Now: func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }, Getenv: func(string) string { return "" }}, recordsDir: dir}
	store, err := record.Open(dir, a.Now)
	if err != nil {
		t.Fatal(err)
	}
	l, err := a.chosen(store, start.Choice{Do: start.Ready, Ref: "crankcase-close"})
	if err != nil {
		t.Fatal(err)
	}
	drawn := map[string]string{}
	for _, size := range [][2]int{{80, 24}, {40, 15}} {
		m, _ := l.Screen.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		seen, frames := ansi.Strip(m.View()), 0
		for _, name := range []string{"ready", "ready-end"} {
			drawn[fmt.Sprintf("%s-%dx%d.txt", name, size[0], size[1])] = ansi.Strip(m.View()) + "\n"
			for prev := ""; prev != m.View() && frames < 99; frames++ {
				prev = m.View()
				m, _ = m.Update(tea.KeyMsg{Type: tea.KeyPgDown})
				seen += ansi.Strip(m.View())
			}
		}
		for _, want := range []string{"20 min from first smear", "A second pair of hands", "service manual"} {
			if !strings.Contains(seen, want) {
				t.Errorf("%d×%d: %q is on no screen of it", size[0], size[1], want)
			}
		}
	}
	golden.In(t, filepath.Join("testdata", "golden"), drawn)
	if _, err := a.chosen(store, start.Choice{Do: start.Ready, Ref: "gone.toml"}); err == nil || !strings.Contains(err.Error(), "gone.toml") {
		t.Errorf("of a file that is gone: %v", err)
	}
}
