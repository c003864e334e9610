package stand

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/ui/boltmap"
	"evenpull/ui/dial"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// draw is the whole screen: at most width × height cells, whatever the state.
func (m Model) draw() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	return strings.Join(fit.Box(m.frame(layoutFor(m.width, m.height)), m.width, m.height), "\n")
}

// drawBusy is the last screen with its last line saying that a write is under
// way: it takes a few milliseconds, in which nothing else may change.
func (m Model) drawBusy() string {
	if layoutFor(m.width, m.height).tiny {
		return m.screen
	}
	return m.screen[:strings.LastIndexByte(m.screen, '\n')+1] + m.writingLine(m.width)
}

func (m Model) frame(l layout) []string {
	switch {
	case m.covered():
		return m.coverLines()
	case l.tiny:
		return m.tinyFrame(l)
	}
	over, last := m.footLines(l.w)
	room := max(0, l.h-1) // of several last lines only one is kept free
	if n := len(last) - 1; n > 0 {
		over, last = append(over, last[:n]...), last[n:]
	}
	head := m.header(l)
	switch bar := m.clockLine(l); {
	case bar == "":
	case l.narrow() && fit.Width(head[1])+2+fit.Width(bar) <= l.w:
		head[1] = fit.Ends(head[1], bar, l.w)
	default:
		head = append(head[:2], append([]string{bar}, head[min(len(head), 3):]...)...)
	}
	room -= len(head)
	body, vital := m.body(l, room-l.messages)
	if left := room - len(over); vital > left { // what lies over it moves the figure up rather than hide half of it
		if body, vital = m.body(l, left); vital > left {
			return m.tinyFrame(l)
		}
	}
	return append(append(head, overlaid(body, over, l.w, room)...), last...)
}

// header names the procedure, the engine and the pass, with how far both are.
func (m Model) header(l layout) []string {
	right := fmt.Sprintf("%d of %d %s", m.facts.inWalk.done, m.facts.inWalk.total, m.facts.counted)
	if l.narrow() {
		right = fmt.Sprintf("%d/%d", m.facts.inWalk.done, m.facts.inWalk.total)
	}
	if m.cfg.ReadOnly != "" {
		right = m.watching()
	}
	top := fit.Ends(theme.Render(theme.Title, m.heading(l.w-fit.Width(right)-2)), theme.Render(theme.Quiet, right), l.w)
	lines := []string{top, m.passLine(l), "", ""}
	return lines[:l.heading]
}

// heading is the procedure and the engine in w cells; the engine's tag is cut last.
func (m Model) heading(w int) string {
	name, tag := theme.Text(m.cfg.State.Plan.Procedure.Name), theme.Text(m.cfg.Engine)
	if tag == "" {
		return fit.Cut(name, w)
	}
	if whole := name + ", engine " + tag; fit.Width(whole) <= w {
		return whole
	}
	return fit.Keep(name, ", "+tag, w)
}

// passLine is the pass, a bar, and n of m.
func (m Model) passLine(l layout) string {
	f := m.facts
	if f.pass == nil {
		return ""
	}
	right, bar := f.passOf, min(24, l.w/4)
	if l.narrow() {
		right, bar = "", l.w/6
		if m.clocked() {
			bar = 0 // its clock stands in this line
		}
	}
	so, of, leg := "", f.inPass, ""
	if where := words.Leg(f.leg, f.pass); where != "" && f.inLeg.total > 1 {
		of, leg = f.inLeg, where+": "
		if l.narrow() {
			leg, _, _ = strings.Cut(leg, " ")
			leg += " "
		}
	}
	if of.total > 0 {
		if bar > 0 {
			so = "  " + theme.Render(theme.Done, fit.Bar(of.done, of.total, bar))
		}
		so += fmt.Sprintf("  %s%d of %d", leg, of.done, of.total)
	}
	name := fit.Cut(theme.Text(f.pass.Name), max(8, l.w-fit.Width(so)-len(right)-2))
	if right != "" {
		right = theme.Render(theme.Quiet, right)
	}
	return fit.Ends(theme.Render(theme.Title, name)+so, right, l.w)
}

// body is the act across the screen, below it the figure with all that belongs
// to it, and the map beside that. A figure too wide for its column is drawn
// across both, the map below it. The first vital lines of it are not to be hidden.
func (m Model) body(l layout, h int) (lines []string, vital int) {
	switch {
	case h <= 0:
		return nil, 1
	case l.right == 0 || m.cfg.State.Phase != walk.IsOpen:
		return m.narrowBody(m.asked(), l, h)
	}
	act := m.act(m.asked(), l, l.left, h)
	lines, a := m.headed(act, l, l.left, h), act.rest
	h -= len(lines)
	top := len(lines)
	if m.tooWide(a, l, h) {
		below := m.belowFigure(a, l, l.left, h)
		figure := m.figure(a, append(below, block{make([]string, max(0, leastMap-linesIn(below))), spare}), l.w, h)
		rest := m.rest(below, l, l.left, h-len(figure))
		vital = top + len(figure) + m.throughName(rest, a, l.left, h)
		h -= len(figure)
		return append(append(lines, figure...), fit.Beside(rest, l.left, l.gap, m.rightColumn(a, l, h))...), vital
	}
	column, vital := m.leftColumn(a, l, l.left, h)
	return append(lines, fit.Beside(column, l.left, l.gap, m.rightColumn(a, l, h))...), top + vital
}

// headed is the lines of the act, set off from the figure where lines are to spare.
func (m Model) headed(act headed, l layout, w, h int) []string {
	lines := act.lines[:min(len(act.lines), h)]
	if act.rest.figure != "" && linesIn(m.belowFigure(act.rest, l, w, h))+len(lines)+wanted(h)+1 < h {
		return append(lines, "")
	}
	return lines
}

// narrowBody is the body in one column, with a small map in what is left free of
// it, or the row of the fastener in hand beside the words that say where it is.
func (m Model) narrowBody(a ask, l layout, h int) ([]string, int) {
	act := m.act(a, l, l.w, h)
	column := func(act headed) ([]string, int) {
		lines := m.headed(act, l, l.w, h)
		below, rows := m.leftColumn(act.rest, l, l.w, h-len(lines))
		return fit.Box(append(lines, below...), l.w, h), len(lines) + rows
	}
	lines, rows := column(act)
	if m.cfg.State.Phase != walk.IsOpen || a.id == "" || len(m.facts.bolts) < 2 {
		return lines, rows
	}
	if mapped := m.mapBeside(lines, l.w); mapped != nil {
		return mapped, rows
	}
	if row := boltmap.Strip(m.facts.bolts, a.id, l.w/2); row != "" {
		a.where += "  " + row
		if again := m.act(a, l, l.w, h); len(again.lines) == len(act.lines) && len(again.lines)+leastFigure()+linesIn(vital(m.belowFigure(again.rest, l, l.w, h))) <= h {
			return column(again)
		}
	}
	return lines, rows
}

// The least room for a small map.
const smallMapW, smallMapH = 14, 3

// mapBeside draws the map to the right of the lines that leave most room for it, or
// gives nil where none do.
func (m Model) mapBeside(lines []string, w int) []string {
	var from, rows, cols, most int
	for i := range lines {
		free := w
		for k := i; k < len(lines); k++ {
			free = min(free, w-fit.Width(lines[k])-2)
			if n := k - i + 1; free >= smallMapW && n >= smallMapH && min(free, 3*n)*n > most {
				from, rows, cols, most = i, n, free, min(free, 3*n)*n
			}
		}
	}
	if most == 0 {
		return nil
	}
	out := slices.Clone(lines)
	copy(out[from:], fit.Beside(lines[from:from+rows], w-cols, 0, m.boltMap(cols, rows)))
	return out
}

// tooWide reports whether the figure would be drawn small in its column and
// larger across the screen.
func (m Model) tooWide(a ask, l layout, h int) bool {
	rows := wanted(h)
	return a.figure != "" && len(m.figureLines(a, l.left, rows)) < min(5, len(m.figureLines(a, l.w, rows)))
}

// asked is what the walk wants now; after the last item, and after the end, it
// is what became of it.
func (m Model) asked() ask {
	s := m.cfg.State
	switch {
	case s.Phase == walk.IsDone:
		return m.endedDone()
	case s.Phase == walk.IsStopped:
		return m.endedStopped()
	case m.facts.item == nil:
		return m.allConfirmed()
	}
	if m.changing() {
		a := askChange(s, *m.facts.over, m.facts.scale)
		a.place = m.facts.wrench
		return a
	}
	var wait time.Duration
	if m.facts.item.Kind == walk.WaitItem {
		wait = s.WaitLeft(s.Current(), m.now)
	}
	a := askOf(s, m.facts.item, wait)
	if a.id != "" {
		a.where = m.facts.where
	}
	if last := m.cfg.Memory[m.facts.item.Key().String()]; last != "" {
		a.detail = append([]string{last}, a.detail...)
	}
	if m.facts.over != nil {
		a.flags = append(a.flags, turnsTaken)
	}
	switch sends := m.gaugeSends(); {
	case sends == "":
	case a.id != "":
		a.tool = append(a.tool, sends)
	default:
		a.detail = append(a.detail, sends)
	}
	if m.facts.wrench != "" {
		a.tool = append(a.tool, m.facts.wrench)
	}
	if refused := m.facts.rejected[m.facts.item.Key().String()]; len(refused) > 0 {
		a.detail = append(a.detail, "refused before: "+strings.Join(refused[max(0, len(refused)-3):], ", "))
	}
	return a
}

// tinyFrame is for a screen too small for more: figure, id, and what is wrong.
func (m Model) tinyFrame(l layout) []string {
	a := m.asked()
	if l.h == 1 {
		return []string{fit.Cut(strings.TrimSpace(theme.Text(a.id+" "+a.figure+" "+a.unit+" "+a.own)), l.w)}
	}
	id := strings.TrimSpace(a.id + " " + a.action)
	if a.leftHand {
		id = a.id + " LEFT-HAND " + a.action
	}
	if a.id == "" && a.headline != "" && a.own == "" {
		id = a.headline
	}
	name := theme.Render(theme.Current, fit.Cut(theme.Text(" "+id+" "), l.w))
	over, last := m.footLines(l.w)
	if l.h <= 3 || len(m.over) == 0 && len(over) > 0 {
		last = nil // no room for both
	}
	foot := append(over, last...)
	foot = foot[:min(len(foot), l.h-2)]
	figure := fit.Paint(theme.Title, a.own, l.w)
	if a.own == "" {
		figure = m.figureLines(a, l.w, max(1, l.h-1-len(foot)))
	}
	lines := fit.Box(append([]string{name}, figure...), l.w, l.h-len(foot))
	return append(lines, foot...)
}

// leastMap is the height below which a map tells less than the words beside the
// id; the dial of an angle gives way to it.
const leastMap = 9

// rightColumn is the dial of an angle where there is room for it as well, the
// bolt map, and on a wide screen what comes next.
func (m Model) rightColumn(a ask, l layout, h int) []string {
	var top, next []string
	if l.listNext > 0 && len(m.facts.next) > 0 {
		next = append([]string{""}, m.nextLines(l.right, l.listNext)...)
	}
	room := h - len(next)
	if a.degrees > 0 && room > leastMap {
		if top = fit.Lines(dial.Draw(turnOf(a), l.right, room-leastMap-1)); len(top) > 1 {
			top = append(centred(top, l.right), "")
			room -= len(top)
		} else {
			top = nil
		}
	}
	lines := append(top, fit.Box(m.boltMap(l.right, room), l.right, room)...)
	return append(lines, next...)
}

// turnOf is the angle of a stage as the dial draws it.
func turnOf(a ask) dial.Turn {
	return dial.Turn{Degrees: a.degrees, UpTo: a.upTo, Left: a.leftHand, Loosen: a.loosen, Corners: a.corners}
}

// centred sets lines of equal width in the middle of w cells.
func centred(lines []string, w int) []string {
	for i := range lines {
		lines[i] = strings.Repeat(" ", max(0, (w-fit.Width(lines[i]))/2)) + lines[i]
	}
	return lines
}

// boltMap draws the joint face and explains its signs below it.
func (m Model) boltMap(w, h int) []string {
	if h < 1 || len(m.facts.bolts) == 0 {
		return nil
	}
	return m.memo.boltMap(m.facts, w, h)
}

func (m Model) nextLines(w, h int) []string {
	lines := []string{theme.Render(theme.Title, "Then")}
	for _, n := range m.facts.next {
		if len(lines) == h {
			break
		}
		lines = append(lines, fit.Cut(theme.Text("  "+n), w))
	}
	return lines
}
