package stand

import (
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

// footLines are what lies over the end of the body, and the last lines of the screen:
// an overlay with its keys, or what was just said and the keys that matter now.
func (m Model) footLines(w int) (over, last []string) {
	o := m.overlay()
	switch {
	case o == nil && m.busy:
		return m.saidLines(w), []string{m.writingLine(w)}
	case o == nil:
		return m.saidLines(w), []string{keys.Short(w, m.short(m.keymapOf())...)}
	}
	return o.Lines(w, m.height), keys.Lines(w, o.Keys(w, m.height)...)
}

func (m Model) writingLine(w int) string {
	return theme.Render(theme.Quiet, fit.Cut(theme.Text("writing …"), w))
}

// saidLines are what was just said.
func (m Model) saidLines(w int) []string {
	switch {
	case m.say.text == "":
		return nil
	case m.say.tone == refuse:
		return fit.Badge(" REFUSED ", m.say.text, w)
	}
	text := m.say.text
	if m.say.tone == inform { // the mark of what is done stands beside nothing else
		text = theme.Mark(theme.Done) + " " + text
	}
	lines := fit.Paint(theme.Plain, text, w)
	if keep := layoutFor(w, m.height).messages; len(lines) > keep { // it must not cover what matters more
		lines = shortened(lines, keep, w)
	}
	return lines
}
