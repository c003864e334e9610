// Package things lists what came off this engine in an earlier walk and asks
// what becomes of it: back on, cleaned, or not going back, and why.
package things

import (
	"github.com/charmbracelet/bubbles/key"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/entry"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

// Model is the overlay. Start with New.
type Model struct {
	list   []walk.Carried
	cursor int
}

// Of are the things nothing has been said of, and the part in hand first.
func Of(s *walk.State) []walk.Carried {
	list := s.LeftOver()
	if it := s.CurrentItem(); it != nil && it.Kind == walk.PartItem {
		if c, ok := s.CarriedOf(it.Thing()); ok {
			list = append([]walk.Carried{c}, list...)
		}
	}
	return list
}

// New lists what there is to say of something.
func New(s *walk.State) Model { return Model{list: Of(s)} }

// Refresh lists it anew.
func (m Model) Refresh(s *walk.State) (overlay.Model, bool) {
	m = New(s)
	return m, len(m.list) > 0
}

// Keymap is every key of the list.
type Keymap struct{ Back, Clean, Account, Later key.Binding }

// Bindings are those of the list.
func Bindings() Keymap {
	return Keymap{
		Back:    keys.Confirm("it is back on"),
		Clean:   keys.New("cleaned", "c"),
		Account: keys.New("does not go back", "x"),
		Later:   keys.New("later", "esc"),
	}
}

// Keys are those of the list.
func (m Model) Keys(int, int) []key.Binding {
	k := Bindings()
	return []key.Binding{k.Back, k.Clean, k.Account, k.Later}
}

// Typing is never so.
func (m Model) Typing() bool { return false }

// Covers is always so.
func (m Model) Covers() bool { return true }

// Key takes one key; one that means nothing here goes back.
func (m Model) Key(p overlay.Press) (overlay.Model, overlay.Answer) {
	if len(m.list) == 0 {
		return m, overlay.Answer{Close: true}
	}
	if at, moved := scroll.Hand().Move(p.KeyMsg, m.cursor, len(m.list), 0); moved {
		m.cursor = at
		return m, overlay.Answer{}
	}
	k, target := Bindings(), m.list[m.cursor].ID
	switch {
	case key.Matches(p.KeyMsg, k.Back):
		return m, overlay.Answer{Commands: []walk.Command{{Do: walk.Refit, Target: target}}}
	case key.Matches(p.KeyMsg, k.Clean):
		return m, overlay.Answer{Commands: []walk.Command{{Do: walk.Clean, Target: target}}}
	case key.Matches(p.KeyMsg, k.Account):
		return account(target), overlay.Answer{}
	}
	return m, overlay.Answer{Close: true}
}

// account asks why a thing does not go back.
func account(target string) entry.Field {
	take := func(text string) (overlay.Model, overlay.Answer, error) {
		if text == "" {
			return nil, overlay.Answer{}, entry.ErrNoWords
		}
		return nil, overlay.Answer{Close: true, Commands: []walk.Command{{Do: walk.Account, Target: target, Text: text}}}, nil
	}
	return entry.New(target+" does not go back, because", "why", take).With("lost", "replaced by another part", "not needed any more", "goes on in another procedure")
}

// Lines draws the list, the one under the cursor marked.
func (m Model) Lines(w, h int) []string {
	lines := []string{theme.Render(theme.Title, fit.Cut("Came off earlier, and not accounted for", w))}
	hints := keys.Lines(w, m.Keys(w, h)...)
	room := max(1, h-1-len(hints))
	top := scroll.Around(m.cursor, len(m.list), room)
	for i := top; i < min(len(m.list), top+room); i++ {
		point := "  "
		if i == m.cursor {
			point = theme.Mark(theme.Current) + " "
		}
		lines = append(lines, fit.Cut(point+theme.Text(spec.Printable(text(m.list[i]))), w))
	}
	if len(m.list) == 0 {
		lines = append(lines, "", "nothing is left over")
	}
	return append(fit.Box(lines, w, h-len(hints)), hints[:min(len(hints), max(0, h))]...)
}

func text(c walk.Carried) string {
	switch {
	case c.Away != "":
		return "AWAY for " + c.Away + ": " + c.Text()
	case c.Unclean != "":
		return "TO BE CLEANED after " + c.Unclean + ": " + c.Text()
	}
	return c.Text()
}
