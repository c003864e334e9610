package estimate

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"evenpull/procedures/clamping"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

// Model is the pages of a stage as an overlay at the stand: its own load first,
// then what the neighbours leave after each pass. Start with New; it writes
// nothing and changes nothing of the walk.
type Model struct {
	in    Input
	page  int         // 0: the stage; from 1: after a pass
	at    scroll.Text // in the stage's page
	asked bool
	study *clamping.Study
	why   error // there is no study
}

// keymap is every key of the pages.
type keymap struct{ Next, Back, Down, Up, Top, Bottom, Close key.Binding }

// New shows the page of a stage. The neighbours are worked out when first asked for.
func New(in Input) Model { return Model{in: in} }

// keysNow are the keys that do something on a page of w×h cells.
func (m Model) keysNow(w, h int) keymap {
	does := "neighbours"
	if m.page > 0 {
		does = "next pass"
	}
	k := m.at.Keys(scroll.Read(), len(Lines(m.in, w)), h-2)
	return keymap{
		Next:   keys.When(keys.New(does, "right", "tab", "pgdown"), !m.asked || m.page < m.last()),
		Back:   keys.When(keys.New("back a page", "left", "shift+tab", "pgup"), m.page > 0),
		Down:   keys.When(k.Down, m.page == 0 && k.Down.Enabled()),
		Up:     keys.When(k.Up, m.page == 0 && k.Up.Enabled()),
		Top:    keys.When(k.Top, m.page == 0 && k.Top.Enabled()),
		Bottom: keys.When(k.Bottom, m.page == 0 && k.Bottom.Enabled()),
		Close:  keys.New("close", "esc", "q", "enter", "ctrl+c"),
	}
}

// Keys are those of a page.
func (m Model) Keys(w, h int) []key.Binding {
	k := m.keysNow(w, h)
	return []key.Binding{k.Close, k.Next, k.Back, k.Down, k.Up, k.Bottom, k.Top}
}

// Typing is never so.
func (m Model) Typing() bool { return false }

// Covers is always so.
func (m Model) Covers() bool { return true }

// Key takes one key.
func (m Model) Key(p overlay.Press) (overlay.Model, overlay.Answer) {
	now := m.keysNow(p.W, p.H)
	switch k := p.KeyMsg; {
	case key.Matches(k, now.Close):
		return m, overlay.Answer{Close: true}
	case key.Matches(k, now.Next):
		m = m.look()
		m.page, m.at = min(m.page+1, m.last()), scroll.Text{}
	case key.Matches(k, now.Back):
		m.page, m.at = m.page-1, scroll.Text{}
	case key.Matches(k, now.Down, now.Up, now.Top, now.Bottom):
		m.at, _ = m.at.Key(scroll.Read(), k, len(Lines(m.in, p.W)), p.H-2)
	}
	return m, overlay.Answer{}
}

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

// Lines gives the page in exactly h lines of at most w cells, keys at the bottom.
func (m Model) Lines(w, h int) []string {
	if h < 3 {
		return fit.Box([]string{theme.Text(Governs)}, w, h)
	}
	return append(fit.Box(m.body(w, h-1), w, h-1), scroll.Foot(w, m.place(w, h), m.Keys(w, h)...))
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

// scrolled is the stage's page from the line at the top.
func (m Model) scrolled(w, h int) []string {
	shown := fit.Box(m.at.Window(Lines(m.in, w), h-1), w, h-1)
	return append(shown, theme.Render(theme.Quiet, fit.Cut(theme.Text(Governs), w)))
}

// place says how much of the stage's page is on a page of w×h cells.
func (m Model) place(w, h int) string {
	if m.page > 0 {
		return ""
	}
	return m.at.Place(scroll.Lines, len(Lines(m.in, w)), h-2)
}
