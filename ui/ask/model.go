// Package ask is the screen, and the lines of text, on which a sheet is written
// by answering questions. What is asked, in what order, what an answer does and
// what is wrong with it is package draft's to say; here it is shown and typed.
package ask

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/draft"
	"evenpull/ui/field"
	"evenpull/ui/keys"
)

// Config is a sheet to ask about and where its text goes.
type Config struct {
	Draft draft.Draft
	File  string // what the file is called
	Saved []byte // what is in it; nil: it is not there yet
	// Keep puts the answers so far aside, so that they outlast a power cut; Write writes
	// the file. Both may fail.
	Keep   func(text []byte) error
	Write  func(text []byte) error
	Now    func() time.Time
	Notice string  // said at first
	Leave  tea.Cmd // what leaving gives back; nil ends the program
}

// longest answer that can be typed, in characters.
const maxAnswer = 400

// face is who has the keys.
type face int

const (
	onQuestion face = iota
	onMap           // bolts are moved about
	onPick          // bolts are picked one after the other
)

// Model is the screen. Start with New.
type Model struct {
	cfg    Config
	draft  draft.Draft
	all    []draft.Question // of the draft
	at     int              // the one at hand
	field  field.Field
	typed  bool // since the question came up
	face   face
	help   bool
	hand   string        // bolt in hand on the map
	step   float64       // mm that an arrow moves it
	undone []draft.Draft // drafts before each move, to take it back
	picked []string
	say    []string
	wrong  bool
	sure   string // a thing that was asked to be taken out once
	stream keys.Stream

	kept    []byte // last put aside, or under way
	saved   []byte
	keeping bool
	leaving bool

	width, height int
}

// New begins at the first question that has to be answered.
func New(c Config) Model {
	m := Model{cfg: c, draft: c.Draft, field: field.New("", maxAnswer).Focus(), step: usualStep, saved: c.Saved, kept: c.Saved, width: 80, height: 24}
	if c.Notice != "" {
		m.say = []string{c.Notice}
	}
	m.all = m.draft.Questions()
	first := slices.IndexFunc(m.all, draft.Question.Open)
	m = m.to(m.all[max(0, first)].ID)
	return m
}

// Draft is the sheet as answered so far.
func (m Model) Draft() draft.Draft { return m.draft }

// Written reports whether the file holds all answers.
func (m Model) Written() bool { return m.saved != nil && bytes.Equal(m.saved, m.draft.Text()) }

// Init asks for nothing.
func (m Model) Init() tea.Cmd { return nil }

func (m Model) now() draft.Question { return m.all[m.at] }

// to goes to a question: its answer stands in the field, or what is proposed.
func (m Model) to(id string) Model {
	m.all = m.draft.Questions()
	m.at = max(0, slices.IndexFunc(m.all, func(q draft.Question) bool { return q.ID == id }))
	q := m.now()
	text := q.Answer
	switch {
	case q.Kind == draft.Places:
		text = ""
	case text == "":
		text = q.Proposal
	}
	m.field = m.field.With(text)
	m.typed, m.sure = false, ""
	return m
}

// keptMsg says how putting the answers aside went.
type keptMsg struct {
	text []byte
	err  error
}

// writtenMsg says how writing the file went.
type writtenMsg keptMsg

// Update takes sizes, keys and how writing went.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case keptMsg:
		m.keeping = false
		if msg.err != nil {
			m = m.refuse(msg.err.Error())
			m.leaving = false
			return m, nil
		}
		return m.keep()
	case writtenMsg:
		if msg.err != nil {
			return m.refuse(msg.err.Error()), nil
		}
		m.saved = msg.text
		m.kept = msg.text
		m.say, m.wrong = m.afterWriting(), false
	case tea.KeyMsg:
		return m.Pressed(msg, m.cfg.Now())
	}
	return m, nil
}

// keep puts aside what has not been yet; one at a time, so that the last is the last.
func (m Model) keep() (Model, tea.Cmd) {
	text, put := m.draft.Text(), m.cfg.Keep
	switch {
	case m.keeping:
		return m, nil
	case bytes.Equal(text, m.kept) || put == nil:
		if m.leaving {
			return m, m.leave()
		}
		return m, nil
	}
	m.keeping, m.kept = true, text
	return m, func() tea.Msg { return keptMsg{text, put(text)} }
}

func (m Model) leave() tea.Cmd {
	if m.cfg.Leave != nil {
		return m.cfg.Leave
	}
	return tea.Quit
}

func (m Model) write() tea.Cmd {
	text, write := m.draft.Text(), m.cfg.Write
	return func() tea.Msg { return writtenMsg{text, write(text)} }
}

// afterWriting says what is in the file now.
func (m Model) afterWriting() []string {
	say := []string{m.cfg.File + " is written"}
	if left := m.left(); left > 0 {
		return append(say, fmt.Sprintf("%s it can be walked; they are marked in the list", plural(left, "answer is wanted before", "answers are wanted before")))
	}
	return append(say, "it checks clean of errors; "+keys.That(m.keys().Back, "leaves"))
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}

// left counts the questions that keep the sheet from being walked.
func (m Model) left() int {
	n := 0
	for _, q := range m.all {
		if q.Open() {
			n++
		}
	}
	return n
}

func (m Model) refuse(lines ...string) Model {
	m.say, m.wrong = lines, true
	return m
}

// Pressed takes a key that was pressed at a time, which may be long before its turn.
func (m Model) Pressed(msg tea.KeyMsg, at time.Time) (tea.Model, tea.Cmd) {
	var together bool
	m.stream, together = m.stream.Arrive(at)
	k := m.keys()
	if m.help && !key.Matches(msg, k.Suspend) {
		m.help = false // any key goes back
		return m, nil
	}
	m.say, m.wrong = nil, false
	switch {
	case key.Matches(msg, k.Suspend):
		return m, tea.Suspend
	case key.Matches(msg, k.Quit):
		m.leaving = true
		return m.keep()
	case key.Matches(msg, k.Write):
		return m.writeNow()
	case key.Matches(msg, k.Help):
		m.help = true
		return m, nil
	case m.face == onMap:
		return m.pressMap(msg)
	case m.face == onPick:
		return m.pressPick(msg)
	case together && msg.Type == tea.KeyEnter:
		m.say = []string{keys.That(k.Answer, "once more, if that is right")} // a paste or a tool answers nothing
		return m, nil
	}
	return m.pressQuestion(msg, k)
}

// writeNow takes what is typed and writes the file.
func (m Model) writeNow() (tea.Model, tea.Cmd) {
	m, ok := m.commit()
	if !ok {
		return m, nil
	}
	return m, m.write()
}

// commit takes what has been typed, if anything has, and stays where it is.
func (m Model) commit() (Model, bool) {
	if !m.typed || m.face != onQuestion {
		return m, true
	}
	id := m.now().ID
	next, _, no := m.draft.Answer(id, m.field.Value())
	if no != nil {
		return m.refuse(no.What, no.Remedy), false
	}
	m.draft = next
	return m.to(id), true
}

func (m Model) pressQuestion(msg tea.KeyMsg, k keymap) (tea.Model, tea.Cmd) {
	switch q := m.now(); {
	case key.Matches(msg, k.Back) && m.typed:
		return m.to(q.ID), nil
	case key.Matches(msg, k.Back):
		m.leaving = true
		return m.keep()
	case key.Matches(msg, k.Answer):
		return m.answer()
	case key.Matches(msg, k.TakeOut):
		return m.takeOut()
	case key.Matches(msg, k.Next), key.Matches(msg, k.Before):
		return m.cycle(key.Matches(msg, k.Next)), nil
	case key.Matches(msg, k.Map) && q.Kind == draft.Places:
		return m.toMap(), nil
	case key.Matches(msg, k.Map):
		return m.toPick(), nil
	case key.Matches(msg, k.Up), key.Matches(msg, k.Down), key.Matches(msg, k.SectionUp), key.Matches(msg, k.SectionDown):
		return m.move(msg, k)
	case (len(q.Choices) > 0 || q.Answer == "") && !m.typed && msg.Type == tea.KeyRunes:
		m.field = m.field.With("") // a letter begins another answer than one of those offered
	}
	before := m.field.Value()
	m.field = m.field.Key(msg)
	m.typed = m.typed || m.field.Value() != before
	return m, nil
}

// answer sends off what stands in the field.
func (m Model) answer() (tea.Model, tea.Cmd) {
	q, text := m.now(), strings.TrimSpace(m.field.Value())
	if q.Kind == draft.Save {
		return m, m.write()
	}
	if text == "" && q.Answer == "" {
		text = q.Proposal
	}
	next, then, no := m.draft.Answer(q.ID, text)
	if no != nil {
		return m.refuse(no.What, no.Remedy), nil
	}
	m.draft = next
	m = m.to(then)
	return m.keep()
}

// cycle puts the next choice into the field.
func (m Model) cycle(on bool) Model {
	q := m.now()
	i := slices.Index(q.Choices, m.field.Value())
	switch n := len(q.Choices); {
	case on:
		i = (i + 1) % n
	case i <= 0:
		i = n - 1
	default:
		i--
	}
	m.field = m.field.With(q.Choices[i])
	m.typed = q.Choices[i] != q.Answer
	return m
}

// move goes up and down the list; what is typed is taken first.
func (m Model) move(msg tea.KeyMsg, k keymap) (tea.Model, tea.Cmd) {
	m, ok := m.commit()
	if !ok {
		return m, nil
	}
	at := m.at
	switch {
	case key.Matches(msg, k.Up):
		at--
	case key.Matches(msg, k.Down):
		at++
	default:
		at = m.section(key.Matches(msg, k.SectionDown))
	}
	m = m.to(m.all[max(0, min(at, len(m.all)-1))].ID)
	return m.keep()
}

// section is where the next section begins, or this one or the one before it.
func (m Model) section(down bool) int {
	starts := func(i int) bool { return i == 0 || m.all[i].Section != m.all[i-1].Section }
	if down {
		for i := m.at + 1; i < len(m.all); i++ {
			if starts(i) {
				return i
			}
		}
		return len(m.all) - 1
	}
	for i := m.at - 1; i > 0; i-- {
		if starts(i) {
			return i
		}
	}
	return 0
}

// takeOut takes the thing at hand out of the sheet, asked for twice.
func (m Model) takeOut() (tea.Model, tea.Cmd) {
	q := m.now()
	if m.sure != q.Thing {
		m.sure = q.Thing
		m.say = []string{keys.That(m.keys().TakeOut, "once more takes it out: ") + q.Section}
		return m, nil
	}
	next, then, no := m.draft.TakeOut(q.Thing)
	if no != nil {
		return m.refuse(no.What, no.Remedy), nil
	}
	m.draft = next
	m = m.to(then)
	m.say = []string{q.Section + " is out of the sheet"}
	return m.keep()
}
