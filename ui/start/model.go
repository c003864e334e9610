// Package start is the first screen: walks left open, procedures, the
// converter and the records. It is given lists and gives back a Choice, which
// Config.Go carries out. It opens no files itself: what has to be read anew is
// read by Config.Reload, inside a command.
package start

import (
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/session"
	"evenpull/ui/field"
	"evenpull/ui/keys"
	"evenpull/ui/scroll"
)

// Lists is what there is to choose from, each in the order to show it: open
// walks last touched first, records newest first.
type Lists struct {
	Open       []Walk
	Procedures []Procedure
	Engines    []Engine
	Records    []Record
}

// Engine is one there are records of.
type Engine struct {
	Tag, Name string
	Headline  string // what was last done and what comes next
}

// Walk is one left open.
type Walk struct {
	ID, Procedure, Engine string
	Ref                   string // of the one of Procedures that goes on with it when it is asked for on Engine; or none
	Next                  string // what it asks for now
	Confirmed, Of         int
	Last                  time.Time // last touched
	HeldBy                string    // who has it open elsewhere, if anybody
}

// Procedure is one that can be walked. One with a Problem is shown and can't be.
type Procedure struct {
	Ref       string // bundled name or file: what to walk
	Command   string // the command line that walks it
	Name      string
	Engine    string // what it is written for
	Direction string
	Stages    int
	Parts     int    // kinds of part that come off or go on
	Own       bool   // the user's, not bundled
	Problem   string // why it cannot be walked
}

// Record is a walk that is over, or a file that cannot be read as one.
type Record struct {
	ID, Procedure, Engine, State string
	Started, Last                time.Time
	Problem                      string
}

// Config is what the screen shows.
type Config struct {
	Lists  Lists
	Reload func() (Lists, error) // reads the lists anew; nil: the key for it is off
	Now    func() time.Time
	Go     func(Choice) tea.Cmd // carries a choice out; nil ends the program
}

// FailedMsg, as what comes of Config.Go, says why a choice could not be carried out.
type FailedMsg struct {
	Choice Choice
	Err    error
}

// Action is what was chosen.
type Action string

const (
	Leave   Action = ""        // nothing: go
	Resume  Action = "resume"  // the open walk ID
	Begin   Action = "walk"    // Ref on Engine
	Review  Action = "review"  // the record ID
	Convert Action = "convert" // the converter
	Stands  Action = "engine"  // the page of Engine
	Ready   Action = "ready"   // what to have ready for Ref
	Write   Action = "write"   // the sheet Ref of the person's own, by asking
)

// Choice is what to run next.
type Choice struct {
	Do     Action
	ID     string // Resume, Review
	Ref    string // Begin, Ready, Write
	Engine string // Begin, Stands: the tag
	Fresh  bool   // Begin: a new walk, whatever is open
	// Despite is why Begin or Resume can go on without what damaged records may have held.
	Despite string
	Edited  bool   // Resume: by its sheet as it was edited since
	Because string // Resume: why it was edited
	Shown   string // Resume: what that makes of the walk, as the person read it
}

// Model is the start screen. Start with New.
type Model struct {
	cfg    Config
	lists  Lists
	items  []item      // every row; headings among them
	shown  []int       // indexes of items that match the search
	list   scroll.List // in shown
	find   field.Field
	tag    field.Field
	reason field.Field
	sheet  field.Field
	stream keys.Stream
	face   face
	asking asking    // what onReason asks for
	asked  Procedure // whose engine is asked for
	help   bool
	say    string // refusal or news, gone with the next key
	wrong  bool   // say is a refusal
	now    time.Time
	choice Choice
	going  bool // the choice is being carried out
	walked bool // a walk was left since the lists were read
	width  int
	height int
}

// face is who has the keys.
type face int

const (
	onList face = iota
	onFind
	onTag
	onReason
	onSheet
)

// New starts at the newest open walk, or else at the first procedure.
func New(c Config) Model {
	if c.Now == nil {
		c.Now = time.Now
	}
	m := Model{cfg: c, lists: c.Lists, now: c.Now(), width: 80, height: 24, find: field.New("any words of a row", 40), tag: field.New("a number on masking tape is fine", session.MaxTag), sheet: field.New("gearbox-close", maxSheet)}
	m.layOut()
	return m
}

// Choice is what was chosen last.
func (m Model) Choice() Choice { return m.choice }

// Going reports whether a choice is being carried out.
func (m Model) Going() bool { return m.going }

// Init asks for nothing.
func (m Model) Init() tea.Cmd { return nil }

// reloadedMsg brings the lists read anew.
type reloadedMsg struct {
	lists Lists
	err   error
}

// Update takes sizes, keys and lists read anew.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m, cmd := m.update(msg)
	m.hold()
	return m, cmd
}

func (m Model) update(msg tea.Msg) (Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case reloadedMsg:
		return m.reloaded(msg), nil
	case FailedMsg:
		return m.failed(msg), nil
	case tea.ResumeMsg: // an hour may have passed
		if m.going { // back from what was chosen
			m.going, m.face, m.walked = false, onList, m.choice.Do == Begin || m.choice.Do == Resume
		}
		return m, m.reload()
	case tea.KeyMsg:
		return m.press(msg, m.cfg.Now())
	}
	return m, nil
}

// Pressed takes a key that was pressed at a time, which may be long before its turn.
func (m Model) Pressed(k tea.KeyMsg, at time.Time) (tea.Model, tea.Cmd) {
	m, cmd := m.press(k, at)
	m.hold()
	return m, cmd
}

func (m Model) press(k tea.KeyMsg, at time.Time) (Model, tea.Cmd) {
	m.say, m.wrong = "", false
	var together bool
	m.stream, together = m.stream.Arrive(at)
	enter := k.Type == tea.KeyEnter || k.Type == tea.KeySpace && m.face == onList
	if enter && together || m.face == onList && keys.Several(k) {
		return m, nil // a tool or a paste chooses nothing
	}
	switch m.face {
	case onTag:
		return m.pressTag(k)
	case onReason:
		return m.pressReason(k)
	case onFind:
		return m.pressFind(k)
	case onSheet:
		return m.pressSheet(k)
	}
	return m.pressList(k)
}

func (m Model) reloaded(msg reloadedMsg) Model {
	m.now = m.cfg.Now()
	if msg.err != nil {
		m.say, m.wrong = clean(msg.err.Error()), true
		return m
	}
	m.lists = msg.lists
	m.layOut()
	if m.walked {
		m.walked, m.list.At = false, 0 // the walk that was left is the first, if it is open
		m.step(0)
	}
	return m
}

func (m Model) reload() tea.Cmd {
	read := m.cfg.Reload
	if read == nil {
		return nil
	}
	return func() tea.Msg {
		lists, err := read()
		return reloadedMsg{lists, err}
	}
}

func (m Model) pressList(msg tea.KeyMsg) (Model, tea.Cmd) {
	k := m.keys()
	if m.help && !key.Matches(msg, k.Suspend) {
		m.help = false // any key goes back
		return m, nil
	}
	switch {
	case key.Matches(msg, k.Leave):
		return m.leaveWith(Choice{})
	case key.Matches(msg, k.Suspend):
		return m, tea.Suspend
	case key.Matches(msg, k.Help):
		m.help = true
	case key.Matches(msg, k.Convert):
		return m.leaveWith(Choice{Do: Convert})
	case key.Matches(msg, k.Write):
		return m.nameSheet(), nil
	case key.Matches(msg, k.Reload):
		return m, m.reload()
	case key.Matches(msg, k.Find):
		m.face = onFind
		m.find = m.find.Focus()
	case key.Matches(msg, k.Choose):
		return m.choose()
	case key.Matches(msg, k.Ready):
		return m.leaveWith(Choice{Do: Ready, Ref: m.current().procedure.Ref})
	case key.Matches(msg, k.Change):
		return m.change(m.current())
	case key.Matches(msg, k.Section):
		m.nextSection()
	default:
		m.moves(msg, scroll.Rows())
	}
	return m, nil
}

func (m Model) leaveWith(c Choice) (Model, tea.Cmd) {
	m.choice, m.going = c, true
	if m.cfg.Go == nil {
		return m, tea.Quit
	}
	return m, m.cfg.Go(c)
}

// moves takes the keys that move the hand, and reports whether this is one of them.
func (m *Model) moves(msg tea.KeyMsg, k scroll.Keys) bool {
	to, moved := m.list.Key(k, msg, len(m.shown), m.listHeight())
	if moved {
		m.step(to.At - m.list.At)
	}
	return moved
}

// choose does what the row at hand offers.
func (m Model) choose() (Model, tea.Cmd) {
	it := m.current()
	switch {
	case it == nil:
		return m, nil
	case it.problem != "":
		m.say, m.wrong = it.problem, true
		return m, nil
	case it.kind == procedureRow:
		m.face, m.asked = onTag, it.procedure
		m.tag = m.tag.With("").Focus()
		return m, nil
	case it.choice.Do == Write:
		return m.nameSheet(), nil
	}
	return m.leaveWith(it.choice)
}

// change opens a sheet of one's own to be changed, or goes on with a walk by its sheet as
// it was changed.
func (m Model) change(it *item) (Model, tea.Cmd) {
	if it.kind == openRow {
		return m.leaveWith(Choice{Do: Resume, ID: it.choice.ID, Edited: true})
	}
	return m.leaveWith(Choice{Do: Write, Ref: it.procedure.Ref})
}

// nameSheet asks what a new sheet is to be called.
func (m Model) nameSheet() Model {
	m.face = onSheet
	m.sheet = m.sheet.With("").Focus()
	return m
}

func (m Model) pressFind(msg tea.KeyMsg) (Model, tea.Cmd) {
	k := m.findKeys()
	switch {
	case key.Matches(msg, k.Suspend):
		return m, tea.Suspend
	case key.Matches(msg, k.Quit):
		return m.leaveWith(Choice{})
	case key.Matches(msg, k.Back):
		m.find = m.find.With("").Blur()
		m.face = onList
	case key.Matches(msg, k.Keep):
		m.face = onList
		m.find = m.find.Blur()
		return m, nil
	case m.moves(msg, scroll.Typing()):
		return m, nil
	default:
		m.find = m.find.Key(msg)
	}
	m.search()
	return m, nil
}
