package stand

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/bigtext"
	"evenpull/ui/boltmap"
	"evenpull/ui/dial"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// View draws the screen: at most width × height cells, whatever the state.
func (m Model) View() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	return strings.Join(fit.Box(m.frame(layoutFor(m.width, m.height)), m.width, m.height), "\n")
}

func (m Model) frame(l layout) []string {
	foot := []string{m.keyLine(l.w)}
	room := max(0, l.h-len(foot))
	if m.covered() && !(l.tiny && m.face == onRenew) {
		return append(m.coverLines(l, room), foot...)
	}
	if l.tiny {
		return m.tinyFrame(l)
	}
	head := m.header(l)
	if bar := m.sealantLine(l.w); bar != "" {
		head = append(head[:min(len(head), 2)], bar)
	}
	room -= len(head)
	body := m.body(l, room-l.messages)
	return append(append(head, overlay(body, m.messageLines(l.w), l.w, room)...), foot...)
}

// covered reports whether something is shown in place of the figure.
func (m Model) covered() bool {
	return m.failed == nil && (m.face == onRenew || m.face == onConvert || m.face == onPanel)
}

// coverLines draws what is shown in place of the figure, below one line that
// says where the walk stands.
func (m Model) coverLines(l layout, h int) []string {
	head := []string{m.whereLine(l.w), ""}
	if h < 12 {
		head = head[:1]
	}
	if h < 5 {
		head = nil
	}
	h -= len(head)
	var lines []string
	switch m.face {
	case onConvert:
		lines = m.convert.Lines(l.w, h)
	case onRenew:
		lines = m.renew.Lines(l.w, h)
	default:
		lines = m.panel.draw(l.w, h)
	}
	if m.say.text != "" {
		lines = overlay(lines, m.messageLines(l.w), l.w, h)
	}
	return append(head, lines...)
}

// whereLine is the walk in one line: what is in hand.
func (m Model) whereLine(w int) string {
	text := "all confirmed"
	if it := m.facts.item; it != nil {
		text = "now: " + it.Text()
	}
	return theme.Render(theme.Quiet, fit.Cut(theme.Text(text), w))
}

// header names the procedure, the engine and the pass, with how far both are.
func (m Model) header(l layout) []string {
	p := m.cfg.State.Plan.Procedure
	name := p.Name
	if m.cfg.Engine != "" {
		name += ", engine " + m.cfg.Engine
	}
	right := fmt.Sprintf("%d of %d stages", m.facts.inWalk.done, m.facts.inWalk.total)
	if m.cfg.ReadOnly != "" {
		right = "READ ONLY"
	}
	top := fit.Ends(theme.Render(theme.Title, fit.Cut(theme.Text(name), l.w-fit.Width(right)-2)), theme.Render(theme.Quiet, right), l.w)
	lines := []string{top, m.passLine(l.w), ""}
	return lines[:l.heading]
}

// passLine is the pass, a bar, and n of m.
func (m Model) passLine(w int) string {
	f := m.facts
	if f.pass == nil {
		return ""
	}
	so := fmt.Sprintf("%d of %d", f.inPass.done, f.inPass.total)
	right := f.passOf
	if f.inPass.total == 0 {
		so = ""
	}
	bar := min(24, w/4)
	name := fit.Cut(theme.Text(f.pass.Name), max(8, w-bar-len(so)-len(right)-6))
	line := theme.Render(theme.Title, name)
	if so != "" {
		line += "  " + theme.Render(theme.Done, fit.Bar(f.inPass.done, f.inPass.total, bar)) + "  " + so
	}
	return fit.Ends(line, theme.Render(theme.Quiet, right), w)
}

// sealantLine is the sealant's clock, as a bar that runs empty.
func (m Model) sealantLine(w int) string {
	left, running := m.cfg.State.SealantLeft(m.now)
	if !running {
		return ""
	}
	total := m.cfg.State.Plan.Procedure.Sealant.WorkTime
	if left < 0 {
		return theme.Render(theme.Warning, fit.Cut(theme.Text(" ! SEALANT PAST ITS WORK TIME by "+spec.Span(-left)+": open, clean, e seals afresh "), w))
	}
	text := clock(left) + " of " + spec.Span(total) + " left"
	bar := fit.Bar(int(left/time.Second), int(total/time.Second), min(24, w/4))
	role := theme.Plain
	if left < total/4 {
		role, text = theme.Caution, text+", hurry"
	}
	return fit.Cut(theme.Text("sealant ")+" "+theme.Render(role, bar)+"  "+theme.Render(role, theme.Text(text)), w)
}

// body is the figure with all that belongs to it, and the map beside it.
func (m Model) body(l layout, h int) []string {
	if h <= 0 {
		return nil
	}
	a := m.asked()
	left := m.leftColumn(a, l, h)
	if l.right == 0 {
		return left
	}
	return fit.Beside(left, l.left, l.gap, m.rightColumn(a, l, h))
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
	if m.facts.wrench != "" {
		a.tool = append(a.tool, m.facts.wrench)
	}
	if refused := m.facts.rejected[m.facts.item.Key]; len(refused) > 0 {
		a.detail = append(a.detail, "refused before: "+strings.Join(refused[max(0, len(refused)-3):], ", "))
	}
	return a
}

// tinyFrame is for a screen too small for more: figure, id, and what is wrong.
func (m Model) tinyFrame(l layout) []string {
	a := m.asked()
	id := strings.TrimSpace(a.id + " " + a.action)
	if a.id == "" && a.headline != "" {
		id = a.headline
	}
	name := theme.Render(theme.Current, fit.Cut(theme.Text(" "+id+" "), l.w))
	if l.h == 1 {
		return []string{fit.Cut(strings.TrimSpace(theme.Text(a.id+" "+a.figure+" "+a.unit)), l.w)}
	}
	foot := fit.Box(m.messageLines(l.w), l.w, min(len(m.messageLines(l.w)), max(0, l.h-2)))
	if len(foot) == 0 && l.h > 2 {
		foot = []string{m.keyLine(l.w)}
	}
	figure := fit.Lines(bigtext.Pair(a.figure, a.unit, l.w, max(1, l.h-1-len(foot))))
	for i := range figure {
		figure[i] = theme.Render(theme.Figure, figure[i])
	}
	lines := fit.Box(append([]string{name}, figure...), l.w, l.h-len(foot))
	return append(lines, foot...)
}

// rightColumn is the dial of an angle, the bolt map, and on a wide screen what
// comes next.
func (m Model) rightColumn(a ask, l layout, h int) []string {
	var top, next []string
	if a.degrees > 0 && h >= 16 {
		top = append(m.dial(a, l.right, min(10, h-8)), "")
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

func dialOf(a ask) dial.Dial {
	return dial.Dial{Degrees: a.degrees, Loosen: a.loosen, LeftHand: a.leftHand}
}

func (m Model) dial(a ask, w, h int) []string {
	return fit.Lines(dial.Render(dialOf(a), w, h))
}

// boltMap draws the joint face with the legend in its last line.
func (m Model) boltMap(w, h int) []string {
	if h < 1 || len(m.facts.bolts) == 0 {
		return nil
	}
	lines := fit.Box(fit.Lines(boltmap.Render(m.facts.bolts, w, h-1)), w, h-1)
	return append(lines, fit.Cut(boltmap.Legend(m.facts.bolts, w), w))
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
