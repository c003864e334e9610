package start

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/field"
	"evenpull/ui/keys"
	"evenpull/ui/scroll"
)

// fieldKeymap are the keys while a text is typed that takes no others: letters are text.
type fieldKeymap struct{ Done, Back, Suspend, Quit key.Binding }

// fieldKeys are those of the field in hand.
func (m Model) fieldKeys() fieldKeymap {
	done := "go on"
	if m.face == onSheet {
		done = "begin"
	}
	return fieldKeymap{
		Done:    keys.New(done, "enter"),
		Back:    keys.New("back", "esc"),
		Suspend: keys.New("to the shell", "ctrl+z"),
		Quit:    keys.New("leave", "ctrl+c"),
	}
}

func (k fieldKeymap) all() []key.Binding { return []key.Binding{k.Done, k.Back, k.Quit, k.Suspend} }

// reasonKeys are those of a field below which there may be more to read.
func (m Model) reasonKeys() []key.Binding {
	k, s := m.fieldKeys(), m.asking.at.Keys(scroll.Typing(), len(m.aboutLines()), m.aboutRoom())
	return []key.Binding{k.Done, k.Back, s.PageDown, s.PageUp, s.Down, s.Up, k.Quit, k.Suspend}
}

// pressField types into a field, or takes what was typed with its spaces made single.
func (m *Model) pressField(msg tea.KeyMsg, in *field.Field, take func(typed string) (Model, tea.Cmd)) (Model, tea.Cmd) {
	k := m.fieldKeys()
	switch {
	case key.Matches(msg, k.Suspend):
		return *m, tea.Suspend
	case key.Matches(msg, k.Quit):
		return m.leaveWith(Choice{})
	case key.Matches(msg, k.Back):
		*in = in.Blur()
		m.face = onList
	case key.Matches(msg, k.Done):
		return take(strings.Join(strings.Fields(clean(in.Value())), " "))
	default:
		*in = in.Key(msg)
	}
	return *m, nil
}
