// Package stand is the screen at the engine stand: one fastener, one figure,
// one key. It is a Bubble Tea model around a walk.
//
// What lies over the walk and has its keys, be it a text field or the converter,
// is an overlay; the stand knows nothing of it but that contract.
//
// A key becomes a command of the walk, the walk decides what event that is, a
// tea.Cmd writes the event durably, and only when the answer is back does the
// state, and with it the screen, move on. While a write is under way no key
// can confirm anything. View only reads.
package stand

import (
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/plan"
	"evenpull/procedures/session"
	"evenpull/procedures/walk"
	"evenpull/ui/estimate"
	"evenpull/ui/gauge"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/voice"
	"evenpull/ui/words"
)

// Config is what a stand screen is made from.
type Config struct {
	State    *walk.State
	Append   func(walk.Event) error // returns once the event is on disk
	Now      func() time.Time
	RecordID string
	Engine   string       // the tag the person gave the engine
	Heed     []string     // has to be read first: a page of its own before the figure
	Return   *walk.Return // where the walk was left, when it is opened again: on that page
	Notices  []string     // what there is to say: the first until the first key, all on the page of what is outstanding
	Back     string       // the command line that comes back to this walk
	ReadOnly string       // who holds the record; empty: this screen may write

	Wrench func(*plan.Stage) string        // optional: a line of advice on the wrench for a stage
	Scale  func(*plan.Stage) words.Setting // optional: what an adapter makes of its figure
	Paper  bool                            // what is confirmed was ticked on a work card
	// FactsOf is optional: kept with the confirmation of a stage, and of a wrench set for it.
	FactsOf func(*plan.Stage) map[string]string
	// Look is optional: it reads a picture and gives what an event keeps of it.
	Look   func(path string) (map[string]string, error)
	Bench  estimate.Bench      // optional: the drawer, for the page of estimates
	Memory words.Memory        // optional: what the engine remembers from last time
	Ear    voice.Ear           // optional: what it is heard by
	Gauge  gauge.Gauge         // optional: what a gauge sends that types like a keyboard
	Follow func() session.News // optional: what has come to the walk of somebody else, who alone writes it
	Watch  bool                // it is only watched: nothing but leaving has a key
	Leave  tea.Cmd             // what leaving gives back; nil: tea.Quit
}

// Model is the screen. Start with New.
type Model struct {
	cfg    Config
	facts  facts
	width  int
	height int
	now    time.Time // of the last message: what clocks on screen show

	over  []overlay.Model // what lies over the walk; the last has the keys
	say   message
	guard keys.Guard
	typed bool // the last key went into a text field

	stream    keys.Stream
	together  bool      // the key in hand arrived together with the one before
	arrived   time.Time // when it did
	deaf      bool      // the rest of what arrives together is dropped
	confirmed time.Time // when something was last recorded as confirmed
	dismiss   bool      // the next confirming key only dismisses what was shown

	queue     []walk.Command // still to be decided
	busy      bool           // a write is under way
	held      []tea.KeyMsg   // keys pressed meanwhile
	ticking   bool
	gauge     gauge.Gauge
	writer    seen      // whoever walks a walk that is followed
	illegible string    // why its record cannot be read on
	clocks    time.Time // up to when they have been heard
	left      bool
	screen    string // what View shows: drawn at the end of Update
	memo      *memo
	every     func(time.Duration, func(time.Time) tea.Msg) tea.Cmd // tea.Tick
}

// tone is how a message is meant.
type tone int

const (
	inform tone = iota // it was recorded
	aside              // a word on the side; nothing was recorded
	refuse
)

type message struct {
	tone tone
	text string
}

// New makes the screen for a walk. Nothing is written until a key asks for it.
func New(cfg Config) Model {
	m := Model{cfg: clean(cfg), now: cfg.Now(), every: tea.Tick, memo: newMemo()}
	if m.cfg.ReadOnly == "" && m.cfg.Append == nil {
		m.cfg.ReadOnly = "nothing can be written here"
	}
	m, _ = m.pressed(m.now) // the Enter that opened this screen may bounce
	switch {
	case len(m.cfg.Notices) > 0:
		m.say = message{aside, m.cfg.Notices[0]}
	case m.cfg.ReadOnly != "":
		m.say = m.readOnly()
	}
	m.gather()
	m.clocks, m.gauge = m.now, m.cfg.Gauge
	if p, something := m.openingPage(); something {
		m = m.lay(p)
	}
	return m
}

// readOnly says who holds the record.
func (m Model) readOnly() message { return message{aside, "read only: " + m.cfg.ReadOnly} }

// Init starts the clock on screen, if one is running, and says what is in hand.
func (m Model) Init() tea.Cmd {
	m.hearOpening()
	return tea.Batch(func() tea.Msg { return tickMsg{} }, m.awaitTrouble(), m.look())
}

// Going reports whether the person has left the screen.
func (m Model) Going() bool { return m.left }

// Kept takes a key that was pressed before the screen was shown. It answers nothing
// that is on the screen, and is kept only where it confirms nothing.
func (m Model) Kept(k tea.KeyMsg) (tea.Model, tea.Cmd) { return m.Update(keptMsg(k)) }

// Pressed takes a key that was pressed at a time, which may be long before its turn.
func (m Model) Pressed(k tea.KeyMsg, at time.Time) (tea.Model, tea.Cmd) {
	return m.Update(pressedMsg{k, at})
}

type (
	keptMsg    tea.KeyMsg
	pressedMsg struct {
		key tea.KeyMsg
		at  time.Time
	}
)

// Phase says how the walk stands: open, done or stopped.
func (m Model) Phase() walk.Phase { return m.cfg.State.Phase }

// Back is the command line that comes back to this walk.
func (m Model) Back() string { return m.cfg.Back }

// tickMsg comes once a second while a clock is on screen.
type tickMsg struct{}

func (m Model) tick() tea.Cmd {
	return m.every(time.Second, func(time.Time) tea.Msg { return tickMsg{} })
}

// clockRuns reports whether something on screen counts down.
func (m Model) clockRuns() bool {
	if m.cfg.State.Phase != walk.IsOpen {
		return false
	}
	if it := m.facts.item; it != nil && it.Kind == walk.WaitItem {
		return true
	}
	return m.clocked()
}

// Update takes one message.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m.now = m.cfg.Now()
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height, m.screen = msg.Width, msg.Height, ""
	case tickMsg:
		m.ticking = false
		m = m.hearClocks()
	case lookMsg:
		cmd = m.look()
	case newsMsg:
		m, cmd = m.news(msg)
	case troubleMsg:
		m = m.troubled(string(msg))
	case wroteMsg:
		m, cmd = m.wrote(msg)
	case tea.KeyMsg:
		m, cmd = m.key(msg, m.now)
	case pressedMsg:
		m, cmd = m.key(msg.key, msg.at)
	case keptMsg:
		m.held = append(slices.Clip(m.held), tea.KeyMsg(msg))
		m, cmd = m.release()
	}
	m, cmd = m.keepTicking(cmd)
	if m.busy && m.screen != "" {
		m.screen = m.drawBusy()
	} else {
		m.screen = m.draw()
	}
	return m, cmd
}

// View shows what Update drew. It changes nothing.
func (m Model) View() string { return m.screen }

// keepTicking sees to it that exactly one tick is under way while a clock runs.
func (m Model) keepTicking(cmd tea.Cmd) (Model, tea.Cmd) {
	if m.ticking || !m.clockRuns() {
		return m, cmd
	}
	m.ticking = true
	return m, tea.Batch(cmd, m.tick())
}
