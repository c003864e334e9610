package stand

import (
	"github.com/charmbracelet/bubbles/key"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// keymap is every key of the walk itself. The help line, the list of keys and
// what a press does all come from it; what makes no sense now is not enabled.
type keymap struct {
	Confirm, Yes, No, Reading, Renew, Undo, Lost, Problem, Reseal,
	Note, Convert, Why, Outstanding, Done, Stop, Help, Suspend, Leave key.Binding
}

func bind(help, desc string, on bool, names ...string) key.Binding {
	b := key.NewBinding(key.WithKeys(names...), key.WithHelp(help, desc))
	b.SetEnabled(on)
	return b
}

// keymapOf says which keys mean something at this moment.
func (m Model) keymapOf() keymap {
	s, it := m.cfg.State, m.facts.item
	open := s.Phase == walk.IsOpen
	write := open && m.cfg.ReadOnly == ""
	question := it != nil && it.Kind == walk.AskItem
	renewKeys, renewHelp := []string{"n", "N"}, "n"
	if question {
		renewKeys, renewHelp = []string{"N"}, "N"
	}
	_, sealed := s.SealantLeft(m.now)
	return keymap{
		Confirm:     bind("enter", m.confirmText(), write || !open, "enter", " ", "pgdown"),
		Yes:         bind("y", "yes", write && question, "y"),
		No:          bind("n", "no, and why", write && question, "n"),
		Reading:     bind("r", "reading", write && m.takesReading(), "r"),
		Renew:       bind(renewHelp, "new pieces", write && m.facts.pieces.total > 0, renewKeys...),
		Undo:        bind("u", "undo", write && m.facts.lastDone != "", "u"),
		Lost:        bind("l", "angle lost", write && m.turning(), "l"),
		Problem:     bind("p", "problem", write, "p"),
		Reseal:      bind("e", "seal afresh", write && sealed, "e"),
		Note:        bind("m", "note", write, "m"),
		Convert:     bind("c", "convert", true, "c"),
		Why:         bind("w", "why this one", open && it != nil, "w"),
		Outstanding: bind("o", "outstanding", open, "o"),
		Done:        bind("d", "done", write, "d"),
		Stop:        bind("s", "stop for good", write, "s"),
		Help:        bind("?", "all keys", true, "?"),
		Suspend:     bind("ctrl+z", "to the shell", true, "ctrl+z"),
		Leave:       bind("q", "leave", true, "q", "ctrl+c"),
	}
}

// all lists the bindings in the order of the help.
func (k keymap) all() []key.Binding {
	return []key.Binding{k.Confirm, k.Yes, k.No, k.Reading, k.Renew, k.Undo, k.Lost, k.Problem, k.Reseal,
		k.Note, k.Convert, k.Why, k.Outstanding, k.Done, k.Stop, k.Help, k.Suspend, k.Leave}
}

// short lists what the last line of the screen names first.
func (k keymap) short() []key.Binding {
	return []key.Binding{k.Confirm, k.No, k.Reading, k.Lost, k.Help, k.Leave, k.Renew, k.Done, k.Undo, k.Problem, k.Why, k.Convert, k.Outstanding, k.Reseal}
}

// confirmText says what the confirming keys do now.
func (m Model) confirmText() string {
	s, it := m.cfg.State, m.facts.item
	switch {
	case s.Phase != walk.IsOpen:
		return "leave"
	case it == nil:
		return "what is left"
	case len(s.DueNow()) > 0 && m.later != it.Key:
		return "new pieces first"
	case it.Kind == walk.AskItem:
		return "yes"
	case it.Kind == walk.MeasureItem:
		return "give the figure"
	case it.Kind == walk.StageItem && it.Stage.Action == spec.Verify:
		return "it held"
	}
	return "done, next"
}

// turning reports whether the fastener in hand is, or was, at an angle.
func (m Model) turning() bool {
	it := m.facts.item
	if it == nil || it.Kind != walk.StageItem {
		return false
	}
	for _, i := range m.cfg.State.StagesOf(it.Stage.Fastener.ID) {
		turn := m.cfg.State.Items[i].Stage.Action == spec.Turn
		if turn && (i == m.cfg.State.Current() || m.cfg.State.Mark(i).Closed) {
			return true
		}
	}
	return false
}
