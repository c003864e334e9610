package stand

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// things lists what came off this engine in an earlier walk and asks what
// becomes of it: back on, cleaned, or not going back, and why.
type things struct {
	list   []walk.Carried
	cursor int
}

// thingsNow are the things nothing has been said of, and the part in hand.
func (m Model) thingsNow() []walk.Carried {
	list := append([]walk.Carried(nil), m.facts.left...)
	if it := m.facts.item; it != nil && it.Kind == walk.PartItem {
		if c, ok := m.cfg.State.CarriedOf(it.Thing()); ok {
			list = append([]walk.Carried{c}, list...)
		}
	}
	return list
}

func (m Model) openThings() Model {
	m.face, m.things, m.dismiss = onThings, things{list: m.thingsNow()}, false
	return m
}

// thingsKey: enter says it is back on, c cleaned, x that it does not go back.
func (m Model) thingsKey(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	if len(m.things.list) == 0 {
		m.face = onWalk
		return m, nil
	}
	target := m.things.list[m.things.cursor].ID
	if at, moved := keys.Move(k.String(), m.things.cursor, len(m.things.list)); moved {
		m.things.cursor = at
		return m, nil
	}
	switch s := k.String(); {
	case confirm && m.dismiss:
		m.dismiss, m.say = false, message{}
	case confirm:
		return m.order(walk.Command{Do: walk.Refit, Target: target})
	case s == "c":
		return m.order(walk.Command{Do: walk.Clean, Target: target})
	case s == "x":
		e := newEntry(walk.Account, target+" does not go back, because", "why").with("lost", "replaced by another part", "not needed any more", "goes on in another procedure")
		e.target = target
		return m.openEntry(e), nil
	default:
		m.face = onWalk
	}
	return m, nil
}

// draw gives the list in w×h cells, the one under the cursor marked.
func (t things) draw(w, h int) []string {
	lines := []string{theme.Render(theme.Title, fit.Cut("Came off earlier, and not accounted for", w))}
	hints := fit.Hints(w, "enter", "it is back on", "c", "cleaned", "x", "does not go back", "esc", "later")
	room := max(1, h-1-len(hints))
	top := max(0, min(t.cursor-room/2, len(t.list)-room))
	for i := top; i < min(len(t.list), top+room); i++ {
		point, c := "  ", t.list[i]
		if i == t.cursor {
			point = theme.Mark(theme.Current) + " "
		}
		text := c.Text()
		switch {
		case c.Away != "":
			text = "AWAY for " + c.Away + ": " + text
		case c.Unclean != "":
			text = "TO BE CLEANED after " + c.Unclean + ": " + text
		}
		lines = append(lines, fit.Cut(point+theme.Text(printable(text)), w))
	}
	if len(t.list) == 0 {
		lines = append(lines, "", "nothing is left over")
	}
	for len(lines) < h-len(hints) {
		lines = append(lines, "")
	}
	return fit.Box(append(lines, hints...), w, h)
}

// canDescribe reports whether what is in hand is coming off, so that it can be
// said how it was found.
func (m Model) canDescribe() bool {
	it := m.facts.item
	return it != nil && (it.Kind == walk.PartItem || it.Kind == walk.StageItem && it.Stage.Action.Frees())
}

// openFound asks how a thing was found: a condition under a number key, and
// where it goes.
func (m Model) openFound() Model {
	it := m.facts.item
	e := newEntry(walk.Find, "", "condition, box 2, bag 7, measured 0.8 mm").with(walk.Conditions...)
	name := ""
	var inspect []string
	if it.Kind == walk.StageItem {
		g := it.Stage.Fastener.Group
		name = it.Stage.Fastener.ID
		inspect = words.Inspection(g.LookFor, g.Condemn, "")
	} else {
		name = walk.PartText(it.Part)
		inspect = words.Inspection(it.Part.LookFor, it.Part.Condemn, it.Part.Measure)
	}
	e.target = it.Thing().ID
	e.title = name + ", found how?"
	if m.width >= mapW {
		e.title = strings.Join(append(inspect, e.title), "\n")
	}
	if was := m.cfg.State.FoundOf(it.Thing()); len(was) > 0 {
		e.title += " So far: " + was.Text()
	}
	return m.openEntry(e)
}

// found makes the command of "scored, box 2, because it was the other one".
func (e entry) found(text string) (walk.Command, error) {
	facts, reason, err := words.FactsIn(text)
	if err != nil {
		return walk.Command{}, fmt.Errorf("%w; write it like: scored, box 2, bag 7", err)
	}
	return walk.Command{Do: walk.Find, Target: e.target, Facts: facts, Text: strings.TrimSpace(reason)}, nil
}
