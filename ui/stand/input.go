package stand

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/entry"
	"evenpull/ui/keys"
	"evenpull/ui/question"
)

// most keys kept while a write is under way; more is somebody leaning on it.
const maxHeld = 32

// key takes one key as it arrives. Of keys that arrive together the first decides:
// a figure goes on into its field, text goes on in a field, and of anything else
// the rest is dropped, so that what a tool sends or a paste holds confirms nothing.
func (m Model) key(k tea.KeyMsg, at time.Time) (Model, tea.Cmd) {
	if k.Type == tea.KeyCtrlZ {
		return m, tea.Suspend
	}
	if m.cfg.Watch {
		return m.watchKey(k)
	}
	var together bool
	m.stream, together = m.stream.Arrive(at)
	confirm, counts := m.confirms(k), true
	if confirm || keys.Several(k) && !m.typing() {
		m, counts = m.pressed(at) // also where it is dropped: a key held down goes on after it
	}
	if together && m.deaf && !m.leaves(k) {
		return m, nil
	}
	m.together, m.arrived = together, at
	if k.Type == tea.KeyCtrlJ {
		return m, nil // the second half of CR LF
	}
	if confirm && !counts {
		return m.deafen(false), nil
	}
	if m.busy {
		// A confirmation must answer what is on the screen, so it is not kept; nor is
		// a yes, nor a text that came in one.
		if !confirm && k.String() != "y" && !keys.Several(k) && len(m.held) < maxHeld {
			m.held = append(m.held[:len(m.held):len(m.held)], k)
		}
		return m.deafen(m.typing()), nil
	}
	return m.give(k, confirm)
}

// leaves reports whether a key means to leave: that is never dropped.
func (m Model) leaves(k tea.KeyMsg) bool {
	q, asked := m.overlay().(question.Model)
	return k.Type == tea.KeyCtrlC || asked && k.String() == "q" && q.Answer(k).Leave
}

// give hands a key to whatever has them.
func (m Model) give(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	typing := m.typing()
	if keys.Several(k) && !typing {
		return m.severalKeys(k), nil
	}
	var cmd tea.Cmd
	lay := len(m.over) > 0
	m.typed = !confirm && typing && k.Type != tea.KeyEsc && k.Type != tea.KeyCtrlC
	if lay {
		m, cmd = m.overKey(k, confirm)
	} else {
		m, cmd = m.walkKey(k)
	}
	if lay && len(m.over) == 0 && !m.busy { // it was closed, not sent off
		m.dismiss = true
		m.hearBack()
	}
	return m.deafen(m.typing() && (typing || m.typed)), cmd
}

// deafen drops the rest of what arrives together, unless it is typed into a field.
func (m Model) deafen(typing bool) Model {
	m.deaf = !typing
	return m
}

// severalKeys takes several characters at once where no field is open: a figure
// opens its field, anything else does nothing.
func (m Model) severalKeys(k tea.KeyMsg) Model {
	text, _, _ := strings.Cut(strings.TrimSpace(strings.ReplaceAll(string(k.Runes), "\r", "\n")), "\n")
	isFigure := entry.StartsFigure(text)
	if isFigure && m.takesFigures() {
		m.typed = true
		return m.openReading(spec.Printable(text)).deafen(!k.Paste) // a tool ends what it sends; a paste is looked at first
	}
	m.say = message{aside, "several keys came at once: nothing was done"}
	if isFigure && m.changing() {
		m.say.text = m.notYet()
	} else if isFigure {
		m.say.text = "a figure came in and nothing here takes one: nothing was done"
	}
	m.hearRefused(m.say.text)
	return m.deafen(false)
}

// takesFigures reports whether a figure that comes in may open its field.
func (m Model) takesFigures() bool {
	return len(m.over) == 0 && m.cfg.ReadOnly == "" && m.cfg.State.Phase == walk.IsOpen && m.takesReading()
}

// confirms reports whether a key is a confirming one where it is pressed: in a
// text field space is a letter, and at a question y is a yes.
func (m Model) confirms(k tea.KeyMsg) bool {
	return isConfirm(k) && (k.Type != tea.KeySpace || !m.typing()) || k.String() == "y" && len(m.over) == 0 && m.atQuestion()
}

// isConfirm reports whether it is one of the keys that confirm.
func isConfirm(k tea.KeyMsg) bool {
	return !k.Paste && (k.Type == tea.KeyEnter || k.Type == tea.KeyPgDown || k.Type == tea.KeySpace)
}

// pressed asks the guard whether a confirming key counts. One that sends off
// what was just typed is no bounce of the one before the typing.
func (m Model) pressed(at time.Time) (Model, bool) {
	var ok bool
	m.guard, ok = m.guard.Press(at)
	return m, ok || m.typed
}
