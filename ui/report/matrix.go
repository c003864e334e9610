package report

import (
	"fmt"
	"strings"
)

// Matrix is fasteners × passes: which stage was confirmed, and what was read.
type Matrix struct {
	Passes []string // waits are left out
	Rows   []Row
}

// Row is one fastener.
type Row struct {
	ID    string
	Notes string // hollow, renewed …
	Cells []Cell // one a pass
}

// Cell is one fastener in one pass, all its steps together.
type Cell struct {
	Stages  Count // Of 0: the fastener is not in this pass
	Text    string
	Refused int // readings that were refused
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
	for _, f := range s.Fasteners {
		row := Row{ID: f.ID, Notes: f.notes(), Cells: make([]Cell, len(m.Passes))}
		readings := make([][]string, len(m.Passes))
		for _, st := range f.Stages {
			at := column[st.Pass]
			c := &row.Cells[at]
			c.Stages.Of++
			c.Refused += len(st.Refused)
			if st.Confirmed {
				c.Stages.Confirmed++
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
			part.Rows = append(part.Rows, Row{r.ID, r.Notes, r.Cells[from:to]})
		}
		list = append(list, part)
	}
	return list
}
