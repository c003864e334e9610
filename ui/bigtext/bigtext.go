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

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

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
// pixels makes, and how they become cells.
type size struct {
	font    func() font
	enlarge func(bitmap) bitmap
	cells   func(bitmap) []string
	coarse  bool // an 8 looks like a 9: no digits
}

// sizes are all ways to draw, the most legible first.
func sizes(ascii bool) []size {
	if ascii {
		return []size{
			{font: font7, enlarge: same, cells: hashes(4, 2)}, {font: font7, enlarge: same, cells: hashes(2, 1)},
			{font: font5, enlarge: same, cells: hashes(2, 1)}, {font: font5, enlarge: same, cells: hashes(1, 1)},
			{font: font7, enlarge: same, cells: asciiHalves}, {font: font5, enlarge: same, cells: asciiHalves, coarse: true},
		}
	}
	return []size{
		{font: font7, enlarge: func(b bitmap) bitmap { return b.smooth().round() }, cells: halfBlocks}, // 14 rows
		{font: font7, enlarge: bitmap.smooth, cells: halfBlocks},                                       // 7 rows
		{font: font5, enlarge: bitmap.smooth, cells: halfBlocks},                                       // 5 rows
		{font: font7, enlarge: same, cells: halfBlocks},                                                // 4 rows
		{font: font5, enlarge: same, cells: halfBlocks},                                                // 3 rows
		{font: font5, enlarge: same, cells: quarterBlocks},                                             // 3 rows of half the width
	}
}

// solid is how many of the sizes in ASCII draw whole pixels; letters cut out of
// anything else don't read.
const solid = 4

func same(b bitmap) bitmap { return b }

// pixels sets text in this size with so many pixels of the font between letters, or
// reports false if a character has no glyph.
func (s size) pixels(text string, between int) (bitmap, bool) {
	line, ok := s.font().set(text, between)
	if !ok || line.width() == 0 || s.coarse && strings.ContainsFunc(text, unicode.IsDigit) {
		return nil, false
	}
	return s.enlarge(line), true
}

// draw gives the lines of text in this size, or nil if a character is missing.
func (s size) draw(text string) []string {
	line, ok := s.pixels(text, 1)
	if !ok {
		return nil
	}
	return s.cells(line)
}

func fits(lines []string, maxWidth, maxHeight int) bool {
	return lines != nil && len(lines) <= maxHeight && lipgloss.Width(lines[0]) <= maxWidth
}

func render(text string, maxWidth, maxHeight int, ascii bool) string {
	text = clean(text)
	if maxWidth <= 0 || maxHeight <= 0 || text == "" {
		return ""
	}
	for _, s := range sizes(ascii) {
		if lines := s.draw(text); fits(lines, maxWidth, maxHeight) {
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
	for _, s := range all {
		if line, ok := s.pixels(text, 2); ok { // dark letters on a bright ground look narrower
			if lines := s.cells(line.cutOut()); fits(lines, maxWidth, maxHeight) {
				return strings.Join(lines, "\n")
			}
		}
	}
	return ""
}

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
		left := s.draw(figure)
		if !fits(left, maxWidth, maxHeight) || len(left) < rows {
			continue
		}
		for _, small := range all[min(i+1, len(all)-1):] {
			if both := set(left, small.draw(unit)); fits(both, maxWidth, maxHeight) {
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
	blank := strings.Repeat(" ", lipgloss.Width(right[0]))
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
		w = max(w, lipgloss.Width(l))
	}
	for i, l := range lines {
		lines[i] = l + strings.Repeat(" ", w-lipgloss.Width(l))
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
	var line []string // drawn
	said, count := "", 1
	for word := range strings.FieldsSeq(text) {
		longer := s.draw(strings.TrimSpace(said + " " + word))
		if fits(longer, maxWidth, len(longer)) {
			line, said = longer, said+" "+word
			continue
		}
		next := s.draw(word)
		if count++; line == nil || count > mostLines || !fits(next, maxWidth, len(next)) {
			return nil
		}
		out = append(append(out, line...), s.lead()...)
		line, said = next, word
	}
	return append(out, line...)
}

// lead is the blank row between two lines, where half a row is not blank anyway.
func (s size) lead() []string {
	b, _ := s.pixels("-", 1)
	if 2*len(s.cells(b)) == len(b)+1 {
		return nil
	}
	return []string{""}
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
