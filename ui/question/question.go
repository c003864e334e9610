// Package question is a warning below the figure that has to be answered: leaving,
// stopping for good, a write that did not succeed.
package question

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/overlay"
	"evenpull/ui/theme"
)

// Model is the overlay.
type Model struct {
	Word    string // in reverse: LEAVE?
	Text    string
	Below   string // a line of its own: a command
	Choices []Choice
	Other   overlay.Answer // to every key that no choice has
}

// Choice is keys with the answer they give.
type Choice struct {
	Key    key.Binding
	Answer overlay.Answer
}

// Answer is what a key comes to.
func (m Model) Answer(k tea.KeyMsg) overlay.Answer {
	for _, c := range m.Choices {
		if key.Matches(k, c.Key) {
			return c.Answer
		}
	}
	return m.Other
}

// Key answers.
func (m Model) Key(p overlay.Press) (overlay.Model, overlay.Answer) { return m, m.Answer(p.KeyMsg) }

// Lines draws what is asked.
func (m Model) Lines(w, h int) []string {
	lines := fit.Badge(" "+m.Word+" ", m.Text, w)
	lines = append(lines, fit.Paint(theme.Title, m.Below, w)...)
	return lines[:min(len(lines), max(0, h))]
}

// Keys are those of the choices.
func (m Model) Keys(int, int) []key.Binding {
	list := make([]key.Binding, len(m.Choices))
	for i, c := range m.Choices {
		list[i] = c.Key
	}
	return list
}

// Typing is never so.
func (m Model) Typing() bool { return false }

// Covers is never so: what is asked about stays in view.
func (m Model) Covers() bool { return false }
