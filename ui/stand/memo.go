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
	drawn              map[drawing][]string
	places             []string // where each fastener sits
}

// lettering is how a text becomes large letters.
type lettering int

const (
	letters  lettering = iota // on one line
	plate                     // cut out of a plate: what lets go
	sentence                  // on several lines
)

// rows is what letters of so many rows need when set this way.
func (l lettering) rows(n int) int {
	switch {
	case l != plate:
		return n
	case theme.ASCII():
		return n + 2
	}
	return n + 1
}

// drawing is a text in big letters in a room of w×h cells; a unit stands smaller
// after it.
type drawing struct {
	as         lettering
	text, unit string
	w, h       int
}

// most drawings kept; a walk of countdowns would fill memory otherwise.
const maxDrawings = 128

func newMemo() *memo { return &memo{drawn: map[drawing][]string{}} }

// where says where a bolt sits; bolts stay where they are.
func (m *memo) where(bolts []boltmap.Bolt, i int) string {
	if m.places == nil {
		m.places = boltmap.Places(bolts)
	}
	return m.places[i]
}

func (m *memo) boltMap(f facts, w, h int) []string {
	if m.mapW != w || m.mapH != h || m.change != f.change {
		legend := fit.Lines(boltmap.Legend(f.bolts, w, min(2, h/6)))
		lines := fit.Box(fit.Lines(boltmap.Draw(f.bolts, w, h-len(legend))), w, h-len(legend))
		m.mapW, m.mapH, m.change, m.mapLines = w, h, f.change, append(lines, legend...)
	}
	return m.mapLines
}

// draw gives lines of the caller's own.
func (m *memo) draw(d drawing) []string {
	lines, known := m.drawn[d]
	if !known {
		text := ""
		switch d.as {
		case letters:
			text = bigtext.Pair(d.text, d.unit, d.w, d.h)
		case plate:
			text = bigtext.Plate(d.text, d.w, d.h)
		case sentence:
			text = bigtext.Words(d.text, d.w, d.h)
		}
		lines = fit.Lines(text)
		for i := range lines {
			lines[i] = theme.Render(theme.Figure, lines[i])
		}
		if len(m.drawn) >= maxDrawings {
			clear(m.drawn)
		}
		m.drawn[d] = lines
	}
	return slices.Clone(lines)
}

// sizes are all large drawings of a text that fit, the largest first.
func (m *memo) sizes(as lettering, text string, w, h int) (list [][]string) {
	for {
		lines := m.draw(drawing{as, text, "", w, h})
		if len(lines) < 2 {
			return list
		}
		list = append(list, lines)
		w = fit.Width(lines[0]) - 1
	}
}
