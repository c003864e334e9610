// Package scroll moves through more lines than there is room for: a text, or a list with
// a row in hand. Every screen does so by the same keys, and says in the same words where
// it is.
package scroll

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

// Text is a place in a text: its first line shown. It is held to the text when
// it is moved and when it is drawn, so it may be kept across a change of size.
type Text struct{ Top int }

// Keys are the bindings where n lines have room for some; those that would not move are
// off.
func (t Text) Keys(k Keys, n, room int) Keys {
	top := t.first(n, room)
	return k.Between(top > 0, top < last(n, room))
}

// Key moves by one key and reports whether it is one that moves through a text
// of n lines, be it at its end. Where all lines have room none does.
func (t Text) Key(k Keys, msg tea.KeyMsg, n, room int) (Text, bool) {
	if last(n, room) == 0 {
		return Text{}, false
	}
	top, moved := k.Move(msg, t.first(n, room), n, page(room))
	if !moved {
		return t, false
	}
	return Text{Text{top}.first(n, room)}, true
}

// Window is the lines shown where there is room for some.
func (t Text) Window(lines []string, room int) []string {
	top := t.first(len(lines), room)
	return lines[top:min(len(lines), top+max(0, room))]
}

// Lines is what a text is counted in: an entry may take several.
const Lines = "lines"

// Place says which of n are shown, and of what where that is not plain: "lines 1-20 of
// 42"; nothing when all are.
func (t Text) Place(of string, n, room int) string {
	if room <= 0 || n <= room {
		return ""
	}
	top := t.first(n, room)
	return strings.TrimLeft(fmt.Sprintf("%s %d-%d of %d", of, top+1, min(n, top+room), n), " ")
}

// Foot is the last line of w cells below a text: the keys as far as there is room, and
// the place where there is room for one of them beside it.
func Foot(w int, place string, hints ...key.Binding) string {
	beside := keys.Short(w-fit.Width(place)-2, hints...)
	if place == "" || beside == "" {
		return keys.Short(w, hints...)
	}
	return fit.Ends(beside, theme.Render(theme.Quiet, place), w)
}

func (t Text) first(n, room int) int { return max(0, min(t.Top, last(n, room))) }

// last is the line that stands first when the end is in sight.
func last(n, room int) int { return max(0, n-max(0, room)) }

// page is how far a screen goes: a line of it stays in sight.
func page(room int) int { return max(1, room-1) }

// Around is the first of n rows shown where the row at a cursor stays in the middle.
func Around(cursor, n, room int) int { return max(0, min(cursor-room/2, n-room)) }
