package ask

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/procedures/draft"
	"evenpull/ui/boltmap"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

const (
	wide      = 72 // from here the map stands beside the questions
	askWidth  = 18 // of what a question is called
	mapHeight = 6  // on a narrow screen, where the map matters
	saidLines = 3  // below the field
)

// View draws the screen: exactly as many lines as there are, none too wide.
func (m Model) View() string {
	w, h := m.width, m.height
	if w <= 0 || h <= 0 {
		return ""
	}
	prompt, foot := m.prompt(), m.foot()
	room := max(0, h-1-len(prompt)-len(foot))
	lines := append([]string{m.title()}, m.body(w, room)...)
	lines = append(lines, prompt...)
	return strings.Join(fit.Box(append(lines, foot...), w, h), "\n")
}

func (m Model) title() string {
	state := "written"
	if !m.Written() {
		state = "not written yet"
	}
	if left := m.left(); left > 0 {
		state = fmt.Sprint(left, " to answer, ", state)
	}
	return fit.Ends(theme.Render(theme.Title, fit.Cut(theme.Text("Sheet "+m.cfg.File), m.width)), theme.Render(theme.Quiet, state), m.width)
}

func (m Model) foot() []string {
	short := m.keys().short()
	switch {
	case m.help:
		return []string{theme.Render(theme.Quiet, "any key goes back")}
	case m.face == onMap:
		short = m.mapKeys().short()
	case m.face == onPick:
		short = m.pickKeys().short()
	}
	return []string{keys.Short(m.width, short...)}
}

// body is the questions and the joint, in exactly h lines.
func (m Model) body(w, h int) []string {
	switch {
	case m.help:
		return fit.Box(strings.Split(keys.Full(w, h, m.helpGroups()...), "\n"), w, h)
	case w >= wide:
		left := min(w/2, 46)
		return fit.Beside(fit.Box(m.list(left, h), left, h), left, 2, m.joint(w-left-2, h))
	case m.onJoint() && h >= mapHeight+2: // two questions stay in sight
		return append(fit.Box(m.joint(w, mapHeight), w, mapHeight), fit.Box(m.list(w, h-mapHeight), w, h-mapHeight)...)
	case m.face == onMap || m.face == onPick:
		return fit.Box(m.joint(w, h), w, h)
	}
	return fit.Box(m.list(w, h), w, h)
}

// helpGroups are the keys of the moment.
func (m Model) helpGroups() []keys.Group {
	switch m.face {
	case onMap:
		return []keys.Group{{Title: "Moving bolts about", Bindings: m.mapKeys().all()}}
	case onPick:
		return []keys.Group{{Title: "Picking bolts in order", Bindings: m.pickKeys().all()}}
	}
	return []keys.Group{{Title: "Keys", Bindings: m.keys().all()}}
}

// onJoint reports whether the question at hand is about places or an order.
func (m Model) onJoint() bool {
	q := m.now()
	return q.Kind == draft.Places || q.Kind == draft.Order || m.passAtHand() != ""
}

// list is the questions with their answers, the one at hand in the middle.
func (m Model) list(w, h int) []string {
	var lines []string
	hand := 0
	for i, q := range m.all {
		if i == 0 || q.Section != m.all[i-1].Section {
			lines = append(lines, theme.Render(theme.Title, fit.Cut(theme.Text(q.Section), w)))
		}
		if i == m.at {
			hand = len(lines)
		}
		lines = append(lines, m.row(q, i == m.at, w))
	}
	top := scroll.Around(hand, len(lines), h)
	return lines[top:min(len(lines), top+h)]
}

func (m Model) row(q draft.Question, current bool, w int) string {
	mark := " "
	switch {
	case len(q.Wrong) > 0:
		mark = theme.Mark(theme.Warning)
	case q.Open():
		mark = theme.Mark(theme.Outstanding)
	case len(q.Doubts) > 0:
		mark = theme.Mark(theme.Caution)
	}
	answer := q.Answer
	if q.Kind == draft.Save {
		answer = m.cfg.File
	}
	text := fit.Pad(fit.Pad(theme.Text(mark), 2)+fit.Pad(theme.Text(q.Ask), askWidth)+" "+theme.Text(answer), w-2)
	switch {
	case current:
		return theme.Render(theme.Current, theme.Mark(theme.Current)+" "+text)
	case len(q.Wrong) > 0:
		return "  " + theme.Render(theme.Warning, text)
	case q.Kind == draft.Add || answer == "":
		return "  " + theme.Render(theme.Quiet, text)
	}
	return "  " + text
}

// prompt is the question at hand, its field, and what is said about it.
func (m Model) prompt() []string {
	q, w := m.now(), m.width
	if m.help {
		return nil
	}
	var said []string
	switch {
	case m.face == onMap && !m.wrong:
		said = fit.Wrap(theme.Text(m.inHand()), w)
	case m.face == onPick && !m.wrong:
		said = fit.Wrap(theme.Text(fmt.Sprintf("%d of %d picked: %s", len(m.picked), len(m.bolts()), strings.Join(m.picked, " "))), w)
	case m.wrong:
		said = fit.Badge(" NOT SO ", strings.Join(m.say, "; "), w)
	case len(m.say) > 0:
		said = fit.Paint(theme.Caution, strings.Join(m.say, "; "), w)
	case len(q.Wrong) > 0 && !m.typed:
		said = fit.Badge(" TO MEND ", q.Wrong[0], w)
	case len(q.Doubts) > 0 && !m.typed:
		said = fit.Paint(theme.Caution, q.Doubts[0], w)
	default:
		said = m.hint(q)
	}
	room := saidLines
	if m.height < 12 {
		room = 2
	}
	lines := []string{m.fieldLine(q)}
	if m.height >= 12 {
		lines = append([]string{""}, lines...)
	}
	return append(lines, fit.Box(said, w, room)...)
}

func (m Model) fieldLine(q draft.Question) string {
	label := theme.Render(theme.Title, theme.Text(q.Ask)) + " " + theme.Render(theme.Key, ">") + " "
	text := m.field.View(max(1, m.width-fit.Width(q.Ask)-5))
	if m.face != onQuestion || q.Kind == draft.Save {
		text = theme.Text(m.cfg.File)
		if q.Kind != draft.Save {
			text = theme.Text(m.field.Value())
		}
	}
	return fit.Cut(label+text, m.width)
}

// hint says what to write, or shows the choices.
func (m Model) hint(q draft.Question) []string {
	var lines []string
	if len(q.Choices) > 0 {
		var list []string
		for _, c := range q.Choices {
			if c == m.field.Value() {
				c = "[" + c + "]"
			}
			list = append(list, c)
		}
		lines = fit.Wrap(theme.Text(strings.Join(list, "  ")), m.width)
	}
	if q.Kind == draft.Save && m.left() > 0 {
		lines = fit.Wrap(theme.Text(m.firstLeft()), m.width)
	}
	return append(lines, fit.Paint(theme.Quiet, q.Hint, m.width)...)
}

// firstLeft names what keeps the sheet from being walked, the first of it.
func (m Model) firstLeft() string {
	for _, q := range m.all {
		if q.Open() {
			what := "not answered"
			if len(q.Wrong) > 0 {
				what = q.Wrong[0]
			}
			return fmt.Sprintf("%s before it can be walked. The first, %s: %s", plural(m.left(), "answer is wanted", "answers are wanted"), q.Ask, what)
		}
	}
	return ""
}

// passAtHand is the name of the pass whose order is shown, if any is.
func (m Model) passAtHand() string {
	q := m.now()
	names := m.draft.PassesOf(q)
	if len(names) == 0 {
		return ""
	}
	return names[len(names)-1]
}

// joint is the bolt map, with the orders below it where there are any.
func (m Model) joint(w, h int) []string {
	d := m.candidate()
	rows := d.Rows()
	pass := m.passAtHand()
	i := slices.IndexFunc(rows, func(r draft.Row) bool { return r.Pass == pass })
	bolts, title := m.placed(d), "The joint"
	switch {
	case m.face == onPick:
		bolts, title = m.pickedSoFar(), "Your order"
	case i >= 0 && m.face != onMap:
		bolts, title = numbered(d, rows[i]), "Order of "+pass
	}
	if len(bolts) == 0 {
		return []string{theme.Render(theme.Quiet, fit.Cut("the joint is drawn here", w))}
	}
	var below []string
	if m.face == onQuestion && h >= 12 {
		below = orders(rows, pass, w, h/3)
	}
	lines := []string{theme.Render(theme.Title, fit.Cut(theme.Text(title), w))}
	lines = append(lines, fit.Lines(boltmap.Draw(bolts, w, max(1, h-1-len(below))))...)
	return append(lines, below...)
}

// candidate is the draft with an order that is only typed yet, if it would be taken.
func (m Model) candidate() draft.Draft {
	if q := m.now(); m.typed && q.Kind == draft.Order {
		if next, _, no := m.draft.Answer(q.ID, m.field.Value()); no == nil {
			return next
		}
	}
	return m.draft
}

// placed is every bolt by its name.
func (m Model) placed(d draft.Draft) []boltmap.Bolt {
	var list []boltmap.Bolt
	group := m.group()
	for _, b := range d.Bolts() {
		state := boltmap.Untouched
		if m.now().Kind == draft.Places && b.Group != group {
			state = boltmap.NotThisPass
		}
		if m.face == onMap && b.ID == m.hand {
			state = boltmap.Current
		}
		list = append(list, boltmap.Bolt{ID: b.ID, X: b.X, Y: b.Y, Hollow: b.Hollow, State: state})
	}
	return list
}

// numbered is every bolt by its number in a pass.
func numbered(d draft.Draft, row draft.Row) []boltmap.Bolt {
	var list []boltmap.Bolt
	for _, b := range d.Bolts() {
		one := boltmap.Bolt{ID: b.ID, X: b.X, Y: b.Y, Hollow: b.Hollow, State: boltmap.NotThisPass}
		if i := slices.Index(row.Bolts, b.ID); i >= 0 {
			one.ID, one.Note, one.State = fmt.Sprint(i+1), b.ID, boltmap.Untouched
		}
		list = append(list, one)
	}
	return list
}

// pickedSoFar numbers those that are picked.
func (m Model) pickedSoFar() []boltmap.Bolt {
	var list []boltmap.Bolt
	for _, b := range m.bolts() {
		one := boltmap.Bolt{ID: b.ID, X: b.X, Y: b.Y, Hollow: b.Hollow, State: boltmap.Untouched}
		if i := slices.Index(m.picked, b.ID); i >= 0 {
			one.ID, one.Note, one.State = fmt.Sprint(i+1), b.ID, boltmap.Done
		}
		if b.ID == m.hand {
			one.State = boltmap.Current
		}
		list = append(list, one)
	}
	return list
}

// orders lists the bolts of each pass, as many passes as fit with the one at hand among them.
func orders(rows []draft.Row, pass string, w, h int) []string {
	var lines []string
	hand := 0
	for i, r := range rows {
		if r.Pass == pass {
			hand = i
		}
		lines = append(lines, fit.Cut(theme.Text(r.Pass+": "+strings.Join(r.Bolts, " ")), w))
	}
	top := scroll.Around(hand, len(lines), h)
	return lines[top:min(len(lines), top+h)]
}
