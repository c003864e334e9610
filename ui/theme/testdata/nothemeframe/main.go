// Command nothemeframe is the smallest Bubble Tea program without the
// theme. The test of package theme runs it on a terminal that never answers.
package main

import (
	"fmt"
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

type model struct{}

func (model) Init() tea.Cmd { return nil }
func (m model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if _, pressed := msg.(tea.KeyMsg); pressed {
		return m, tea.Quit
	}
	return m, nil
}

func (model) View() string { return "first frame" }

func main() {
	if _, err := tea.NewProgram(model{}, tea.WithAltScreen()).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
