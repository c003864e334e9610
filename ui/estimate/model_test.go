package estimate

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/overlay"
)

const w, h = 60, 14

func press(t *testing.T, m Model, keys ...tea.KeyType) Model {
	t.Helper()
	for _, k := range keys {
		next, did := m.Key(overlay.Press{KeyMsg: tea.KeyMsg{Type: k}, W: w, H: h})
		if m = next.(Model); did.Close {
			t.Fatalf("%v closed it", k)
		}
	}
	return m
}

func text(m Model) string { return strings.Join(m.Lines(w, h), "\n") }

func TestPagesTurnFromTheStageToEachPass(t *testing.T) {
	p := bundled(t, "crankcase-close")
	m := New(Input{p, stage(t, p, "Final", "B1"), bench(t)})
	for _, want := range []struct {
		key  tea.KeyType
		page string
	}{
		{tea.KeyRight, "after Draw down"}, {tea.KeyRight, "after Final"}, {tea.KeyRight, "after Final"},
		{tea.KeyLeft, "after Draw down"}, {tea.KeyLeft, "B1 20 N·m, Final"}, {tea.KeyLeft, "B1 20 N·m, Final"},
	} {
		m = press(t, m, want.key)
		if got := text(m); !strings.HasPrefix(got, want.page) || !strings.Contains(got, Governs) {
			t.Errorf("after %v:\n%s\nwant %q at its head", want.key, got, want.page)
		}
	}
	if _, did := m.Key(overlay.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyEsc}, W: w, H: h}); !did.Close {
		t.Error("esc does not close it")
	}
}

func TestTheStagesPageScrollsToItsEndAndBack(t *testing.T) {
	p := bundled(t, "crankcase-close")
	m := New(Input{p, stage(t, p, "Final", "B1"), bench(t)})
	first := text(m)
	if !strings.Contains(first, "lines 1-") {
		t.Fatalf("it all fits, so this proves nothing:\n%s", first)
	}
	for range 200 {
		m = press(t, m, tea.KeyDown)
	}
	if got := text(m); !strings.Contains(got, "VDI 2230 (2001 and") || strings.Contains(got, "lines 1-") {
		t.Errorf("the end is not in sight:\n%s", got)
	}
	for range 200 {
		m = press(t, m, tea.KeyUp)
	}
	if text(m) != first {
		t.Errorf("back at the top:\n%s\nwant\n%s", text(m), first)
	}
}

func TestNoCoverSaysWhatToGive(t *testing.T) {
	p := bundled(t, "flywheel-nut")
	m := press(t, New(Input{p, p.Stages[0], Bench{}}), tea.KeyTab)
	if got := strings.ReplaceAll(text(m), "\n", " "); !strings.Contains(got, "add [cover] with part, material, thickness (of the metal from the joint face to the bolt heads) and face") {
		t.Errorf("got %s", got)
	}
	if m = press(t, m, tea.KeyTab, tea.KeyTab, tea.KeyLeft); m.page != 0 {
		t.Errorf("on page %d", m.page)
	}
}

func TestOverlayFillsItsBox(t *testing.T) {
	p := bundled(t, "head-torque-turn")
	m := New(Input{p, p.Stages[0], bench(t)})
	for range 3 {
		for w := 1; w < 130; w += 9 {
			for h := 1; h < 40; h += 3 {
				lines := m.Lines(w, h)
				if len(lines) != h {
					t.Fatalf("%d×%d: %d lines", w, h, len(lines))
				}
				for _, l := range lines {
					if fit.Width(l) > w {
						t.Fatalf("%d×%d: %q", w, h, l)
					}
				}
			}
		}
		m = press(t, m, tea.KeyRight)
	}
}
