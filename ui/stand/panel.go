package stand

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// panel is a text to read in place of the figure: it scrolls.
type panel struct {
	title string
	rows  []row
	top   int
}

// row is one paragraph; mark is set apart at its left.
type row struct{ mark, text string }

func outstandingPanel(title string, list []string) panel {
	p := panel{title: title}
	for _, text := range list {
		p.rows = append(p.rows, row{theme.Mark(theme.Outstanding), text})
	}
	return p
}

func (m Model) openItemsPanel() panel {
	list := m.cfg.State.Outstanding(m.now)
	title := fmt.Sprintf("%d outstanding", len(list))
	if len(list) == 0 {
		title = "Nothing is outstanding: d closes the walk"
	}
	return outstandingPanel(title, list)
}

// whyPanel says why this comes now, where its figure is from, and what the
// procedure warns of.
func (m Model) whyPanel() panel {
	it, proc := m.facts.item, m.cfg.State.Plan.Procedure
	p := panel{title: "Why " + it.Text()}
	if it.Kind == walk.StageItem || it.Kind == walk.WaitItem {
		p.add("order", it.Stage.Why)
	}
	if it.Pass != nil {
		p.add("pass", it.Pass.Because)
	}
	switch it.Kind {
	case walk.StageItem:
		source := proc.SourceOf(it.Pass, it.Stage.Fastener.Group)
		if source == "" {
			source = "none given: check the figure against the service manual"
		}
		p.add("source", source)
		p.add("range", "a reading has to lie in "+walk.WindowOf(it.Stage).Text()+" ("+walk.WindowOf(it.Stage).Basis+")")
		if !m.takesReading() {
			p.rows = p.rows[:len(p.rows)-1]
		}
	case walk.AskItem, walk.MeasureItem:
		p.add("source", it.Check.Source)
	}
	for _, c := range proc.Cautions {
		p.add("caution", c)
	}
	p.add("", "The engine's own service manual governs.")
	return p
}

func (p *panel) add(mark, text string) {
	if text != "" {
		p.rows = append(p.rows, row{mark, text})
	}
}

// helpPanel lists every key that means something now.
func (m Model) helpPanel() panel {
	p := panel{title: "Keys of this moment"}
	for _, b := range m.keymapOf().all() {
		if b.Enabled() {
			h := b.Help()
			p.rows = append(p.rows, row{h.Key, h.Desc})
		}
	}
	p.rows[0].text += "; space and page down (a pedal) do the same"
	if m.cfg.State.Phase == walk.IsOpen && m.cfg.ReadOnly == "" && m.takesReading() {
		p.rows = append(p.rows, row{"0-9", "start a reading"})
	}
	return p
}

func (m Model) openPanel(p panel) Model {
	m.face, m.panel = onPanel, p
	return m
}

func (m Model) panelKey(k tea.KeyMsg, confirm bool) Model {
	page := max(1, m.height-6)
	last := max(0, len(m.panel.lines(m.width))-page)
	switch s := k.String(); {
	case s == "down" || s == "j":
		m.panel.top = min(last, m.panel.top+1)
	case s == "up" || s == "k":
		m.panel.top = max(0, m.panel.top-1)
	case s == "pgup" || s == "b":
		m.panel.top = max(0, m.panel.top-page)
	case s == "home" || s == "g":
		m.panel.top = 0
	case s == "end" || s == "G":
		m.panel.top = last
	case confirm && m.panel.top < last:
		m.panel.top = min(last, m.panel.top+page)
	default:
		m.face = onWalk
	}
	return m
}

// lines lays the rows out in w cells, marks in a column of their own.
func (p panel) lines(w int) []string {
	mw := 0
	for _, r := range p.rows {
		mw = max(mw, fit.Width(theme.Text(r.mark)))
	}
	var out []string
	for _, r := range p.rows {
		mark := fit.Pad(theme.Text(r.mark), mw)
		for i, l := range fit.Wrap(theme.Text(r.text), max(1, w-mw-2)) {
			if i == 0 {
				out = append(out, theme.Render(theme.Key, mark)+"  "+l)
			} else {
				out = append(out, strings.Repeat(" ", mw+2)+l)
			}
		}
	}
	return out
}

// draw gives the panel in w×h cells, and how much of it lies outside.
func (p panel) draw(w, h int) []string {
	out := fit.Wrap(theme.Text(p.title), w)
	for i := range out {
		out[i] = theme.Render(theme.Title, out[i])
	}
	lines := p.lines(w)
	room := max(1, h-len(out)-1)
	top := max(0, min(p.top, len(lines)-room))
	end := min(len(lines), top+room)
	out = append(out, lines[top:end]...)
	foot := "esc back"
	if len(lines) > room {
		foot = fmt.Sprintf("%d to %d of %d lines · arrows or enter for more · esc back", top+1, end, len(lines))
	}
	for len(out) < h-1 {
		out = append(out, "")
	}
	return fit.Box(append(out, theme.Render(theme.Quiet, theme.Text(fit.Cut(foot, w)))), w, h)
}
