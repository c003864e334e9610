package review

import (
	"fmt"
	"strings"

	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

const (
	minimal = 7  // below this height: title and body only
	narrow  = 70 // below this width the legend is in single words
)

// frame is the whole screen.
func (m Model) frame() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	lines := m.header()
	if m.help {
		lines = append(lines, keys.Lines(m.width, m.keys().all()...)...)
	} else {
		lines = append(lines, m.pageHead()...)
		lines = append(lines, m.body()...)
	}
	foot := m.foot()
	lines = append(fit.Box(lines, m.width, m.height-len(foot)), foot...)
	return strings.Join(fit.Box(lines, m.width, m.height), "\n")
}

func (m Model) header() []string {
	s := m.sheet
	progress := fmt.Sprintf("%d/%d", s.Stages.Confirmed, s.Stages.Of)
	state := strings.ToUpper(s.State) + " " + progress
	room := max(0, m.width-fit.Width(state)-2)
	lines := []string{fit.Ends(theme.Render(theme.Title, fit.Cut(theme.Text(s.Engine+"  "+s.Procedure), room)), theme.Render(m.stateRole(), state), m.width)}
	if m.height < minimal {
		return lines[:1]
	}
	lines = append(lines, m.tabs())
	if !s.Trusted() && m.now != filePage {
		lines = append(lines, theme.Render(theme.Warning, fit.Cut(fmt.Sprintf(" DO NOT RELY ON THIS RECORD: %d says why ", filePage+1), m.width)))
	}
	return append(lines, "")
}

func (m Model) stateRole() theme.Role {
	if m.sheet.State == "done" {
		return theme.Done
	}
	return theme.Outstanding
}

// tabs names the pages, the current one in brackets; where there is no room
// for all, only that one.
func (m Model) tabs() string {
	for _, apart := range []string{" ", ""} {
		line := ""
		for i := range pageNames {
			if i == m.now {
				line = strings.TrimSuffix(line, " ") + theme.Render(theme.Current, "["+m.tab(i)+"]") + apart
				continue
			}
			line += " " + m.tab(i) + apart
		}
		if fit.Width(line) <= m.width {
			return line
		}
	}
	return fit.Ends(theme.Render(theme.Current, "["+m.tab(m.now)+"]"), theme.Render(theme.Quiet, fmt.Sprintf("page %d of %d", m.now+1, pageCount)), m.width)
}

func (m Model) tab(i int) string {
	text := fmt.Sprintf("%d %s", i+1, pageNames[i])
	if n := m.pages[i].count; (i == outstandingPage || i == deviationsPage) && n > 0 {
		text += fmt.Sprintf(" %d", n)
	}
	return text
}

// pageHead stays where it is while the rows move under it.
func (m Model) pageHead() []string {
	if m.now != matrixPage || m.height < minimal {
		return nil
	}
	return m.gridHead()
}

func (m Model) bodyHeight() int {
	return max(0, m.height-len(m.header())-len(m.pageHead())-m.footHeight())
}

func (m Model) body() []string {
	if m.now == replayPage {
		return m.replay.draw(m.sheet, m.width, m.bodyHeight())
	}
	if m.now != matrixPage {
		return m.at[m.now].Window(m.pages[m.now].rows, m.bodyHeight())
	}
	var lines []string
	for _, r := range m.matrix.Rows {
		lines = append(lines, m.gridRow(r))
	}
	return m.at[m.now].Window(lines, m.bodyHeight())
}

// foot is where one is and the keys that matter.
func (m Model) foot() []string {
	if m.height < minimal {
		return nil
	}
	if m.help {
		return []string{theme.Render(theme.Quiet, fit.Cut("any key goes back", m.width))}
	}
	hints := keys.Lines(m.width, m.short()...)
	return []string{m.whereabouts(), hints[0]}
}

// whereabouts is what the marks mean, or the step, and which rows are shown of how many:
// a bolt is a row, a text is lines. Where there is no room for both in full, both say it
// shorter: the tab has the word for bolts too.
func (m Model) whereabouts() string {
	place := func(of string) string { return m.at[m.now].Place(of, m.rows(), m.bodyHeight()) }
	switch m.now {
	case replayPage:
		return theme.Render(theme.Quiet, fit.Cut(m.replay.place(), m.width))
	case matrixPage:
	default:
		return fit.Ends("", place(scroll.Lines), m.width)
	}
	means, shown := legend(true), place("bolts")
	if room := m.width - 2 - fit.Width(shown); m.width < narrow || fit.Width(means) > room {
		if means = legend(false); fit.Width(means) > room {
			shown = place("")
		}
	}
	return fit.Ends(theme.Render(theme.Quiet, means), shown, m.width)
}

// footHeight is how many lines foot has; it must not ask foot, whose keys ask for the room.
func (m Model) footHeight() int {
	if m.height < minimal {
		return 0
	}
	return 2
}
