// Package bigtext draws text large enough to read from across the bench: the
// torque figure first of all, and short words such as LOOSEN or DONE.
//
// Every function takes the room there is, in terminal cells, and never draws
// outside it. Text that fits in no large size is given as one plain line. A
// figure that doesn't even fit there is not cut short, since "12…" reads as
// twelve when it says 122: it becomes "…".
package bigtext

import (
	"slices"
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

// Pair draws a figure as large as it goes with its unit beside it, smaller and
// on the same foot, so that the digits get the room. Both are always shown in
// full, or nothing but "…".
func Pair(figure, unit string, maxWidth, maxHeight int) string {
	return pair(figure, unit, maxWidth, maxHeight, theme.ASCII())
}

// size is one way to draw: a font and how it becomes cells.
type size struct {
	font  func() font
	cells func(bitmap) []string
}

// sizes are all ways to draw, the most legible first.
func sizes(ascii bool) []size {
	if ascii {
		return []size{
			{font7, hashes(4, 2)}, {font7, hashes(2, 1)}, {font5, hashes(2, 1)}, {font5, hashes(1, 1)},
		}
	}
	return []size{
		{font7, func(b bitmap) []string { return halfBlocks(b.smooth().round()) }}, // 14 rows
		{font7, func(b bitmap) []string { return halfBlocks(b.smooth()) }},         // 7 rows
		{font5, func(b bitmap) []string { return halfBlocks(b.smooth()) }},         // 5 rows
		{font7, halfBlocks}, // 4 rows
		{font5, halfBlocks}, // 3 rows
	}
}

// draw gives the lines of text in this size, or nil if a character is missing.
func (s size) draw(text string) []string {
	line, ok := s.font().set(text)
	if !ok || line.width() == 0 {
		return nil
	}
	return s.cells(line)
}

func fits(lines []string, maxWidth, maxHeight int) bool {
	return lines != nil && len(lines) <= maxHeight && lipgloss.Width(lines[0]) <= maxWidth
}

func render(text string, maxWidth, maxHeight int, ascii bool) string {
	text = clean(text, ascii)
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

func pair(figure, unit string, maxWidth, maxHeight int, ascii bool) string {
	figure, unit = clean(figure, ascii), clean(unit, ascii)
	if maxWidth <= 0 || maxHeight <= 0 || figure == "" {
		return ""
	}
	if unit == "" {
		return render(figure, maxWidth, maxHeight, ascii)
	}
	if both := pairUp(figure, unit, maxWidth, maxHeight, sizes(ascii)); both != nil {
		return strings.Join(both, "\n")
	}
	return plain(figure+" "+unit, maxWidth, ascii)
}

// readable is the least height, in rows, of a figure meant for two metres.
const readable = 5

// pairUp looks for a figure of at least the readable height with its unit in
// large letters too, and only then lets the unit become plain text.
func pairUp(figure, unit string, maxWidth, maxHeight int, all []size) []string {
	for _, plainUnit := range []bool{false, true} {
		for i, s := range all {
			left := s.draw(figure)
			if !fits(left, maxWidth, maxHeight) || (!plainUnit && len(left) < readable) {
				continue
			}
			for _, small := range all[min(i+1, len(all)-1):] {
				if both := beside(left, small.draw(unit)); fits(both, maxWidth, maxHeight) {
					return both
				}
			}
			if both := beside(left, []string{unit}); plainUnit && fits(both, maxWidth, maxHeight) {
				return both
			}
		}
	}
	return nil
}

// beside sets two drawings next to each other on one foot, two cells apart.
// The right one is never the taller. A unit that melts into the blank before it,
// as a combining mark does, can't be set there.
func beside(left, right []string) []string {
	if left == nil || right == nil || len(right) > len(left) {
		return nil
	}
	out := slices.Clone(left)
	blank := strings.Repeat(" ", lipgloss.Width(right[0]))
	for y := range out {
		cell := blank
		if k := y - (len(left) - len(right)); k >= 0 {
			cell = right[k]
		}
		out[y] += "  " + cell
	}
	if foot := len(out) - 1; lipgloss.Width(out[foot]) != lipgloss.Width(left[foot])+2+lipgloss.Width(blank) {
		return nil
	}
	return out
}

// clean keeps control characters off the terminal and spells out what has no
// glyph of its own.
func clean(text string, ascii bool) string {
	text = strings.Join(strings.Fields(text), " ")
	return theme.Clean(theme.Fractions(text), ascii)
}

// plain is the last resort, one line.
func plain(text string, maxWidth int, ascii bool) string {
	more := "…"
	if ascii {
		more = "~"
	}
	if ansi.StringWidth(text) <= maxWidth {
		return text
	}
	if strings.ContainsFunc(text, unicode.IsDigit) {
		return more
	}
	return ansi.Truncate(text, maxWidth, more)
}

// halfBlocks draws two pixels a cell, one above the other: as a cell is about
// twice as high as wide, pixels come out square.
func halfBlocks(b bitmap) []string {
	lines := make([]string, (len(b)+1)/2)
	for i := range lines {
		var line strings.Builder
		for x := range b[2*i] {
			switch upper, lower := b.at(x, 2*i), b.at(x, 2*i+1); {
			case upper && lower:
				line.WriteRune('█')
			case upper:
				line.WriteRune('▀')
			case lower:
				line.WriteRune('▄')
			default:
				line.WriteByte(' ')
			}
		}
		lines[i] = line.String()
	}
	return lines
}

// hashes draws a pixel as a block of "#".
func hashes(width, height int) func(bitmap) []string {
	return func(b bitmap) []string {
		lines := make([]string, 0, len(b)*height)
		for _, row := range b {
			var line strings.Builder
			for _, on := range row {
				pixel := " "
				if on {
					pixel = "#"
				}
				line.WriteString(strings.Repeat(pixel, width))
			}
			for range height {
				lines = append(lines, line.String())
			}
		}
		return lines
	}
}
