package review

import (
	"github.com/charmbracelet/bubbles/key"

	"evenpull/ui/fit"
)

// keymap is every key of the review: what a press does, the last line of the
// screen and the list of keys all come from it.
type keymap struct {
	Next, Previous, Page, Up, Down, Left, Right, PageUp, PageDown, Top, Bottom, Help, Suspend, Leave key.Binding
}

func bind(help, desc string, names ...string) key.Binding {
	return key.NewBinding(key.WithKeys(names...), key.WithHelp(help, desc))
}

// keys is the keymap at this moment: sideways only where something is there.
func (m Model) keys() keymap {
	k := keymap{
		Next:     bind("tab", "next page", "tab", "n"),
		Previous: bind("shift+tab", "page before", "shift+tab", "p"),
		Page:     bind("1-7", "that page", "1", "2", "3", "4", "5", "6", "7"),
		Up:       bind("↑", "up", "up", "k"),
		Down:     bind("↓", "down", "down", "j"),
		Left:     bind("←", "passes before", "left", "h"),
		Right:    bind("→", "more passes", "right", "l"),
		PageUp:   bind("pgup", "a screen up", "pgup", "b"),
		PageDown: bind("pgdown", "a screen down", "pgdown", " ", "enter"),
		Top:      bind("home", "to the top", "home", "g"),
		Bottom:   bind("end", "to the end", "end", "G"),
		Help:     bind("?", "all keys", "?"),
		Suspend:  bind("ctrl+z", "to the shell", "ctrl+z"),
		Leave:    bind("q", "leave", "q", "esc", "ctrl+c"),
	}
	k.Left.SetEnabled(m.lastColumn() > 0)
	k.Right.SetEnabled(m.lastColumn() > 0)
	return k
}

// all lists the bindings in the order of the help.
func (k keymap) all() []key.Binding {
	return []key.Binding{k.Next, k.Previous, k.Page, k.Down, k.Up, k.Right, k.Left, k.PageDown, k.PageUp, k.Top, k.Bottom, k.Help, k.Suspend, k.Leave}
}

// short lists what the last line names first.
func (k keymap) short() []key.Binding {
	return []key.Binding{k.Next, k.Leave, k.Help, k.Right, k.Down, k.PageDown}
}

// hints renders the enabled ones in lines of w cells.
func hints(w int, list []key.Binding) []string {
	var pairs []string
	for _, b := range list {
		if b.Enabled() {
			pairs = append(pairs, b.Help().Key, b.Help().Desc)
		}
	}
	return fit.Hints(w, pairs...)
}
