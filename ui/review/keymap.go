package review

import (
	"github.com/charmbracelet/bubbles/key"

	"evenpull/ui/keys"
	"evenpull/ui/scroll"
)

// keymap is every key of the review: what a press does, the last line of the
// screen and the list of keys all come from it.
type keymap struct {
	Next, Previous, Page, Up, Down, Left, Right, PageUp, PageDown, Top, Bottom, Help, Suspend, Leave key.Binding
}

// keys is the keymap at this moment: sideways only where something is there.
func (m Model) keys() keymap {
	s := m.at[m.now].Keys(scroll.Read(), m.rows(), m.bodyHeight())
	k := keymap{
		Next:     keys.New("next page", "tab"),
		Previous: keys.New("page before", "shift+tab"),
		Page:     keys.Span("that page", "1", "2", "3", "4", "5", "6", "7", "8"),
		Left:     keys.New("passes before", "left", "h"),
		Right:    keys.New("more passes", "right", "l"),
		Up:       s.Up, Down: s.Down, PageUp: s.PageUp, PageDown: s.PageDown, Top: s.Top, Bottom: s.Bottom,
		Help:    keys.New("all keys", "?"),
		Suspend: keys.New("to the shell", "ctrl+z"),
		Leave:   keys.New("leave", "q", "esc", "ctrl+c"),
	}
	k.Left.SetEnabled(m.lastColumn() > 0)
	k.Right.SetEnabled(m.lastColumn() > 0)
	if m.now != replayPage {
		return k
	}
	for _, b := range []*key.Binding{&k.Up, &k.Down, &k.PageUp} {
		b.SetEnabled(false)
	}
	k.Right = keys.New("step", "right", "l")
	k.Left = keys.New("step back", "left", "h")
	k.PageDown = keys.New(m.replay.playText(), " ", "enter", "pgdown")
	k.Top, k.Bottom = keys.New("to the start", "home", "g"), keys.New("to the end", "end", "G")
	for _, b := range []*key.Binding{&k.Right, &k.Left, &k.PageDown, &k.Top, &k.Bottom} {
		b.SetEnabled(len(m.replay.frames) > 0)
	}
	return k
}

// all lists the bindings in the order of the help.
func (k keymap) all() []key.Binding {
	return []key.Binding{k.Next, k.Previous, k.Page, k.Down, k.Up, k.Right, k.Left, k.PageDown, k.PageUp, k.Top, k.Bottom, k.Help, k.Suspend, k.Leave}
}

// short lists what the last line names first.
func (m Model) short() []key.Binding {
	k := m.keys()
	if m.now == replayPage {
		return []key.Binding{k.PageDown, k.Right, k.Left, k.Next, k.Leave, k.Help}
	}
	return []key.Binding{k.Next, k.Leave, k.Help, k.Right, k.Down, k.PageDown}
}
