package words

import (
	"strings"

	"evenpull/procedures/walk"
)

// Setting is what an adapter on the drive makes of a figure: what the scale of the
// wrench shows, and what is on the drive. The zero Setting is a bare wrench.
type Setting struct {
	Mark, Unit string // of the scale: "6.5" and "N·m"; no mark where nobody can say
	With       string // "crowfoot 12"
}

// Scale is the mark with its unit; "" where nobody can say.
func (set Setting) Scale() string {
	if set.Mark == "" {
		return ""
	}
	return set.Mark + " " + set.Unit
}

// Changeover says what to do to the wrench before a stage: "set the wrench 8 → 20 N·m,
// socket 8 → 12 mm hex". Where bolts take turns it is a reminder: "wrench 8 → 20 N·m".
func Changeover(c walk.Changeover, set Setting) string {
	var words []string
	if c.Wrench {
		do := "set the wrench "
		if c.Again {
			do = "wrench "
		}
		words = append(words, do+set.Of(c))
	}
	if c.Socket {
		words = append(words, "socket "+fromTo(c.On, c.Stage.Fastener.Group.Drive))
	}
	return strings.Join(words, ", ")
}

// Of says to what the wrench is set: "8 → 20 N·m", "to 6.5 N·m with crowfoot 12, for 8 N·m". With an adapter on, what it was set to before is
// no figure of the sheet.
func (set Setting) Of(c walk.Changeover) string {
	figure := c.Pull.Target.Torque.Text()
	switch {
	case set.Mark != "":
		return "to " + set.Scale() + " with " + set.With + ", for " + figure
	case set.With != "":
		return "for " + figure + " with " + set.With
	case c.SetTo == nil:
		return "to " + figure
	}
	return fromTo(c.SetTo.Text(), figure)
}

// fromTo sets two figures with an arrow between them, what both end in said once:
// "8 → 20 N·m". Of an unknown one only the new is left.
func fromTo(from, to string) string {
	if from == "" {
		return to
	}
	a, b := strings.Fields(from), strings.Fields(to)
	for len(a) > 1 && len(b) > 1 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return strings.Join(a, " ") + " → " + to
}
