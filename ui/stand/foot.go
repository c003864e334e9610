package stand

import (
	"fmt"
	"strings"

	"evenpull/ui/fit"
	"evenpull/ui/keys"
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
			fit.Hints(w, "y", "stop it", "any other key", "go on")...)
	case m.say.text == "":
		return nil
	case m.say.tone == refuse:
		return badge(" REFUSED ", m.say.text, w)
	}
	text := m.say.text
	if m.say.tone == inform { // the mark of what is done stands beside nothing else
		text = theme.Mark(theme.Done) + " " + text
	}
	lines := paint(theme.Plain, text, w)
	if keep := layoutFor(w, m.height).messages; len(lines) > keep { // it must not cover what matters more
		lines = shortened(lines, keep, w)
	}
	return lines
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
	return append(lines, fit.Hints(w, "enter", "try again", "esc", "give up this step", "q", "leave")...)
}

func (m Model) leaveLines(w int) []string {
	hints := fit.Hints(w, "q or enter", "leave", "esc", "stay")
	lines := badge(" LEAVE? ", "Everything confirmed so far is on disk. To come back:", w)
	return append(append(lines, paint(theme.Title, m.cfg.Back, w)...), hints...)
}

// entryLines is the text field with its title above and its reasons below.
func (m Model) entryLines(w int) []string {
	e := m.entry
	e.input.Width = max(1, w-4)
	field := fit.Cut(theme.Render(theme.Key, ">")+" "+e.input.View(), w)
	if m.height < 5 {
		return []string{field}
	}
	lines := append(paint(theme.Title, e.title, w), field)
	if len(e.reasons) > 0 {
		var pairs []string
		for i, r := range e.reasons {
			pairs = append(pairs, fmt.Sprint(i+1), r)
		}
		lines = append(lines, fit.Hints(w, pairs...)...)
	}
	if m.say.text != "" {
		lines = append(badge(" REFUSED ", m.say.text, w), lines...)
	}
	return lines
}

// keyLine is the last line: the keys that matter now, as many as fit.
func (m Model) keyLine(w int) string {
	switch {
	case m.busy:
		return theme.Render(theme.Quiet, fit.Cut(theme.Text("writing …"), w))
	case m.failed != nil, m.face == onLeave, m.face == onStop:
		return "" // said where it is asked
	case m.face == onEntry:
		pairs := []string{"enter", "keep it", "esc", "back"}
		if len(m.entry.units) > 0 {
			pairs = append(pairs, "tab", "next unit")
		}
		return fit.Hints(w, pairs...)[0]
	}
	return keys.Short(w, m.short(m.keymapOf())...)
}
