package start

import (
	"fmt"
	"strings"

	"evenpull/ui/field"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

const (
	governs    = "The engine's own service manual governs." // 40 cells: fits the narrowest
	minimal    = 9                                          // below this height: the list alone
	detailRows = 2
	fieldFoot  = 2  // lines of the foot below a field: one of air, the keys
	wide       = 60 // from here a row has three columns
	least      = 8  // cells of a text that is cut for another
)

// View draws the screen: exactly as many lines as there are, none too wide.
func (m Model) View() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	lines, foot := m.header(), m.foot()
	switch {
	case m.help:
		lines = append(lines, keys.Lines(m.width, m.keys().all()...)...)
	case m.face == onTag:
		lines = append(lines, m.tagLines()...)
	case m.face == onReason:
		lines = append(lines, m.reasonLines()...)
	case m.face == onSheet:
		lines = append(lines, m.sheetLines()...)
	default:
		lines = append(lines, m.rows()...)
	}
	lines = append(fit.Box(lines, m.width, m.height-len(foot)), foot...)
	return strings.Join(fit.Box(lines, m.width, m.height), "\n")
}

func (m Model) header() []string {
	if m.height < minimal {
		return nil
	}
	title := theme.Render(theme.Title, "Evenpull")
	if m.width < wide {
		return []string{title, theme.Render(theme.Quiet, fit.Cut(governs, m.width)), ""}
	}
	return []string{fit.Ends(title, theme.Render(theme.Quiet, governs), m.width), ""}
}

// listHeight is the room for rows; it must not look at them.
func (m Model) listHeight() int {
	return max(1, m.height-len(m.header())-len(m.foot()))
}

func (m Model) rows() []string {
	var lines []string
	from, to := m.list.Window(len(m.shown), m.listHeight())
	for i := from; i < to; i++ {
		lines = append(lines, m.row(m.items[m.shown[i]], i == m.list.At && m.current() != nil))
	}
	if len(m.shown) == 0 {
		lines = append(lines, theme.Render(theme.Quiet, fit.Cut("Nothing holds these words; "+keys.That(m.findKeys().Back, "shows all again."), m.width)))
	}
	return lines
}

func (m Model) row(it item, current bool) string {
	switch it.kind {
	case heading:
		return theme.Render(theme.Title, fit.Cut(it.text, m.width))
	case hint:
		return theme.Render(theme.Quiet, fit.Cut("  "+theme.Text(it.text), m.width))
	}
	text := fit.Pad(m.columns(it, m.width-2), m.width-2)
	if current {
		return fit.Cut(theme.Render(theme.Current, theme.Mark(theme.Current)+" "+text), m.width)
	}
	return fit.Cut("  "+text, m.width)
}

// columns sets a row's texts side by side; a narrow screen leaves out what the
// lines below the list say anyway.
func (m Model) columns(it item, w int) string {
	left, middle, right := theme.Text(it.left), theme.Text(it.middle), theme.Text(it.right)
	if m.width < wide {
		if it.kind == procedureRow || it.kind == toolRow {
			return fit.Cut(left, w)
		}
		short, _, _ := strings.Cut(right, "  ")
		return fit.Ends(fit.Cut(left+"  "+middle, max(0, w-fit.Width(short)-2)), short, w)
	}
	first, room := min(w/3, 24), w-2-fit.Width(right)-2
	switch it.kind {
	case procedureRow:
		first = min(w/2, 34)
	case openRow, recordRow, engineRow: // an engine's tag is cut last
		first = max(first, min(fit.Width(left), room-least))
	}
	free := max(0, room-first)
	return fit.Ends(fit.Pad(left, first)+"  "+fit.Cut(middle, free), right, w)
}

// foot says more of the row at hand, what was refused, and the keys.
func (m Model) foot() []string {
	if m.height < minimal {
		return nil
	}
	if m.help {
		return []string{theme.Render(theme.Quiet, fit.Cut("any key goes back", m.width))}
	}
	list := m.keys().short()
	lines := []string{""}
	switch m.face {
	case onTag:
		return append(lines, firstOf(keys.Lines(m.width, m.tagKeys().all()...)))
	case onReason:
		place := m.asking.at.Place(scroll.Lines, len(m.aboutLines()), m.aboutRoom())
		return append(lines, scroll.Foot(m.width, place, m.reasonKeys()...))
	case onSheet:
		return append(lines, firstOf(keys.Lines(m.width, m.fieldKeys().all()...)))
	case onFind:
		list = m.findKeys().all()
		lines = append(lines, inputLine("Find: ", m.find, m.width), "")
	default:
		lines = append(lines, fit.Box(m.details(), m.width, detailRows)...)
	}
	return append(lines, firstOf(keys.Lines(m.width, list...)))
}

func firstOf(lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	return lines[0]
}

// details are the refusal or news, or else what there is to say of the row.
func (m Model) details() []string {
	it := m.current()
	switch {
	case m.say != "":
		return m.said()
	case it == nil:
		return nil
	}
	role := theme.Plain
	if it.problem != "" || it.warned {
		role = theme.Caution
	}
	return paint(role, it.detail, m.width)
}

func (m Model) said() []string {
	if m.wrong {
		return paint(theme.Caution, theme.Mark(theme.Caution)+" "+m.say, m.width)
	}
	return paint(theme.Plain, m.say, m.width)
}

func paint(role theme.Role, text string, w int) []string {
	lines := fit.Wrap(theme.Text(text), w)
	for i := range lines {
		lines[i] = theme.Render(role, lines[i])
	}
	return lines
}

func inputLine(lead string, in field.Field, w int) string {
	return fit.Cut(lead+in.View(max(1, w-fit.Width(lead)-2)), w)
}

// tagLines ask for the engine.
func (m Model) tagLines() []string {
	lines := paint(theme.Title, clean(m.asked.Name), m.width)
	if m.asked.Engine != "" && m.height >= minimal {
		lines = append(lines, paint(theme.Quiet, "written for: "+clean(m.asked.Engine), m.width)...)
	}
	lines = append(lines, "", "Which engine? Its tag:", inputLine(theme.Render(theme.Key, "> "), m.tag, m.width), "")
	if w := m.leftOpen(m.typedTag()); w != nil {
		text := fmt.Sprintf("Left open here at %d of %d, %s; %s.", w.Confirmed, w.Of, ago(m.now, w.Last), keys.That(m.tagKeys().Begin, "goes on with it"))
		lines = append(lines, paint(theme.Outstanding, text, m.width)...)
	}
	if m.say != "" {
		return append(lines, m.said()...)
	}
	if known := m.known(); len(known) > 0 && m.typedTag() == "" {
		const most = 8
		more := ""
		if len(known) > most {
			known, more = known[:most], " …"
		}
		lines = append(lines, paint(theme.Quiet, "Used before: "+strings.Join(known, ", ")+more, m.width)...)
	}
	return lines
}
