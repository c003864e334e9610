package start

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// A sheet of the person's own, by asking: a new one is given a name here.

// longest name of a sheet, in characters: it becomes that of a file.
const maxSheet = 60

func (m Model) pressSheet(msg tea.KeyMsg) (Model, tea.Cmd) {
	return m.pressField(msg, &m.sheet, func(typed string) (Model, tea.Cmd) {
		name := strings.ReplaceAll(typed, " ", "-")
		if name == "" || strings.ContainsAny(name, `/\:*?"<>|`) || strings.HasPrefix(name, ".") {
			m.say, m.wrong = "a sheet needs a name of letters, digits and hyphens, such as gearbox-close", true
			return m, nil
		}
		return m.leaveWith(Choice{Do: Write, Ref: name})
	})
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
