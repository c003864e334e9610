package stand

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/overlay"
	"evenpull/ui/theme"
)

// overlay is the one that has the keys, or nil when the walk has them.
func (m Model) overlay() overlay.Model {
	if n := len(m.over); n > 0 {
		return m.over[n-1]
	}
	return nil
}

// lay lays an overlay over the walk.
func (m Model) lay(o overlay.Model) Model {
	m.over, m.dismiss = append(slices.Clip(m.over), o), false
	return m
}

// takeDown gives the keys back to what lay below the last overlay.
func (m Model) takeDown() Model {
	m.over = m.over[:len(m.over)-1]
	return m
}

// replace sets another overlay in place of the last.
func (m Model) replace(o overlay.Model) Model {
	m.over = append(slices.Clone(m.over[:len(m.over)-1]), o)
	return m
}

// typing reports whether a text field has the keys.
func (m Model) typing() bool { return m.overlay() != nil && m.overlay().Typing() }

// overKey gives a key to the overlay that has them.
func (m Model) overKey(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	if m.dismiss && confirm && !m.typing() {
		m.dismiss, m.say = false, message{} // a refusal has been seen
		return m, nil
	}
	w, h := m.overRoom()
	next, did := m.overlay().Key(overlay.Press{KeyMsg: k, Together: m.together, W: w, H: h})
	m = m.replace(next)
	if !next.Covers() {
		m.say = message{}
	}
	if did.Close {
		m = m.takeDown()
	}
	if did.Gauge != nil {
		m.gauge = *did.Gauge
	}
	if did.Say != "" {
		m.say = message{aside, did.Say}
	}
	switch {
	case did.Refused != "":
		m.hearRefused("refused: " + did.Refused)
	case did.Leave:
		return m.leave()
	case len(did.Commands) > 0:
		return m.order(did.Commands...)
	}
	return m, nil
}

// refresh shows the last overlay what the walk knows now, and takes it down when it
// has nothing more to ask for.
func (m Model) refresh() Model {
	r, ok := m.overlay().(overlay.Refresher)
	if !ok {
		return m
	}
	next, more := r.Refresh(m.cfg.State)
	if m = m.replace(next); !more {
		m = m.takeDown()
		m.dismiss = true
	}
	return m
}

// covered reports whether something is shown in place of the figure.
func (m Model) covered() bool { return m.overlay() != nil && m.overlay().Covers() }

// coverHead is the lines above what covers the figure.
func (m Model) coverHead() []string {
	switch head := []string{m.whereLine(m.width), ""}; {
	case m.height >= 13:
		return head
	case m.height >= 6:
		return head[:1]
	}
	return nil
}

// overRoom is the cells that the last overlay is drawn in.
func (m Model) overRoom() (w, h int) {
	if !m.covered() {
		return m.width, m.height
	}
	return m.width, m.height - len(m.coverHead()) - len(m.saidLines(m.width))
}

// coverLines draws what is shown in place of the figure, between one line that says
// where the walk stands and what was just said.
func (m Model) coverLines() []string {
	w, h := m.overRoom()
	return append(append(m.coverHead(), m.overlay().Lines(w, h)...), m.saidLines(w)...)
}

// whereLine is the walk in one line: what is in hand, or the clock that has run out and
// comes before it.
func (m Model) whereLine(w int) string {
	if m.overdue() {
		return m.clockLine(layoutFor(m.width, m.height))
	}
	text := "all confirmed"
	if it := m.facts.item; it != nil {
		text = "now: " + it.Text()
	}
	return theme.Render(theme.Quiet, fit.Cut(theme.Text(text), w))
}
