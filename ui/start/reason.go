package start

import (
	"errors"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/session"
	"evenpull/ui/field"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// asking is a reason that has to be given before a choice can be carried out.
type asking struct {
	choice          Choice
	title, question string
	example         string   // of a reason
	about           []string // what the reason is for
	role            theme.Role
	at              scroll.Text // in about
	give            func(c *Choice, why string)
}

// failed says what went wrong with a choice, or asks what has to be known first: which
// walk is meant, why one can go on without what is damaged, why a sheet was edited.
func (m Model) failed(msg FailedMsg) Model {
	var which *session.WhichError
	var damage *session.DamageError
	var edited *session.EditedError
	m.going = false
	switch {
	case errors.As(msg.Err, &damage):
		return m.ask(damaged(damage.List), msg.Choice, msg.Choice.Despite)
	case errors.As(msg.Err, &edited):
		return m.ask(editedSince(words.Resheeting(edited.Makes)), msg.Choice, msg.Choice.Because)
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

func damaged(list []session.Damage) asking {
	a := asking{title: "Something of this engine is damaged", question: "Why can the walk go on without what it may have held?", role: theme.Caution, example: "looked at it again, nothing missing",
		give: func(c *Choice, why string) { c.Despite = why }}
	for _, d := range list {
		a.about = append(a.about, theme.Mark(theme.Caution)+" "+clean(d.Text()))
	}
	return a
}

func editedSince(makes []string) asking {
	return asking{title: "The sheet was edited", question: "Why? The walk goes over to it then, and that cannot be undone.", about: makes, role: theme.Plain, example: "the figure was misread",
		give: func(c *Choice, why string) { c.Because, c.Shown = why, strings.Join(makes, "\n") }}
}

// ask takes a reason, beginning with the one that was typed before.
func (m Model) ask(a asking, c Choice, typed string) Model {
	a.choice = c
	m.face, m.asking = onReason, a
	m.reason = field.New("for example: "+a.example, longestReason).With(typed).Focus()
	return m
}

// longestReason is in characters.
const longestReason = 200

func (m Model) pressReason(msg tea.KeyMsg) (Model, tea.Cmd) {
	if at, moved := m.asking.at.Key(scroll.Typing(), msg, len(m.aboutLines()), m.aboutRoom()); moved {
		m.asking.at = at
		return m, nil
	}
	return m.pressField(msg, &m.reason, func(why string) (Model, tea.Cmd) {
		if why == "" {
			m.say, m.wrong = "write why, in a few words; it stays in the record", true
			return m, nil
		}
		c := m.asking.choice
		m.asking.give(&c, why)
		return m.leaveWith(c)
	})
}

// askingLines ask for the reason first, so that a long list cannot hide it.
func (m Model) askingLines() []string {
	lines := paint(theme.Title, m.asking.title, m.width)
	lines = append(lines, paint(theme.Plain, m.asking.question, m.width)...)
	lines = append(lines, inputLine(theme.Render(theme.Key, "> "), m.reason, m.width))
	if m.say != "" {
		lines = append(lines, m.said()...)
	}
	return append(lines, "")
}

// aboutLines are what the reason is for, and aboutRoom how many of them can be shown.
func (m Model) aboutLines() (lines []string) {
	for _, text := range m.asking.about {
		lines = append(lines, paint(m.asking.role, text, m.width)...)
	}
	return lines
}

func (m Model) aboutRoom() int {
	room := m.height - len(m.header()) - len(m.askingLines())
	if m.height >= minimal {
		room -= fieldFoot
	}
	return max(0, room)
}

func (m Model) reasonLines() []string {
	return append(m.askingLines(), m.asking.at.Window(m.aboutLines(), m.aboutRoom())...)
}
