package stand

import (
	"github.com/charmbracelet/bubbles/key"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/keys"
)

// keymap is every key of the walk itself. The help line, the list of keys and
// what a press does all come from it; what makes no sense now is not enabled.
type keymap struct {
	Confirm, Yes, No, New, Reading, Gauge, Found, FoundNew, Things, Undo, Lost, Problem, Reseal,
	Later, Note, Photo, Told, Convert, Figures, Why, Outstanding, Done, Stop, Help, Suspend, Leave key.Binding
}

// keymapOf says which keys mean something at this moment.
func (m Model) keymapOf() keymap {
	if m.cfg.Watch {
		return keymap{Suspend: keys.New("to the shell", "ctrl+z"), Leave: keys.New("leave", "q", "esc", "ctrl+c")}
	}
	s, it := m.cfg.State, m.facts.item
	open := s.Phase == walk.IsOpen
	write := open && m.cfg.ReadOnly == ""
	pieces := write && m.facts.pieces.total > 0
	_, sealed := s.SealantLeft(m.now)
	return keymap{
		Confirm:     keys.When(keys.Confirm(m.confirmText()), write && m.somethingToConfirm() || !open),
		Yes:         keys.When(keys.New("yes", "y"), write && m.atQuestion()),
		No:          keys.When(keys.New("no, and why", "n"), write && m.atQuestion()),
		New:         keys.When(keys.New("new pieces", "N"), pieces),
		Reading:     keys.When(keys.New("reading", "r"), write && m.takesReading()),
		Gauge:       keys.When(keys.New("gauge's unit", "g"), write && m.takesReading()),
		Found:       keys.When(keys.New("found how", "f"), write && m.canDescribe()),
		FoundNew:    keys.When(keys.New("found, on no sheet", "F"), write && s.MayFindNew()),
		Things:      keys.When(keys.New("came off earlier", "a"), write && m.facts.things > 0),
		Undo:        keys.When(keys.New("undo", "u"), write && m.facts.lastDone != ""),
		Lost:        keys.When(keys.New("angle lost", "l"), write && m.turning()),
		Problem:     keys.When(keys.New("problem", "p"), write),
		Reseal:      keys.When(keys.New("seal afresh", "e"), write && sealed),
		Later:       keys.When(keys.New("ask at the end", "b"), write && s.CanPutOff()),
		Note:        keys.When(keys.New("note", "m"), write),
		Photo:       keys.When(keys.New("photo", "t"), write && m.cfg.Look != nil),
		Told:        keys.When(keys.New("what was said", "h"), open && len(m.facts.told) > 0),
		Convert:     keys.New("convert", "c"),
		Figures:     keys.When(keys.New("figures", "i"), open && it != nil && it.Kind == walk.StageItem),
		Why:         keys.When(keys.New("why this one", "w"), open && it != nil),
		Outstanding: keys.When(keys.New("outstanding", "o"), open),
		Done:        keys.When(keys.New("done", "d"), write),
		Stop:        keys.When(keys.New("stop for good", "s"), write),
		Help:        keys.Help(),
		Suspend:     keys.New("to the shell", "ctrl+z"),
		Leave:       keys.New("leave", "q", "ctrl+c"),
	}
}

func (m Model) atQuestion() bool {
	it := m.facts.item
	return it != nil && it.Kind == walk.AskItem
}

// groups is the whole help.
func (k keymap) groups() []keys.Group {
	return []keys.Group{
		{Title: "Go on", Bindings: []key.Binding{k.Confirm, k.Yes, k.No, k.Reading, k.Gauge, k.Found, k.FoundNew, k.New, k.Things, k.Later, k.Done}},
		{Title: "When it went wrong", Bindings: []key.Binding{k.Undo, k.Lost, k.Problem, k.Reseal, k.Stop}},
		{Title: "Look and write", Bindings: []key.Binding{k.Why, k.Figures, k.Outstanding, k.Told, k.Convert, k.Note, k.Photo}},
		{Title: "Leave", Bindings: []key.Binding{k.Help, k.Leave, k.Suspend}},
	}
}

// short lists what the last line of the screen names, the most needed first.
func (m Model) short(k keymap) []key.Binding {
	list := []key.Binding{k.Confirm}
	if !k.Confirm.Enabled() {
		list = append(list, k.Done)
	}
	if m.atQuestion() {
		list = append(list, k.No)
	}
	list = append(list, k.Later, k.Told, k.Reading, k.Lost, k.Help, k.Leave, k.Found)
	if m.cfg.State.Plan.Procedure.Direction == spec.Open {
		list = append(list, k.FoundNew)
	}
	if k.Confirm.Enabled() {
		list = append(list, k.Done)
	}
	list = append(list, k.Undo, k.Problem)
	if !m.atQuestion() {
		list = append(list, k.New)
	}
	return append(list, k.Why, k.Figures, k.Things, k.Convert, k.Outstanding, k.Reseal, k.Note, k.Photo)
}

// confirmText says what the confirming keys do now.
func (m Model) confirmText() string {
	s, it := m.cfg.State, m.facts.item
	switch {
	case s.Phase != walk.IsOpen:
		return "leave"
	case m.dismiss:
		return "dismiss"
	case it == nil && m.facts.pieces.done == m.facts.pieces.total:
		return "came off earlier"
	case it == nil:
		return "new pieces"
	case m.changing() && !m.facts.over.Wrench:
		return "it is on"
	case m.changing():
		return "it is set"
	case m.piecesFirst():
		return "new pieces first"
	case it.Kind == walk.AskItem:
		return "yes"
	case it.Kind == walk.MeasureItem, it.Kind == walk.StageItem && it.Stage.Action == spec.Stretch:
		return "give the figure"
	case it.Kind == walk.SlackenItem:
		return "it is slack"
	case it.Kind == walk.FaultItem:
		return "say what was done"
	case it.Kind == walk.RepairItem:
		return "say how it was repaired"
	case it.Kind == walk.WaitItem && s.WaitLeft(s.Current(), m.now) > 0:
		return "when it is over"
	case it.Kind == walk.WaitItem:
		return "go on"
	case it.Kind == walk.StageItem && it.Stage.Action == spec.Verify:
		return "it held"
	}
	return "confirm"
}

// somethingToConfirm is false when only done is left to ask for.
func (m Model) somethingToConfirm() bool {
	return m.facts.item != nil || m.facts.pieces.done < m.facts.pieces.total || len(m.facts.left) > 0
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
