// Package fit puts lines of text into a box of cells: wrap, cut, pad, set side
// by side. Widths are display widths, and styled text is measured without its
// escape sequences.
package fit

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/theme"
)

// Cut shortens one line to w cells, with an ellipsis where something is lost.
func Cut(s string, w int) string {
	switch {
	case w <= 0:
		return ""
	case Width(s) <= w:
		return s
	case w < 4:
		return ansi.Truncate(s, w, "")
	}
	return ansi.Truncate(s, w, theme.Text("…"))
}

// Clip shortens one line to w cells without a sign that something is lost.
func Clip(s string, w int) string { return ansi.Truncate(s, max(0, w), "") }

// Pad makes one line exactly w cells wide.
func Pad(s string, w int) string {
	s = Cut(s, w)
	return s + strings.Repeat(" ", max(0, w-Width(s)))
}

// Wrap breaks text at words into lines of at most w cells; a word longer than
// a line is broken. Empty text gives no line.
func Wrap(text string, w int) []string {
	if w <= 0 || text == "" {
		return nil
	}
	lines := strings.Split(ansi.Wrap(text, w, ""), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
		if Width(lines[i]) > w { // a space that begins a line is not counted by ansi.Wrap
			lines[i] = Cut(strings.TrimLeft(lines[i], " "), w)
		}
	}
	return lines
}

// Box gives exactly h lines of at most w cells, cutting or filling at the end.
func Box(lines []string, w, h int) []string {
	out := make([]string, max(0, h))
	for i := range out {
		if i < len(lines) {
			out[i] = Cut(lines[i], w)
		}
	}
	return out
}

// Beside sets two columns next to each other: the left one lw wide, then gap.
func Beside(left []string, lw, gap int, right []string) []string {
	out := make([]string, max(len(left), len(right)))
	for i := range out {
		l, r := "", ""
		if i < len(left) {
			l = left[i]
		}
		if i < len(right) {
			r = right[i]
		}
		if r == "" {
			out[i] = Cut(l, lw)
			continue
		}
		out[i] = Pad(l, lw) + strings.Repeat(" ", gap) + r
	}
	return out
}

// Ends sets one text at the left and one at the right end of a line of w cells.
// The left one goes first when there is no room for both.
func Ends(left, right string, w int) string {
	free := w - Width(left)
	if right == "" || free < Width(right)+2 {
		return Cut(left, w)
	}
	return left + strings.Repeat(" ", free-Width(right)) + right
}

// Keep sets one text behind another in w cells. The first is cut where there is no room
// for both, and the last only where there is none for it alone.
func Keep(first, last string, w int) string {
	const least = 4 // a letter or two and the ellipsis
	switch room := w - Width(last); {
	case room >= Width(first):
		return first + last
	case room >= least:
		return Cut(first, room) + last
	}
	return Cut(strings.TrimLeft(last, ", "), w)
}

// Bar is a bar of w cells, filled for done of total. It is full only when done
// is total, and empty only at 0.
func Bar(done, total, w int) string {
	if w <= 0 {
		return ""
	}
	full, empty := "█", "░"
	if theme.ASCII() {
		full, empty = "#", "."
	}
	n := 0
	if total > 0 {
		n = max(0, min(done*w/total, w))
	}
	if n == 0 && done > 0 {
		n = 1
	}
	if n == w && done < total {
		n = w - 1
	}
	return strings.Repeat(full, n) + strings.Repeat(empty, w-n)
}

// Lines splits a rendering into its lines; an empty one has none.
func Lines(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, "\n")
}

// Paint wraps text to w cells, paragraph by paragraph, and draws every line in a role.
func Paint(role theme.Role, text string, w int) []string {
	var out []string
	for para := range strings.SplitSeq(text, "\n") {
		for _, line := range Wrap(theme.Text(para), w) {
			out = append(out, theme.Render(role, line))
		}
	}
	return out
}

// Badge is a warning word in reverse and the text after it.
func Badge(word, text string, w int) []string {
	indent := Width(word) + 1
	if indent > w/2 {
		return append([]string{theme.Render(theme.Warning, Cut(word, w))}, Paint(theme.Title, text, w)...)
	}
	lines := Paint(theme.Title, text, w-indent)
	for i := range lines {
		if i == 0 {
			lines[i] = theme.Render(theme.Warning, word) + " " + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", indent) + lines[i]
		}
	}
	return lines
}
