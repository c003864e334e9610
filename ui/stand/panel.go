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
		p.add("order", it.Stage.Why())
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

// heedPanel is what has to be read before anything is done.
func (m Model) heedPanel() panel {
	p := panel{title: "Read this first"}
	for _, text := range m.cfg.Heed {
		p.rows = append(p.rows, row{theme.Mark(theme.Caution), text})
	}
	return p
}

func (p *panel) add(mark, text string) {
	if text != "" {
		p.rows = append(p.rows, row{mark, text})
	}
}

// explained says more of a key than the line at the foot has room for.
var explained = map[string]string{
	"r":      ": give the figure read off the tool",
	"u":      ": take the last step back; the record keeps both",
	"l":      ": the fastener starts again",
	"p":      ": stripped, seized …: it has to be replaced",
	"e":      ": joint opened, cleaned and sealed again",
	"s":      ": end it unfinished, for ever",
	"d":      ": close the walk; refused while anything is open",
	"o":      ": everything that still keeps done away",
	"m":      ": a remark for the record",
	"f":      ": what state it came off in, and which box it went to",
	"a":      ": what is left over from taking it apart",
	"q":      ": always safe; says how to come back",
	"ctrl+z": "; fg comes back",
}

// helpPanel lists every key that means something now.
func (m Model) helpPanel() panel {
	p := panel{title: "Keys of this moment"}
	for _, g := range m.keymapOf().groups() {
		for _, b := range g.Bindings {
			if b.Enabled() {
				p.rows = append(p.rows, row{b.Help().Key, b.Help().Desc + explained[b.Keys()[0]]})
			}
		}
	}
	if m.cfg.State.Phase == walk.IsOpen && m.cfg.ReadOnly == "" && m.takesReading() {
		p.rows = append(p.rows, row{"0 to 9", "start a reading"})
	}
	return p
}

func (m Model) openPanel(p panel) Model {
	m.face, m.panel = onPanel, p
	return m
}

// panelKey scrolls or closes. A confirming key never closes a list that had to
// be scrolled, or one press too many would confirm what is behind it.
func (m Model) panelKey(k tea.KeyMsg, confirm bool) Model {
	page := max(1, m.panelHeight()-1-len(fit.Wrap(theme.Text(m.panel.title), m.width)))
	last := max(0, len(m.panel.lines(m.width))-page)
	step, jump := 0, m.panel.top
	switch s := k.String(); {
	case s == "down" || s == "j":
		step = 1
	case s == "up" || s == "k":
		step = -1
	case confirm && last > 0:
		step = page
	case s == "pgup" || s == "b":
		step = -page
	case s == "home" || s == "g":
		jump = 0
	case s == "end" || s == "G":
		jump = last
	default:
		m.face = onWalk
	}
	m.panel.top = max(0, min(last, jump+step))
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
	foot := fit.Hint("esc", "back")
	if len(lines) > room {
		foot = fit.Hints(w, "esc", "back", "enter, arrows", fmt.Sprintf("more: %d to %d of %d", top+1, end, len(lines)))[0]
	}
	for len(out) < h-1 {
		out = append(out, "")
	}
	return fit.Box(append(out, foot), w, h)
}
