package scroll

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/keys"
)

// Keys are bindings that move, the same on every screen. Which of them are free to do so
// is told by who made them: Read, Rows, Hand or Typing.
type Keys struct{ Down, Up, PageDown, PageUp, Top, Bottom key.Binding }

// Read are those of a text, where nothing is chosen: what confirms elsewhere reads on.
func Read() Keys {
	k := Rows()
	k.PageDown = keys.New("more", "enter", " ", "pgdown")
	return k
}

// Rows are those of a list, whose row in hand Enter and the space bar choose.
func Rows() Keys {
	k := Hand()
	k.PageDown, k.PageUp = keys.New("a screen on", "pgdown"), keys.New("a screen back", "pgup", "b")
	return k
}

// Hand are those of a list that a pedal chooses from: it sends Page Down.
func Hand() Keys {
	return Keys{
		Down:   keys.New("down", "down", "j"),
		Up:     keys.New("up", "up", "k"),
		Top:    keys.New("to the top", "home", "g"),
		Bottom: keys.New("to the end", "end", "G"),
	}
}

// Typing are those of a list that is searched while words are typed: letters, Home and
// End are the field's.
func Typing() Keys {
	return Keys{
		Down:     keys.New("down", "down"),
		Up:       keys.New("up", "up"),
		PageDown: keys.New("a screen on", "pgdown"),
		PageUp:   keys.New("a screen back", "pgup"),
	}
}

// All lists them, the most needed first.
func (k Keys) All() []key.Binding {
	return []key.Binding{k.Down, k.PageDown, k.Up, k.PageUp, k.Top, k.Bottom}
}

// Move gives the place that a key leads to from one among n, screen lines a page, and
// whether it is a key that moves.
func (k Keys) Move(msg tea.KeyMsg, at, n, screen int) (int, bool) {
	switch {
	case key.Matches(msg, k.Down):
		at++
	case key.Matches(msg, k.Up):
		at--
	case key.Matches(msg, k.PageDown):
		at += screen
	case key.Matches(msg, k.PageUp):
		at -= screen
	case key.Matches(msg, k.Top):
		at = 0
	case key.Matches(msg, k.Bottom):
		at = n - 1
	default:
		return at, false
	}
	return max(0, min(at, n-1)), true
}

// Between switches off those that would not move from a place.
func (k Keys) Between(back, on bool) Keys {
	for _, b := range []*key.Binding{&k.Up, &k.PageUp, &k.Top} {
		b.SetEnabled(back)
	}
	for _, b := range []*key.Binding{&k.Down, &k.PageDown, &k.Bottom} {
		b.SetEnabled(on)
	}
	return k
}
