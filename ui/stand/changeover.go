package stand

import (
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec/quantity"
	"evenpull/ui/keys"
	"evenpull/ui/page"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// changing reports whether the wrench is to be set, or another socket put on, before
// the walk goes on: a step of its own.
func (m Model) changing() bool { return m.facts.setting }

// changeover is what changes on the wrench before what is in hand. A work card was
// ticked long after.
func (m Model) changeover() *walk.Changeover {
	if m.cfg.Paper || m.cfg.State.Phase != walk.IsOpen {
		return nil
	}
	if c, needed := m.cfg.State.Changeover(); needed {
		return &c
	}
	return nil
}

// askChange is the step that sets the wrench.
func askChange(s *walk.State, c walk.Changeover, set words.Setting) ask {
	g, text := c.Stage.Fastener.Group, words.Changeover(c, set)
	a := ask{manner: text, topic: "on the wrench"}
	if c.Wrench {
		a.verb, a.action = "SET", "SET THE WRENCH"+strings.TrimPrefix(text, "set the wrench")
		a.topic = "the wrench"
		figure := c.Pull.Target.Torque
		switch {
		case set.Mark != "": // what is large is what the scale shows
			a.take(quantity.Parts{Figure: set.Mark, Unit: set.Unit}, some(figure.Text()+" at the bolt"))
		case set.With != "":
			a.cautions = append(a.cautions, "with "+set.With+" on, the scale shows another figure than this")
			fallthrough
		default:
			a.take(figure.Parts(figure.Unit()), words.Torques(figure))
		}
		if c.Socket {
			a.topic = "socket " + g.Drive
		}
	} else {
		a.verb, a.action = "SOCKET", "SOCKET"+strings.TrimPrefix(text, "socket")
		a.figure, a.unit = sizeOf(g.Drive)
	}
	if facts := s.RepairOf(c.Stage.Fastener.ID); len(facts) > 0 {
		a.cautions = append(a.cautions, printable(words.Repaired(facts)))
	}
	return a
}

// sizeOf parts a drive in the sheet's words into what is drawn large, up to its last
// digit, and the rest: "12" and "mm hex". Without a digit all of it is.
func sizeOf(drive string) (size, rest string) {
	end := strings.LastIndexAny(drive, "0123456789") + 1
	if end == 0 {
		return drive, ""
	}
	return drive[:end], strings.TrimSpace(drive[end:])
}

// changedText says that a change was recorded.
func changedText(c *walk.Changeover) string {
	if c != nil && !c.Wrench {
		return "the socket is on"
	}
	return "the wrench is set"
}

// notYet says why a figure is not taken before the wrench is set for it: it may be of
// the fastener before.
func (m Model) notYet() string {
	return "a figure came in before the wrench was set for it: nothing was done; " + keys.That(m.keymapOf().Confirm, "says that it is set")
}

// longHeading is room enough for a heading that is wrapped where it stands.
const longHeading = 400

// openingPage is what has to be read before anything is confirmed: what is not as it
// should be, and where a walk was left that is opened again. False: there is nothing.
func (m Model) openingPage() (page.Model, bool) {
	var p rows
	title := "Read this first"
	for _, text := range m.cfg.Heed {
		p.add(theme.Mark(theme.Caution), text)
	}
	if m.cfg.Return != nil {
		if len(p) == 0 {
			title = "Coming back: " + m.heading(longHeading)
		}
		for _, line := range words.ComingBack(*m.cfg.Return, m.now) {
			p.add(line.Of, printable(line.Text))
		}
	}
	return page.Rows(title, p), len(p) > 0
}
