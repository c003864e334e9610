package stand

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/ui/dial"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// belowFigure is what stands under the figure: where, with what, and mind what.
func (m Model) belowFigure(a ask, l layout, w, h int) []block {
	blocks := []block{
		{m.sameLines(a, l, w), 84},
		{blank(h), spare},
		{m.identity(a, w, h), 95},
		{m.flagLines(a, l, w), 94},
		{fit.Paint(theme.Caution, prefixed(theme.Mark(theme.Caution), a.cautions), w), 86},
		{labelled(a, w, h), 85},
		{fit.Paint(theme.Title, a.share, w), 82},
		{fit.Paint(theme.Plain, a.place, w), 85},
		{m.toldLines(w), 83},
		{detailLines(a, w), 50},
	}
	if len(blocks[0].lines) == 0 {
		blocks[1].lines = nil
	}
	return blocks
}

// toldLines is the last that was said of what is in hand, and how much more there is.
func (m Model) toldLines(w int) []string {
	n := len(m.facts.told)
	if n == 0 {
		return nil
	}
	text := "said " + m.facts.told[n-1]
	if n > 1 {
		text = fmt.Sprintf("%s (h: %d more)", text, n-1)
	}
	lines := fit.Paint(theme.Plain, text, w)
	if len(lines) > 2 {
		lines = shortened(lines, 2, w)
	}
	return lines
}

// vital are the blocks without which a figure invites a wrong pull.
func vital(blocks []block) (list []block) {
	for _, b := range blocks {
		if b.keep >= 84 {
			list = append(list, b)
		}
	}
	return list
}

func linesIn(blocks []block) (n int) {
	for _, b := range blocks {
		n += len(b.lines)
	}
	return n
}

// figure is the figure in all the room that what stands below it leaves, and in
// more if it needs it and nothing vital goes for it.
func (m Model) figure(a ask, below []block, w, h int) []string {
	if a.figure == "" {
		return nil
	}
	rest, want := linesIn(below), wanted(h)
	if a.quiet {
		want = leastFigure()
	}
	want = max(leastFigure(), min(want, h-linesIn(vital(below))))
	for _, more := range []int{5, twoRows} { // more than is vital, rather than a small figure
		if len(m.figureLines(a, w, want)) == 1 && more <= h {
			want = max(want, more)
		}
	}
	lines := m.figureLines(a, w, min(h, max(h-rest, want)))
	if h >= 14 && h-len(lines) > rest {
		lines = append(lines, "")
	}
	return lines
}

// leftColumn is the figure with everything below it, in w×h cells, and how many lines
// go as far as the name of what it is for.
func (m Model) leftColumn(a ask, l layout, w, h int) ([]string, int) {
	below := m.belowFigure(a, l, w, h)
	lines := m.figure(a, below, w, h)
	rest := m.rest(below, l, w, h-len(lines))
	vital := len(lines) + m.throughName(rest, a, w, h)
	return append(lines, rest...), vital
}

// throughName is how many lines there are up to the one that names what the figure is
// for; one more than all where that has gone, and none where large letters name it.
func (m Model) throughName(lines []string, a ask, w, h int) int {
	name := m.identity(a, w, h)
	if len(name) == 0 || a.id == "" && a.where != "" {
		return 0
	}
	if i := slices.Index(lines, name[len(name)-1]); i >= 0 {
		return i + 1
	}
	return len(lines) + 1
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

// leastFigure is the height of the smallest large digits.
func leastFigure() int {
	if theme.ASCII() {
		return 4
	}
	return 3
}

func (m Model) figureLines(a ask, w, h int) []string {
	if a.loosen && a.unit == "" && a.degrees == 0 { // a word alone
		if lines := m.memo.draw(drawing{plate, a.figure, "", w, h}); len(lines) > 0 {
			return lines
		}
	}
	lines := m.memo.draw(drawing{letters, a.figure, a.unit, w, h})
	low, high, ok := strings.Cut(a.figure, "–")
	if len(lines) > 1 || !ok || h < twoRows {
		return lines
	}
	// A range too wide for one line of big letters gets two.
	upper := m.memo.draw(drawing{letters, low + "–", "", w, h / 2})
	return append(upper, m.memo.draw(drawing{letters, high, a.unit, w, h / 2})...)
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

// sameLines is the figure in the other units; of an angle also the way of the
// mark, where there is no dial to show it.
func (m Model) sameLines(a ask, l layout, w int) []string {
	if a.degrees > 0 && l.right == 0 {
		return []string{fit.Cut(dial.Line(turnOf(a), w), w)}
	}
	var out []string
	if a.within != "" {
		out = append(out, theme.Render(theme.Title, theme.Text(a.within)))
	}
	for _, same := range a.same { // a figure is never parted from its unit
		same = theme.Text("= " + same)
		if last := len(out) - 1; last >= 0 && fit.Width(out[last])+1+fit.Width(same) <= w {
			out[last] += " " + same
		} else {
			out = append(out, fit.Cut(same, w))
		}
	}
	if last := len(out) - 1; a.sense != "" && last >= 0 && fit.Width(out[last])+2+len(a.sense) <= w {
		out[last] += ", " + a.sense
	} else if a.sense != "" {
		out = append(out, fit.Cut(a.sense, w))
	}
	return out
}

// identity is the fastener, where it is and, where lines are few, what goes on
// the wrench, as far as large letters have not said it; or the question, measure
// or part.
func (m Model) identity(a ask, w, h int) []string {
	line, tool := "", theme.Text(strings.Join(a.tool, ", "))
	if a.id != "" {
		line = theme.Render(theme.Current, theme.Text(" "+a.id+" ")) + " "
	}
	if a.where != "" {
		line += theme.Render(theme.Title, theme.Text(a.where))
	}
	switch {
	case h < few && tool != "" && (line == "" || fit.Width(line)+2+fit.Width(tool) > w): // half a wrench size is none
		tool = theme.Render(theme.Quiet, fit.Pad("wrench", 9)) + fit.Cut(tool, w-9)
		if line == "" {
			return []string{tool}
		}
		return []string{fit.Cut(line, w), tool}
	case h < few && tool != "":
		line += "  " + tool
	case line == "":
		return fit.Paint(theme.Title, a.headline, w)
	case a.id != "" && len(a.detail) > 0:
		line += theme.Render(theme.Quiet, theme.Text("  "+a.detail[0]))
	}
	return []string{fit.Cut(line, w)}
}

// flagLines are the words that must not be overlooked: a line each, or side by
// side on a narrow screen.
func (m Model) flagLines(a ask, l layout, w int) []string {
	var flags []string
	for _, f := range a.flags {
		flags = append(flags, m.flagText(a, f, l.narrow()))
	}
	if len(m.facts.fresh) > 0 {
		flags = append(flags, theme.Render(theme.Done, theme.Text(theme.Mark(theme.Done)+" new: "+strings.Join(m.facts.fresh, ", "))))
	}
	var out []string
	for _, word := range flags {
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

func (m Model) flagText(a ask, f warning, short bool) string {
	role, text, brief := theme.Caution, "UNSOURCED figure: check the service manual", "UNSOURCED figure"
	switch f {
	case leftHand:
		text, brief = " "+strings.ToUpper(words.LeftHand)+": "+a.hand+" ", " LEFT-HAND: "+a.hand+" "
		if a.hand == "" { // the line above the figure says which way
			text, brief = " "+strings.ToUpper(words.LeftHand)+" ", " LEFT-HAND "
		}
		if short {
			text = brief
		}
		return theme.Render(theme.Warning, theme.Text(text))
	case hollow:
		role, text, brief = theme.Hollow, "hollow: bored for oil, handled apart", "hollow"
	case turnsTaken:
		text = words.Changeover(*m.facts.over, m.facts.scale)
		brief = text
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
