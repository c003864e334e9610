// Package renew is the panel of pieces that must be new: what is due for the
// fastener or part at hand, or for the whole walk, with the part or batch
// number of what was fitted. It decides nothing: it hands back commands, and
// the walk judges them.
package renew

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/ui/field"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

// Model is the overlay. Start with New.
type Model struct {
	owner  ident.Thing // zero: everything
	all    bool        // show everything although there is an owner
	pieces []walk.Renewable
	cursor int
	number field.Field
	typing bool
}

// New opens the panel on the pieces of one thing, or on all with the zero Thing.
func New(pieces []walk.Renewable, owner ident.Thing) Model {
	return Model{owner: owner, number: field.New("part or batch number", 60)}.with(pieces)
}

// Refresh takes the pieces as they are now and goes to the first one due.
func (m Model) Refresh(s *walk.State) (overlay.Model, bool) {
	m = m.with(s.Pieces())
	return m, m.Due() > 0
}

func (m Model) with(pieces []walk.Renewable) Model {
	m.pieces = pieces
	shown := m.Shown()
	m.cursor = min(m.cursor, max(0, len(shown)-1))
	for i := range shown {
		if at := (m.cursor + i) % len(shown); !shown[at].Renewed {
			m.cursor = at
			break
		}
	}
	return m
}

// Shown is what the panel lists now.
func (m Model) Shown() []walk.Renewable {
	var list []walk.Renewable
	for _, p := range m.pieces {
		if m.owner.IsZero() || m.all || p.BelongsTo(m.owner) {
			list = append(list, p)
		}
	}
	return list
}

// Due counts what is listed and still to be renewed.
func (m Model) Due() int {
	n := 0
	for _, p := range m.Shown() {
		if !p.Renewed {
			n++
		}
	}
	return n
}

// Typing reports whether the number field has the keys.
func (m Model) Typing() bool { return m.typing }

// Covers is always so.
func (m Model) Covers() bool { return true }

type keymap struct{ Fitted, Number, All, Later, Close, Whole, InHand, Keep, Back key.Binding }

func (m Model) keys() keymap {
	listed, due := !m.typing, m.Due() > 0
	return keymap{
		Fitted: keys.When(keys.Confirm("it is fitted"), listed && due),
		Number: keys.When(keys.New("fitted, with its number", "b"), listed && len(m.Shown()) > 0),
		All:    keys.When(keys.New("all of these are fitted", "a"), listed && due && m.inHand()),
		Later:  keys.When(keys.New("later", "esc", "l", "q", "ctrl+c"), listed && due),
		Close:  keys.When(keys.New("close", "enter", " ", "pgdown", "esc", "l", "q", "ctrl+c"), listed && !due),
		Whole:  keys.When(keys.New("the whole walk", "tab"), listed && m.inHand()),
		InHand: keys.When(keys.New("only what is in hand", "tab"), listed && m.all && !m.owner.IsZero()),
		Keep:   keys.When(keys.New("fitted, with this number", "enter", "pgdown"), m.typing),
		Back:   keys.When(keys.New("back", "esc", "ctrl+c"), m.typing),
	}
}

// Keys are those of the list, or of the number field.
func (m Model) Keys(int, int) []key.Binding {
	k := m.keys()
	return []key.Binding{k.Fitted, k.Close, k.Number, k.All, k.Later, k.InHand, k.Whole, k.Keep, k.Back}
}

// Key takes one key.
func (m Model) Key(p overlay.Press) (overlay.Model, overlay.Answer) {
	if m.typing {
		return m.typed(p.KeyMsg)
	}
	shown := m.Shown()
	if at, moved := scroll.Hand().Move(p.KeyMsg, m.cursor, max(1, len(shown)), 0); moved {
		m.cursor = at
		return m, overlay.Answer{}
	}
	k := m.keys()
	if p.String() == "n" && k.Number.Enabled() { // its key of old
		return m.askNumber(), overlay.Answer{}
	}
	switch {
	case key.Matches(p.KeyMsg, k.Later):
		return m, overlay.Answer{Close: true, Say: "not recorded as new yet; nothing here is confirmed before it is"}
	case key.Matches(p.KeyMsg, k.Close):
		return m, overlay.Answer{Close: true}
	case key.Matches(p.KeyMsg, k.Number), key.Matches(p.KeyMsg, k.Fitted) && shown[m.cursor].Was != "" && !shown[m.cursor].Renewed:
		return m.askNumber(), overlay.Answer{}
	case key.Matches(p.KeyMsg, k.Fitted):
		return m, m.fit("")
	case key.Matches(p.KeyMsg, k.All):
		return m, overlay.Answer{Commands: m.everything()}
	case key.Matches(p.KeyMsg, k.Whole, k.InHand):
		m.all, m.cursor = !m.all, 0
		m = m.with(m.pieces)
	}
	return m, overlay.Answer{}
}

// askNumber gives the keys to the number field.
func (m Model) askNumber() Model {
	m.typing = true
	m.number = m.number.With("").Focus()
	return m
}

// typed is a key while the number field has the keys: Enter fits the piece
// with that number.
func (m Model) typed(msg tea.KeyMsg) (Model, overlay.Answer) {
	switch k := m.keys(); {
	case key.Matches(msg, k.Back):
		m.typing = false
		m.number = m.number.Blur()
	case key.Matches(msg, k.Keep):
		m.typing = false
		m.number = m.number.Blur()
		return m, m.fit(strings.TrimSpace(m.number.Value()))
	default:
		m.number = m.number.Key(msg)
	}
	return m, overlay.Answer{}
}

// fit makes the command for the piece under the cursor.
func (m Model) fit(number string) overlay.Answer {
	p := m.Shown()[m.cursor]
	if p.Renewed && number == "" {
		return overlay.Answer{}
	}
	return overlay.Answer{Commands: []walk.Command{command(p, number)}}
}

// inHand reports whether only the pieces of the thing in hand are listed: of those
// a person can say at one go that all are fitted, of a whole walk's not.
func (m Model) inHand() bool { return !m.owner.IsZero() && !m.all }

// everything makes a command for each listed piece still due.
func (m Model) everything() []walk.Command {
	var list []walk.Command
	for _, p := range m.Shown() {
		if !p.Renewed && p.Was == "" {
			list = append(list, command(p, ""))
		}
	}
	return list
}

func command(p walk.Renewable, number string) walk.Command {
	target := p.Fastener
	if target == "" {
		target = p.Part
	}
	return walk.Command{Do: walk.Renew, Target: target, Piece: p.Name, Number: number}
}

// Lines draws the panel in w×h cells.
func (m Model) Lines(w, h int) []string {
	lines := []string{fit.Cut(theme.Render(theme.Title, theme.Text(m.title())), w)}
	rows := m.rows(w)
	hints := keys.Lines(w, m.Keys(w, h)...)
	room := max(1, h-len(lines)-len(hints))
	lines = append(lines, window(rows, m.cursor, room)...)
	return fit.Box(append(fit.Box(lines, w, max(len(lines), h-len(hints))), hints...), w, h)
}

func (m Model) title() string {
	name := m.owner.ID
	switch {
	case len(m.Shown()) == 0:
		return "New pieces: none needed"
	case m.owner.IsZero() || m.all:
		return fmt.Sprintf("New pieces: %d of %d still due", m.Due(), len(m.Shown()))
	case m.Due() == 0:
		return "New on " + name + ": all fitted"
	case !m.owner.IsFastener():
		return "This part must be new"
	}
	return name + " must have new:"
}

// rows is one line a piece, the one under the cursor marked.
func (m Model) rows(w int) []string {
	var rows []string
	for i, p := range m.Shown() {
		point := "  "
		if i == m.cursor {
			point = theme.Mark(theme.Current) + " "
		}
		rows = append(rows, fit.Cut(point+m.row(p, i == m.cursor), w))
	}
	return rows
}

func (m Model) row(p walk.Renewable, here bool) string {
	name := p.Text()
	if p.Fastener != "" && (m.owner.IsZero() || m.all) {
		name = p.Fastener + ": " + name
	}
	name = theme.Text(name)
	if here && m.typing {
		return theme.Render(theme.Renew, name) + "  number: " + m.number.View(24)
	}
	if p.Renewed {
		text := theme.Mark(theme.Done) + " " + name + "  new " + p.At.Format("15:04")
		if p.Number != "" {
			text += ", " + spec.Printable(p.Number)
		}
		return theme.Render(theme.Done, theme.Text(text))
	}
	text := theme.Render(theme.Renew, theme.Mark(theme.Renew)+" "+name)
	why := "  due: " + p.Why
	if p.Was != "" {
		why += "; the last was " + p.Was + ", its number is asked for (or none)"
	}
	if number := cmp.Or(p.Lot, p.Number); number != "" { // first: it is what is cut last, and what the bag is known by
		why = "  " + number + "," + why[1:]
	}
	return text + theme.Render(theme.Quiet, theme.Text(spec.Printable(why)))
}

// window cuts rows to h lines around the cursor and says how many lie outside.
func window(rows []string, cursor, h int) []string {
	if len(rows) <= h {
		return rows
	}
	if h < 3 {
		return rows[cursor : cursor+1]
	}
	at := scroll.Text{Top: scroll.Around(cursor, len(rows), h-1)}
	return append(slices.Clone(at.Window(rows, h-1)), theme.Render(theme.Quiet, "  "+at.Place("pieces", len(rows), h-1)))
}
