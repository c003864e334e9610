package report

import (
	"fmt"
	"strings"

	"evenpull/spec"
	"evenpull/ui/fit"
)

// Matrix is fasteners × passes: which stage was confirmed, and what was read.
type Matrix struct {
	Passes []string // waits are left out
	Rows   []Row
}

// Row is one fastener.
type Row struct {
	ID    string
	Order int    // when it gets its final figure, from 1; 0: never
	Notes string // hollow, renewed …
	Cells []Cell // one a pass
}

// Cell is one fastener in one pass, all its steps together.
type Cell struct {
	Stages  Count // Of 0: the fastener is not in this pass
	Text    string
	Took    []Took // what it was confirmed at, step by step
	Refused int    // readings that were refused
}

// Took is what one confirmed step is known by: its reading, or else the figure
// that was called for.
type Took struct {
	Text string
	Read bool
}

// Figures is what the cell was confirmed at, in a line: "=24.5 N·m + 90°", with
// a sign before what was read; or how far it is.
func (c Cell) Figures() string {
	if !c.Confirmed() {
		return c.Text
	}
	parts := make([]string, len(c.Took))
	for i, t := range c.Took {
		parts[i] = t.Text
		if t.Read {
			parts[i] = "=" + t.Text
		}
	}
	return strings.Join(parts, " + ")
}

// Confirmed reports whether every step of the cell is.
func (c Cell) Confirmed() bool { return c.Stages.Of > 0 && c.Stages.Confirmed == c.Stages.Of }

// Matrix lays the sheet's stages out by fastener and pass.
func (s Sheet) Matrix() Matrix {
	m, column := Matrix{}, map[string]int{}
	for _, p := range s.Passes {
		if p.Wait == "" {
			column[p.Name] = len(m.Passes)
			m.Passes = append(m.Passes, p.Name)
		}
	}
	orders := s.Orders()
	for n, f := range s.Fasteners {
		row := Row{ID: f.ID, Order: orders[n], Notes: f.notes(), Cells: make([]Cell, len(m.Passes))}
		readings := make([][]string, len(m.Passes))
		for _, st := range f.Stages {
			at := column[st.Pass]
			c := &row.Cells[at]
			c.Stages.Of++
			c.Refused += len(st.Refused)
			if st.Confirmed {
				c.Stages.Confirmed++
				if f := spec.Action(st.Action); f == spec.Torque || f == spec.Stretch {
					c.Took = nil // slackened only to be pulled again
				}
				c.Took = append(c.Took, st.took())
			}
			if st.Reading != "" {
				readings[at] = append(readings[at], st.Reading)
			}
		}
		for i := range row.Cells {
			row.Cells[i].Text = row.Cells[i].text(readings[i])
		}
		m.Rows = append(m.Rows, row)
	}
	return m
}

func (st Stage) took() Took {
	if st.Reading != "" {
		return Took{st.Reading, true}
	}
	return Took{st.figure(), false}
}

func (c Cell) text(readings []string) string {
	switch {
	case c.Stages.Of == 0:
		return ""
	case c.Confirmed() && len(readings) > 0:
		return strings.Join(readings, ", ")
	case c.Confirmed():
		return "ok"
	case c.Stages.Confirmed > 0:
		return fmt.Sprintf("%d of %d", c.Stages.Confirmed, c.Stages.Of)
	}
	return "open"
}

// notes says in a word or two what is special about a fastener.
func (f Fastener) notes() string {
	var words []string
	if f.Hollow {
		words = append(words, "hollow")
	}
	switch {
	case f.Renewed:
		words = append(words, "renewed")
	case len(f.Pieces) > 0:
		words = append(words, "to renew")
	}
	return strings.Join(words, ", ")
}

// Count is how many stages of the fastener are confirmed.
func (f Fastener) Count() Count {
	c := Count{Of: len(f.Stages)}
	for _, s := range f.Stages {
		if s.Confirmed {
			c.Confirmed++
		}
	}
	return c
}

// chunks cuts a matrix into pieces of at most n passes, for paper.
func (m Matrix) chunks(n int) []Matrix {
	var list []Matrix
	for from := 0; from < len(m.Passes); from += n {
		to := min(from+n, len(m.Passes))
		part := Matrix{Passes: m.Passes[from:to]}
		for _, r := range m.Rows {
			part.Rows = append(part.Rows, Row{r.ID, r.Order, r.Notes, r.Cells[from:to]})
		}
		list = append(list, part)
	}
	return list
}

const (
	idWidth   = 8
	noteWidth = 17
	leastCell = 11 // five to a page of 80
	mostCell  = 27 // "=24.5 N·m + 90° + 90°"
)

var matrixLegend = [2]string{"=: read off the tool; without: confirmed at the figure, no reading given", "!: a reading was refused first   .: not in the pass"}

// cellWidth is what the longest figures want, in reason.
func (m Matrix) cellWidth() int {
	w := leastCell
	for _, r := range m.Rows {
		for _, c := range r.Cells {
			w = max(w, fit.Width(c.Figures())+3)
		}
	}
	return min(w, mostCell)
}

func (s Sheet) matrixBlocks() []block {
	var list []block
	if len(s.Fasteners) == 0 {
		return nil
	}
	whole := s.Matrix()
	cellWidth := whole.cellWidth()
	for i, m := range whole.chunks((paperWidth - idWidth - noteWidth) / cellWidth) {
		b := block{title: "Fasteners by pass"}
		if i > 0 {
			b.title += ", continued"
		}
		b.head = m.heading(cellWidth)
		for _, r := range m.Rows {
			b.add(r.line(cellWidth))
		}
		b.add("", matrixLegend[0], matrixLegend[1])
		list = append(list, b)
	}
	return list
}

// heading sets the names of the passes over their columns, in up to three
// lines, standing on the rule.
func (m Matrix) heading(cellWidth int) []string {
	const deep = 3
	names, used := make([][]string, len(m.Passes)), 1
	for i, p := range m.Passes {
		names[i] = fit.Wrap(p, cellWidth-1)
		if len(names[i]) > deep {
			names[i] = names[i][:deep]
		}
		used = max(used, len(names[i]))
	}
	lines := make([]string, used+1)
	for l := range used {
		lines[l] = fit.Pad("", idWidth)
		for _, n := range names {
			text := ""
			if at := l - (used - len(n)); at >= 0 {
				text = n[at]
			}
			lines[l] += fit.Pad(text, cellWidth)
		}
		lines[l] = strings.TrimRight(lines[l], " ")
	}
	lines[used] = strings.Repeat("-", idWidth-1) + strings.Repeat(" "+strings.Repeat("-", cellWidth-1), len(m.Passes))
	return lines
}

func (r Row) line(cellWidth int) string {
	line := fit.Pad(fit.Cut(r.ID, idWidth-1), idWidth)
	for _, c := range r.Cells {
		text, room := c.Figures(), cellWidth-1
		if c.Stages.Of == 0 {
			text = "."
		}
		if c.Refused > 0 {
			text = fit.Cut(text, room-1) + "!"
		}
		line += fit.Pad(fit.Cut(text, room), cellWidth)
	}
	return strings.TrimRight(line+r.Notes, " ")
}
