package keys

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

const between = "  " // two entries or columns of help

// Short draws help for the foot of a screen: one line of at most width cells.
// The bindings come in order of importance. Where not all fit, the last give
// way, but never the one on "?", which leads to all of them.
func Short(width int, bindings ...key.Binding) string {
	shown := enabled(bindings)
	entries, total := make([]string, len(shown)), 0
	for i, b := range shown {
		entries[i] = fit.Hint(Called(b), b.Help().Desc)
		total += len(between) + fit.Width(entries[i])
	}
	for len(shown) > 0 && total-len(between) > width {
		drop := len(shown) - 1
		if drop > 0 && slices.Contains(shown[drop].Keys(), "?") {
			drop--
		}
		total -= len(between) + fit.Width(entries[drop])
		shown, entries = slices.Delete(shown, drop, drop+1), slices.Delete(entries, drop, drop+1)
	}
	return strings.Join(entries, between)
}

// Lines draws every enabled binding, in as many lines of width cells as they need.
func Lines(width int, bindings ...key.Binding) []string {
	var pairs []string
	for _, b := range enabled(bindings) {
		pairs = append(pairs, Called(b), b.Help().Desc)
	}
	return fit.Hints(width, pairs...)
}

func enabled(bindings []key.Binding) []key.Binding {
	return slices.DeleteFunc(slices.Clone(bindings), func(b key.Binding) bool { return !b.Enabled() })
}

// Full draws all keys of the moment in at most width × height cells: the
// groups below each other, or side by side where that is too high; with every
// key of a binding, or just its first where that is too wide. What has no
// room even so is counted in the last line.
func Full(width, height int, groups ...Group) string {
	if width <= 0 || height <= 0 {
		return ""
	}
	var blocks []string
	for _, label := range []func(key.Binding) string{all, Called} {
		blocks = groupBlocks(groups, label)
		for _, text := range []string{strings.Join(blocks, "\n\n"), sideBySide(blocks)} {
			if lipgloss.Width(text) <= width && lipgloss.Height(text) <= height {
				return text
			}
		}
	}
	return cut(strings.Split(strings.Join(blocks, "\n"), "\n"), width, height)
}

func all(b key.Binding) string { return b.Help().Key }

// groupBlocks draws each group that has an enabled binding: the title, then a
// line a binding, with the labels of all groups in a column of one width.
func groupBlocks(groups []Group, label func(key.Binding) string) (blocks []string) {
	labels := 0
	for _, g := range groups {
		for _, b := range enabled(g.Bindings) {
			labels = max(labels, ansi.StringWidth(label(b)))
		}
	}
	for _, g := range groups {
		var lines []string
		for _, b := range enabled(g.Bindings) {
			padded := label(b) + strings.Repeat(" ", labels-ansi.StringWidth(label(b)))
			lines = append(lines, fit.Hint(padded, b.Help().Desc))
		}
		if lines != nil && g.Title != "" {
			lines = slices.Insert(lines, 0, theme.Render(theme.Title, theme.Text(g.Title)))
		}
		if lines != nil {
			blocks = append(blocks, strings.Join(lines, "\n"))
		}
	}
	return blocks
}

func sideBySide(blocks []string) string {
	var columns []string
	for i, b := range blocks {
		if i > 0 {
			columns = append(columns, between)
		}
		columns = append(columns, b)
	}
	return lipgloss.JoinHorizontal(lipgloss.Top, columns...)
}

func cut(lines []string, width, height int) string {
	if over := len(lines) - height; over > 0 {
		lines = append(lines[:height-1], theme.Render(theme.Quiet, theme.Text(fmt.Sprintf("… and %d more", over+1))))
	}
	for i, l := range lines {
		lines[i] = ansi.Truncate(l, width, theme.Text("…"))
	}
	return strings.Join(lines, "\n")
}
