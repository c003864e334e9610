package stand

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/page"
	"evenpull/ui/speech"
	"evenpull/ui/voice"
	"evenpull/ui/words"
)

// wroteMsg comes back when an event is on disk, or could not be put there.
type wroteMsg struct {
	event   walk.Event
	command walk.Command
	refusal *walk.Refusal // the event keeps a refusal
	err     error
}

// order puts commands to the walk, one after the other.
func (m Model) order(cs ...walk.Command) (Model, tea.Cmd) {
	for _, c := range cs {
		if it := m.facts.item; c.Do == walk.Confirm && m.cfg.FactsOf != nil && it != nil && it.Kind == walk.StageItem {
			c = c.With(m.cfg.FactsOf(it.Stage))
		}
		if c.Do == walk.Change && m.cfg.FactsOf != nil && m.facts.over != nil && m.facts.over.Pull != nil {
			c.Facts = m.cfg.FactsOf(m.facts.over.Pull)
		}
		if m.cfg.Paper {
			c = walk.OnPaper(c)
		}
		m.queue = append(m.queue[:len(m.queue):len(m.queue)], c)
	}
	return m.decideNext()
}

// decideNext decides the first command of the queue and sends its event off.
func (m Model) decideNext() (Model, tea.Cmd) {
	if m.busy || len(m.queue) == 0 {
		return m, nil
	}
	c := m.queue[0]
	e, refusal := walk.Decide(m.cfg.State, c, m.now)
	if e == nil {
		m.queue = nil
		return m.refused(c, refusal), nil
	}
	m.queue = m.queue[1:]
	m.busy = true
	write, event := m.cfg.Append, *e
	return m, func() tea.Msg {
		return wroteMsg{event: event, command: c, refusal: refusal, err: write(event)}
	}
}

// wrote moves the state on, if the event is on disk, and only then.
func (m Model) wrote(w wroteMsg) (Model, tea.Cmd) {
	m.busy = false
	if w.err != nil {
		again := append([]walk.Command{w.command}, m.queue...)
		m.queue, m.held = nil, nil
		m.hearRefused("not saved: " + w.err.Error() + "; nothing has moved on")
		return m.lay(m.notSaved(again, w.err)), nil
	}
	before, over := m.facts.item, m.facts.over
	m.cfg.State.Apply(w.event)
	m.gather()
	if w.refusal != nil {
		m.queue = nil
		m = m.refused(w.command, w.refusal)
	} else {
		m = m.accepted(w.command, before, over)
		if len(m.queue) == 0 {
			m.hearRecorded(w.event)
		}
	}
	next, cmd := m.decideNext()
	if cmd != nil {
		return next, cmd
	}
	return next.release()
}

// release gives out the keys that were held back, as far as they go.
func (m Model) release() (Model, tea.Cmd) {
	for len(m.held) > 0 && !m.busy {
		k := m.held[0]
		m.held = m.held[1:]
		var cmd tea.Cmd
		if m, cmd = m.give(k, false); cmd != nil {
			return m, cmd
		}
	}
	return m, nil
}

// refused shows why; an unearned done shows everything that is outstanding.
func (m Model) refused(c walk.Command, r *walk.Refusal) Model {
	m.hear(voice.Refused, speech.Refusal(r))
	if c.Do == walk.FinishUp && len(r.Outstanding) > 0 {
		return m.lay(page.Rows(fmt.Sprintf("Not done: %d outstanding", len(r.Outstanding)), outstanding(r.Outstanding)))
	}
	if r.Yes != nil {
		return m.lay(askYesNo(r))
	}
	m.dismiss, m.say = true, message{refuse, printable(m.refusalText(r))}
	return m
}

// accepted says what was recorded and takes down what has served.
func (m Model) accepted(c walk.Command, it *walk.Item, over *walk.Changeover) Model {
	m.say, m.dismiss = message{inform, m.acceptedText(c, it, over)}, false
	if c.Do == walk.Confirm || c.Do == walk.Measure || c.Do == walk.Yes {
		m.confirmed = m.now
	}
	return m.refresh()
}

func (m Model) acceptedText(c walk.Command, it *walk.Item, over *walk.Changeover) string {
	switch c.Do {
	case walk.Change:
		return changedText(over)
	case walk.Confirm, walk.Measure, walk.Yes, walk.No:
		if found := words.FoundAt(m.cfg.State, it); found != "" {
			return "a finding: " + found + "; the close-up will ask"
		}
		if c.Do == walk.No {
			return "noted as no; put it right, then answer yes"
		}
		if it == nil {
			return ""
		}
		text := "confirmed: " + it.Text()
		if c.Reading != "" {
			text += ", read " + c.Reading
		}
		if late := m.cfg.State.Late(); late != "" {
			text = "ATTENTION: " + late + "; that is kept: " + it.Text()
		}
		return text
	case walk.Settle:
		return words.Answered(m.cfg.State)
	case walk.Later:
		return "asked for at the end"
	case walk.Renew:
		return "new: " + words.NewPiece(m.cfg.State.Events[len(m.cfg.State.Events)-1])
	case walk.Lose:
		return "noted; slacken it, then it starts again from its first stage"
	case walk.Problem:
		return "noted; it starts again from its first stage"
	case walk.Repair:
		return "noted; the thread is good again"
	case walk.Note:
		return "note kept"
	case walk.Picture:
		return "kept: " + words.Kept(m.cfg.State)
	case walk.Find:
		return words.Found(m.cfg.State, c)
	case walk.Refit, walk.Account, walk.Clean:
		return "noted: " + c.Target
	case walk.Undo:
		return "taken back; the record keeps both"
	case walk.Reseal:
		return "noted; seal it afresh and start again from the smear"
	}
	return ""
}
