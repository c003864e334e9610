package entry

import (
	"strings"

	"github.com/charmbracelet/bubbles/textinput"

	"evenpull/spec/quantity"
)

// Units are put behind a figure one after the other, by one key.
type Units struct {
	list []quantity.Unit
	at   int // 1 + index of the one that was put in last; 0: none
}

// Like lists the units of one kind, beginning with the one given.
func Like(u quantity.Unit) []quantity.Unit {
	list := []quantity.Unit{u}
	for _, other := range quantity.Units(u.Dimension()) {
		if other != u {
			list = append(list, other)
		}
	}
	return list
}

// put sets the next unit behind what is typed so far, in place of the last one.
func (u Units) put(in textinput.Model) (Units, textinput.Model) {
	text := strings.TrimSpace(in.Value())
	if u.at > 0 {
		symbol := u.list[u.at-1].Symbol()
		if !strings.HasSuffix(text, symbol) {
			u.at = 0 // it was typed over: begin again
		}
		text = strings.TrimSpace(strings.TrimSuffix(text, symbol))
	}
	next := u.list[u.at%len(u.list)]
	u.at = u.at%len(u.list) + 1
	space := " "
	if next == quantity.Degree {
		space = ""
	}
	in.SetValue(text + space + next.Symbol())
	in.CursorEnd()
	return u, in
}
