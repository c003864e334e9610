package review

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/spec"
	"evenpull/ui/field"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

// Entry is one record of the list.
type Entry struct {
	ID, Engine, Procedure, State string
	Started                      time.Time
	Last                         time.Time // the last event
	Confirmed, Of                int       // stages
	HeldBy                       string    // of an open walk: who has it open, if anybody
	Problem                      string    // of a broken record: what is wrong
}

// ListConfig is what the list shows.
type ListConfig struct {
	Entries []Entry                 // newest first
	Reload  func() ([]Entry, error) // optional: reads them anew
	Look    func(id string) tea.Cmd // looks at a record; nil ends the program
	Leave   tea.Cmd                 // what leaving gives back; nil ends the program
}

// FailedMsg, as what comes of ListConfig.Look, says why a record cannot be looked at:
// a broken one keeps nobody from the others.
type FailedMsg struct{ Err error }

// reloadedMsg brings the records read anew.
type reloadedMsg struct {
	entries []Entry
	err     error
}

// column is what the list is sorted by.
type column int

const (
	byDate column = iota
	byEngine
	byProcedure
	byState
	columnCount
)

var columnNames = [columnCount]string{"date", "engine", "procedure", "state"}

// List is the screen of all records: sorted, filtered, searched. Start with NewList.
type List struct {
	cfg      ListConfig
	entries  []Entry
	shown    []int       // indexes of entries that match, as sorted
	list     scroll.List // in shown
	sort     column
	backward bool
	states   []string // those there are; the filter goes through them
	state    int      // 0: all; else index into states + 1
	find     field.Field
	finding  bool
	help     bool
	chosen   string
	going    bool // to the record chosen, or away
	notice   string
	width    int
	height   int
}

// NewList shows all records, newest first.
func NewList(c ListConfig) List {
	find := field.New("words, or engine:7 procedure:case state:open date:2026-11", 60)
	l := List{cfg: c, find: find, width: 80, height: 24}
	if c.Leave == nil {
		l.cfg.Leave = tea.Quit
	}
	l.take(c.Entries)
	l.hold()
	return l
}

// take lists these records, the one in hand still in hand if it is among them.
func (l *List) take(entries []Entry) {
	hand := l.hand()
	filter := ""
	if l.state > 0 {
		filter = l.states[l.state-1]
	}
	l.entries, l.states = entries, nil
	for _, e := range entries {
		if !slices.Contains(l.states, e.State) {
			l.states = append(l.states, e.State)
		}
	}
	slices.Sort(l.states)
	l.state = slices.Index(l.states, filter) + 1
	l.arrange(hand)
}

// Chosen is the id of the record that was last looked at.
func (l List) Chosen() string { return l.chosen }

// Going reports whether the list leads elsewhere.
func (l List) Going() bool { return l.going }

// Init asks for nothing.
func (l List) Init() tea.Cmd { return nil }

// Update takes sizes and keys.
func (l List) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		l.width, l.height = msg.Width, msg.Height
	case FailedMsg:
		l.going, l.notice = false, clean(msg.Err.Error())
	case tea.ResumeMsg:
		l.going, cmd = false, l.reload()
	case reloadedMsg:
		if l.notice = ""; msg.err != nil {
			l.notice = clean(msg.err.Error())
		} else {
			l.take(msg.entries)
		}
	case tea.KeyMsg:
		l.notice = ""
		if l.finding {
			l, cmd = l.pressFind(msg)
		} else {
			l, cmd = l.press(msg)
		}
	}
	l.hold()
	return l, cmd
}

func (l List) reload() tea.Cmd {
	read := l.cfg.Reload
	if read == nil {
		return nil
	}
	return func() tea.Msg {
		entries, err := read()
		return reloadedMsg{entries, err}
	}
}

// leave leads away from the list.
func (l List) leave() (List, tea.Cmd) {
	l.going = true
	return l, l.cfg.Leave
}

// look leads to the record in hand.
func (l List) look() (List, tea.Cmd) {
	l.chosen, l.going = l.hand(), true
	if l.cfg.Look == nil {
		return l, tea.Quit
	}
	return l, l.cfg.Look(l.chosen)
}

func (l List) press(msg tea.KeyMsg) (List, tea.Cmd) {
	k := l.keys()
	if l.help && !key.Matches(msg, k.Suspend) {
		l.help = false // any key goes back
		return l, nil
	}
	switch {
	case key.Matches(msg, k.Look):
		return l.look()
	case key.Matches(msg, k.Leave):
		return l.leave()
	case key.Matches(msg, k.Suspend):
		return l, tea.Suspend
	case key.Matches(msg, k.Help):
		l.help = true
	case key.Matches(msg, k.Find):
		l.finding = true
		l.find = l.find.Focus()
	case key.Matches(msg, k.Sort):
		l.sort = (l.sort + 1) % columnCount
		l.arrange(l.hand())
	case key.Matches(msg, k.Reverse):
		l.backward = !l.backward
		l.arrange(l.hand())
	case key.Matches(msg, k.State):
		l.state = (l.state + 1) % (len(l.states) + 1)
		l.arrange(l.hand())
	default:
		l.list, _ = l.list.Key(scroll.Rows(), msg, len(l.shown), l.rows())
	}
	return l, nil
}

// pressFind types into the search; the list follows at every key.
func (l List) pressFind(msg tea.KeyMsg) (List, tea.Cmd) {
	k := l.findKeys()
	switch {
	case key.Matches(msg, k.Quit):
		return l.leave()
	case key.Matches(msg, k.Suspend):
		return l, tea.Suspend
	case key.Matches(msg, k.Keep):
		l.finding = false
		l.find = l.find.Blur()
		return l, nil
	case key.Matches(msg, k.Clear):
		l.finding = false
		l.find = l.find.Blur().With("")
	default:
		var moved bool
		if l.list, moved = l.list.Key(scroll.Typing(), msg, len(l.shown), l.rows()); moved {
			return l, nil
		}
		l.find = l.find.Key(msg)
	}
	l.arrange(l.hand())
	return l, nil
}

// hand is the id of the record in hand; empty when there is none.
func (l List) hand() string {
	if l.list.At >= len(l.shown) {
		return ""
	}
	return l.entries[l.shown[l.list.At]].ID
}

// arrange filters and sorts anew, and keeps the record of an id in hand where it can.
func (l *List) arrange(hand string) {
	words := strings.Fields(strings.ToLower(l.find.Value()))
	l.shown = nil
	for i, e := range l.entries {
		if (l.state == 0 || e.State == l.states[l.state-1]) && e.matches(words) {
			l.shown = append(l.shown, i)
		}
	}
	slices.SortStableFunc(l.shown, func(a, b int) int {
		order := l.entries[a].compare(l.entries[b], l.sort)
		if l.backward {
			return -order
		}
		return order
	})
	l.list.At = 0
	for i, n := range l.shown {
		if l.entries[n].ID == hand {
			l.list.At = i
		}
	}
}

// compare sorts dates newest first and everything else from a to z.
func (e Entry) compare(o Entry, by column) int {
	switch by {
	case byEngine:
		return strings.Compare(strings.ToLower(e.Engine), strings.ToLower(o.Engine))
	case byProcedure:
		return strings.Compare(strings.ToLower(e.Procedure), strings.ToLower(o.Procedure))
	case byState:
		return strings.Compare(e.State, o.State)
	}
	return o.Started.Compare(e.Started)
}

// matches reports whether every word is in the record, or in the column it names.
func (e Entry) matches(words []string) bool {
	fields := map[string]string{"engine": e.Engine, "procedure": e.Procedure, "state": e.State, "date": e.Started.Format(time.DateOnly)}
	for _, w := range words {
		name, value, named := strings.Cut(w, ":")
		field, known := fields[name]
		if named && known {
			if !strings.Contains(strings.ToLower(field), value) {
				return false
			}
			continue
		}
		if !strings.Contains(strings.ToLower(strings.Join([]string{e.ID, e.Engine, e.Procedure, e.State, fields["date"]}, "\x00")), w) {
			return false
		}
	}
	return true
}

// hold keeps the row in hand among the rows, and on the screen.
func (l *List) hold() { l.list = l.list.Held(len(l.shown), l.rows()) }

// about says more of the row in hand than its line has room for.
func (e Entry) about() string {
	text := fmt.Sprintf("%s, last touched %s.", clean(e.ID), e.Last.Format("2006-01-02 15:04"))
	if e.HeldBy != "" {
		text += " Open elsewhere now: " + clean(e.HeldBy) + "."
	} else if e.State == "open" {
		text += " Nobody has it open."
	}
	if e.Problem != "" {
		text = clean(e.ID) + ": " + clean(e.Problem)
	}
	return text
}

// clean makes text from files safe to show on one line.
func clean(text string) string {
	return theme.Text(spec.Printable(strings.NewReplacer("\n", " ", "\t", " ").Replace(text)))
}
