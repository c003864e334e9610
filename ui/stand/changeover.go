package stand

import (
	"strings"

	"evenpull/procedures/walk"
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
		case set.Scale != "": // what is large is what the scale shows
			a.take(set.Scale, some(figure.Text()+" at the bolt"))
		case set.With != "":
			a.cautions = append(a.cautions, "with "+set.With+" on, the scale shows another figure than this")
			fallthrough
		default:
			a.take(figure.Text(), words.Torques(figure))
		}
		if c.Socket {
			a.topic = "socket " + g.Drive
		}
	} else {
		f := words.FigureOf(g.Drive)
		a.verb, a.action, a.figure, a.unit = "SOCKET", "SOCKET"+strings.TrimPrefix(text, "socket"), f.Value, f.Unit
	}
	if facts := s.RepairOf(c.Stage.Fastener.ID); len(facts) > 0 {
		a.cautions = append(a.cautions, printable(words.Repaired(facts)))
	}
	return a
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
