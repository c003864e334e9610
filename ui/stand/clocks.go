package stand

import (
	"fmt"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// clocked reports whether a clock stands above the figure.
func (m Model) clocked() bool {
	_, sealed := m.cfg.State.SealantLeft(m.now)
	_, _, hot := m.cfg.State.HeatFor(m.now)
	return sealed || hot
}

// overdue reports whether that clock has run out.
func (m Model) overdue() bool {
	cools, _, hot := m.cfg.State.HeatFor(m.now)
	dries, sealed := m.cfg.State.SealantLeft(m.now)
	return hot && cools < 0 || !hot && sealed && dries < 0
}

// clockLine is the clock that runs out first: what is hot cools in a minute.
func (m Model) clockLine(l layout) string {
	left, heat, running := m.cfg.State.HeatFor(m.now)
	if !running {
		return m.sealantLine(l)
	}
	if left < 0 {
		by := spec.Span(max(time.Second, -left.Round(time.Second)))
		text := " ! " + strings.ToUpper(words.TooLate) + " by " + by + ": take the heat back (u), heat it again"
		if l.narrow() {
			text = " ! TOO LATE by " + by + ": u, heat again"
		}
		return theme.Render(theme.Warning, fit.Cut(theme.Text(text), l.w))
	}
	role := theme.Plain
	if left < heat.Within/3 {
		role = theme.Caution
	}
	if l.narrow() {
		return fit.Cut(theme.Render(role, theme.Text("hot "+clock(left)+" left")), l.w)
	}
	bar := fit.Bar(int(left/time.Second), int(heat.Within/time.Second), min(24, l.w/4))
	return fit.Cut("hot  "+theme.Render(role, bar)+"  "+theme.Render(role, theme.Text(clock(left)+" of "+spec.Span(heat.Within)+" left")), l.w)
}

// sealantLine is the sealant's clock, as a bar that runs empty.
func (m Model) sealantLine(l layout) string {
	left, running := m.cfg.State.SealantLeft(m.now)
	if !running {
		return ""
	}
	total := m.cfg.State.Plan.Procedure.Sealant.WorkTime
	if left < 0 {
		again := keys.That(m.keymapOf().Reseal, "seals afresh ")
		if m.cfg.ReadOnly != "" {
			again = "seal afresh "
		}
		text := " ! " + strings.ToUpper(words.PastWork) + " by " + spec.Span(-left) + ": open, clean, " + again
		if l.narrow() {
			over := " ! SEALANT " + spec.Span(-left) + " OVER"
			if text = over + ": " + again; fit.Width(theme.Text(text)) > l.w { // half a remedy is none
				text = over
			}
		}
		return theme.Render(theme.Warning, fit.Cut(theme.Text(text), l.w))
	}
	text := clock(left) + " of " + spec.Span(total) + " left"
	role := theme.Plain
	need, known := m.cfg.State.SealantNeed(m.now)
	hurry := ""
	if left < total/4 || known && need > left {
		role, hurry = theme.Caution, ", hurry"
	}
	if l.narrow() {
		return fit.Cut(theme.Render(role, theme.Text("sealant "+clock(left)+" left"+hurry)), l.w)
	}
	text += hurry
	if known {
		text += fmt.Sprintf("; at your pace %s more", spec.Span(max(need, time.Minute).Round(time.Minute)))
	}
	const label, leastBar = "sealant  ", 8
	cells := min(24, l.w/4, max(leastBar, l.w-len(label)-2-fit.Width(text))) // words before the length of a bar
	bar := fit.Bar(int(left/time.Second), int(total/time.Second), cells)
	return fit.Cut(label+theme.Render(role, bar)+"  "+theme.Render(role, theme.Text(text)), l.w)
}
