package stand

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/ui/convert"
	"evenpull/ui/estimate"
	"evenpull/ui/keys"
	"evenpull/ui/renew"
	"evenpull/ui/words"
)

// most keys kept while a write is under way; more is somebody leaning on it.
const maxHeld = 32

// key takes one key as it arrives. Of keys that arrive together the first decides:
// a figure goes on into its field, text goes on in a field, and of anything else
// the rest is dropped, so that what a tool sends or a paste holds confirms nothing.
func (m Model) key(k tea.KeyMsg) (Model, tea.Cmd) {
	if k.Type == tea.KeyCtrlZ {
		return m, tea.Suspend
	}
	var together bool
	m.stream, together = m.stream.Arrive(m.now)
	leaving := k.Type == tea.KeyCtrlC || m.face == onLeave && k.String() == "q"
	if together && m.deaf && !leaving {
		return m, nil
	}
	m.together = together
	if k.Type == tea.KeyCtrlJ {
		return m, nil // the second half of CR LF
	}
	confirm := m.confirms(k)
	if confirm {
		var ok bool
		if m, ok = m.pressed(); !ok {
			return m.deafen(false), nil
		}
	}
	if m.busy {
		// A confirmation must answer what is on the screen, so it is not kept; nor is
		// a yes, nor a text that came in one.
		if !confirm && k.String() != "y" && !keys.Several(k) && len(m.held) < maxHeld {
			m.held = append(m.held[:len(m.held):len(m.held)], k)
		}
		return m.deafen(m.typing()), nil
	}
	return m.give(k, confirm)
}

// give hands a key to whatever has them.
func (m Model) give(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	typing := m.typing() && m.failed == nil
	if keys.Several(k) && !typing {
		return m.severalKeys(k), nil
	}
	var cmd tea.Cmd
	was := m.face
	m.typed = !confirm && typing && k.Type != tea.KeyEsc && k.Type != tea.KeyCtrlC
	if m.failed != nil {
		m, cmd = m.failedKey(k, confirm)
	} else {
		m, cmd = m.faceKey(k, confirm)
	}
	if was != onWalk && m.face == onWalk && m.failed == nil {
		m.dismiss = m.dismiss || !m.busy // it was closed, not sent off
	}
	return m.deafen(m.typing() && (typing || m.typed)), cmd
}

// deafen drops the rest of what arrives together, unless it is typed into a field.
func (m Model) deafen(typing bool) Model {
	m.deaf = !typing
	return m
}

// severalKeys takes several characters at once where no field is open: a figure
// opens its field, anything else does nothing.
func (m Model) severalKeys(k tea.KeyMsg) Model {
	text, _, _ := strings.Cut(strings.TrimSpace(strings.ReplaceAll(string(k.Runes), "\r", "\n")), "\n")
	isFigure := startsFigure(text)
	if isFigure && m.failed == nil && m.face == onWalk && m.takesFigures() {
		m.typed = true
		return m.openReading(spec.Printable(text)).deafen(!k.Paste) // a tool ends what it sends; a paste is looked at first
	}
	m.say = message{aside, "several keys came at once: nothing was done"}
	if isFigure {
		m.say.text = "a figure came in and nothing here takes one: nothing was done"
	}
	return m.deafen(false)
}

// startsFigure reports whether a text begins as a figure does.
func startsFigure(text string) bool {
	text = strings.TrimLeft(text, "+-")
	return text != "" && text[0] >= '0' && text[0] <= '9'
}

// takesFigures reports whether a figure that comes in may open its field.
func (m Model) takesFigures() bool {
	return m.cfg.ReadOnly == "" && m.cfg.State.Phase == walk.IsOpen && m.takesReading()
}

// faceKey gives a key to the face that has them.
func (m Model) faceKey(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	switch m.face {
	case onEntry:
		return m.entryKey(k)
	case onRenew:
		return m.renewKey(k, confirm)
	case onConvert:
		var closed bool
		if m.convert, closed = m.convert.Key(k); closed {
			m.face = onWalk
		}
		return m, nil
	case onFigures:
		var closed bool
		if m.figures, closed = m.figures.Key(k, m.width, m.panelHeight()); closed {
			m.face = onWalk
			if confirm {
				m, _ = m.pressed() // a second press must not confirm the stage below
			}
		}
		return m, nil
	case onThings:
		return m.thingsKey(k, confirm)
	case onPanel:
		return m.panelKey(k, confirm), nil
	case onLeave:
		return m.leaveKey(k, confirm)
	case onStop:
		return m.stopKey(k)
	}
	return m.walkKey(k)
}

// confirms reports whether a key is a confirming one where it is pressed: in a
// text field space is a letter, and at a question y is a yes.
func (m Model) confirms(k tea.KeyMsg) bool {
	return isConfirm(k) && (k.Type != tea.KeySpace || !m.typing()) || k.String() == "y" && m.face == onWalk && m.atQuestion()
}

// isConfirm reports whether it is one of the keys that confirm.
func isConfirm(k tea.KeyMsg) bool {
	return !k.Paste && (k.Type == tea.KeyEnter || k.Type == tea.KeyPgDown || k.Type == tea.KeySpace)
}

// typing reports whether a text field has the keys.
func (m Model) typing() bool {
	return m.face == onEntry || m.face == onConvert || m.face == onRenew && m.renew.Typing()
}

// pressed asks the guard whether a confirming key counts. One that sends off
// what was just typed is no bounce of the one before the typing.
func (m Model) pressed() (Model, bool) {
	var ok bool
	m.guard, ok = m.guard.Press(m.now)
	return m, ok || m.typed
}

// walkKey is a key on the walk itself.
func (m Model) walkKey(k tea.KeyMsg) (Model, tea.Cmd) {
	km := m.keymapOf()
	m.say = message{}
	switch {
	case m.dismiss && isConfirm(k) && m.cfg.State.Phase == walk.IsOpen:
		m.dismiss = false // what was refused, or lay over the figure, has been seen
		return m, nil
	case key.Matches(k, km.Confirm):
		return m.confirm()
	case key.Matches(k, km.Yes):
		return m.order(walk.Command{Do: walk.Yes})
	case key.Matches(k, km.Reading):
		return m.openReading(""), nil
	case key.Matches(k, km.Done):
		return m.order(walk.Command{Do: walk.FinishUp})
	case key.Matches(k, km.NoOrNew) && !m.atQuestion(), key.Matches(k, km.New):
		return m.openRenewals(), nil
	case key.Matches(k, km.Found):
		return m.openFound(), nil
	case key.Matches(k, km.Things):
		return m.openThings(), nil
	case key.Matches(k, km.Convert):
		m.face, m.convert = onConvert, convert.NewWith("", nil)
		return m, nil
	case key.Matches(k, km.Figures):
		bench := m.cfg.Bench
		bench.On = m.now
		m.face, m.figures = onFigures, estimate.New(estimate.Input{Plan: m.cfg.State.Plan, Stage: m.facts.item.Stage, Bench: bench})
		return m, nil
	case key.Matches(k, km.Why):
		return m.openPanel(m.whyPanel()), nil
	case key.Matches(k, km.Outstanding):
		return m.openPanel(m.openItemsPanel()), nil
	case key.Matches(k, km.Help):
		return m.openPanel(m.helpPanel()), nil
	case key.Matches(k, km.Leave) && m.cfg.State.Phase != walk.IsOpen:
		return m.leave()
	case key.Matches(k, km.Leave):
		m.face = onLeave
		return m, nil
	}
	return m.reasonKey(k, km), nil
}

// reasonKey is a key that asks for words first, or one that means nothing now.
func (m Model) reasonKey(k tea.KeyMsg, km keymap) Model {
	about := "the fastener, then a colon: M7: stripped"
	if it := m.facts.item; it != nil && it.Kind == walk.StageItem {
		about = it.Stage.Fastener.ID + "; another one: its id, a colon, then what"
	}
	switch {
	case key.Matches(k, km.NoOrNew):
		return m.openEntry(newEntry(walk.No, "No, because; what came loose first: M3, M4: it rattles", "what is wrong").with("not there yet", "missing", "damaged", "not sure"))
	case key.Matches(k, km.Undo):
		return m.openEntry(newEntry(walk.Undo, "Take back \""+m.facts.lastDone+"\", because", "why").with("pressed by mistake", "wrong fastener", "wrong setting on the wrench", "not sure it was done"))
	case key.Matches(k, km.Lost):
		return m.openEntry(newEntry(walk.Lose, "Angle lost on "+about, "what happened").with("phone rang", "socket slipped", "mark rubbed off", "lost count"))
	case key.Matches(k, km.Problem):
		return m.openEntry(newEntry(walk.Problem, "Problem with "+about, "what happened").with("stripped, bolt", "stripped, case", "overshot", "seized", "broken", "bent", "thread damaged"))
	case key.Matches(k, km.Reseal):
		return m.openEntry(newEntry(walk.Reseal, "Opened, cleaned and sealed afresh, because", "why").with("work time ran out", "sealant smeared off", "joint had to come apart"))
	case key.Matches(k, km.Note):
		return m.openEntry(newEntry(walk.Note, "Note", "anything worth keeping"))
	case key.Matches(k, km.Stop):
		return m.openEntry(newEntry(walk.Stop, "Stop for good, unfinished, because", "why it can't be finished").with("part to be replaced", "wrong procedure", "engine goes elsewhere"))
	}
	return m.otherKey(k)
}

// otherKey starts a reading on a digit, and says why a key does nothing.
func (m Model) otherKey(k tea.KeyMsg) Model {
	s := k.String()
	writable := m.cfg.ReadOnly == "" && m.cfg.State.Phase == walk.IsOpen
	switch {
	case len(s) == 1 && s[0] >= '0' && s[0] <= '9' && m.takesFigures():
		m.typed = true // the first digit of it
		return m.openReading(s)
	case m.cfg.ReadOnly != "" && m.changes(k):
		m.say = m.readOnly()
		m.say.tone = refuse
	case writable && m.confirms(k):
		m.say = message{aside, "everything is confirmed: d closes the walk"}
	case m.cfg.ReadOnly == "" && len(s) == 1 && strings.ContainsAny(s, "rnulpeydws"):
		m.say = message{aside, s + " does nothing here; ? lists the keys"}
	}
	return m
}

// changes reports whether a key would write, if it were let.
func (m Model) changes(k tea.KeyMsg) bool {
	m.cfg.ReadOnly = ""
	km := m.keymapOf()
	return key.Matches(k, km.Confirm, km.Yes, km.NoOrNew, km.New, km.Reading, km.Found, km.Things, km.Undo, km.Lost, km.Problem, km.Reseal, km.Note, km.Done, km.Stop)
}

// confirm is the big key: what it does depends on what is asked for.
func (m Model) confirm() (Model, tea.Cmd) {
	s, it := m.cfg.State, m.facts.item
	switch {
	case s.Phase != walk.IsOpen:
		return m.leave()
	case it == nil && m.facts.pieces.done == m.facts.pieces.total:
		return m.openThings(), nil
	case it == nil:
		return m.openRenewals(), nil
	case m.piecesFirst():
		return m.openRenewals(), nil
	case it.Kind == walk.MeasureItem, it.Kind == walk.StageItem && it.Stage.Action == spec.Stretch:
		return m.openReading(""), nil
	case it.Kind == walk.RepairItem:
		return m.openEntry(newEntry(walk.Repair, "Repaired at "+it.Fastener.ID+": "+words.RepairExample, "insert …, size …, by …, torque …, engagement …, drive …")), nil
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
	if it := m.facts.item; it != nil && it.Kind == walk.StageItem {
		owner = it.Thing()
	} else if it != nil && it.Kind == walk.PartItem {
		owner = it.Thing()
	}
	m.renew = renew.New(m.cfg.State.Pieces(), owner)
	if len(m.renew.Shown()) == 0 {
		m.renew = renew.New(m.cfg.State.Pieces(), ident.Thing{})
	}
	m.face, m.dismiss = onRenew, false
	return m
}

func (m Model) renewKey(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	if m.dismiss && confirm && !m.renew.Typing() {
		m.dismiss, m.say = false, message{}
		return m, nil
	}
	var did renew.Action
	m.renew, did = m.renew.Key(k, confirm)
	if did.Closed {
		m.face = onWalk
		if did.Later {
			m.say = message{aside, "not recorded as new yet; nothing here is confirmed before it is"}
		}
	}
	if len(did.Commands) > 0 {
		return m.order(did.Commands...)
	}
	return m, nil
}

// failedKey: a write did not succeed. Confirm tries it again; nothing has moved.
func (m Model) failedKey(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	switch {
	case confirm:
		again := m.failed.commands
		m.failed = nil
		return m.order(again...)
	case k.Type == tea.KeyEsc:
		m.failed = nil
		m.say = message{aside, "given up; it was not recorded"}
	case k.Type == tea.KeyCtrlC || k.String() == "q":
		return m.leave()
	}
	return m, nil
}

func (m Model) leaveKey(k tea.KeyMsg, confirm bool) (Model, tea.Cmd) {
	switch {
	case confirm, k.Type == tea.KeyCtrlC, k.String() == "q", k.String() == "y":
		return m.leave()
	case k.Type == tea.KeyEsc, k.String() == "n":
		m.face = onWalk
	}
	return m, nil
}

func (m Model) leave() (Model, tea.Cmd) {
	m.left = true
	if m.cfg.Leave != nil {
		return m, m.cfg.Leave
	}
	return m, tea.Quit
}

// stopKey confirms a stop: it can't be taken back, so only y will do.
func (m Model) stopKey(k tea.KeyMsg) (Model, tea.Cmd) {
	m.face = onWalk
	if k.String() == "y" {
		return m.order(walk.Command{Do: walk.Stop, Text: strings.TrimSpace(m.entry.input.Value())})
	}
	m.say = message{aside, "not stopped; the walk goes on"}
	return m, nil
}
