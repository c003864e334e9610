package start

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

// A sheet of the person's own, by asking: a new one is given a name here.

// longest name of a sheet, in characters: it becomes that of a file.
const maxSheet = 60

// sheetKeymap are the keys while the name of a new sheet is typed: letters are text.
type sheetKeymap struct{ Begin, Back, Suspend, Quit key.Binding }

func (m Model) sheetKeys() sheetKeymap {
	return sheetKeymap{
		Begin:   keys.New("begin", "enter"),
		Back:    keys.New("back", "esc"),
		Suspend: keys.New("to the shell", "ctrl+z"),
		Quit:    keys.New("leave", "ctrl+c"),
	}
}

func (k sheetKeymap) all() []key.Binding { return []key.Binding{k.Begin, k.Back, k.Quit, k.Suspend} }

func (m Model) pressSheet(msg tea.KeyMsg) (Model, tea.Cmd) {
	k := m.sheetKeys()
	switch {
	case key.Matches(msg, k.Suspend):
		return m, tea.Suspend
	case key.Matches(msg, k.Quit):
		return m.leaveWith(Choice{})
	case key.Matches(msg, k.Back):
		m.face = onList
		m.sheet.Blur()
	case key.Matches(msg, k.Begin):
		name := strings.Join(strings.Fields(clean(m.sheet.Value())), "-")
		if name == "" || strings.ContainsAny(name, `/\:*?"<>|`) || strings.HasPrefix(name, ".") {
			m.say, m.wrong = "a sheet needs a name of letters, digits and hyphens, such as gearbox-close", true
			return m, nil
		}
		return m.leaveWith(Choice{Do: Write, Ref: name})
	default:
		m.sheet, _ = m.sheet.Update(msg)
	}
	return m, nil
}

// sheetLines ask for the name of a new sheet.
func (m Model) sheetLines() []string {
	lines := paint(theme.Title, "A sheet of your own", m.width)
	lines = append(lines, "")
	lines = append(lines, fit.Wrap("What to call it? It is kept beside your other procedures.", m.width)...)
	lines = append(lines, inputLine(theme.Render(theme.Key, "> "), m.sheet, m.width), "")
	if m.say != "" {
		lines = append(lines, m.said()...)
	}
	return lines
}
