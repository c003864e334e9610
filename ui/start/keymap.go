package start

import (
	"github.com/charmbracelet/bubbles/key"

	"evenpull/ui/keys"
	"evenpull/ui/scroll"
)

// keymap is every key of the lists: what a press does, the last line of the
// screen and the list of keys all come from it.
type keymap struct {
	Choose, Up, Down, Section, PageUp, PageDown, Top, Bottom, Find, Ready, Change, Write, Convert, Reload, Help, Suspend, Leave key.Binding
}

func (m Model) keys() keymap {
	s := m.movers(scroll.Rows())
	k := keymap{
		Choose: keys.New(m.chooseText(), "enter", " "), Section: keys.New("next list", "tab"),
		Up: s.Up, Down: s.Down, PageUp: s.PageUp, PageDown: s.PageDown, Top: s.Top, Bottom: s.Bottom,
		Find:    keys.New("find", "/"),
		Ready:   keys.New("have ready", "p"),
		Change:  keys.New("change this sheet", "e"),
		Write:   keys.New("new sheet", "w"),
		Convert: keys.New("converter", "c"),
		Reload:  keys.New("read again", "r"),
		Help:    keys.New("all keys", "?"),
		Suspend: keys.New("to the shell", "ctrl+z"),
		Leave:   keys.New("leave", "q", "ctrl+c"),
	}
	k.Choose.SetEnabled(m.current() != nil)
	it := m.current()
	k.Ready.SetEnabled(it != nil && it.kind == procedureRow && it.problem == "")
	k.Change.SetEnabled(it != nil && it.procedure.Own)
	if it != nil && it.kind == openRow {
		k.Change = keys.New("go by edited sheet", "e")
	}
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
	if it.choice.Do == Write {
		return "write one"
	}
	return map[rowKind]string{openRow: "go on", procedureRow: "start", toolRow: "convert", engineRow: "where it stands", recordRow: "review"}[it.kind]
}

func (k keymap) all() []key.Binding {
	return []key.Binding{k.Choose, k.Down, k.Up, k.Section, k.PageDown, k.PageUp, k.Top, k.Bottom, k.Find, k.Ready, k.Change, k.Write, k.Convert, k.Reload, k.Help, k.Suspend, k.Leave}
}

func (k keymap) short() []key.Binding {
	return []key.Binding{k.Choose, k.Leave, k.Help, k.Ready, k.Change, k.Section, k.Write, k.Convert, k.Find, k.Down}
}

// tagKeymap are the keys while the engine's tag is typed: letters are text.
type tagKeymap struct{ Begin, Fresh, Known, Back, Suspend, Quit key.Binding }

func (m Model) tagKeys() tagKeymap {
	open := m.leftOpen(m.typedTag()) != nil
	begin := "start"
	if open {
		begin = "go on with it"
	}
	k := tagKeymap{
		Begin:   keys.New(begin, "enter"),
		Fresh:   keys.New("start a new one", "ctrl+n"),
		Known:   keys.New("a tag used before", "tab"),
		Back:    keys.New("back", "esc"),
		Suspend: keys.New("to the shell", "ctrl+z"),
		Quit:    keys.New("leave", "ctrl+c"),
	}
	k.Fresh.SetEnabled(m.anyOpen(m.typedTag()))
	k.Known.SetEnabled(len(m.known()) > 0)
	return k
}

func (k tagKeymap) all() []key.Binding {
	return []key.Binding{k.Begin, k.Back, k.Fresh, k.Known, k.Quit, k.Suspend}
}

// findKeymap are the keys while a search is typed.
type findKeymap struct{ Keep, Back, Up, Down, PageUp, PageDown, Suspend, Quit key.Binding }

func (m Model) findKeys() findKeymap {
	s := m.movers(scroll.Typing())
	return findKeymap{
		Keep: keys.New("to what is found", "enter"),
		Back: keys.New("all again", "esc"),
		Up:   s.Up, Down: s.Down, PageUp: s.PageUp, PageDown: s.PageDown,
		Suspend: keys.New("to the shell", "ctrl+z"),
		Quit:    keys.New("leave", "ctrl+c"),
	}
}

func (k findKeymap) all() []key.Binding {
	return []key.Binding{k.Keep, k.Back, k.Down, k.Up, k.Quit, k.PageDown, k.PageUp, k.Suspend}
}
