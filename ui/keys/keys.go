// Package keys is what the screens share about keys: bindings whose labels
// are made from the keys they are bound to, help fitted to the room there is,
// and the guard against a double press.
//
// A screen keeps its bindings in one struct, switches them with SetEnabled as
// its state changes, and draws its help from them. Disabled ones don't show.
package keys

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"evenpull/ui/theme"
)

// names are the words on or for a key, where Bubble Tea's own differ.
var names = map[string]string{
	" ": "space", "pgdown": "page down", "pgup": "page up",
	"up": "↑", "down": "↓", "left": "←", "right": "→",
}

// Name returns what to call a key, as Bubble Tea spells it in KeyMsg.String.
func Name(key string) string {
	if name, ok := names[key]; ok {
		return theme.Text(name)
	}
	if mod, with, ok := strings.Cut(key, "+"); ok && mod != "" {
		return mod + "-" + with // ctrl-c, shift-tab
	}
	return key
}

// New binds keys to what they do. The label is made from the keys, so it
// can't name one that isn't bound. The first key is the one short help shows.
func New(does string, keys ...string) key.Binding {
	called := make([]string, len(keys))
	for i, k := range keys {
		called[i] = Name(k)
	}
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(strings.Join(called, ", "), does))
}

// Span binds a row of keys that do the same each in its place, such as 1 to 7
// for seven pages; the label names the first and the last.
func Span(does string, keys ...string) key.Binding {
	label := Name(keys[0]) + "-" + Name(keys[len(keys)-1])
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(label, does))
}

// When switches a binding by state; one that is off does nothing and doesn't show.
func When(b key.Binding, on bool) key.Binding {
	b.SetEnabled(on)
	return b
}

// Confirm is the binding that says a stage is done: Enter, the space bar, or
// Page Down, which foot pedals and presenters send.
func Confirm(does string) key.Binding { return New(does, "enter", " ", "pgdown") }

// Other stands in help for every key that is not named.
func Other(does string) key.Binding {
	return key.NewBinding(key.WithKeys("any other key"), key.WithHelp("any other key", does))
}

// Help is the binding that lists the keys of the moment.
func Help() key.Binding { return New("keys", "?") }

// Group is bindings that belong together, under a title.
type Group struct {
	Title    string
	Bindings []key.Binding
}

// Called is how a text names the key of a binding, which may be off for now.
func Called(b key.Binding) string {
	label, _, _ := strings.Cut(b.Help().Key, ", ")
	return label
}

// That says what a key does in words of the moment: "d closes the walk".
func That(b key.Binding, does string) string { return Called(b) + " " + does }
