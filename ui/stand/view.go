package stand

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/dial"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
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
	if bar := m.sealantLine(l); bar != "" {
		head = append(head[:min(len(head), 2)], bar)
	}
	room -= len(head)
	body := m.body(l, room-l.messages)
	return append(append(head, overlaid(body, over, l.w, room)...), last...)
}

// header names the procedure, the engine and the pass, with how far both are.
func (m Model) header(l layout) []string {
	p := m.cfg.State.Plan.Procedure
	name := p.Name
	if m.cfg.Engine != "" {
		name += ", engine " + m.cfg.Engine
	}
	right := fmt.Sprintf("%d of %d %s", m.facts.inWalk.done, m.facts.inWalk.total, m.facts.counted)
	if l.narrow() {
		right = fmt.Sprintf("%d/%d", m.facts.inWalk.done, m.facts.inWalk.total)
	}
	if m.cfg.ReadOnly != "" {
		right = "READ ONLY"
	}
	top := fit.Ends(theme.Render(theme.Title, fit.Cut(theme.Text(name), l.w-fit.Width(right)-2)), theme.Render(theme.Quiet, right), l.w)
	lines := []string{top, m.passLine(l), ""}
	return lines[:l.heading]
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
	}
	so := ""
	if f.inPass.total > 0 {
		so = fmt.Sprintf("  %d of %d", f.inPass.done, f.inPass.total)
		so = "  " + theme.Render(theme.Done, fit.Bar(f.inPass.done, f.inPass.total, bar)) + so
	}
	name := fit.Cut(theme.Text(f.pass.Name), max(8, l.w-fit.Width(so)-len(right)-2))
	return fit.Ends(theme.Render(theme.Title, name)+so, theme.Render(theme.Quiet, right), l.w)
}

// sealantLine is the sealant's clock, as a bar that runs empty.
func (m Model) sealantLine(l layout) string {
	left, running := m.cfg.State.SealantLeft(m.now)
	if !running {
		return ""
	}
	total := m.cfg.State.Plan.Procedure.Sealant.WorkTime
	if left < 0 {
		text := " ! SEALANT PAST ITS WORK TIME by " + spec.Span(-left) + ": open, clean, e seals afresh "
		if l.narrow() {
			text = " ! SEALANT " + spec.Span(-left) + " OVER: e seals afresh "
		}
		return theme.Render(theme.Warning, fit.Cut(theme.Text(text), l.w))
	}
	text := clock(left) + " of " + spec.Span(total) + " left"
	bar := fit.Bar(int(left/time.Second), int(total/time.Second), min(24, l.w/4))
	if l.narrow() {
		text = clock(left) + " left"
	}
	role := theme.Plain
	need, known := m.cfg.State.SealantNeed(m.now)
	if left < total/4 || known && need > left {
		role, text = theme.Caution, text+", hurry"
	}
	if known && !l.narrow() {
		text += fmt.Sprintf("; at your pace %s more", spec.Span(max(need, time.Minute).Round(time.Minute)))
	}
	return fit.Cut("sealant  "+theme.Render(role, bar)+"  "+theme.Render(role, theme.Text(text)), l.w)
}

// body is the figure with all that belongs to it, and the map beside it. A
// figure too wide for its column is drawn across both, the map below it.
func (m Model) body(l layout, h int) []string {
	if h <= 0 {
		return nil
	}
	a := m.asked()
	if l.right == 0 || m.cfg.State.Phase != walk.IsOpen {
		return m.leftColumn(a, l, l.w, h)
	}
	if m.tooWide(a, l, h) {
		below := m.belowFigure(a, l, l.left, h)
		need := linesIn(below)
		if a.degrees > 0 {
			need = h // the dial needs the rows more than the figure does
		}
		head := m.top(a, l.w, h, need)
		h -= len(head)
		return append(head, fit.Beside(m.rest(below, l, l.left, h), l.left, l.gap, m.rightColumn(a, l, h))...)
	}
	return fit.Beside(m.leftColumn(a, l, l.left, h), l.left, l.gap, m.rightColumn(a, l, h))
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
	var wait time.Duration
	if m.facts.item.Kind == walk.WaitItem {
		wait = s.WaitLeft(s.Current(), m.now)
	}
	a := askOf(s, m.facts.item, wait)
	if last := m.cfg.Memory[m.facts.item.Key.String()]; last != "" {
		a.detail = append([]string{last}, a.detail...)
	}
	if m.facts.wrench != "" {
		a.tool = append(a.tool, m.facts.wrench)
	}
	if refused := m.facts.rejected[m.facts.item.Key.String()]; len(refused) > 0 {
		a.detail = append(a.detail, "refused before: "+strings.Join(refused[max(0, len(refused)-3):], ", "))
	}
	return a
}

// tinyFrame is for a screen too small for more: figure, id, and what is wrong.
func (m Model) tinyFrame(l layout) []string {
	a := m.asked()
	id := strings.TrimSpace(a.id + " " + a.action)
	if a.leftHand {
		id = a.id + " LEFT-HAND " + a.action
	}
	if a.id == "" && a.headline != "" {
		id = a.headline
	}
	name := theme.Render(theme.Current, fit.Cut(theme.Text(" "+id+" "), l.w))
	if l.h == 1 {
		return []string{fit.Cut(strings.TrimSpace(theme.Text(a.id+" "+a.figure+" "+a.unit)), l.w)}
	}
	over, last := m.footLines(l.w)
	if l.h <= 3 || len(m.over) == 0 && len(over) > 0 {
		last = nil // no room for both
	}
	foot := append(over, last...)
	foot = foot[:min(len(foot), l.h-2)]
	figure := m.figureLines(a, l.w, max(1, l.h-1-len(foot)))
	lines := fit.Box(append([]string{name}, figure...), l.w, l.h-len(foot))
	return append(lines, foot...)
}

// rightColumn is the dial of an angle, the bolt map, and on a wide screen what
// comes next.
func (m Model) rightColumn(a ask, l layout, h int) []string {
	var top, next []string
	if a.degrees > 0 {
		top = centred(fit.Lines(dial.Draw(turnOf(a), l.right, h)), l.right)
		if h < len(top)+7 {
			return top // no room for a map as well: the words beside the id say where
		}
		top = append(top, "")
	}
	if l.listNext > 0 && len(m.facts.next) > 0 {
		next = m.nextLines(l.right, l.listNext)
	}
	room := h - len(top) - len(next)
	if len(next) > 0 {
		room--
		next = append([]string{""}, next...)
	}
	lines := append(top, fit.Box(m.boltMap(l.right, room), l.right, room)...)
	return append(lines, next...)
}

// turnOf is the angle of a stage as the dial draws it.
func turnOf(a ask) dial.Turn {
	return dial.Turn{Degrees: a.degrees, UpTo: a.upTo, Left: a.leftHand, Loosen: a.loosen}
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
