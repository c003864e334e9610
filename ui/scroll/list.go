package scroll

import tea "github.com/charmbracelet/bubbletea"

// List is a place in a list: the row in hand, and the first one shown. It is held to the
// list when it is moved, and by Held when the list or the screen has changed.
type List struct{ At, Top int }

// Keys are the bindings of a list of n rows; those that would not move the hand are off.
func (l List) Keys(k Keys, n int) Keys { return k.Between(l.At > 0, l.At < n-1) }

// Key moves the hand by one key and reports whether it is one that moves.
func (l List) Key(k Keys, msg tea.KeyMsg, n, room int) (List, bool) {
	at, moved := k.Move(msg, l.At, n, page(room))
	if moved {
		l.At = at
		l = l.Held(n, room)
	}
	return l, moved
}

// Held keeps the hand among n rows and in sight, and moves nothing that need not.
func (l List) Held(n, room int) List {
	l.At = max(0, min(l.At, n-1))
	room = max(1, room)
	l.Top = max(0, min(max(min(l.Top, l.At), l.At-room+1), n-room))
	return l
}

// Window is where the rows shown begin and end.
func (l List) Window(n, room int) (from, to int) { return l.Top, min(n, l.Top+max(0, room)) }
