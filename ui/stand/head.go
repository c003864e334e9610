package stand

import (
	"cmp"
	"slices"
	"strings"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// headed is the act in letters of some size, and what is left to say below it.
type headed struct {
	lines []string
	rest  ask
	names bool // the fastener
}

// act chooses the largest letters for the act that leave room for the figure in
// large letters and for all that is vital below it, in a column of w cells.
func (m Model) act(a ask, l layout, w, h int) headed {
	list := m.acts(a, l.w, h)
	if a.own != "" {
		if c, ok := m.ownWords(list, l, w, h); ok {
			return c
		}
	}
	for _, c := range list {
		least := leastFigure()
		if a.figure == "" {
			least = 0
		}
		if len(c.lines)+least+linesIn(vital(m.belowFigure(c.rest, l, w, h))) <= h {
			return c
		}
	}
	return list[len(list)-1]
}

// acts gives the act from the largest letters to plain ones.
func (m Model) acts(a ask, w, h int) (list []headed) {
	rows := leastFigure()
	switch {
	case a.quiet || h < 9:
		rows = 0
	case h >= 30, theme.ASCII() && h >= 16:
		rows = 5
	}
	if rows > 0 {
		large := a
		if a.verb == "" && a.manner == "" {
			large.manner = a.action
		}
		if c, ok := m.largeAct(large, theme.Title, w, rows, h < few); ok {
			list = append(list, c)
		}
		if idOnly := a; a.id != "" && (a.verb != "" || a.way != "") {
			idOnly.verb, idOnly.way, idOnly.hand, idOnly.manner, idOnly.share = "", "", "", a.action, ""
			if c, ok := m.largeAct(idOnly, actRole(a), w, rows, h < few); ok {
				list = append(list, c)
			}
		}
	}
	plain := a
	plain.verb, plain.hand, plain.manner, plain.share = "", "", "", ""
	return append(list, headed{fit.Paint(actRole(a), a.action, w), plain, false})
}

// ownWords is a question or the name of a part in large letters across the
// screen, with all the room the rest leaves, or all but what is vital; above it
// what is to be done, and the same words small, as far as there is room.
func (m Model) ownWords(acts []headed, l layout, w, h int) (headed, bool) {
	for _, only := range []func([]block) []block{all, vital} {
		for _, c := range acts {
			a, aboves := c.rest, [][]string{c.lines}
			if !c.names {
				aboves = append(aboves, nil)
				if line := theme.Render(actRole(a), theme.Text(a.action)) + "  " + theme.Render(theme.Title, theme.Text(a.headline)); fit.Width(line) <= l.w {
					aboves[0] = []string{line}
				}
			}
			a.headline = ""
			below := linesIn(only(m.belowFigure(a, l, w, h)))
			for _, above := range aboves {
				room := h - len(above) - below
				if lines := m.memo.draw(drawing{sentence, a.own, "", l.w, room}); lines != nil {
					above = slices.Clone(above)
					if len(above) > 0 && len(lines) < room {
						above = append(above, "")
					}
					return headed{append(above, lines...), a, c.names}, true
				}
			}
		}
	}
	return headed{}, false
}

func all(blocks []block) []block { return blocks }

// actRole is how the act is drawn in plain letters.
func actRole(a ask) theme.Role {
	if a.loosen {
		return theme.LetGo
	}
	return theme.Title
}

// largeAct sets the fastener, the verb and the way in one row of large letters,
// or the verb and what it is about; what else there is to say stands beside them
// as far as it fits.
func (m Model) largeAct(a ask, role theme.Role, w, rows int, few bool) (headed, bool) {
	var parts [][][]string // the drawings of each part, the largest first
	if a.id != "" {
		parts = append(parts, m.memo.sizes(letters, a.id, w/2, rows))
	}
	if a.verb != "" {
		parts = append(parts, m.memo.sizes(a.lettering(), a.verb, w, a.lettering().rows(rows)))
	}
	if len(parts) == 0 {
		return headed{}, false
	}
	row, rest := inOneRow(parts, w), a
	rest.id, rest.verb = "", ""
	switch {
	case a.way != "":
		if longer := inOneRow(append(parts, m.memo.sizes(letters, a.way, w, rows)), w); longer != nil {
			row = longer
		}
	case a.id == "":
		for _, verb := range parts[0] { // what it is about stands in any letters, rather than in none
			left := fit.Width(verb[0])
			if topic := m.memo.draw(drawing{sentence, cmp.Or(a.topic, a.headline), "", w - left - rowGap, 2 * rows}); topic != nil {
				row = fit.Beside(verb, left, rowGap, topic)
				break
			}
		}
	}
	if row == nil {
		return headed{}, false
	}
	lines, rest := besideRow(row, rest, role, w, few)
	return headed{lines, rest, a.id != ""}, true
}

// rowGap is the cells between two parts of a row of large letters.
const rowGap = 3

// inOneRow sets a drawing of each part beside the others, the first parts as
// large as they go, or gives nil where even the smallest are too wide.
func inOneRow(parts [][][]string, w int) []string {
	for _, drawn := range parts[0] {
		left := fit.Width(first(drawn))
		if len(drawn) == 0 || left > w {
			continue
		}
		if len(parts) == 1 {
			return drawn
		}
		if rest := inOneRow(parts[1:], w-left-rowGap); rest != nil {
			return fit.Beside(drawn, left, rowGap, rest)
		}
	}
	return nil
}

func first(lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	return lines[0]
}

// leastBeside is the least width in which a few words beside large letters read well.
const leastBeside = 20

// besideRow sets manner, place, details and, where lines are few, the tool beside a row of large letters, each
// whole or not at all; the manner goes below it if need be.
func besideRow(row []string, rest ask, role theme.Role, w int, few bool) ([]string, ask) {
	width := 0
	for _, line := range row {
		width = max(width, fit.Width(line))
	}
	var side []string
	free := w - width - rowGap
	take := func(text string, role theme.Role) bool {
		lines := fit.Paint(role, text, free)
		if free < leastBeside || text == "" || len(side)+len(lines) > len(row) {
			return false
		}
		side = append(side, lines...)
		return true
	}
	if take(rest.manner, role) {
		rest.manner = ""
	}
	tool := strings.Join(rest.tool, ", ")
	if both := strings.Join(some(rest.where, tool), ", "); few && fit.Width(both) <= free && take(both, theme.Title) {
		rest.where, rest.tool = "", nil
	}
	if take(rest.where, theme.Title) {
		rest.where = ""
	}
	if few && rest.tool != nil && take(tool, theme.Title) {
		rest.tool = nil
	}
	if take(rest.share, theme.Title) {
		rest.share = ""
	}
	for len(rest.detail) > 0 && take(rest.detail[0], theme.Quiet) {
		rest.detail = rest.detail[1:]
	}
	lines := append(fit.Beside(row, width, rowGap, side), fit.Paint(role, rest.manner, w)...)
	rest.manner = ""
	return lines, rest
}
