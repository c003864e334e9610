package start

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/session"
	"evenpull/ui/theme"
)

// answer is what has to be answered for before a choice can be carried out: what
// is damaged of its engine.
type answer struct {
	choice Choice
	damage []session.Damage
}

// failed says what went wrong with a choice, or asks what has to be known first: which
// walk is meant, why one can go on without what is damaged.
func (m Model) failed(msg FailedMsg) Model {
	var which *session.WhichError
	var damage *session.DamageError
	m.going = false
	switch {
	case errors.As(msg.Err, &damage):
		m.face, m.answer = onReason, answer{msg.Choice, damage.List}
		m.reason = m.reason.With("").Focus()
		return m
	case errors.As(msg.Err, &which) && which.File == nil:
		m.say = which.Why() + ": go on with it under Left open, or start a new one"
		if m.face != onTag {
			m.face = onList
		}
	default:
		m.say, m.face = clean(msg.Err.Error()), onList
	}
	m.wrong = true
	return m
}

// longestReason is in characters.
const longestReason = 200

func (m Model) pressReason(msg tea.KeyMsg) (Model, tea.Cmd) {
	return m.pressField(msg, &m.reason, func(why string) (Model, tea.Cmd) {
		if why == "" {
			m.say, m.wrong = "write why, in a few words; it stays in the record", true
			return m, nil
		}
		c := m.answer.choice
		c.Despite = why
		return m.leaveWith(c)
	})
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
	for _, d := range m.answer.damage {
		lines = append(lines, paint(theme.Caution, theme.Mark(theme.Caution)+" "+clean(d.Text()), m.width)...)
	}
	return lines
}
