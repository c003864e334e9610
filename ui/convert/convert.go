// Package convert is the converter: a figure with its unit goes in, and all
// units of its kind stand below it as it is typed. It is a screen of its own
// and an overlay at the stand.
package convert

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/spec/quantity"
	"evenpull/ui/entry"
	"evenpull/ui/field"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/theme"
)

// longest figure that can be typed, in characters.
const maxInput = 40

// Model is the converter. Start with New.
type Model struct {
	input  field.Field
	kept   []string // answers that were kept, the newest first
	done   bool     // the answer in view was kept: a digit begins the next figure
	width  int
	height int
	leave  tea.Cmd
	left   bool
}

// New starts an empty converter for a screen of its own, which ends the
// program when left. The first size arrives as a tea.WindowSizeMsg.
func New() Model { return NewWith("", tea.Quit) }

// NewWith starts with a figure already typed; leave is what Esc gives back
// when the converter runs as a screen.
func NewWith(figure string, leave tea.Cmd) Model {
	return Model{input: field.New("a figure and its unit", maxInput).With(figure).Focus(), leave: leave}
}

// Init asks for the cursor to blink.
func (m Model) Init() tea.Cmd { return nil }

// Update runs the converter as a screen of its own.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case tea.KeyMsg:
		if msg.Type == tea.KeyCtrlZ {
			return m, tea.Suspend
		}
		if m, m.left = m.press(msg); m.left {
			return m, m.leave
		}
	}
	return m, nil
}

// Going reports whether the converter was left.
func (m Model) Going() bool { return m.left }

type keymap struct{ Keep, Unit, Kind, Back key.Binding }

func (m Model) keys() keymap {
	_, err := quantity.ParseAnySpan(m.text())
	return keymap{
		Keep: keys.When(keys.New("keep it", "enter"), err == nil && !m.done),
		Unit: keys.When(keys.New("next unit", "tab"), m.text() != ""),
		Kind: keys.When(keys.New("another kind", "shift+tab"), m.text() != ""),
		Back: keys.New("back", "esc", "ctrl+c"),
	}
}

func (m Model) text() string { return strings.TrimSpace(m.input.Value()) }

// Keys are those of the converter.
func (m Model) Keys(int, int) []key.Binding {
	k := m.keys()
	return []key.Binding{k.Back, k.Keep, k.Unit, k.Kind}
}

// Typing is always so.
func (m Model) Typing() bool { return true }

// Covers is always so.
func (m Model) Covers() bool { return true }

// Key takes one key.
func (m Model) Key(p overlay.Press) (overlay.Model, overlay.Answer) {
	next, closed := m.press(p.KeyMsg)
	return next, overlay.Answer{Close: closed}
}

func (m Model) press(msg tea.KeyMsg) (next Model, closed bool) {
	switch k := m.keys(); {
	case key.Matches(msg, k.Back):
		return m, true
	case key.Matches(msg, k.Keep):
		return m.keep(), false
	case key.Matches(msg, k.Unit):
		return m.with(entry.WithNext(m.text(), m.units())), false
	case key.Matches(msg, k.Kind):
		return m.with(entry.WithNext(m.text(), []quantity.Unit{m.otherKind()})), false
	}
	if m.done && entry.StartsFigure(string(msg.Runes)) {
		m.input = m.input.With("")
	}
	m.input = m.input.Key(msg)
	m.done = false
	return m, false
}

func (m Model) with(text string) Model {
	m.input = m.input.With(text)
	m.done = false
	return m
}

// units are those of the kind that was typed, or else of the first there is.
func (m Model) units() []quantity.Unit {
	if q, err := quantity.ParseAnySpan(m.text()); err == nil {
		return quantity.Units(q.Unit().Dimension())
	}
	return quantity.Units(quantity.TorqueKind)
}

// otherKind is the first unit of the kind that follows on the one that was typed.
func (m Model) otherKind() quantity.Unit {
	if q, err := quantity.ParseAnySpan(m.text()); err == nil {
		if next := quantity.Units(q.Unit().Dimension() + 1); len(next) > 0 {
			return next[0]
		}
	}
	return quantity.Units(quantity.TorqueKind)[0]
}

// keep puts the answer below the figures to come.
func (m Model) keep() Model {
	const most = 20
	q, err := quantity.ParseAnySpan(m.text())
	if err != nil {
		return m
	}
	parts := []string{q.String()}
	same := q.Equivalents()
	for _, e := range same[:min(3, len(same))] {
		if e.Unit != q.Unit() {
			parts = append(parts, e.Text)
		}
	}
	m.kept = append([]string{strings.Join(parts, " = ")}, m.kept[:min(len(m.kept), most-1)]...)
	m.done = true
	return m
}

// View draws the screen.
func (m Model) View() string {
	return strings.Join(m.Lines(m.width, m.height), "\n")
}

// Lines draws the converter in w×h cells: what was kept in the room that the answer leaves.
func (m Model) Lines(w, h int) []string {
	title, foot := theme.Render(theme.Title, "Convert"), keys.Short(w, m.Keys(w, h)...)
	lines := []string{title, "", m.field(w), ""}
	if len(lines)+len(m.answer(w, h-len(lines)-1)) >= h {
		lines = []string{title, m.field(w)} // the answer needs the rows more
	}
	if h < 10 {
		lines = lines[len(lines)-1:]
	}
	lines = append(lines, m.answer(w, h-len(lines)-1)...)
	if room := h - 1 - len(lines) - 1; len(m.kept) > 0 && room > 0 {
		lines = append(lines, "")
		for _, text := range m.kept[:min(len(m.kept), room)] {
			lines = append(lines, fit.Cut(theme.Mark(theme.Done)+" "+theme.Text(text), w))
		}
	}
	return append(fit.Box(lines, w, h-1), fit.Box([]string{foot}, w, min(1, h))...)
}

func (m Model) field(w int) string {
	return fit.Cut(theme.Render(theme.Key, ">")+" "+m.input.View(max(1, min(maxInput, w-6))), w)
}

// answer is every unit, or what is wrong and what to write instead.
func (m Model) answer(w, h int) []string {
	text := m.text()
	if text == "" {
		return quiet("for example 22 Nm, 18.4 ft-lb, 37-43 Nm, 90 deg, 0.12 mm, 4 thou, 20 min", w)
	}
	q, err := quantity.ParseAnySpan(text)
	if err != nil {
		return problem(err, w)
	}
	thousand, ok := quantity.MayBeThousand(text)
	if !ok {
		return table(q, w, h)
	}
	note := quiet("read as "+q.String()+"; a thousand is written "+thousand, w)
	return append(note, table(q, w, h-len(note))...)
}

func quiet(text string, w int) []string {
	lines := fit.Wrap(theme.Text(text), w)
	for i := range lines {
		lines[i] = theme.Render(theme.Quiet, lines[i])
	}
	return lines
}

func problem(err error, w int) []string {
	pe, ok := err.(*quantity.ParseError)
	if !ok {
		return fit.Wrap(theme.Text(err.Error()), w)
	}
	var lines []string
	for _, l := range fit.Wrap(theme.Text(theme.Mark(theme.Warning)+" "+pe.What), w) {
		lines = append(lines, theme.Render(theme.Caution, l))
	}
	return append(lines, fit.Wrap(theme.Text(pe.Remedy), w)...)
}

// table lists the equivalents, single figures with their decimal points under each other,
// the unit that was typed marked; two columns when there are more than fit below
// each other.
func table(q quantity.AnySpan, w, h int) []string {
	rows := q.Equivalents()
	_, one := q.One()
	whole, widest := 0, 0
	for _, r := range rows {
		whole = max(whole, fit.Width(beforePoint(digits(r))))
		widest = max(widest, fit.Width(digits(r)))
	}
	var lines []string
	for _, r := range rows {
		figure := digits(r)
		if one {
			figure = strings.Repeat(" ", whole-fit.Width(beforePoint(figure))) + figure
			figure = fit.Pad(figure, max(whole+7, fit.Width(figure)))
		} else { // two figures have no point to stand under each other by
			figure = fit.Pad(figure, widest)
		}
		lines = append(lines, row(figure, r.Unit, r.Unit == q.Unit()))
	}
	if len(lines) <= h || w < 56 {
		return lines
	}
	half := (len(lines) + 1) / 2
	return fit.Beside(lines[:half], w/2-1, 2, lines[half:])
}

func digits(e quantity.Equivalent) string {
	return theme.Text(strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(e.Text, "s"), e.Unit.Symbol())))
}

func beforePoint(s string) string {
	before, _, _ := strings.Cut(s, ".")
	return before
}

func row(figure string, u quantity.Unit, typed bool) string {
	text := theme.Render(theme.Figure, figure) + " " + theme.Text(u.Symbol())
	if typed {
		return theme.Mark(theme.Current) + " " + text + theme.Render(theme.Quiet, "  as typed")
	}
	return "  " + text
}
