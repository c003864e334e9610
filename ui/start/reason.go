package start

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

// Answer is what has to be answered for before a choice can be carried out: what
// is damaged of its engine, a line each.
type Answer struct {
	Choice Choice
	Lines  []string
}

// longestReason is in characters.
const longestReason = 200

// reasonKeymap are the keys while a reason is typed: letters are text.
type reasonKeymap struct{ Keep, Back, Suspend, Quit key.Binding }

func (m Model) reasonKeys() reasonKeymap {
	return reasonKeymap{
		Keep:    keys.New("keep it and go on", "enter"),
		Back:    keys.New("back", "esc"),
		Suspend: keys.New("to the shell", "ctrl+z"),
		Quit:    keys.New("leave", "ctrl+c"),
	}
}

func (k reasonKeymap) all() []key.Binding { return []key.Binding{k.Keep, k.Back, k.Quit, k.Suspend} }

func (m Model) pressReason(msg tea.KeyMsg) (Model, tea.Cmd) {
	k := m.reasonKeys()
	switch {
	case key.Matches(msg, k.Suspend):
		return m, tea.Suspend
	case key.Matches(msg, k.Quit):
		return m.leaveWith(Choice{})
	case key.Matches(msg, k.Back):
		m.face = onList
		m.reason.Blur()
	case key.Matches(msg, k.Keep):
		why := strings.Join(strings.Fields(clean(m.reason.Value())), " ")
		if why == "" {
			m.say, m.wrong = "write why, in a few words; it stays in the record", true
			return m, nil
		}
		c := m.cfg.Answer.Choice
		c.Despite = why
		return m.leaveWith(c)
	default:
		m.reason, _ = m.reason.Update(msg)
	}
	return m, nil
}

// reasonLines ask for the reason first, so that a long list cannot hide it.
func (m Model) reasonLines() []string {
	lines := paint(theme.Title, "Something of this engine is damaged", m.width)
	lines = append(lines, paint(theme.Plain, "Why can the walk go on without what it may have held?", m.width)...)
	lines = append(lines, inputLine(theme.Render(theme.Key, "> "), m.reason, m.width))
	if m.say != "" {
		lines = append(lines, m.said()...)
	}
	lines = append(lines, "")
	for _, text := range m.cfg.Answer.Lines {
		lines = append(lines, paint(theme.Caution, theme.Mark(theme.Caution)+" "+clean(text), m.width)...)
	}
	return lines
}
