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

// Figure is what stands in big letters: Lead says how to take it ("at least"),
// Value is the digits with a dash or ± between two of them, Unit is apart.
type Figure struct{ Lead, Value, Unit string }

// FigureOf splits the text of a span, "37 to 43 N·m", into its big digits and
// its unit: "37–43" and "N·m". Degrees keep their sign at the digits.
func FigureOf(text string) Figure {
	var f Figure
	for _, lead := range []string{"at least ", "at most "} {
		if rest, ok := strings.CutPrefix(text, lead); ok {
			f.Lead, text = strings.TrimSpace(lead), rest
		}
	}
	if figure, give, ok := strings.Cut(text, " ± "); ok && strings.HasSuffix(give, "%") {
		f.Value, f.Unit, _ = strings.Cut(figure, " ") // a share of the figure goes with the unit
		f.Unit = strings.TrimSpace(f.Unit + " ± " + give)
		return f
	}
	text = strings.NewReplacer("° to ", "–", "° ± ", "±", " to ", "–", " ± ", "±").Replace(text)
	if low, high, ok := strings.Cut(text, "–"); ok { // "0.05 mm–0.2 mm": the unit once
		if _, unit, ok := strings.Cut(low, " "); ok && strings.HasSuffix(high, " "+unit) {
			text = strings.TrimSuffix(low, " "+unit) + "–" + high
		}
	}
	end := strings.LastIndexAny(text, "0123456789°%½¼¾⅓⅔⅙⅚")
	if end < 0 {
		return Figure{Value: text}
	}
	for end++; end < len(text) && text[end]&0xC0 == 0x80; end++ {
		// to the end of a letter of several bytes
	}
	f.Value, f.Unit = text[:end], strings.TrimSpace(text[end:])
	return f
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
