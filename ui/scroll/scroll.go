// Package scroll moves through more lines than there is room for. Every text
// that scrolls does so by these keys, and says in the same words where it is.
package scroll

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/keys"
)

// Text is a place in a text: its first line shown. It is held to the text when
// it is moved and when it is drawn, so it may be kept across a change of size.
type Text struct{ Top int }

// Keys are the bindings that move through a text; those that would not are off.
type Keys struct{ Down, Up, PageDown, PageUp, Top, Bottom key.Binding }

// All lists them, the most needed first.
func (k Keys) All() []key.Binding {
	return []key.Binding{k.Down, k.PageDown, k.Up, k.PageUp, k.Top, k.Bottom}
}

func bindings() Keys {
	return Keys{
		Down:     keys.New("down", "down", "j"),
		Up:       keys.New("up", "up", "k"),
		PageDown: keys.New("more", "enter", " ", "pgdown"),
		PageUp:   keys.New("a screen back", "pgup", "b"),
		Top:      keys.New("to the top", "home", "g"),
		Bottom:   keys.New("to the end", "end", "G"),
	}
}

// Keys are the bindings where n lines have room for some.
func (t Text) Keys(n, room int) Keys {
	k, top := bindings(), t.first(n, room)
	for _, b := range []*key.Binding{&k.Up, &k.PageUp, &k.Top} {
		b.SetEnabled(top > 0)
	}
	for _, b := range []*key.Binding{&k.Down, &k.PageDown, &k.Bottom} {
		b.SetEnabled(top < last(n, room))
	}
	return k
}

// Key moves by one key and reports whether it is one that moves through a text
// of n lines, be it at its end. Where all lines have room none does.
func (t Text) Key(k tea.KeyMsg, n, room int) (Text, bool) {
	b, screen := bindings(), max(1, room-1) // a line stays in sight
	top := t.first(n, room)
	switch {
	case last(n, room) == 0:
		return Text{}, false
	case key.Matches(k, b.Down):
		top++
	case key.Matches(k, b.Up):
		top--
	case key.Matches(k, b.PageDown):
		top += screen
	case key.Matches(k, b.PageUp):
		top -= screen
	case key.Matches(k, b.Top):
		top = 0
	case key.Matches(k, b.Bottom):
		top = n
	default:
		return t, false
	}
	return Text{Text{top}.first(n, room)}, true
}

// Window is the lines shown where there is room for some.
func (t Text) Window(lines []string, room int) []string {
	top := t.first(len(lines), room)
	return lines[top:min(len(lines), top+max(0, room))]
}

// Place says which of n lines are shown; nothing when all are.
func (t Text) Place(n, room int) string {
	if room <= 0 || n <= room {
		return ""
	}
	top := t.first(n, room)
	return fmt.Sprintf("%d to %d of %d", top+1, min(n, top+room), n)
}

func (t Text) first(n, room int) int { return max(0, min(t.Top, last(n, room))) }

// last is the line that stands first when the end is in sight.
func last(n, room int) int { return max(0, n-max(0, room)) }

// Around is the first of n rows shown where the row at a cursor stays in the middle.
func Around(cursor, n, room int) int { return max(0, min(cursor-room/2, n-room)) }

// Hold is the first of n rows shown where the row in hand stays in sight and
// nothing moves that need not: top is what it was.
func Hold(top, at, n, room int) int {
	room = max(1, room)
	return max(0, min(max(min(top, at), at-room+1), n-room))
}
