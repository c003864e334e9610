// Package boltmap draws the fasteners of a joint where they sit on its face,
// so that the one at hand can be found without reading a list.
//
// The drawing keeps the proportions of the joint, taking a terminal cell to
// be twice as high as wide, but draws apart what would fall into one cell. The
// state of each fastener shows in its glyph and not by colour alone, a hollow one
// in the shape of the glyph, and the current one stands between arrowheads on
// lines that reach to the edges. Work grows little faster than the number of
// fasteners plus the number of cells.
package boltmap

import (
	"math"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// State is how far a fastener is.
type State int

// The states, from least to most important to see: where several fasteners
// share a cell, the last in this list shows.
const (
	NotThisPass State = iota
	Done
	Untouched
	Part // some passes done
	Trouble
	Current
	stateCount
)

// Bolt is a fastener on the map.
type Bolt struct {
	ID     string
	Group  string  // what it is counted among when words say where it sits
	Note   string  // after the id where there is room, such as "2/3"; may be ""
	X, Y   float64 // mm, x right, y up
	State  State
	Hollow bool
}

// The least room, in cells, for a drawing that says more than a line of text.
const (
	leastWidth  = 12
	leastHeight = 3
)

// Draw draws the bolts in exactly w × h cells. In an area too small for a
// drawing it gives the line of Line, and blank lines below.
func Draw(bolts []Bolt, w, h int) string { return draw(bolts, w, h, theme.ASCII()) }

func draw(bolts []Bolt, w, h int, ascii bool) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	g := newGrid(w, h)
	if w < leastWidth || h < leastHeight || len(bolts) == 0 {
		text := line(bolts, w, ascii)
		g.put(0, 0, text, theme.Plain)
		return g.String()
	}
	p := pen{grid: g, bolts: bolts, ascii: ascii}
	p.place()
	p.glyphs()
	p.labels()
	p.arrows()
	p.crosshair()
	return g.String()
}

func line(bolts []Bolt, w int, ascii bool) string {
	if w <= 0 {
		return ""
	}
	text := "no fastener current"
	if i := currentIndex(bolts); i >= 0 {
		text = bolts[i].ID
		if where := Where(bolts, bolts[i].ID); where != "" {
			text += " · " + where
		}
	}
	more := "…"
	if ascii {
		more = "~"
	}
	return ansi.Truncate(clean(text, ascii), w, more)
}

func currentIndex(bolts []Bolt) int {
	for i, b := range bolts {
		if b.State == Current {
			return i
		}
	}
	return -1
}

// glyph gives the sign of a bolt; solid and hollow differ in shape.
func glyph(b Bolt, ascii bool) (string, theme.Role) {
	l := signs[b.State]
	switch {
	case ascii && b.Hollow:
		return l.asciiHollow, l.role
	case ascii:
		return l.ascii, l.role
	case b.Hollow:
		return l.hollow, l.role
	}
	return l.solid, l.role
}

var signs = [stateCount]struct {
	solid, hollow, ascii, asciiHollow string
	role                              theme.Role
	word                              string
}{
	Untouched:   {"○", "◎", "o", "O", theme.Outstanding, "to do"},
	Part:        {"◐", "◍", "%", "&", theme.Outstanding, "part done"},
	Done:        {"●", "◉", "@", "Q", theme.Done, "done"},
	Current:     {"◆", "◈", "#", "0", theme.Current, "this one"},
	Trouble:     {"!", "!", "!", "!", theme.Warning, "trouble"},
	NotThisPass: {"·", "◦", ".", ",", theme.Quiet, "not in this pass"},
}

// Legend explains the glyphs that the bolts call for, in as many lines of at
// most w cells as it takes, but no more than h; what has no room is left out.
func Legend(bolts []Bolt, w, h int) string { return legend(bolts, w, h, theme.ASCII()) }

func legend(bolts []Bolt, w, h int, ascii bool) string {
	var lines []string
	used := 0
	for _, entry := range legendEntries(bolts, ascii) {
		width := fit.Width(entry)
		switch {
		case width > w:
			continue
		case len(lines) > 0 && used+2+width <= w:
			lines[len(lines)-1] += "  " + entry
			used += 2 + width
		case len(lines) < h:
			lines = append(lines, entry)
			used = width
		}
	}
	return strings.Join(lines, "\n")
}

func legendEntries(bolts []Bolt, ascii bool) []string {
	var solid, hollow [stateCount]bool
	for _, b := range bolts {
		if b.Hollow {
			hollow[b.State] = true
		} else {
			solid[b.State] = true
		}
	}
	var entries []string
	for _, s := range []State{Current, Trouble, Untouched, Part, Done, NotThisPass} {
		if solid[s] || (s == Trouble && hollow[s]) {
			sign, role := glyph(Bolt{State: s}, ascii)
			entries = append(entries, theme.Render(role, sign)+" "+signs[s].word)
		}
		if hollow[s] && s != Trouble {
			sign, role := glyph(Bolt{State: s, Hollow: true}, ascii)
			entries = append(entries, theme.Render(role, sign)+" hollow, "+signs[s].word)
		}
	}
	return entries
}

// coordinate keeps what no joint has (infinities, NaN) from spoiling the scale.
func coordinate(v float64) float64 {
	const limit = 1e9 // mm
	if math.IsNaN(v) {
		return 0
	}
	return max(-limit, min(limit, v))
}

// clean makes a label safe to stand among others: no control characters, one
// line, and no combining mark at its head that would join what stands before.
func clean(text string, ascii bool) string {
	text = theme.Clean(strings.ReplaceAll(text, "\n", " "), ascii)
	if fit.Width(" "+text) != 1+fit.Width(text) {
		_, size := utf8.DecodeRuneInString(text)
		return "?" + text[size:]
	}
	return text
}
