// Package page is a screen to read: a title and lines, scrolled, and away again.
package page

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

// Section is some lines under a heading.
type Section struct {
	Heading string
	Lines   []string
}

// Model is the screen. Start with New.
type Model struct {
	title    string
	sections []Section
	top      int
	width    int
	height   int
}

// New makes a page. Sections without lines are left out.
func New(title string, sections ...Section) Model {
	m := Model{title: title, width: 80, height: 24}
	for _, s := range sections {
		if len(s.Lines) > 0 {
			m.sections = append(m.sections, s)
		}
	}
	return m
}

type keymap struct {
	Leave, Down, Up, PageDown, PageUp, Suspend key.Binding
}

func (m Model) keys() keymap {
	down, up := m.top < m.lowest(), m.top > 0
	return keymap{
		Leave:    keys.New("back", "esc", "q", "enter", "ctrl+c"),
		Down:     keys.When(keys.New("down", "down", "j"), down),
		Up:       keys.When(keys.New("up", "up", "k"), up),
		PageDown: keys.When(keys.New("a screen on", "pgdown", " "), down),
		PageUp:   keys.When(keys.New("a screen back", "pgup", "b"), up),
		Suspend:  keys.New("to the shell", "ctrl+z"),
	}
}

// Init asks for nothing.
func (m Model) Init() tea.Cmd { return nil }

// Update takes sizes and keys.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case tea.KeyMsg:
		k, screen := m.keys(), max(1, m.room()-1)
		switch {
		case key.Matches(msg, k.Leave):
			return m, tea.Quit
		case key.Matches(msg, k.Suspend):
			return m, tea.Suspend
		case key.Matches(msg, k.Down):
			m.top++
		case key.Matches(msg, k.Up):
			m.top--
		case key.Matches(msg, k.PageDown):
			m.top += screen
		case key.Matches(msg, k.PageUp):
			m.top -= screen
		}
	}
	m.top = max(0, min(m.top, m.lowest()))
	return m, nil
}

// room is the lines between the title and the keys.
func (m Model) room() int { return max(0, m.height-2) }

func (m Model) lowest() int { return max(0, len(m.lines())-m.room()) }

func (m Model) lines() []string {
	var list []string
	for i, s := range m.sections {
		if i > 0 {
			list = append(list, "")
		}
		if s.Heading != "" {
			list = append(list, theme.Render(theme.Title, theme.Text(fmt.Sprintf("%s: %d", s.Heading, len(s.Lines)))))
		}
		for _, line := range s.Lines {
			for j, part := range fit.Wrap(theme.Text(line), max(1, m.width-4)) {
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

// View draws title, lines and keys.
func (m Model) View() string {
	k, all := m.keys(), m.lines()
	shown := all[min(m.top, len(all)):]
	title := theme.Render(theme.Title, fit.Cut(theme.Text(m.title), m.width))
	frame := append([]string{title}, fit.Box(shown, m.width, m.room())...)
	frame = append(frame, keys.Short(m.width, k.Leave, k.Down, k.PageDown, k.Up, k.PageUp))
	return strings.Join(fit.Box(frame, m.width, m.height), "\n")
}
