// Package words says what an item of a walk asks for: the figure, the other
// units, the state of the threads. The stand screen, the plain walk and the
// printed pages take their wording from here, so that they say the same.
package words

import (
	"fmt"
	"strings"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Memory is what the engine remembers from last time, in words, by the key of
// an agenda item: "last time 0.11 mm (2023-04-02)".
type Memory map[string]string

// Figure is what stands in big letters: Lead says how to take it ("at least"), Value
// is the digits, with a dash between two of them, Unit is apart. Degrees keep their
// sign at the digits; a tolerance in percent goes with the unit.
type Figure struct {
	Lead, Value, Unit string
	Within            string // the whole figure, where the sheet gives a tolerance in its own unit
}

// FigureOf draws a figure or a span large.
func FigureOf(p quantity.Parts) Figure {
	f := Figure{Lead: p.Lead, Value: p.Figure, Unit: p.Unit}
	if p.To != "" {
		f.Value += "–" + p.To
	}
	if p.Unit == quantity.Degree.Symbol() {
		f.Value, f.Unit = f.Value+p.Unit, ""
	}
	if p.Share != "" {
		f.Unit = strings.TrimSpace(f.Unit + " ± " + p.Share + " %")
	}
	if p.Give != "" {
		f.Within = p.Text()
	}
	return f
}

// LimitsOf draws the limits of a measurement large.
func LimitsOf(c *spec.Check) Figure {
	switch {
	case c.Min != nil && c.Max != nil:
		low, high := c.Min.Parts(c.Min.Unit()), c.Max.Parts(c.Max.Unit())
		if low.Unit == high.Unit {
			low.To = high.Figure
			return FigureOf(low)
		}
		return Figure{Value: low.Text() + "–" + high.Figure, Unit: high.Unit}
	case c.Min != nil:
		p := c.Min.Parts(c.Min.Unit())
		p.Lead = "at least"
		return FigureOf(p)
	case c.Max != nil:
		p := c.Max.Parts(c.Max.Unit())
		p.Lead = "at most"
		return FigureOf(p)
	}
	return Figure{}
}

// Torques gives a torque in the three units of service sheets.
func Torques(s spec.TorqueSpan) []string {
	return []string{s.TextIn(quantity.NewtonMetre), s.TextIn(quantity.PoundForceFoot), s.TextIn(quantity.KilogramForceMetre)}
}

// OtherUnits gives a torque in the three units of service sheets, or an angle
// as Turns does. Actions without a figure give "".
func OtherUnits(st *plan.Stage) string {
	switch t := st.Target; {
	case st.Action == spec.Torque || st.Action == spec.Verify:
		return strings.Join(Torques(t.Torque), " = ")
	case st.Action == spec.Turn, st.Action == spec.Loosen && !t.Fully:
		return strings.Join(Turns(t.Turn, st.Fastener.Group), " = ")
	}
	return ""
}

// Leg says where in its pass a walk stands; "" among its bolts.
func Leg(leg walk.Leg, pass *spec.Pass) string {
	if pass.IsWait() {
		return map[walk.Leg]string{walk.BeforeFirst: "before the wait", walk.AfterLast: "after the wait"}[leg]
	}
	return map[walk.Leg]string{walk.BeforeFirst: "before the first bolt", walk.AfterLast: "after the last bolt"}[leg]
}

// Preparation says what to do to the threads at stage i: what the pass says, at the
// first of its steps on a bolt that tightens it; and where that is the bolt's first of
// all, the state the figure is given for, unless the sheet's words for it were asked
// as a step of their own and the pass has others.
func Preparation(c *walk.Course, i int) string {
	it, said := c.Items[i], ""
	if firstOfPass(it.Stage) {
		said = it.Pass.Prepare
	}
	if !c.PullsFirst(i) {
		return said
	}
	g := it.Stage.Fastener.Group
	state := friction[g.Friction.Word]
	switch {
	case said == "" && g.Prep != "":
		return g.Prep
	case said == "" || state == "":
		return said + state
	case g.Prep == "":
		return strings.TrimSuffix(said, ".") + "; " + state
	}
	return said
}

// friction is what a sheet's word for the threads asks for.
var friction = map[string]string{
	"dry":        "threads clean and dry",
	"oiled":      "threads oiled",
	"moly":       "moly paste on the threads",
	"threadlock": "threadlocker on clean threads",
}

// firstOfPass reports whether a stage is the one of its pass before which threads are
// made ready: the first that tightens, or of a pass that tightens nothing the first.
func firstOfPass(st *plan.Stage) bool {
	for i, step := range st.Pass.Steps {
		if step.Action.Tightens() {
			return st.Step == i
		}
	}
	return st.Step == 0
}

// NotReady says why what came off earlier cannot go in yet: it is away, or back
// and not cleaned; "" when nothing keeps it.
func NotReady(c walk.Carried) string {
	switch {
	case c.Away != "":
		return fmt.Sprintf("away for %s: mark it back first", c.Away)
	case c.Unclean != "":
		return fmt.Sprintf("back from %s: %s", c.Unclean, walk.CleanQuestion(c.Unclean))
	}
	return ""
}

// Limits gives what a measured check has to lie in: "0.05 mm to 0.2 mm".
func Limits(c *spec.Check) string {
	switch {
	case c.Min != nil && c.Max != nil:
		return fmt.Sprintf("%s to %s", c.Min, c.Max)
	case c.Min != nil:
		return fmt.Sprintf("at least %s", c.Min)
	case c.Max != nil:
		return fmt.Sprintf("at most %s", c.Max)
	}
	return ""
}

// Repaired says what is now in a thread in the case, in place of the sheet's.
func Repaired(facts walk.Facts) string {
	var parts []string
	for _, key := range walk.RepairFacts {
		if v := facts[key]; v != "" {
			parts = append(parts, key+" "+v)
		}
	}
	return "repaired thread: " + strings.Join(parts, ", ")
}
