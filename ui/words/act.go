package words

import (
	"math/big"
	"strings"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Act is what a stage asks of the hand, apart from its figure.
type Act struct {
	Verb   string // "tighten", "loosen", "feel", "stretch", "remove"
	Way    string // Way of the group: "" where everybody knows it
	How    string // what leads over to the figure, or ends it where there is none: "to", "by", ", keep its place"
	Manner string // what of How must not be missed: "do not move it"; mostly empty
}

// ActOf says what a stage of a fastener asks for.
func ActOf(st *plan.Stage) Act {
	act := Act{Way: Way(st.Fastener.Group, st.Action.Frees())}
	switch st.Action {
	case spec.Torque:
		act.Verb, act.How = "tighten", "to"
	case spec.Turn:
		act.Verb, act.How = "tighten", "by"
	case spec.Verify:
		act.Verb, act.Manner = "feel", "do not move it"
		act.How = ", " + act.Manner + ":"
	case spec.Loosen:
		act.Verb, act.How = "loosen", "by"
		if st.Target.Fully {
			act.Manner = "until it is free"
			act.How = act.Manner
		}
	case spec.Remove:
		act.Verb, act.Manner = "remove", "keep its place"
		act.How = ", " + act.Manner
	case spec.Stretch:
		act.Verb, act.How = "stretch", "by"
	}
	return act
}

// Way says which way a left-hand thread goes, as seen by the hand; "" for a
// right-hand one, that goes the way every hand knows.
func Way(g *spec.Group, frees bool) string {
	switch {
	case !g.LeftHand:
		return ""
	case frees:
		return "clockwise"
	}
	return "anticlockwise"
}

// String joins it: "tighten anticlockwise to".
func (a Act) String() string {
	how := a.How
	if how != "" && !strings.HasPrefix(how, ",") {
		how = " " + how
	}
	return strings.TrimSpace(a.Verb+" "+a.Way) + how
}

// Task is the whole of a stage in a few words: "tighten to 22 N·m", "loosen
// clockwise by 90°", "remove, keep its place".
func Task(st *plan.Stage) string {
	figure := ""
	switch st.Action {
	case spec.Torque, spec.Verify:
		figure = st.Target.Torque.Text()
	case spec.Turn, spec.Loosen:
		figure = st.Target.Turn.Text()
	case spec.Stretch:
		figure = st.Target.Stretch.Text()
	}
	return strings.TrimSpace(ActOf(st).String() + " " + figure)
}

// Turns gives an angle in degrees, in flats or points where the drive has such
// (12 points of 30° each), and in turns.
func Turns(s spec.AngleSpan, g *spec.Group) []string {
	list := []string{s.TextIn(quantity.Degree)}
	switch g.Corners() {
	case 6:
		list = append(list, s.TextIn(quantity.Flat))
	case 12:
		list = append(list, strings.Replace(s.Scale(big.NewRat(2, 1)).TextIn(quantity.Flat), "flat", "point", 1))
	}
	return append(list, s.TextIn(quantity.Turn))
}
