package start

import (
	"strings"

	"evenpull/ui/scroll"
)

// search keeps the rows that hold every word typed, with the headings of the
// lists they are in. Nothing typed keeps them all.
func (m *Model) search() {
	words := strings.Fields(strings.ToLower(m.find.Value()))
	m.shown = nil
	pending := -1 // a heading that nothing has been found under yet
	for i, it := range m.items {
		if it.kind == heading {
			pending = i
			continue
		}
		if !it.holds(words) {
			continue
		}
		if pending >= 0 {
			m.shown = append(m.shown, pending)
			pending = -1
		}
		m.shown = append(m.shown, i)
	}
	m.list.At = min(m.list.At, len(m.shown)-1)
	m.step(0)
}

func (it item) holds(words []string) bool {
	if len(words) == 0 {
		return true
	}
	if !it.selectable() {
		return false
	}
	text := strings.ToLower(it.left + " " + it.middle + " " + it.right + " " + it.detail)
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// current is the row at hand, or nil when nothing can be chosen.
func (m Model) current() *item {
	if m.list.At < 0 || m.list.At >= len(m.shown) {
		return nil
	}
	if it := &m.items[m.shown[m.list.At]]; it.selectable() {
		return it
	}
	return nil
}

// step moves the hand by n rows and on to the nearest that can be chosen.
func (m *Model) step(n int) {
	at := max(0, min(m.list.At+n, len(m.shown)-1))
	if i := m.selectableFrom(at, sign(n)); i >= 0 {
		m.list.At = i
	} else if i := m.selectableFrom(at, -sign(n)); i >= 0 {
		m.list.At = i
	}
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

func (m Model) selectableFrom(at, by int) int {
	for i := at; i >= 0 && i < len(m.shown); i += by {
		if m.items[m.shown[i]].selectable() {
			return i
		}
	}
	return -1
}

// movers are the keys that move the hand now: no heading is ever in it.
func (m Model) movers(k scroll.Keys) scroll.Keys {
	at := m.list.At
	return k.Between(m.selectableFrom(at-1, -1) >= 0, m.selectableFrom(at+1, 1) >= 0)
}

// nextSection goes to the first row of the next list, round and round.
func (m *Model) nextSection() {
	n := len(m.shown)
	for d := 1; d <= n; d++ {
		i := (m.list.At + d) % n
		if m.items[m.shown[i]].kind != heading {
			continue
		}
		if at := m.selectableFrom(i, 1); at >= 0 && at != m.list.At {
			m.list.At = at
			return
		}
	}
}

// hold keeps the row at hand on the screen, with the heading above it.
func (m *Model) hold() {
	room := m.listHeight()
	l := m.list.Held(len(m.shown), room)
	if above := l.At - 1; above >= 0 && m.items[m.shown[above]].kind == heading && room > 1 {
		l.Top = scroll.List{At: above, Top: m.list.Top}.Held(len(m.shown), room).Top
		l = l.Held(len(m.shown), room)
	}
	m.list = l
}
