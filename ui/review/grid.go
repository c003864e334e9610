package review

import (
	"strings"

	"evenpull/ui/fit"
	"evenpull/ui/report"
	"evenpull/ui/theme"
)

const (
	leastCell  = 8  // "not confirmed" is said as "open"
	mostCell   = 16 // a pass's name in two lines
	mostID     = 12
	headLines  = 2
	leastNotes = 15 // "hollow, renewed"
)

// grid is how the matrix lies on the screen: which passes, how wide.
type grid struct {
	id, cell    int // widths, without the gap of one
	first, show int // passes shown
	last        int // the furthest that first can be
	notes       int // width left for notes, 0: none
}

func (m Model) grid() grid {
	g := grid{id: 3}
	for _, r := range m.matrix.Rows {
		g.id = max(g.id, min(mostID, fit.Width(r.ID)))
	}
	g.id = min(g.id, max(1, m.width/3))
	g.cell = max(1, min(m.cell, m.width-g.id-1))
	room := max(1, (m.width-g.id)/(g.cell+1))
	g.show = min(room, len(m.matrix.Passes))
	g.last = len(m.matrix.Passes) - g.show
	g.first = max(0, min(m.column, g.last))
	if left := m.width - g.id - g.show*(g.cell+1) - 2; left >= leastNotes {
		g.notes = left
	}
	return g
}

// gridHead is the names of the passes, and marks where more lie to the sides.
func (m Model) gridHead() []string {
	g := m.grid()
	lines := make([]string, headLines)
	more := ""
	if g.first > 0 {
		more = theme.Text("←")
	}
	lines[0] = fit.Pad(more, g.id)
	lines[1] = fit.Pad("", g.id)
	for _, p := range m.matrix.Passes[g.first : g.first+g.show] {
		name := fit.Wrap(theme.Text(p), g.cell)
		if len(name) > headLines {
			name = append(name[:headLines-1], fit.Cut(strings.Join(name[headLines-1:], " "), g.cell))
		}
		for len(name) < headLines {
			name = append([]string{""}, name...)
		}
		for i := range lines {
			lines[i] += " " + theme.Render(theme.Title, fit.Pad(name[i], g.cell))
		}
	}
	if g.first+g.show < len(m.matrix.Passes) {
		lines[0] = fit.Cut(lines[0], m.width-2) + theme.Text(" →")
	}
	return lines
}

func (m Model) gridRow(r report.Row) string {
	g := m.grid()
	var b strings.Builder
	b.WriteString(theme.Render(theme.Title, fit.Pad(theme.Text(r.ID), g.id)))
	for _, c := range r.Cells[g.first : g.first+g.show] {
		b.WriteString(" " + cell(c, g.cell))
	}
	if g.notes > 0 && r.Notes != "" {
		b.WriteString("  " + theme.Render(theme.Quiet, fit.Cut(theme.Text(r.Notes), g.notes)))
	}
	return b.String()
}

// cell is told apart by its mark and its word; colour only helps.
func cell(c report.Cell, w int) string {
	mark, role, text := theme.Mark(theme.Done), theme.Done, c.Text
	switch {
	case c.Stages.Of == 0:
		return fit.Pad("", w)
	case !c.Confirmed():
		mark, role = theme.Mark(theme.Outstanding), theme.Outstanding
	case text == "ok":
		text = ""
	}
	if c.Refused > 0 {
		text = strings.TrimSpace(text + " " + theme.Mark(theme.Caution))
	}
	line := strings.TrimSpace(mark + " " + theme.Text(text))
	return theme.Render(role, fit.Cut(line, w)) + strings.Repeat(" ", max(0, w-fit.Width(line)))
}

// legend explains the marks of the matrix.
func legend(inFull bool) string {
	done, open, refused := theme.Mark(theme.Done), theme.Mark(theme.Outstanding), theme.Mark(theme.Caution)
	if inFull {
		return done + " confirmed; figures were read   " + open + " open   " + refused + " a reading was refused"
	}
	return done + " ok  " + open + " open  " + refused + " refused"
}

// cellWidth is what the widest cell and pass name want, in reason.
func cellWidth(m report.Matrix) int {
	w := leastCell
	for _, p := range m.Passes {
		w = max(w, (fit.Width(p)+1)/2+2)
	}
	for _, r := range m.Rows {
		for _, c := range r.Cells {
			mark := 2
			if c.Refused > 0 {
				mark = 4
			}
			w = max(w, fit.Width(c.Text)+mark)
		}
	}
	return min(w, mostCell)
}
