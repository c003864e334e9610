package words

import (
	"strings"

	"evenpull/procedures/walk"
)

// Changeover says what to do to the wrench before a stage: "set the wrench 8 → 20 N·m,
// socket 8 → 12 mm hex". Where bolts take turns it is a reminder: "wrench 8 → 20 N·m".
func Changeover(c walk.Changeover) string {
	var words []string
	if c.Wrench {
		do, from := "set the wrench to ", ""
		if c.SetTo != nil {
			do, from = "set the wrench ", c.SetTo.Text()
		}
		if c.Again {
			do = "wrench "
		}
		words = append(words, do+fromTo(from, c.Figure.Text()))
	}
	if c.Socket {
		words = append(words, "socket "+fromTo(c.On, c.Stage.Fastener.Group.Drive))
	}
	return strings.Join(words, ", ")
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
