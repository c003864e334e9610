package stand

import (
	"fmt"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/ui/keys"
	"evenpull/ui/page"
	"evenpull/ui/theme"
)

// rows are what a page over the walk says, each with its mark.
type rows []page.Row

func (r *rows) add(mark, text string) {
	if text != "" {
		*r = append(*r, page.Row{Mark: mark, Text: text})
	}
}

func outstanding(list []string) rows {
	var p rows
	for _, text := range list {
		p.add(theme.Mark(theme.Outstanding), text)
	}
	return p
}

// outstandingPage lists what still keeps done away, and what was said of the walk as it
// was opened.
func (m Model) outstandingPage() page.Model {
	list := m.cfg.State.Outstanding(m.now)
	title := fmt.Sprintf("%d outstanding", len(list))
	if len(list) == 0 {
		title = "Nothing is outstanding: " + keys.That(m.keymapOf().Done, "closes the walk")
	}
	p := outstanding(list)
	for _, text := range m.cfg.Notices {
		p.add("notice", text)
	}
	return page.Rows(title, p)
}

// whyPage says why this comes now, where its figure is from, and what the
// procedure warns of.
func (m Model) whyPage() page.Model {
	it, proc := m.facts.item, m.cfg.State.Plan.Procedure
	var p rows
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
		if m.takesReading() {
			p.add("range", "a reading has to lie in "+walk.WindowOf(it.Stage).Text()+" ("+walk.WindowOf(it.Stage).Basis+")")
		}
	case walk.AskItem, walk.MeasureItem:
		p.add("source", it.Check.Source)
	}
	for _, c := range proc.Cautions {
		p.add("caution", c)
	}
	p.add("", "The engine's own service manual governs.")
	return page.Rows("Why "+it.Text(), p)
}

// toldPage is everything that was said of what is in hand.
func (m Model) toldPage() page.Model {
	var p rows
	for _, line := range m.facts.told {
		day, text, _ := strings.Cut(line, ": ")
		p.add(day, text)
	}
	return page.Rows("Said of "+m.facts.item.Text(), p)
}

// explained says more of a key than the line at the foot has room for.
var explained = map[string]string{
	"r":      ": give the figure read off the tool",
	"g":      ": of figures that come without one",
	"u":      ": take the last step back; the record keeps both",
	"l":      ": the fastener starts again",
	"p":      ": stripped, seized …: it has to be replaced",
	"e":      ": joint opened, cleaned and sealed again",
	"s":      ": end it unfinished, for ever",
	"d":      ": close the walk; refused while anything is open",
	"o":      ": everything that still keeps done away",
	"m":      ": a remark for the record",
	"F":      ": the close-up asks for it",
	"b":      ": what the engine brought comes at the end instead",
	"t":      ": copy a picture next to the record",
	"h":      ": notes, reasons and photos of what is in hand",
	"f":      ": what state it came off in, and which box it went to",
	"a":      ": what is left over from taking it apart",
	"q":      ": always safe; says how to come back",
	"ctrl+z": "; fg comes back",
}

// helpPage lists every key that means something now.
func (m Model) helpPage() page.Model {
	var p rows
	for _, g := range m.keymapOf().groups() {
		for _, b := range g.Bindings {
			if b.Enabled() {
				p.add(b.Help().Key, b.Help().Desc+explained[b.Keys()[0]])
			}
		}
	}
	if m.takesFigures() {
		p.add("0 to 9", "start a reading")
	}
	return page.Rows("Keys of this moment", p)
}
