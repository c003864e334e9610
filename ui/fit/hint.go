package fit

import "evenpull/ui/theme"

// Hint is a key, under the name package keys gives it, and what it does.
func Hint(key, does string) string {
	return theme.Render(theme.Key, theme.Text(key)) + " " + theme.Render(theme.Quiet, theme.Text(does))
}

// Hints sets pairs of a key and what it does in as many lines of w cells as
// they need; a pair is never split.
func Hints(w int, pairs ...string) []string {
	var lines []string
	line := ""
	for i := 0; i+1 < len(pairs); i += 2 {
		one := Hint(pairs[i], pairs[i+1])
		switch {
		case line == "":
			line = one
		case Width(line)+3+Width(one) <= w:
			line += "   " + one
		default:
			lines = append(lines, Cut(line, w))
			line = one
		}
	}
	if line != "" {
		lines = append(lines, Cut(line, w))
	}
	return lines
}
