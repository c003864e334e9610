package ask

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/draft"
)

// steps are the mm that an arrow moves a bolt.
var steps = []float64{0.5, 1, 2, 5, 10, 20, 50}

const usualStep = 10

// group is the one whose question is at hand.
func (m Model) group() string {
	_, id, _ := strings.Cut(m.now().Thing, "/")
	return id
}

// bolts are those that can be taken in hand here: of the group, or of the pass.
func (m Model) bolts() []draft.Bolt {
	all := m.draft.Bolts()
	if m.face == onPick {
		in := m.draft.BoltsOf(m.now())
		return slices.DeleteFunc(all, func(b draft.Bolt) bool { return !slices.Contains(in, b.ID) })
	}
	group := m.group()
	return slices.DeleteFunc(all, func(b draft.Bolt) bool { return b.Group != group })
}

func (m Model) toMap() Model {
	m.face, m.undone = onMap, nil
	return m.inReach()
}

// inReach takes the first bolt in hand where the one in hand is not there.
func (m Model) inReach() Model {
	if own := m.bolts(); !slices.ContainsFunc(own, func(b draft.Bolt) bool { return b.ID == m.hand }) && len(own) > 0 {
		m.hand = own[0].ID
	}
	return m
}

func (m Model) toPick() Model {
	m.face, m.picked = onPick, nil
	if own := m.bolts(); len(own) > 0 {
		m.hand = own[0].ID
	}
	return m
}

// reach takes the next bolt in hand, or the one before.
func (m Model) reach(by int) Model {
	own := m.bolts()
	i := slices.IndexFunc(own, func(b draft.Bolt) bool { return b.ID == m.hand })
	m.hand = own[(max(i, 0)+by+len(own))%len(own)].ID
	return m
}

func (m Model) pressMap(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	k := m.mapKeys()
	at := slices.Index(steps, m.step)
	switch {
	case key.Matches(msg, k.Done):
		m.face = onQuestion
		return m.to(m.now().ID).keep()
	case key.Matches(msg, k.Left):
		return m.change(m.draft.Move(m.hand, -m.step, 0))
	case key.Matches(msg, k.Right):
		return m.change(m.draft.Move(m.hand, m.step, 0))
	case key.Matches(msg, k.Up):
		return m.change(m.draft.Move(m.hand, 0, m.step))
	case key.Matches(msg, k.Down):
		return m.change(m.draft.Move(m.hand, 0, -m.step))
	case key.Matches(msg, k.Next):
		return m.reach(1), nil
	case key.Matches(msg, k.Before):
		return m.reach(-1), nil
	case key.Matches(msg, k.Coarser):
		m.step = steps[min(at+1, len(steps)-1)]
	case key.Matches(msg, k.Finer):
		m.step = steps[max(at-1, 0)]
	case key.Matches(msg, k.Add):
		next, id, no := m.draft.AddBeside(m.hand)
		m, cmd := m.change(next, no)
		m.hand = id
		return m, cmd
	case key.Matches(msg, k.TakeOut):
		gone := m.hand
		m = m.reach(1)
		next, _, no := m.draft.Answer(m.now().ID, "take out "+gone)
		return m.change(next, no)
	case key.Matches(msg, k.Undo):
		last := len(m.undone) - 1
		m.draft, m.undone = m.undone[last], m.undone[:last]
		m.all = m.draft.Questions()
		return m.inReach().keep()
	}
	return m, nil
}

// change takes a move of a bolt.
func (m Model) change(next draft.Draft, no *draft.Refusal) (Model, tea.Cmd) {
	if no != nil {
		return m.refuse(no.What, no.Remedy), nil
	}
	m.undone = append(slices.Clone(m.undone), m.draft)
	m.draft = next
	m.all = m.draft.Questions()
	return m.keep()
}

func (m Model) pressPick(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	k := m.pickKeys()
	switch {
	case key.Matches(msg, k.Done):
		m.face = onQuestion
	case key.Matches(msg, k.Left):
		m.hand = m.toward(-1, 0)
	case key.Matches(msg, k.Right):
		m.hand = m.toward(1, 0)
	case key.Matches(msg, k.Up):
		m.hand = m.toward(0, 1)
	case key.Matches(msg, k.Down):
		m.hand = m.toward(0, -1)
	case key.Matches(msg, k.Next):
		return m.reach(1), nil
	case key.Matches(msg, k.Before):
		return m.reach(-1), nil
	case key.Matches(msg, k.Unpick):
		m.picked = m.picked[:len(m.picked)-1]
	case key.Matches(msg, k.Pick):
		return m.pick()
	}
	return m, nil
}

// pick takes the bolt in hand as the next; the last answers the question.
func (m Model) pick() (tea.Model, tea.Cmd) {
	if slices.Contains(m.picked, m.hand) {
		return m.refuse(m.hand+" is picked already", "choose another with the arrows, or take the last back"), nil
	}
	m.picked = append(slices.Clone(m.picked), m.hand)
	own := m.bolts()
	if len(m.picked) < len(own) {
		for slices.Contains(m.picked, m.hand) {
			m = m.reach(1)
		}
		return m, nil
	}
	m.field = m.field.With(strings.Join(m.picked, " "))
	m.face, m.typed = onQuestion, true
	return m.answer()
}

// toward is the nearest bolt in a direction, straight ahead counting for nearer.
func (m Model) toward(dx, dy float64) string {
	own := m.bolts()
	i := slices.IndexFunc(own, func(b draft.Bolt) bool { return b.ID == m.hand })
	if i < 0 {
		return m.hand
	}
	best, nearest := m.hand, math.Inf(1)
	for _, b := range own {
		x, y := b.X-own[i].X, b.Y-own[i].Y
		ahead, aside := x*dx+y*dy, math.Abs(x*dy)+math.Abs(y*dx)
		if d := ahead + 2*aside; ahead > 0 && ahead >= aside/2 && d < nearest {
			best, nearest = b.ID, d
		}
	}
	return best
}

// inHand says where the bolt in hand is.
func (m Model) inHand() string {
	for _, b := range m.draft.Bolts() {
		if b.ID == m.hand {
			return fmt.Sprintf("%s at %g, %g mm; an arrow moves it %g mm", b.ID, b.X, b.Y, m.step)
		}
	}
	return ""
}
