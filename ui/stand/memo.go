package stand

import (
	"slices"

	"evenpull/ui/bigtext"
	"evenpull/ui/boltmap"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// memo keeps what is slow to draw and changes less often than the rest: the
// bolt map, on thousands of bolts most of the work of a frame, and the big
// letters. Only Update draws, so only Update touches it.
type memo struct {
	mapW, mapH, change int
	mapLines           []string
	figures            map[drawing][]string
}

// drawing is a text in big letters in a room of w×h cells.
type drawing struct {
	figure, unit string
	w, h         int
}

// most drawings kept; a walk of countdowns would fill memory otherwise.
const maxDrawings = 64

func newMemo() *memo { return &memo{figures: map[drawing][]string{}} }

func (m *memo) boltMap(f facts, w, h int) []string {
	if m.mapW != w || m.mapH != h || m.change != f.change {
		legend := fit.Lines(boltmap.Legend(f.bolts, w, min(2, h/4)))
		lines := fit.Box(fit.Lines(boltmap.Draw(f.bolts, w, h-len(legend))), w, h-len(legend))
		m.mapW, m.mapH, m.change, m.mapLines = w, h, f.change, append(lines, legend...)
	}
	return m.mapLines
}

// figure gives lines of the caller's own.
func (m *memo) figure(d drawing) []string {
	lines, known := m.figures[d]
	if !known {
		lines = fit.Lines(bigtext.Pair(d.figure, d.unit, d.w, d.h))
		for i := range lines {
			lines[i] = theme.Render(theme.Figure, lines[i])
		}
		if len(m.figures) >= maxDrawings {
			clear(m.figures)
		}
		m.figures[d] = lines
	}
	return slices.Clone(lines)
}
