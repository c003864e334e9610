package estimate

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/clamping"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

// Model is the pages of a stage as an overlay at the stand: its own load first,
// then what the neighbours leave after each pass. Start with New; it writes
// nothing and changes nothing of the walk.
type Model struct {
	in    Input
	page  int // 0: the stage; from 1: after a pass
	top   int // first line shown of the stage's page
	asked bool
	study *clamping.Study
	why   error // there is no study
}

// keymap is every key of the pages.
type keymap struct{ Next, Back, Down, Up, Close key.Binding }

// New shows the page of a stage. The neighbours are worked out when first asked for.
func New(in Input) Model { return Model{in: in} }

// keysNow are the keys that do something on a page of w×h cells.
func (m Model) keysNow(w, h int) keymap {
	does := "neighbours"
	if m.page > 0 {
		does = "next pass"
	}
	return keymap{
		Next:  keys.When(keys.New(does, "right", "tab", "pgdown"), !m.asked || m.page < m.last()),
		Back:  keys.When(keys.New("back a page", "left", "shift+tab", "pgup"), m.page > 0),
		Down:  keys.When(keys.New("further down", "down", "j"), m.page == 0 && m.top < m.lowest(w, h)),
		Up:    keys.When(keys.New("further up", "up", "k"), m.page == 0 && m.top > 0),
		Close: keys.New("close", "esc", "q", "enter", "ctrl+c"),
	}
}

// Key takes one key on a page of w×h cells; closed is true when the person has left.
func (m Model) Key(k tea.KeyMsg, w, h int) (next Model, closed bool) {
	now := m.keysNow(w, h)
	switch {
	case key.Matches(k, now.Close):
		return m, true
	case key.Matches(k, now.Next):
		m = m.look()
		m.page, m.top = min(m.page+1, m.last()), 0
	case key.Matches(k, now.Back):
		m.page, m.top = m.page-1, 0
	case key.Matches(k, now.Down):
		m.top++
	case key.Matches(k, now.Up):
		m.top = min(m.top, m.lowest(w, h)) - 1
	}
	return m, false
}

// lowest is the last line that may stand at the top of the stage's page.
func (m Model) lowest(w, h int) int { return max(0, len(Lines(m.in, w))-(h-2)) }

// look works the neighbours out, once.
func (m Model) look() Model {
	if m.asked || m.in.Plan == nil {
		return m
	}
	m.asked = true
	m.study, m.why = clamping.Together(m.in.Plan.Procedure)
	return m
}

// last is the number of the last page; one page says why there are no neighbours.
func (m Model) last() int {
	if m.study == nil {
		return 1
	}
	return len(m.study.Passes)
}

// Draw gives the page in exactly h lines of at most w cells, keys at the bottom.
func (m Model) Draw(w, h int) []string {
	if h < 3 {
		return fit.Box([]string{theme.Text(Governs)}, w, h)
	}
	now := m.keysNow(w, h)
	return append(fit.Box(m.body(w, h-1), w, h-1), keys.Short(w, now.Close, now.Next, now.Back, now.Down, now.Up))
}

func (m Model) body(w, h int) []string {
	switch {
	case m.page > 0 && m.study == nil:
		lines := []string{theme.Render(theme.Title, theme.Text("what the bolts do to each other"))}
		text := "there is no stage at hand"
		if m.why != nil {
			text = m.why.Error()
		}
		for _, paragraph := range strings.Split(text, "\n") {
			lines = append(lines, fit.Wrap(theme.Text(paragraph), w)...)
		}
		return lines
	case m.page > 0:
		lines := fit.Lines(Neighbours(m.study, m.page-1, w, h-1))
		return append(lines, theme.Render(theme.Quiet, fit.Cut(theme.Text(Governs), w)))
	}
	return m.scrolled(w, h)
}

// scrolled is the stage's page from the line at the top, with what lies below counted.
func (m Model) scrolled(w, h int) []string {
	all := Lines(m.in, w)
	room := h - 1
	top := min(m.top, max(0, len(all)-room))
	shown := fit.Box(all[top:], w, room)
	closing := Governs
	if below := len(all) - top - room; below > 0 {
		closing = fmt.Sprintf("%s (%d lines more)", Governs, below)
	}
	return append(shown, theme.Render(theme.Quiet, fit.Cut(theme.Text(closing), w)))
}
