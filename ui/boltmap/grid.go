package boltmap

import (
	"strings"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// grid is the cells of the drawing. A text longer than a cell stands in its
// first cell and marks the others as taken, so that wide characters and
// combining ones keep their width.
type grid struct {
	w, h  int
	cells []cell
}

type cell struct {
	text  string
	role  theme.Role
	taken bool // also where text is "": covered by a text further left
}

func newGrid(w, h int) *grid { return &grid{w: w, h: h, cells: make([]cell, w*h)} }

// free reports whether n cells from x on are inside and empty.
func (g *grid) free(x, y, n int) bool {
	if x < 0 || y < 0 || y >= g.h || x+n > g.w {
		return false
	}
	for i := range n {
		if g.cells[y*g.w+x+i].taken {
			return false
		}
	}
	return true
}

// put writes text at a place where it fits, over single cells only.
func (g *grid) put(x, y int, text string, role theme.Role) {
	for i := range fit.Width(text) {
		g.cells[y*g.w+x+i] = cell{taken: true, role: role}
	}
	if text != "" {
		g.cells[y*g.w+x].text = text
	}
}

// String gives the lines, each exactly as wide as the grid, with neighbours
// of one role styled together.
func (g *grid) String() string {
	lines := make([]string, g.h)
	for y := range lines {
		var out, run strings.Builder
		role := theme.Plain
		flush := func() {
			if run.Len() > 0 {
				out.WriteString(theme.Render(role, run.String()))
				run.Reset()
			}
		}
		for _, c := range g.cells[y*g.w : (y+1)*g.w] {
			if c.role != role {
				flush()
				role = c.role
			}
			if !c.taken {
				c.text = " "
			}
			run.WriteString(c.text)
		}
		flush()
		lines[y] = out.String()
	}
	return strings.Join(lines, "\n")
}
