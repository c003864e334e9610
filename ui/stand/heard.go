package stand

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/speech"
	"evenpull/ui/voice"
)

// What is shown is also heard: nothing here waits for it, and nothing changes by it.

// step is what is in hand, as it is said.
func (m Model) step() string {
	if m.cfg.Ear.Deaf() {
		return ""
	}
	if m.changing() {
		return speech.Change(m.cfg.State, m.facts.scale)
	}
	return speech.Step(m.cfg.State, m.facts.scale, m.facts.where, m.now)
}

// hear rings and says sentences, the empty ones left out.
func (m Model) hear(rings int, sentences ...string) {
	m.cfg.Ear.Hear(rings, strings.TrimSpace(strings.Join(sentences, " ")))
}

// hearRecorded says what was recorded, then what comes.
func (m Model) hearRecorded(e walk.Event) {
	m.hear(voice.Recorded, speech.Event(m.cfg.State, e), m.step())
}

// hearRefused says why something was not taken.
func (m Model) hearRefused(text string) { m.hear(voice.Refused, speech.Problem(text)) }

// hearBack says what is in hand to whoever comes back to it, after a word on the side.
func (m Model) hearBack() {
	switch {
	case m.say.tone == refuse: // said already
	case m.say.text != "":
		m.hear(0, speech.Problem(m.say.text), m.step())
	default:
		m.hear(0, m.step())
	}
}

// hearClocks says what a clock has come to since they were last looked at; of several
// the last. What is in hand is said with it, since that was perhaps cut off.
func (m Model) hearClocks() Model {
	if m.cfg.Ear.Deaf() {
		return m
	}
	var due speech.Warning
	for _, w := range speech.Warnings(m.cfg.State, m.clocks) {
		if !w.At.After(m.now) {
			due = w
		}
	}
	if due.Text != "" {
		m.hear(voice.Clock, due.Text, m.step())
	}
	m.clocks = m.now
	return m
}

// hearOpening says where the walk stands as the screen opens.
func (m Model) hearOpening() {
	if m.cfg.Ear.Deaf() {
		return
	}
	if len(m.over) > 0 {
		m.hear(0, speech.Problem("read the screen first"))
		return
	}
	m.hear(0, speech.Clock(m.cfg.State, m.now), m.step())
}

// troubleMsg is what is wrong with what speaks.
type troubleMsg string

// awaitTrouble waits for it, away from the keys.
func (m Model) awaitTrouble() tea.Cmd {
	trouble := m.cfg.Ear.Trouble
	if trouble == nil {
		return nil
	}
	return func() tea.Msg { return troubleMsg(<-trouble) }
}

// troubled shows it, before what is shown already.
func (m Model) troubled(text string) Model {
	text = printable(text)
	if m.say.text != "" {
		text += "; " + m.say.text
	}
	m.say = message{aside, text}
	return m
}
