package stand

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/record"
	"evenpull/procedures/session"
	"evenpull/procedures/walk"
	"evenpull/ui/speech"
	"evenpull/ui/voice"
)

// A walk that somebody else has is shown as it goes on: what has come to its record is
// folded into the state here as it was there.

// lookEvery is how often it is looked at: between a press there and the figure here no
// more than anybody notices across an engine.
const lookEvery = 200 * time.Millisecond

type (
	lookMsg struct{}
	newsMsg session.News
)

// look reads the record, away from the keys.
func (m Model) look() tea.Cmd {
	follow := m.cfg.Follow
	if follow == nil {
		return nil
	}
	return func() tea.Msg { return newsMsg(follow()) }
}

// seen is what is known of whoever walks.
type seen int

const (
	unseen seen = iota // not looked yet
	atIt
	gone
)

// news takes what has come, and looks again in a while.
func (m Model) news(n newsMsg) (Model, tea.Cmd) {
	m = m.follow(n.Events)
	if m.cfg.State.Phase != walk.IsOpen {
		return m, nil // nothing comes after its end
	}
	m = m.presence(n.Holder).legible(n.Err)
	return m, m.every(lookEvery, func(time.Time) tea.Msg { return lookMsg{} })
}

// follow folds events, and says of the last what whoever walks is told.
func (m Model) follow(events []walk.Event) Model {
	if len(events) == 0 {
		return m
	}
	s := m.cfg.State
	last := events[len(events)-1]
	walk.Replay(s, events[:len(events)-1])
	over, needed := s.Changeover()
	if !needed {
		over = walk.Changeover{Wrench: true}
	}
	unearned := walk.Replay(s, []walk.Event{last})
	if _, edited := s.Sheet(); edited {
		m.memo.places = nil // there may be other bolts, or elsewhere
	}
	m.gather()
	if m.say = m.told(last, &over); len(unearned) > 0 {
		m.say = message{refuse, printable(unearned[0].Refusal.What)}
	}
	rings := voice.Recorded
	if m.say.tone == refuse {
		rings = voice.Refused
	}
	m.hear(rings, speech.Event(s, last), m.step())
	return m
}

// verbs are the commands that events come of.
var verbs = map[walk.Kind]walk.Verb{
	walk.Confirmed: walk.Confirm, walk.Measured: walk.Measure, walk.Answered: walk.Yes, walk.Renewed: walk.Renew, walk.Repaired: walk.Repair, walk.Undone: walk.Undo,
	walk.Lost: walk.Lose, walk.Trouble: walk.Problem, walk.Resealed: walk.Reseal, walk.Found: walk.Find, walk.Refitted: walk.Refit, walk.Accounted: walk.Account,
	walk.Cleaned: walk.Clean, walk.Settled: walk.Settle, walk.PutOff: walk.Later, walk.Changed: walk.Change, walk.Noted: walk.Note, walk.Pictured: walk.Picture,
}

// told is what the screen says of an event that is on record.
func (m Model) told(e walk.Event, over *walk.Changeover) message {
	switch e.Kind {
	case walk.Rejected:
		return message{refuse, printable(e.Text)}
	case walk.Refused:
		return message{refuse, fmt.Sprintf("not done: %d outstanding", len(e.Outstanding))}
	case walk.Resumed:
		return message{aside, "somebody walks it again"}
	case walk.Resheeted:
		return message{aside, "the sheet was edited: " + printable(e.Text)}
	}
	var it *walk.Item
	if i, known := m.cfg.State.Find(e.Item); known {
		it = &m.cfg.State.Items[i]
	}
	c := walk.Command{Do: verbs[e.Kind], Target: m.cfg.State.ThingOf(e).ID, Piece: e.Piece, Reading: e.Reading, Text: e.Text, Facts: e.Facts}
	if e.Kind == walk.Answered && e.Answer == "no" {
		c.Do = walk.No
	}
	return message{inform, printable(m.acceptedText(c, it, over))}
}

// presence says when nobody has the walk any more, and when somebody has it again.
func (m Model) presence(h *record.Holder) Model {
	was := m.writer
	m.writer = gone
	if h != nil {
		m.writer = atIt
		m.cfg.ReadOnly = printable(h.String())
	} else {
		m.cfg.ReadOnly = "nobody has it open now"
	}
	switch {
	case m.writer == gone && was != gone:
		m.say = message{aside, "left open: nobody walks it now; it goes on here as soon as somebody does"}
		if !m.cfg.Watch {
			m.say.text = "left open: nobody walks it now; leave and come back to go on with it"
		}
		m.hear(0, speech.Problem("nobody walks it now"))
	case m.writer == atIt && was == gone && m.say.tone == aside:
		m.say = message{aside, "somebody walks it again"}
	}
	return m
}

// legible says when the record cannot be read on, and when it can again.
func (m Model) legible(err error) Model {
	switch text := ""; {
	case err != nil:
		if text = printable(err.Error()); text != m.illegible {
			m.illegible = text
			m.hear(0, speech.Problem("the record cannot be read on"))
		}
		m.say = message{refuse, text}
	case m.illegible != "":
		m.illegible, m.say = "", message{aside, "the record can be read again"}
	}
	return m
}

// watchKey leaves on a key that leaves; nothing else has a key.
func (m Model) watchKey(k tea.KeyMsg) (Model, tea.Cmd) {
	if key.Matches(k, m.keymapOf().Leave) {
		return m.leave()
	}
	return m, nil
}

// watching is the word in the corner for whoever looks on.
func (m Model) watching() string {
	switch {
	case !m.cfg.Watch:
		return "READ ONLY"
	case m.writer == gone:
		return "LEFT"
	}
	return "WATCHING"
}
