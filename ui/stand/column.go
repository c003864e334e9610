package stand

import (
	"strings"

	"evenpull/procedures/walk"
	"evenpull/ui/dial"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// belowFigure is what stands under the figure: where, with what, and mind what.
func (m Model) belowFigure(a ask, l layout, w, h int) []block {
	blocks := []block{
		{m.sameLines(a, l, w), 92},
		{blank(h), spare},
		{m.identity(a, w, h), 95},
		{m.flagLines(a, l, w), 94},
		{fit.Paint(theme.Caution, prefixed(theme.Mark(theme.Caution), a.cautions), w), 86},
		{labelled(a, w, h), 84},
		{detailLines(a, w), 50},
	}
	if len(blocks[0].lines) == 0 {
		blocks[1].lines = nil
	}
	return blocks
}

func linesIn(blocks []block) (n int) {
	for _, b := range blocks {
		n += len(b.lines)
	}
	return n
}

// top is the action and the figure, the figure with all the room the rest
// leaves, and more if it needs it.
func (m Model) top(a ask, w, h, rest int) []string {
	action := fit.Paint(theme.Title, a.action, w)
	want := wanted(h)
	switch {
	case a.quiet:
		want = 3
	case a.degrees > 0:
		want = min(want, 5)
	}
	if len(m.figureLines(a, w, want)) == 1 && strings.Contains(a.figure, "–") && h-len(action)-twoRows >= min(rest, 3) {
		want = twoRows
	}
	rows := min(h, max(h-rest-len(action), want))
	figure := m.figureLines(a, w, rows)
	lines := append(action, figure...)
	if len(lines) > h {
		return fit.Box(figure, w, h)
	}
	if h >= 16 {
		lines = append(lines, "")
	}
	return lines
}

// leftColumn is the figure with everything below it, in w×h cells.
func (m Model) leftColumn(a ask, l layout, w, h int) []string {
	below := m.belowFigure(a, l, w, h)
	lines := m.top(a, w, h, linesIn(below))
	return append(lines, m.rest(below, l, w, h-len(lines))...)
}

// rest sets the blocks below the figure, and what comes next in the room left.
func (m Model) rest(below []block, l layout, w, h int) []string {
	if h <= 0 {
		return nil
	}
	room := h - linesIn(below)
	then := m.then(l, w, min(max(1, room-2), lookAhead))
	if room >= 2 {
		below = append(below, block{[]string{""}, spare})
	}
	return stack(append(below, block{then, 20}), w, h)
}

// wanted is how many rows the figure gets even if other lines have to go.
func wanted(h int) int {
	switch {
	case h >= 14:
		return 5
	case h >= 8:
		return 4
	}
	return 3
}

func (m Model) figureLines(a ask, w, h int) []string {
	lines := m.memo.figure(drawing{a.figure, a.unit, w, h})
	low, high, ok := strings.Cut(a.figure, "–")
	if len(lines) > 1 || !ok || h < twoRows {
		return lines
	}
	// A range too wide for one line of big letters gets two.
	upper := m.memo.figure(drawing{low + "–", "", w, h / 2})
	return append(upper, m.memo.figure(drawing{high, a.unit, w, h / 2})...)
}

// twoRows is the height of two lines of the smallest big letters.
const twoRows = 6

func blank(h int) []string {
	if h < 12 {
		return nil
	}
	return []string{""}
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
func (m Model) sameLines(a ask, l layout, w int) []string {
	if a.degrees > 0 && l.right == 0 { // no dial: its words say the same, and the way
		return []string{fit.Cut(dial.Line(turnOf(a), w), w)}
	}
	var out []string
	for _, same := range a.same { // a figure is never parted from its unit
		same = theme.Text("= " + same)
		if last := len(out) - 1; last >= 0 && fit.Width(out[last])+1+fit.Width(same) <= w {
			out[last] += " " + same
		} else {
			out = append(out, fit.Cut(same, w))
		}
	}
	return out
}

// identity is the fastener and where it is, or the question, measure or part.
func (m Model) identity(a ask, w, h int) []string {
	if a.id == "" {
		return fit.Paint(theme.Title, a.headline, w)
	}
	where := m.facts.where
	if h >= 15 {
		if big := m.memo.figure(drawing{a.id, "", w / 2, 3}); len(big) == 3 {
			return besideID(big, where, a.detail, w)
		}
	}
	name := theme.Render(theme.Current, theme.Text(" "+a.id+" "))
	line := name + " " + theme.Render(theme.Title, theme.Text(where))
	if tool := theme.Text(strings.Join(a.tool, ", ")); h < few && tool != "" {
		if fit.Width(line)+2+fit.Width(tool) > w { // half a wrench size is none
			return []string{fit.Cut(line, w), theme.Render(theme.Quiet, fit.Pad("wrench", 9)) + fit.Cut(tool, w-9)}
		}
		line += "  " + tool
	} else if len(a.detail) > 0 {
		line += theme.Render(theme.Quiet, theme.Text("  "+a.detail[0]))
	}
	return []string{fit.Cut(line, w)}
}

// besideID sets the big id and, next to it, where it is and what it is.
func besideID(big []string, where string, detail []string, w int) []string {
	idWidth := fit.Width(big[0])
	side := fit.Paint(theme.Title, where, w-idWidth-3)
	for _, d := range detail {
		side = append(side, fit.Paint(theme.Quiet, d, w-idWidth-3)...)
	}
	return fit.Beside(big, idWidth, 3, fit.Box(side, w-idWidth-3, 3))
}

// flagLines are the words that must not be overlooked: a line each, or side by
// side on a narrow screen.
func (m Model) flagLines(a ask, l layout, w int) []string {
	var words []string
	for _, f := range a.flags {
		words = append(words, m.flagText(f, l.narrow()))
	}
	if len(m.facts.fresh) > 0 {
		words = append(words, theme.Render(theme.Done, theme.Text(theme.Mark(theme.Done)+" new: "+strings.Join(m.facts.fresh, ", "))))
	}
	var out []string
	for _, word := range words {
		last := len(out) - 1
		if l.narrow() && last >= 0 && fit.Width(out[last])+2+fit.Width(word) <= w {
			out[last] += "  " + word
		} else if fit.Width(word) <= w {
			out = append(out, word)
		} else {
			out = append(out, fit.Wrap(word, w)...) // half a warning is none
		}
	}
	return out
}

func (m Model) flagText(f warning, short bool) string {
	role, text, brief := theme.Caution, "UNSOURCED figure: check the service manual", "UNSOURCED figure"
	switch f {
	case leftHand:
		text, brief = " LEFT-HAND THREAD: turn it the other way ", " LEFT-HAND "
		if short {
			text = brief
		}
		return theme.Render(theme.Warning, theme.Text(text))
	case hollow:
		role, text, brief = theme.Hollow, "hollow: bored for oil, handled apart", "hollow"
	case newPiece:
		role, text = theme.Renew, "NEW: "+strings.Join(m.dueTexts(), ", ")
		brief = text
	}
	if short {
		text = brief
	}
	return theme.Render(role, theme.Text(theme.Mark(role)+" "+text))
}

func (m Model) dueTexts() (list []string) {
	for _, p := range m.cfg.State.Due(m.facts.item.Thing()) {
		list = append(list, p.Text())
	}
	return list
}

// few is the height below which lines are so few that words share them.
const few = 13

// labelled is what goes on the wrench and on the threads.
func labelled(a ask, w, h int) []string {
	tool, prep := strings.Join(a.tool, ", "), strings.TrimPrefix(a.prep, "threads ")
	if h < few { // the tool stands beside the id
		return fit.Box([]string{theme.Text(a.prep)}, w, min(1, len(a.prep)))
	}
	var out []string
	for _, pair := range [][2]string{{"wrench", tool}, {"threads", prep}} {
		label := pair[0]
		for _, line := range fit.Wrap(theme.Text(pair[1]), w-9) {
			out = append(out, theme.Render(theme.Quiet, fit.Pad(label, 9))+line)
			label = ""
		}
	}
	return out
}

// detailLines are the details that did not go beside the id.
func detailLines(a ask, w int) []string {
	if a.id != "" {
		return nil
	}
	return fit.Paint(theme.Plain, strings.Join(a.detail, "\n"), w)
}

// then names what comes next in n lines, where there is no list of it.
func (m Model) then(l layout, w, n int) (out []string) {
	if l.listNext > 0 || m.cfg.State.Phase != walk.IsOpen {
		return nil
	}
	label := "then"
	for _, next := range m.facts.next[:min(n, len(m.facts.next))] {
		out = append(out, theme.Render(theme.Quiet, fit.Cut(fit.Pad(label, 9)+theme.Text(next), w)))
		label = ""
	}
	return out
}
