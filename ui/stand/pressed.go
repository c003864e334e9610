package stand

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/ui/convert"
	"evenpull/ui/estimate"
	"evenpull/ui/keys"
	"evenpull/ui/renew"
	"evenpull/ui/things"
)

// walkKey is a key on the walk itself.
func (m Model) walkKey(k tea.KeyMsg) (Model, tea.Cmd) {
	km := m.keymapOf()
	m.say = message{}
	switch {
	case m.dismiss && isConfirm(k) && m.cfg.State.Phase == walk.IsOpen:
		m.dismiss = false // what was refused, or lay over the figure, has been seen
		m.hear(0, m.step())
		return m, nil
	case key.Matches(k, km.Confirm):
		return m.confirm()
	case key.Matches(k, km.Yes):
		return m.order(walk.Command{Do: walk.Yes})
	case key.Matches(k, km.Reading):
		return m.openReading(""), nil
	case key.Matches(k, km.Done):
		return m.order(walk.Command{Do: walk.FinishUp})
	case key.Matches(k, km.New), k.String() == "n" && km.New.Enabled() && !m.atQuestion(): // its key of old, where it says nothing else
		return m.openRenewals(), nil
	case key.Matches(k, km.Found):
		return m.openFound(), nil
	case key.Matches(k, km.FoundNew):
		return m.lay(askNew()), nil
	case key.Matches(k, km.Things):
		return m.lay(things.New(m.cfg.State)), nil
	case key.Matches(k, km.Told):
		return m.lay(m.toldPage()), nil
	case key.Matches(k, km.Convert):
		return m.lay(convert.NewWith("", nil)), nil
	case key.Matches(k, km.Figures):
		bench := m.cfg.Bench
		bench.On = m.now
		return m.lay(estimate.New(estimate.Input{Plan: m.cfg.State.Plan, Stage: m.facts.item.Stage, Bench: bench})), nil
	case key.Matches(k, km.Why):
		return m.lay(m.whyPage()), nil
	case key.Matches(k, km.Outstanding):
		return m.lay(m.outstandingPage()), nil
	case key.Matches(k, km.Help):
		return m.lay(m.helpPage()), nil
	case key.Matches(k, km.Leave) && m.cfg.State.Phase != walk.IsOpen:
		return m.leave()
	case key.Matches(k, km.Leave):
		return m.lay(m.askToLeave()), nil
	}
	return m.reasonKey(k, km), nil
}

// otherKey starts a reading on a digit, and says why a key does nothing.
func (m Model) otherKey(k tea.KeyMsg) Model {
	s := k.String()
	writable := m.cfg.ReadOnly == "" && m.cfg.State.Phase == walk.IsOpen
	switch {
	case len(s) == 1 && s[0] >= '0' && s[0] <= '9' && m.takesFigures():
		m.typed = true // the first digit of it
		return m.openReading(s)
	case len(s) == 1 && s[0] >= '0' && s[0] <= '9' && m.changing():
		m.say = message{aside, m.notYet()}
	case m.cfg.ReadOnly != "" && m.changes(k):
		m.say = m.readOnly()
		m.say.tone = refuse
	case writable && m.confirms(k):
		m.say = message{aside, "everything is confirmed: " + keys.That(m.keymapOf().Done, "closes the walk")}
	case m.cfg.ReadOnly == "" && m.bound(s):
		m.say = message{aside, s + " does nothing here; " + keys.That(keys.Help(), "lists the keys")}
	}
	return m
}

// bound reports whether a key of one letter means something at another moment.
func (m Model) bound(s string) bool {
	return len(s) == 1 && slices.ContainsFunc(m.keymapOf().groups(), func(g keys.Group) bool {
		return slices.ContainsFunc(g.Bindings, func(b key.Binding) bool { return slices.Contains(b.Keys(), s) })
	})
}

// changes reports whether a key would write, if it were let.
func (m Model) changes(k tea.KeyMsg) bool {
	m.cfg.ReadOnly = ""
	km := m.keymapOf()
	return key.Matches(k, km.Confirm, km.Yes, km.No, km.New, km.Reading, km.Found, km.FoundNew, km.Things, km.Undo, km.Lost, km.Problem, km.Reseal, km.Later, km.Note, km.Photo, km.Done, km.Stop)
}

// confirm is the big key: what it does depends on what is asked for.
func (m Model) confirm() (Model, tea.Cmd) {
	s, it := m.cfg.State, m.facts.item
	switch {
	case s.Phase != walk.IsOpen:
		return m.leave()
	case it == nil && m.facts.pieces.done == m.facts.pieces.total:
		return m.lay(things.New(s)), nil
	case it == nil:
		return m.openRenewals(), nil
	case m.changing():
		return m.order(walk.Command{Do: walk.Change})
	case m.piecesFirst():
		return m.openRenewals(), nil
	case it.Kind == walk.MeasureItem, it.Kind == walk.StageItem && it.Stage.Action == spec.Stretch:
		return m.openReading(""), nil
	case it.Kind == walk.FaultItem:
		return m.lay(askAnswer(it.Fault)), nil
	case it.Kind == walk.RepairItem:
		return m.lay(m.askRepair()), nil
	}
	return m.order(walk.Command{Do: walk.Confirm})
}

// piecesFirst reports whether new pieces are to be recorded before what is in
// hand is confirmed: they go on before it is tightened, not before it is loosened.
func (m Model) piecesFirst() bool {
	return len(m.cfg.State.DueNow()) > 0
}

// openRenewals shows the pieces of what is in hand, or of the whole walk.
func (m Model) openRenewals() Model {
	var owner ident.Thing
	if it := m.facts.item; it != nil && (it.Kind == walk.StageItem || it.Kind == walk.PartItem) {
		owner = it.Thing()
	}
	pieces := renew.New(m.cfg.State.Pieces(), owner)
	if len(pieces.Shown()) == 0 {
		pieces = renew.New(m.cfg.State.Pieces(), ident.Thing{})
	}
	return m.lay(pieces)
}

func (m Model) leave() (Model, tea.Cmd) {
	m.left = true
	if m.cfg.Leave != nil {
		return m, m.cfg.Leave
	}
	return m, tea.Quit
}
