package stand

import (
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/quantity"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// entry is a text field below the figure: a reading, a reason, a note.
type entry struct {
	verb    walk.Verb
	title   string
	target  string          // what it is about, where that is not what is in hand
	reasons []string        // offered under the number keys
	units   []quantity.Unit // offered by tab, for a reading
	unit    int             // 1 + index of the unit tab put in; 0: none
	hasty   bool            // a reading begun right after a confirmation
	input   textinput.Model
}

// longest text that can be typed, in characters.
const maxEntry = 200

func newEntry(verb walk.Verb, title, hint string) entry {
	in := textinput.New()
	in.Prompt, in.CharLimit = "", maxEntry
	in.Placeholder = theme.Text(hint)
	in.PlaceholderStyle = theme.Style(theme.Quiet)
	in.Cursor.Style = theme.Style(theme.Current)
	in.Focus()
	return entry{verb: verb, title: title, input: in}
}

// with offers reasons under the number keys, so that gloves will do.
func (e entry) with(reasons ...string) entry {
	e.reasons = reasons
	return e
}

// openEntry gives the keys to a text field.
func (m Model) openEntry(e entry) Model {
	m.face, m.entry, m.say = onEntry, e, message{}
	return m
}

// openReading asks for the figure read off the tool, or of a measure.
func (m Model) openReading(first string) Model {
	it := m.facts.item
	var e entry
	if it.Kind == walk.MeasureItem {
		e = newEntry(walk.Measure, "Measured; wanted: "+words.Limits(it.Check), "")
		e.units = unitsLike(limitUnit(it.Check))
		if example := it.Check.How.Example(); strings.Contains(example, ";") {
			e.title = "Measured, such as " + example
		}
	} else {
		e = newEntry(walk.Confirm, "Reading; it has to be "+walk.WindowOf(it.Stage).Text(), "")
		e.units = unitsLike(stageUnit(it))
	}
	since := m.now.Sub(m.confirmed)
	e.hasty = !m.confirmed.IsZero() && since >= 0 && since < keys.DoublePress
	e.input.Placeholder = theme.Text("figure and unit; tab adds " + e.units[0].Symbol())
	e.input.SetValue(first)
	e.input.CursorEnd()
	return m.openEntry(e)
}

func limitUnit(c *spec.Check) quantity.Unit {
	if c.Max != nil {
		return c.Max.Unit()
	}
	return c.Min.Unit()
}

func stageUnit(it *walk.Item) quantity.Unit {
	t := it.Stage.Target
	switch it.Stage.Action {
	case spec.Torque, spec.Verify:
		return t.Torque.Unit()
	case spec.Stretch:
		return t.Stretch.Unit()
	}
	return quantity.Degree
}

// unitsLike lists the units of one kind, beginning with the sheet's own.
func unitsLike(u quantity.Unit) []quantity.Unit {
	list := []quantity.Unit{u}
	for _, other := range quantity.Units(u.Dimension()) {
		if other != u {
			list = append(list, other)
		}
	}
	return list
}

// takesReading reports whether a figure can be given for the item at hand.
func (m Model) takesReading() bool {
	it := m.facts.item
	if it == nil || it.Kind == walk.MeasureItem {
		return it != nil
	}
	if it.Kind != walk.StageItem {
		return false
	}
	switch a := it.Stage.Action; a {
	case spec.Torque, spec.Verify, spec.Turn, spec.Stretch:
		return true
	case spec.Loosen:
		return !it.Stage.Target.Fully
	}
	return false
}

// entryKey is one key while a text field has them.
func (m Model) entryKey(k tea.KeyMsg) (Model, tea.Cmd) {
	switch k.Type {
	case tea.KeyEsc, tea.KeyCtrlC:
		m.face = onWalk
		return m, nil
	case tea.KeyEnter, tea.KeyPgDown:
		if m.together && !m.entry.sends() {
			m.say = message{aside, "enter once more, if that is right"}
			return m, nil
		}
		return m.submit()
	case tea.KeyTab:
		m.entry = m.entry.nextUnit()
		return m, nil
	}
	if reason, ok := m.entry.reason(k.String()); ok {
		m.entry.input.SetValue(reason)
		m.entry.input.CursorEnd()
		return m, nil
	}
	if m.say.tone == refuse && m.entry.sends() && m.entry.atEnd() && startsFigure(string(k.Runes)) {
		m.entry.input.SetValue("") // a digit begins another figure: it does not run on into the one refused
	}
	m.entry.input, _ = m.entry.input.Update(k)
	m.say, m.dismiss = message{}, false
	return m, nil
}

// sends reports whether an Enter that comes with the text sends it off: a tool ends
// its figure so. Not where the figure came so soon after a confirmation that it may be
// of the fastener before, and not for reasons, which only a hand gives.
func (e entry) sends() bool {
	return (e.verb == walk.Confirm || e.verb == walk.Measure) && !e.hasty
}

// atEnd reports whether what is typed goes behind the text.
func (e entry) atEnd() bool { return e.input.Position() == len([]rune(e.input.Value())) }

// reason is what a number key stands for, while nothing else has been typed.
func (e entry) reason(key string) (string, bool) {
	if len(key) != 1 || key[0] < '1' || int(key[0]-'1') >= len(e.reasons) {
		return "", false
	}
	typed := e.input.Value()
	for _, r := range append([]string{""}, e.reasons...) {
		if typed == r {
			return e.reasons[key[0]-'1'], true
		}
	}
	return "", false
}

// nextUnit puts the next unit behind the figure typed so far.
func (e entry) nextUnit() entry {
	if len(e.units) == 0 {
		return e
	}
	text := strings.TrimSpace(e.input.Value())
	if e.unit > 0 {
		symbol := e.units[e.unit-1].Symbol()
		if !strings.HasSuffix(text, symbol) {
			e.unit = 0 // it was typed over: begin again
		}
		text = strings.TrimSpace(strings.TrimSuffix(text, symbol))
	}
	next := e.units[e.unit%len(e.units)]
	e.unit = e.unit%len(e.units) + 1
	space := " "
	if next == quantity.Degree {
		space = ""
	}
	e.input.SetValue(text + space + next.Symbol())
	e.input.CursorEnd()
	return e
}

// submit makes the command of what was typed.
func (m Model) submit() (Model, tea.Cmd) {
	text := strings.TrimSpace(m.entry.input.Value())
	c := walk.Command{Do: m.entry.verb, Text: text}
	switch c.Do {
	case walk.Confirm, walk.Measure:
		if text == "" {
			m.say = message{refuse, "type the figure, or esc"}
			return m, nil
		}
		if err := m.readable(text); err != nil {
			m.say = message{refuse, m.entry.figureProblem(err)}
			return m, nil
		}
		c = walk.Command{Do: c.Do, Reading: text}
	case walk.Problem:
		c.Target, c.Text = m.named(text)
		c.Text, c.Facts = words.TroubleIn(c.Text)
	case walk.Lose:
		c.Target, c.Text = m.named(text)
	case walk.No:
		c.Restarts, c.Text = words.LooseIn(text, m.cfg.State.Plan.Procedure)
	case walk.Repair:
		facts, err := words.RepairIn(text)
		if err != nil {
			m.say = message{refuse, err.Error()}
			return m, nil
		}
		c.Facts = facts
	case walk.Account:
		c.Target = m.entry.target
	case walk.Find:
		found, err := m.entry.found(text)
		if err != nil || len(found.Facts) == 0 {
			m.say = message{refuse, "say how it was found, by a number key or in words, or esc"}
			if err != nil {
				m.say.text = err.Error()
			}
			return m, nil
		}
		m.face = onWalk
		return m.order(found)
	case walk.Stop:
		if text != "" {
			m.face = onStop
			return m, nil
		}
	}
	if c.Reading == "" && c.Text == "" {
		m.say = message{refuse, "a few words are needed, or esc"}
		return m, nil
	}
	m.face = onWalk
	return m.order(c)
}

// readable reports why a figure, or the figures of a measurement, can't be read.
func (m Model) readable(text string) error {
	if it := m.facts.item; m.entry.verb == walk.Measure && it != nil && it.Kind == walk.MeasureItem {
		_, err := it.Check.How.Read(text)
		return err
	}
	if it := m.facts.item; it != nil && it.Kind == walk.StageItem {
		return walk.WindowOf(it.Stage).Readable(text)
	}
	_, err := quantity.ParseAny(text)
	return err
}

// figureProblem says what is wrong with a figure; a missing unit is one key away.
func (e entry) figureProblem(err error) string {
	pe, ok := err.(*quantity.ParseError)
	if !ok {
		return err.Error()
	}
	if strings.Contains(pe.Problem, "no unit") && len(e.units) > 0 {
		return pe.Problem + "; tab adds " + e.units[0].Symbol() + ", tab again the next unit"
	}
	return pe.Problem + "; " + pe.Remedy
}

// named splits "M7: stripped" into fastener and words; without an id that the
// procedure knows, all of it is words on the one in hand.
func (m Model) named(text string) (target, words string) {
	id, rest, ok := strings.Cut(text, ":")
	if f := m.cfg.State.Plan.Procedure.Fastener(strings.TrimSpace(id)); ok && f != nil {
		return f.ID, strings.TrimSpace(rest)
	}
	return "", text
}
