// Package review is the screen that shows a record: fasteners by pass, what is
// outstanding, checks and parts, renewals, deviations, the timeline, and the
// file itself. It reads a report.Sheet and changes nothing. To print a record
// instead, use package report.
package review

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/report"
	"evenpull/ui/scroll"
)

// Config is what the screen shows.
type Config struct {
	Sheet  report.Sheet
	Frames []report.Frame // the walk step by step; none: it cannot be replayed
	Leave  tea.Cmd        // what leaving gives back; nil ends the program
}

// Model is the review. Start with New.
type Model struct {
	sheet  report.Sheet
	matrix report.Matrix
	leave  tea.Cmd
	left   bool
	pages  []page // laid out for the width
	now    int    // page shown
	at     [pageCount]scroll.Text
	cell   int // width of a cell of the matrix
	column int // first pass shown in the matrix
	replay replay
	help   bool
	width  int
	height int
}

// New starts at the matrix, or at the file's page when the record cannot be
// relied on. The first size arrives as a tea.WindowSizeMsg.
func New(c Config) Model {
	m := Model{sheet: c.Sheet, matrix: c.Sheet.Matrix(), leave: c.Leave, width: 80, height: 24}
	if m.leave == nil {
		m.leave = tea.Quit
	}
	m.cell = cellWidth(m.matrix)
	m.replay = newReplay(c.Sheet, c.Frames)
	if !c.Sheet.Trusted() {
		m.now = filePage
	}
	m.pages = m.layPages()
	return m
}

// Init asks for nothing.
func (m Model) Init() tea.Cmd { return nil }

// Update takes sizes and keys.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		m.pages = m.layPages()
		m.hold()
	case tea.KeyMsg:
		return m.press(msg)
	case stepMsg:
		if m.now == replayPage && m.replay.take(msg) {
			return m, m.replay.next()
		}
	}
	return m, nil
}

func (m Model) press(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	k := m.keys()
	switch msg.String() { // the keys of old
	case "n":
		msg = tea.KeyMsg{Type: tea.KeyTab}
	case "p":
		msg = tea.KeyMsg{Type: tea.KeyShiftTab}
	}
	if m.help && !key.Matches(msg, k.Suspend) {
		m.help = false // any key goes back
		return m, nil
	}
	if m.now == replayPage {
		if r, cmd, ok := m.replay.press(msg, k); ok {
			m.replay = r
			return m, cmd
		}
	}
	switch {
	case key.Matches(msg, k.Leave):
		m.left = true
		return m, m.leave
	case key.Matches(msg, k.Suspend):
		return m, tea.Suspend
	case key.Matches(msg, k.Help):
		m.help = true
	case key.Matches(msg, k.Next):
		m.now = (m.now + 1) % pageCount
	case key.Matches(msg, k.Previous):
		m.now = (m.now + pageCount - 1) % pageCount
	case key.Matches(msg, k.Page):
		m.now = int(msg.String()[0] - '1')
	case key.Matches(msg, k.Left):
		m.column--
	case key.Matches(msg, k.Right):
		m.column++
	default:
		m.at[m.now], _ = m.at[m.now].Key(scroll.Read(), msg, m.rows(), m.bodyHeight())
	}
	m.hold()
	if m.now != replayPage {
		m.replay.playing = false
	}
	return m, nil
}

// hold keeps what is shown inside what there is.
func (m *Model) hold() { m.column = max(0, min(m.column, m.lastColumn())) }

// rows is how many rows the page shown has.
func (m Model) rows() int {
	if m.now == matrixPage {
		return len(m.matrix.Rows)
	}
	return len(m.pages[m.now].rows)
}

// lastColumn is the furthest the matrix can be moved sideways; 0 elsewhere.
func (m Model) lastColumn() int {
	if m.now != matrixPage {
		return 0
	}
	return m.grid().last
}

// Going reports whether the review was left.
func (m Model) Going() bool { return m.left }

// View draws the screen: exactly as many lines as there are, none too wide.
func (m Model) View() string { return m.frame() }
