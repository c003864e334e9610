// Package bigtext draws text large enough to read from across the bench: the
// torque figure first of all, and words such as LOOSEN or what a question asks.
//
// Every function takes the room there is, in terminal cells, and never draws
// outside it. Text that fits in no large size is given as one plain line. A
// figure that doesn't even fit there is not cut short, since "12…" reads as
// twelve when it says 122: it becomes "…".
package bigtext

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// Render draws text in the largest size that fits maxWidth × maxHeight cells,
// as lines of equal width without styling. It is "" where there is no room.
func Render(text string, maxWidth, maxHeight int) string {
	return render(text, maxWidth, maxHeight, theme.ASCII())
}

// Plate is Render for letters cut out of a solid plate: what lets go looks
// unlike what draws down, whatever the colours. It is "" where nothing large fits.
func Plate(text string, maxWidth, maxHeight int) string {
	return plate(text, maxWidth, maxHeight, theme.ASCII())
}

// Pair draws a figure as large as it goes with its unit, smaller, beside it on
// the same foot or below it. Both are always shown in full and in large
// letters, or both in one plain line, or nothing but "…".
func Pair(figure, unit string, maxWidth, maxHeight int) string {
	return pair(figure, unit, maxWidth, maxHeight, theme.ASCII())
}

// Words draws text in the largest size in which it takes no more than four
// lines, broken at spaces alone. It is "" where nothing large fits.
func Words(text string, maxWidth, maxHeight int) string {
	return words(text, maxWidth, maxHeight, theme.ASCII())
}

// size is one way to draw: a font, how many pixels of the drawing one of its
// pixels makes each way, and how they become cells.
type size struct {
	font    func() font
	scale   int
	enlarge func(bitmap) bitmap
	cells   cells
	coarse  bool // an 8 looks like a 9: no digits
}

// sizes are all ways to draw, the most legible first.
func sizes(ascii bool) []size {
	if ascii {
		return []size{
			{font7, 1, same, hashes(4, 2), false}, {font7, 1, same, hashes(2, 1), false},
			{font5, 1, same, hashes(2, 1), false}, {font5, 1, same, hashes(1, 1), false},
			{font7, 1, same, asciiHalves, false}, {font5, 1, same, asciiHalves, true},
		}
	}
	return []size{
		{font7, 4, func(b bitmap) bitmap { return b.smooth().round() }, halfBlocks, false}, // 14 rows
		{font7, 2, bitmap.smooth, halfBlocks, false},                                       // 7 rows
		{font5, 2, bitmap.smooth, halfBlocks, false},                                       // 5 rows
		{font7, 1, same, halfBlocks, false},                                                // 4 rows
		{font5, 1, same, halfBlocks, false},                                                // 3 rows
		{font5, 1, same, quarterBlocks, false},                                             // 3 rows of half the width
	}
}

// solid is how many of the sizes in ASCII draw whole pixels; letters cut out of
// anything else don't read.
const solid = 4

func same(b bitmap) bitmap { return b }

// margin is the pixels of a plate beyond its letters, at either side, and above
// and below.
type margin struct{ x, y int }

// extent is the cells that text takes with so many pixels of the font between
// letters; it is not ok if a character has no glyph.
func (s size) extent(text string, between int, m margin) (w, h int, ok bool) {
	px, ok := s.font().width(text, between)
	if !ok || px == 0 || s.coarse && strings.ContainsFunc(text, unicode.IsDigit) {
		return 0, 0, false
	}
	w, h = s.cells.extent(px*s.scale+2*m.x, s.font().height*s.scale+2*m.y)
	return w, h, true
}

// fits reports whether text has room on one line.
func (s size) fits(text string, maxWidth, maxHeight int) bool {
	w, h, ok := s.extent(text, 1, margin{})
	return ok && w <= maxWidth && h <= maxHeight
}

// draw gives the lines of text in this size, or nil where it doesn't fit.
func (s size) draw(text string, maxWidth, maxHeight int) []string {
	if !s.fits(text, maxWidth, maxHeight) {
		return nil
	}
	return s.cells.draw(s.enlarge(s.font().set(text, 1)))
}

func render(text string, maxWidth, maxHeight int, ascii bool) string {
	text = clean(text)
	if maxWidth <= 0 || maxHeight <= 0 || text == "" {
		return ""
	}
	for _, s := range sizes(ascii) {
		if lines := s.draw(text, maxWidth, maxHeight); lines != nil {
			return strings.Join(lines, "\n")
		}
	}
	return plain(text, maxWidth, ascii)
}

func plate(text string, maxWidth, maxHeight int, ascii bool) string {
	text, all := clean(text), sizes(ascii)
	if ascii {
		all = all[:solid]
	}
	const between = 2 // dark letters on a bright ground look narrower
	for _, s := range all {
		if w, h, ok := s.extent(text, between, plateMargin); ok && w <= maxWidth && h <= maxHeight {
			return strings.Join(s.cells.draw(s.enlarge(s.font().set(text, between)).cutOut(plateMargin)), "\n")
		}
	}
	return ""
}

// plateMargin is how far a plate stands out beyond its letters.
var plateMargin = margin{2, 1}

func pair(figure, unit string, maxWidth, maxHeight int, ascii bool) string {
	figure, unit = clean(figure), clean(unit)
	if maxWidth <= 0 || maxHeight <= 0 || figure == "" {
		return ""
	}
	if unit == "" {
		return render(figure, maxWidth, maxHeight, ascii)
	}
	all := sizes(ascii)
	for _, rows := range []int{readable, 1} {
		for _, set := range []func(left, right []string) []string{beside, below} {
			if both := pairUp(figure, unit, maxWidth, maxHeight, all, rows, set); both != nil {
				return strings.Join(both, "\n")
			}
		}
	}
	return plain(figure+" "+unit, maxWidth, ascii)
}

// readable is the least height, in rows, of a figure meant for two metres.
const readable = 5

// pairUp looks for the largest figure of at least so many rows that its unit,
// one size smaller or less, can be set to.
func pairUp(figure, unit string, maxWidth, maxHeight int, all []size, rows int, set func(left, right []string) []string) []string {
	for i, s := range all {
		left := s.draw(figure, maxWidth, maxHeight)
		if len(left) < rows {
			continue
		}
		for _, small := range all[min(i+1, len(all)-1):] {
			if both := set(left, small.draw(unit, maxWidth, maxHeight)); both != nil && len(both) <= maxHeight && fit.Width(both[0]) <= maxWidth {
				return both
			}
		}
	}
	return nil
}

// beside sets two drawings next to each other on one foot, three cells apart.
// The right one is never the taller.
func beside(left, right []string) []string {
	if left == nil || right == nil || len(right) > len(left) {
		return nil
	}
	out := make([]string, len(left))
	blank := strings.Repeat(" ", fit.Width(right[0]))
	for y := range out {
		cell := blank
		if k := y - (len(left) - len(right)); k >= 0 {
			cell = right[k]
		}
		out[y] = left[y] + "   " + cell
	}
	return out
}

// below sets one drawing under another.
func below(upper, lower []string) []string {
	if upper == nil || lower == nil {
		return nil
	}
	return square(append(append([]string{}, upper...), lower...))
}

// square fills lines with blanks to one width.
func square(lines []string) []string {
	w := 0
	for _, l := range lines {
		w = max(w, fit.Width(l))
	}
	for i, l := range lines {
		lines[i] = l + strings.Repeat(" ", w-fit.Width(l))
	}
	return lines
}

// mostLines is how many lines of large letters are still read as one sentence.
const mostLines = 4

func words(text string, maxWidth, maxHeight int, ascii bool) string {
	text = clean(text)
	for _, s := range sizes(ascii) {
		if lines := s.wrap(text, maxWidth); lines != nil && len(lines) <= maxHeight {
			return strings.Join(square(lines), "\n")
		}
	}
	return ""
}

// wrap sets text in this size in lines of up to maxWidth cells, or nil where
// that takes more than mostLines, a word is wider, or a character is missing.
func (s size) wrap(text string, maxWidth int) (out []string) {
	_, high := s.cells.extent(1, s.font().height*s.scale)
	var said []string
	for word := range strings.FieldsSeq(text) {
		last := len(said) - 1
		switch {
		case last >= 0 && s.fits(said[last]+" "+word, maxWidth, high):
			said[last] += " " + word
		case len(said) == mostLines || !s.fits(word, maxWidth, high):
			return nil
		default:
			said = append(said, word)
		}
	}
	for i, line := range said {
		if i > 0 && !s.cells.leads(s.font().height*s.scale) {
			out = append(out, "")
		}
		out = append(out, s.draw(line, maxWidth, high)...)
	}
	return out
}

// clean keeps control characters off the terminal and spells out what has no
// glyph of its own.
func clean(text string) string {
	return theme.Clean(theme.Fractions(strings.Join(strings.Fields(text), " ")), false)
}

// plain is the last resort, one line.
func plain(text string, maxWidth int, ascii bool) string {
	more := "…"
	if ascii {
		text, more = theme.Clean(text, true), "~"
	}
	if ansi.StringWidth(text) <= maxWidth {
		return text
	}
	if strings.ContainsFunc(text, unicode.IsDigit) {
		return more
	}
	return ansi.Truncate(text, maxWidth, more)
}
