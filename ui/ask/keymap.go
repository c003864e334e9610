package ask

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"evenpull/procedures/draft"
	"evenpull/ui/keys"
)

// keymap is every key of the questions: letters are text, so none of them is a command.
type keymap struct {
	Answer, Up, Down, SectionUp, SectionDown, Next, Before, Map, TakeOut, Write, Back, Help, Suspend, Quit key.Binding
}

func (m Model) keys() keymap {
	q := m.now()
	choosing := len(q.Choices) > 0
	answer := "answer"
	if q.Kind == draft.Save {
		answer = "write the file"
	}
	back := "leave; answers are kept"
	if m.typed {
		back = "as it was"
	}
	onMap, mapped := "move bolts about", q.Kind == draft.Places && q.Answer != ""
	if q.Kind == draft.Order {
		onMap, mapped = "pick bolts on the map", len(m.draft.Bolts()) > 0
	}
	takeable := strings.Contains(q.Thing, "/") || q.Thing == "sealant"
	return keymap{
		Answer:      keys.New(answer, "enter"),
		Up:          keys.New("back a question", "up"),
		Down:        keys.New("on without answering", "down"),
		SectionUp:   keys.New("section before", "pgup"),
		SectionDown: keys.New("next section", "pgdown"),
		Next:        keys.When(keys.New("next choice", "tab", "right"), choosing && (q.Kind == draft.Choice || m.field.AtEnd())),
		Before:      keys.When(keys.New("choice before", "shift+tab", "left"), choosing && q.Kind == draft.Choice),
		Map:         keys.When(keys.New(onMap, "ctrl+p"), mapped),
		TakeOut:     keys.When(keys.New("take it out", "ctrl+d"), takeable),
		Write:       keys.New("write the file", "ctrl+s"),
		Back:        keys.New(back, "esc"),
		Help:        keys.New("all keys", "f1"),
		Suspend:     keys.New("to the shell", "ctrl+z"),
		Quit:        keys.New("leave; answers are kept", "ctrl+c"),
	}
}

func (k keymap) all() []key.Binding {
	return []key.Binding{k.Answer, k.Next, k.Map, k.Up, k.Down, k.SectionDown, k.SectionUp, k.Before, k.TakeOut, k.Write, k.Back, k.Help, k.Quit, k.Suspend}
}

func (k keymap) short() []key.Binding {
	return []key.Binding{k.Answer, k.Help, k.Next, k.Map, k.Up, k.Write, k.Back}
}

// mapKeymap are the keys while bolts are moved about.
type mapKeymap struct{ Left, Right, Up, Down, Next, Before, Finer, Coarser, Add, TakeOut, Undo, Done key.Binding }

func (m Model) mapKeys() mapKeymap {
	return mapKeymap{
		Left: keys.New("left", "left"), Right: keys.New("right", "right"), Up: keys.New("up", "up"), Down: keys.New("down", "down"),
		Next:    keys.New("next bolt", "tab"),
		Before:  keys.New("bolt before", "shift+tab"),
		Coarser: keys.New("longer steps", "+"),
		Finer:   keys.New("shorter steps", "-"),
		Add:     keys.New("add one beside it", "a"),
		TakeOut: keys.New("take it out", "x"),
		Undo:    keys.When(keys.New("take the last back", "u"), len(m.undone) > 0),
		Done:    keys.New("done", "enter", "esc"),
	}
}

func (k mapKeymap) all() []key.Binding {
	return []key.Binding{k.Left, k.Right, k.Up, k.Down, k.Next, k.Before, k.Coarser, k.Finer, k.Add, k.TakeOut, k.Undo, k.Done}
}

func (k mapKeymap) short() []key.Binding {
	return []key.Binding{keys.Span("move it", "left", "down"), k.Next, k.Done, k.Coarser, k.Finer, k.Add, k.TakeOut, k.Undo}
}

// pickKeymap are the keys while bolts are picked in order.
type pickKeymap struct{ Left, Right, Up, Down, Next, Before, Pick, Unpick, Done key.Binding }

func (m Model) pickKeys() pickKeymap {
	return pickKeymap{
		Left: keys.New("left", "left"), Right: keys.New("right", "right"), Up: keys.New("up", "up"), Down: keys.New("down", "down"),
		Next:   keys.New("next bolt", "tab"),
		Before: keys.New("bolt before", "shift+tab"),
		Pick:   keys.New("this one next", "enter", " "),
		Unpick: keys.When(keys.New("take the last back", "backspace"), len(m.picked) > 0),
		Done:   keys.New("back", "esc"),
	}
}

func (k pickKeymap) short() []key.Binding {
	return []key.Binding{k.Pick, keys.Span("another bolt", "left", "down"), k.Next, k.Unpick, k.Done}
}

func (k pickKeymap) all() []key.Binding {
	return []key.Binding{k.Pick, k.Left, k.Right, k.Up, k.Down, k.Next, k.Before, k.Unpick, k.Done}
}
