package stand

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"evenpull/procedures/walk"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// messageLines is what was just said, or the text field that has the keys.
func (m Model) messageLines(w int) []string {
	switch {
	case m.failed != nil:
		return m.failedLines(w)
	case m.face == onEntry:
		return m.entryLines(w)
	case m.face == onLeave:
		return m.leaveLines(w)
	case m.face == onStop:
		return append(badge(" STOP FOR GOOD? ", "The record ends as stopped, not as done, and can't be gone on with.", w),
			keyHints(w, "y", "stop it", "any other key", "go on")...)
	case m.say.text == "":
		return nil
	case m.say.tone == refuse:
		return badge(" REFUSED ", m.say.text, w)
	}
	return paint(theme.Plain, m.say.text, w)
}

// badge is a warning word in reverse and the text after it.
func badge(word, text string, w int) []string {
	indent := fit.Width(word) + 1
	if indent > w/2 {
		return append([]string{theme.Render(theme.Warning, fit.Cut(word, w))}, paint(theme.Title, text, w)...)
	}
	lines := paint(theme.Title, text, w-indent)
	for i := range lines {
		if i == 0 {
			lines[i] = theme.Render(theme.Warning, word) + " " + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", indent) + lines[i]
		}
	}
	return lines
}

func (m Model) failedLines(w int) []string {
	lines := badge(" NOT SAVED ", printable(m.failed.err.Error())+". Nothing has moved on.", w)
	return append(lines, keyHints(w, "enter", "try again", "esc", "give up this step", "q", "leave")...)
}

func (m Model) leaveLines(w int) []string {
	text := "Everything confirmed so far is on disk."
	if m.cfg.State.Phase != walk.IsOpen {
		text = "The record is kept."
	} else if m.cfg.Back != "" {
		text += " Come back with: " + m.cfg.Back
	}
	return append(badge(" LEAVE? ", text, w), keyHints(w, "q or enter", "leave", "esc", "stay")...)
}

// entryLines is the text field with its title above and its reasons below.
func (m Model) entryLines(w int) []string {
	e := m.entry
	lines := paint(theme.Title, e.title, w)
	e.input.Width = max(1, w-4)
	lines = append(lines, fit.Cut(theme.Render(theme.Key, ">")+" "+e.input.View(), w))
	if len(e.reasons) > 0 {
		var pairs []string
		for i, r := range e.reasons {
			pairs = append(pairs, fmt.Sprint(i+1), r)
		}
		lines = append(lines, keyHints(w, pairs...)...)
	}
	if m.say.text != "" {
		lines = append(badge(" REFUSED ", m.say.text, w), lines...)
	}
	return lines
}

// keyHints sets keys and what they do in as many lines as they need.
func keyHints(w int, pairs ...string) []string {
	var lines []string
	line := ""
	for i := 0; i+1 < len(pairs); i += 2 {
		one := hint(pairs[i], pairs[i+1])
		switch {
		case line == "":
			line = one
		case fit.Width(line)+3+fit.Width(one) <= w:
			line += "   " + one
		default:
			lines = append(lines, line)
			line = one
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	for i := range lines {
		lines[i] = fit.Cut(lines[i], w)
	}
	return lines
}

func hint(name, does string) string {
	return theme.Render(theme.Key, theme.Text(name)) + " " + theme.Render(theme.Quiet, theme.Text(does))
}

// keyLine is the last line: the keys that matter now, as many as fit.
func (m Model) keyLine(w int) string {
	pairs := m.keyPairs()
	line := ""
	for i := 0; i+1 < len(pairs); i += 2 {
		one := hint(pairs[i], pairs[i+1])
		if line != "" {
			one = "  " + one
		}
		if fit.Width(line)+fit.Width(one) > w {
			break
		}
		line += one
	}
	return line
}

func (m Model) keyPairs() []string {
	switch {
	case m.busy:
		return []string{"", "writing …"}
	case m.failed != nil, m.face == onLeave, m.face == onStop, m.face == onRenew, m.face == onPanel:
		return nil // said where it is asked
	case m.face == onConvert:
		return []string{"enter", "another figure", "esc", "back"}
	case m.face == onEntry:
		pairs := []string{"enter", "keep it", "esc", "back"}
		if len(m.entry.units) > 0 {
			pairs = append(pairs, "tab", "next unit")
		}
		return pairs
	}
	var pairs []string
	for _, b := range enabled(m.keymapOf().short()) {
		pairs = append(pairs, b.Help().Key, b.Help().Desc)
	}
	return pairs
}

func enabled(list []key.Binding) (on []key.Binding) {
	for _, b := range list {
		if b.Enabled() {
			on = append(on, b)
		}
	}
	return on
}
