// Package page is a text to read: a title and lines, scrolled, and away again.
// It is a screen of its own and an overlay at the stand.
package page

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

// Section is some lines under a heading.
type Section struct {
	Heading string
	Lines   []string
}

// Row is one paragraph with a mark set apart at its left.
type Row struct{ Mark, Text string }

// Model is the page. Start with New or Rows.
type Model struct {
	title  string
	lay    func(w int) []string
	anyKey bool // every key that does not scroll closes it
	at     scroll.Text
	leave  tea.Cmd
	left   bool
	width  int
	height int
}

// New makes a page that is a screen of its own; leave is what leaving it gives back.
// Sections without lines are left out.
func New(title string, leave tea.Cmd, sections ...Section) Model {
	return Model{title: title, leave: leave, width: 80, height: 24, lay: func(w int) []string { return sectionLines(sections, w) }}
}

// Rows makes a page that lies over the walk and goes with any key that does not scroll.
func Rows(title string, rows []Row) Model {
	return Model{title: title, anyKey: true, lay: func(w int) []string { return rowLines(rows, w) }}
}

type keymap struct {
	Leave, Down, Up, PageDown, PageUp, Top, Bottom, Suspend key.Binding
}

// keys are the bindings in w×h cells. A confirming key never closes a text that has to
// be scrolled, or one press too many would confirm what is behind it.
func (m Model) keys(w, h int) keymap {
	n, room := len(m.lay(w)), m.room(w, h)
	leave := keys.New("back", "esc", "q", "ctrl+c")
	if n <= room {
		leave = keys.New("back", "esc", "q", "ctrl+c", "enter", " ", "pgdown")
	}
	s := m.at.Keys(scroll.Read(), n, room)
	return keymap{leave, s.Down, s.Up, s.PageDown, s.PageUp, s.Top, s.Bottom, keys.New("to the shell", "ctrl+z")}
}

// Keys are those of a text.
func (m Model) Keys(w, h int) []key.Binding {
	k := m.keys(w, h)
	return []key.Binding{k.Leave, k.PageDown, k.Down, k.PageUp, k.Up, k.Bottom, k.Top}
}

// Typing is never so.
func (m Model) Typing() bool { return false }

// Covers is always so.
func (m Model) Covers() bool { return true }

// Key scrolls or closes.
func (m Model) Key(p overlay.Press) (overlay.Model, overlay.Answer) {
	next, closed := m.press(p.KeyMsg, p.W, p.H)
	return next, overlay.Answer{Close: closed}
}

func (m Model) press(k tea.KeyMsg, w, h int) (next Model, closed bool) {
	at, scrolled := m.at.Key(scroll.Read(), k, len(m.lay(w)), m.room(w, h))
	m.at = at
	return m, !scrolled && (m.anyKey || key.Matches(k, m.keys(w, h).Leave))
}

// room is the lines between the title and the keys.
func (m Model) room(w, h int) int { return max(1, h-1-len(m.titleLines(w))) }

func (m Model) titleLines(w int) []string { return fit.Paint(theme.Title, m.title, w) }

// Lines draws title, lines and keys.
func (m Model) Lines(w, h int) []string {
	title, all, room := m.titleLines(w), m.lay(w), m.room(w, h)
	out := append(title, m.at.Window(all, room)...)
	foot := scroll.Foot(w, m.at.Place(scroll.Lines, len(all), room), m.Keys(w, h)...)
	return append(fit.Box(out, w, h-1), fit.Box([]string{foot}, w, min(1, h))...)
}

// Init asks for nothing.
func (m Model) Init() tea.Cmd { return nil }

// Update takes sizes and keys.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case tea.KeyMsg:
		if key.Matches(msg, m.keys(m.width, m.height).Suspend) {
			return m, tea.Suspend
		}
		if m, m.left = m.press(msg, m.width, m.height); m.left {
			return m, m.leave
		}
	}
	return m, nil
}

// Going reports whether the page was left.
func (m Model) Going() bool { return m.left }

// View draws the screen.
func (m Model) View() string { return strings.Join(m.Lines(m.width, m.height), "\n") }

func sectionLines(sections []Section, w int) []string {
	var list []string
	for _, s := range sections {
		if len(s.Lines) == 0 {
			continue
		}
		if len(list) > 0 {
			list = append(list, "")
		}
		if s.Heading != "" {
			list = append(list, theme.Render(theme.Title, theme.Text(fmt.Sprintf("%s: %d", s.Heading, len(s.Lines)))))
		}
		for _, line := range s.Lines {
			for j, part := range fit.Wrap(theme.Text(line), max(1, w-4)) {
				indent := "  "
				if j > 0 {
					indent = "    "
				}
				list = append(list, indent+part)
			}
		}
	}
	return list
}

// rowLines lays rows out in w cells, marks in a column of their own.
func rowLines(rows []Row, w int) []string {
	mw := 0
	for _, r := range rows {
		mw = max(mw, fit.Width(theme.Text(r.Mark)))
	}
	var out []string
	for _, r := range rows {
		mark := theme.Render(theme.Key, fit.Pad(theme.Text(r.Mark), mw))
		for _, l := range fit.Wrap(theme.Text(r.Text), max(1, w-mw-2)) {
			out = append(out, mark+"  "+l)
			mark = strings.Repeat(" ", mw)
		}
	}
	return out
}
