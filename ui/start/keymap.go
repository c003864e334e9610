package start

import (
	"github.com/charmbracelet/bubbles/key"

	"evenpull/ui/fit"
)

// keymap is every key of the lists: what a press does, the last line of the
// screen and the list of keys all come from it.
type keymap struct {
	Choose, Up, Down, Section, PageUp, PageDown, Top, Bottom, Find, Convert, Reload, Help, Suspend, Leave key.Binding
}

func bind(help, desc string, names ...string) key.Binding {
	return key.NewBinding(key.WithKeys(names...), key.WithHelp(help, desc))
}

func (m Model) keys() keymap {
	k := keymap{
		Choose:   bind("enter", m.chooseText(), "enter", " "),
		Up:       bind("↑", "up", "up", "k"),
		Down:     bind("↓", "down", "down", "j"),
		Section:  bind("tab", "next list", "tab"),
		PageUp:   bind("pgup", "a screen up", "pgup"),
		PageDown: bind("pgdown", "a screen down", "pgdown"),
		Top:      bind("home", "to the top", "home", "g"),
		Bottom:   bind("end", "to the end", "end", "G"),
		Find:     bind("/", "find", "/"),
		Convert:  bind("c", "converter", "c"),
		Reload:   bind("r", "read again", "r"),
		Help:     bind("?", "all keys", "?"),
		Suspend:  bind("ctrl+z", "to the shell", "ctrl+z"),
		Leave:    bind("q", "leave", "q", "ctrl+c"),
	}
	k.Choose.SetEnabled(m.current() != nil)
	k.Reload.SetEnabled(m.cfg.Reload != nil)
	return k
}

// chooseText says what Enter does here.
func (m Model) chooseText() string {
	it := m.current()
	if it == nil {
		return ""
	}
	if it.problem != "" {
		return "why not"
	}
	return map[rowKind]string{openRow: "go on", procedureRow: "start", toolRow: "convert", recordRow: "review"}[it.kind]
}

func (k keymap) all() []key.Binding {
	return []key.Binding{k.Choose, k.Down, k.Up, k.Section, k.PageDown, k.PageUp, k.Top, k.Bottom, k.Find, k.Convert, k.Reload, k.Help, k.Suspend, k.Leave}
}

func (k keymap) short() []key.Binding {
	return []key.Binding{k.Choose, k.Leave, k.Help, k.Section, k.Down, k.Find, k.Convert}
}

// tagKeymap are the keys while the engine's tag is typed: letters are text.
type tagKeymap struct{ Begin, Fresh, Known, Back, Suspend, Quit key.Binding }

func (m Model) tagKeys() tagKeymap {
	open := m.leftOpen(m.typedTag()) != nil
	k := tagKeymap{
		Begin:   bind("enter", "start", "enter"),
		Fresh:   bind("ctrl+n", "start a new one", "ctrl+n"),
		Known:   bind("tab", "a tag used before", "tab"),
		Back:    bind("esc", "back", "esc"),
		Suspend: bind("ctrl+z", "to the shell", "ctrl+z"),
		Quit:    bind("ctrl+c", "leave", "ctrl+c"),
	}
	if open {
		k.Begin.SetHelp("enter", "go on with it")
	}
	k.Fresh.SetEnabled(open)
	k.Known.SetEnabled(len(m.known()) > 0)
	return k
}

func (k tagKeymap) all() []key.Binding {
	return []key.Binding{k.Begin, k.Back, k.Fresh, k.Known, k.Quit, k.Suspend}
}

// findKeymap are the keys while a search is typed.
type findKeymap struct{ Keep, Back, Up, Down, Suspend, Quit key.Binding }

func (m Model) findKeys() findKeymap {
	return findKeymap{
		Keep:    bind("enter", "to what is found", "enter"),
		Back:    bind("esc", "all again", "esc"),
		Up:      bind("↑", "up", "up"),
		Down:    bind("↓", "down", "down"),
		Suspend: bind("ctrl+z", "to the shell", "ctrl+z"),
		Quit:    bind("ctrl+c", "leave", "ctrl+c"),
	}
}

func (k findKeymap) all() []key.Binding {
	return []key.Binding{k.Keep, k.Back, k.Down, k.Up, k.Quit, k.Suspend}
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
