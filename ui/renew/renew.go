// Package renew is the panel of pieces that must be new: what is due for the
// fastener or part at hand, or for the whole walk, with the part or batch
// number of what was fitted. It decides nothing: it hands back commands, and
// the walk judges them.
package renew

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

// Action is what a key came to.
type Action struct {
	Commands []walk.Command // to be put to the walk, in order
	Later    bool           // the person left something due for later
	Closed   bool           // the panel is to be taken down
}

// Model is the panel. Start with New; give it the pieces again with Refresh
// after each event.
type Model struct {
	owner  ident.Thing // zero: everything
	all    bool        // show everything although there is an owner
	pieces []walk.Piece
	cursor int
	number textinput.Model
	typing bool
}

// New opens the panel on the pieces of one thing, or on all with the zero Thing.
func New(pieces []walk.Piece, owner ident.Thing) Model {
	in := textinput.New()
	in.Prompt, in.CharLimit = "", 60
	in.Placeholder = "part or batch number"
	in.PlaceholderStyle = theme.Style(theme.Quiet)
	in.Cursor.Style = theme.Style(theme.Current)
	return Model{owner: owner, number: in}.Refresh(pieces)
}

// Refresh takes the pieces as they are now and goes to the first one due.
func (m Model) Refresh(pieces []walk.Piece) Model {
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
func (m Model) Shown() []walk.Piece {
	var list []walk.Piece
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

// Key takes one key. confirm says that it is one of the confirming keys.
func (m Model) Key(k tea.KeyMsg, confirm bool) (Model, Action) {
	if m.typing {
		return m.typed(k)
	}
	shown := m.Shown()
	if at, moved := keys.Move(k.String(), m.cursor, max(1, len(shown))); moved {
		m.cursor = at
		return m, Action{}
	}
	switch s := k.String(); {
	case s == "esc", s == "l", s == "q", s == "ctrl+c":
		return m, Action{Closed: true, Later: m.Due() > 0}
	case confirm && m.Due() == 0:
		return m, Action{Closed: true}
	case confirm && shown[m.cursor].Was != "" && !shown[m.cursor].Renewed:
		return m.askNumber(), Action{}
	case confirm:
		return m.fit("")
	case s == "a" && m.inHand():
		return m, Action{Commands: m.everything()}
	case s == "n" && len(shown) > 0:
		return m.askNumber(), Action{}
	case s == "tab" && !m.owner.IsZero():
		m.all, m.cursor = !m.all, 0
		m = m.Refresh(m.pieces)
	}
	return m, Action{}
}

// askNumber gives the keys to the number field.
func (m Model) askNumber() Model {
	m.typing = true
	m.number.SetValue("")
	m.number.Focus()
	return m
}

// typed is a key while the number field has the keys: Enter fits the piece
// with that number.
func (m Model) typed(k tea.KeyMsg) (Model, Action) {
	switch k.Type {
	case tea.KeyEsc, tea.KeyCtrlC:
		m.typing = false
		m.number.Blur()
		return m, Action{}
	case tea.KeyEnter, tea.KeyPgDown:
		m.typing = false
		m.number.Blur()
		return m.fit(strings.TrimSpace(m.number.Value()))
	}
	m.number, _ = m.number.Update(k)
	return m, Action{}
}

// fit makes the command for the piece under the cursor.
func (m Model) fit(number string) (Model, Action) {
	shown := m.Shown()
	if len(shown) == 0 {
		return m, Action{Closed: true}
	}
	p := shown[m.cursor]
	if p.Renewed && number == "" {
		return m, Action{}
	}
	return m, Action{Commands: []walk.Command{command(p, number)}}
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

func command(p walk.Piece, number string) walk.Command {
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
	help := m.help(w)
	room := max(1, h-len(lines)-len(help))
	lines = append(lines, window(rows, m.cursor, room)...)
	for len(lines) < h-len(help) {
		lines = append(lines, "")
	}
	return fit.Box(append(lines, help...), w, h)
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

func (m Model) row(p walk.Piece, here bool) string {
	name := p.Text()
	if p.Fastener != "" && (m.owner.IsZero() || m.all) {
		name = p.Fastener + ": " + name
	}
	name = theme.Text(name)
	if here && m.typing {
		m.number.Width = 24
		return theme.Render(theme.Renew, name) + "  number: " + m.number.View()
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
	if p.Number != "" { // first: it is what is cut last, and what the bag is known by
		why = "  " + p.Number + "," + why[1:]
	}
	return text + theme.Render(theme.Quiet, theme.Text(spec.Printable(why)))
}

func (m Model) help(w int) []string {
	if m.typing {
		return fit.Hints(w, "enter", "fitted, with this number", "esc", "back")
	}
	pairs := []string{"enter", "close"}
	if m.Due() > 0 {
		pairs = []string{"enter", "it is fitted", "n", "fitted, with its number"}
		if m.inHand() {
			pairs = append(pairs, "a", "all of these are fitted")
		}
		pairs = append(pairs, "esc", "later")
	}
	if !m.owner.IsZero() && m.all {
		pairs = append(pairs, "tab", "only what is in hand")
	} else if !m.owner.IsZero() {
		pairs = append(pairs, "tab", "the whole walk")
	}
	return fit.Hints(w, pairs...)
}

// window cuts rows to h lines around the cursor and says how many lie outside.
func window(rows []string, cursor, h int) []string {
	if len(rows) <= h {
		return rows
	}
	if h < 3 {
		return rows[cursor : cursor+1]
	}
	top := max(0, min(cursor-(h-1)/2, len(rows)-(h-1)))
	out := append([]string{}, rows[top:top+h-1]...)
	return append(out, theme.Render(theme.Quiet, fmt.Sprintf("  %d to %d of %d", top+1, top+h-1, len(rows))))
}
