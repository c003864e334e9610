package stand

import (
	"strings"

	"evenpull/procedures/walk"
	"evenpull/ui/bigtext"
	"evenpull/ui/boltmap"
	"evenpull/ui/dial"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// leftColumn is the figure, and below it who, where, with what and mind what.
// The figure takes all the room the rest leaves, and more if it needs it.
func (m Model) leftColumn(a ask, l layout, h int) []string {
	w := l.left
	above := []block{{paint(theme.Title, a.action, w), 90}}
	below := []block{
		{m.sameLines(a, l), 80},
		{blank(h), spare},
		{m.identity(a, w, h), 95},
		{paint(theme.Caution, prefixed(theme.Mark(theme.Caution), a.cautions), w), 88},
		{m.flagLines(a, w), 86},
		{m.labelled(a, w), 70},
		{detailLines(a, w), 50},
		{blank(h), spare},
		{m.then(l, h), 20},
	}
	rest := 0
	for _, b := range append(above, below...) {
		rest += len(b.lines)
	}
	figure := figureLines(a, w, min(h, max(h-rest, wanted(h))))
	above = append(above, block{figure, always})
	if h >= 16 {
		above = append(above, block{blank(h), spare})
	}
	return stack(append(above, below...), h)
}

// wanted is how many rows the figure gets even if other lines have to go.
func wanted(h int) int {
	switch {
	case h >= 14:
		return 7
	case h >= 8:
		return 5
	}
	return 3
}

func figureLines(a ask, w, h int) []string {
	lines := fit.Lines(bigtext.Pair(a.figure, a.unit, w, h))
	for i := range lines {
		lines[i] = theme.Render(theme.Figure, lines[i])
	}
	return lines
}

func blank(h int) []string {
	if h < 12 {
		return nil
	}
	return []string{""}
}

// paint wraps texts to w cells and draws every line in a role.
func paint(r theme.Role, text string, w int) []string {
	var out []string
	for _, para := range strings.Split(text, "\n") {
		for _, line := range fit.Wrap(theme.Text(para), w) {
			out = append(out, theme.Render(r, line))
		}
	}
	return out
}

// prefixed sets a mark before each text and joins them as lines.
func prefixed(mark string, texts []string) string {
	if len(texts) == 0 {
		return ""
	}
	return mark + " " + strings.Join(texts, "\n"+mark+" ")
}

// sameLines is the figure in the other units, and an angle in words where
// there is no room for a dial.
func (m Model) sameLines(a ask, l layout) []string {
	text := ""
	if len(a.same) > 0 {
		text = "= " + strings.Join(a.same, " = ")
	}
	out := paint(theme.Plain, text, l.left)
	if a.degrees > 0 && l.right == 0 {
		out = append(out, fit.Cut(dial.Line(dialOf(a), l.left), l.left))
	}
	return out
}

// identity is the fastener and where it is, or the question, measure or part.
func (m Model) identity(a ask, w, h int) []string {
	if a.id == "" {
		return paint(theme.Title, a.headline, w)
	}
	where := boltmap.Where(m.facts.bolts, a.id)
	if h >= 15 {
		if big := fit.Lines(bigtext.Render(a.id, w/2, 3)); len(big) == 3 {
			return besideID(big, where, a.detail, w)
		}
	}
	name := theme.Render(theme.Current, theme.Text(" "+a.id+" "))
	line := name + " " + theme.Render(theme.Title, theme.Text(where))
	if len(a.detail) > 0 {
		line += theme.Render(theme.Quiet, theme.Text("  "+a.detail[0]))
	}
	return []string{fit.Cut(line, w)}
}

// besideID sets the big id and, next to it, where it is and what it is.
func besideID(big []string, where string, detail []string, w int) []string {
	idWidth := fit.Width(big[0])
	for i := range big {
		big[i] = theme.Render(theme.Key, big[i])
	}
	side := paint(theme.Title, where, w-idWidth-3)
	for _, d := range detail {
		side = append(side, paint(theme.Quiet, d, w-idWidth-3)...)
	}
	return fit.Beside(big, idWidth, 3, fit.Box(side, w-idWidth-3, 3))
}

// flagLines are the words that must not be overlooked.
func (m Model) flagLines(a ask, w int) []string {
	var out []string
	for _, f := range a.flags {
		switch f {
		case leftHand:
			out = append(out, theme.Render(theme.Warning, fit.Cut(theme.Text(" LEFT-HAND THREAD: turn it the other way "), w)))
		case hollow:
			out = append(out, paint(theme.Hollow, theme.Mark(theme.Hollow)+" hollow: bored for oil, handled apart", w)...)
		case unsourced:
			out = append(out, paint(theme.Caution, theme.Mark(theme.Caution)+" UNSOURCED figure: check the service manual", w)...)
		case newPiece:
			out = append(out, paint(theme.Renew, prefixed(theme.Mark(theme.Renew)+" NEW", m.dueTexts()), w)...)
		}
	}
	return append(out, paint(theme.Done, prefixed(theme.Mark(theme.Done)+" new", m.facts.fresh), w)...)
}

func (m Model) dueTexts() (list []string) {
	for _, p := range m.cfg.State.DueNow() {
		list = append(list, p.Text())
	}
	return list
}

// labelled is what goes on the wrench and on the threads.
func (m Model) labelled(a ask, w int) []string {
	var out []string
	add := func(label, text string) {
		if text == "" {
			return
		}
		for i, line := range fit.Wrap(theme.Text(text), w-9) {
			if i > 0 {
				label = ""
			}
			out = append(out, theme.Render(theme.Quiet, fit.Pad(label, 9))+line)
		}
	}
	add("wrench", strings.Join(a.tool, ", "))
	add("threads", strings.TrimPrefix(a.prep, "threads "))
	return out
}

// detailLines are the details that did not go beside the id.
func detailLines(a ask, w int) []string {
	if a.id != "" {
		return nil
	}
	return paint(theme.Plain, strings.Join(a.detail, "\n"), w)
}

// then names what comes next in one line, where there is no list of it.
func (m Model) then(l layout, h int) []string {
	if l.listNext > 0 || len(m.facts.next) == 0 || m.cfg.State.Phase != walk.IsOpen {
		return nil
	}
	return []string{theme.Render(theme.Quiet, fit.Cut(theme.Text("then "+m.facts.next[0]), l.left))}
}
