package read

import (
	"fmt"
	"math"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// ending is how the steps so far leave one fastener.
type ending struct {
	by     spec.Action // what moved it last; Verify where it was only felt; empty when nothing touched it
	at     figureAt
	torque spec.TorqueSpan  // the last torque since it was last loose
	most   spec.TorqueSpan  // the highest since then
	felt   spec.TorqueSpan  // what it was felt to hold after that
	turned [2]float64       // degrees since it was last loose, least and most
	length *spec.LengthSpan // the stretch it was drawn to, instead of a torque
}

// endings follows every fastener of the file through the passes, in file order.
func (b *binder) endings() []ending {
	ends := make([]ending, len(b.p.Fasteners))
	for _, pass := range b.p.Passes {
		for i, step := range pass.Steps {
			var before, after ending // of the last fastener: its like mostly comes next
			for _, f := range pass.Fasteners {
				e, at := &ends[f.Index], figureAt{pass, i, f.Group}
				if at != after.at || *e != before {
					before, after = *e, *e
					after.take(step.Action, *step.Target(f.Group), at)
				}
				*e = after
			}
		}
	}
	return ends
}

// take follows one step. Feeling a fastener does not move it.
func (e *ending) take(a spec.Action, t spec.Target, at figureAt) {
	if a == spec.Verify && e.by != "" && e.by != spec.Verify {
		e.felt = t.Torque
		return
	}
	e.by, e.at = a, at
	switch a {
	case spec.Loosen, spec.Remove:
		*e = ending{by: a, at: at}
	case spec.Torque, spec.Verify:
		e.torque = t.Torque
		if a == spec.Verify && t.Torque.Low != nil {
			e.torque = quantity.Exactly(*t.Torque.Low) // no more than that is known
		}
		if most(e.torque) >= most(e.most) {
			e.most = e.torque
		}
	case spec.Turn:
		low, high := t.Turn.In(quantity.Degree)
		e.turned[0] += low
		e.turned[1] += high
	case spec.Stretch:
		e.length = &t.Stretch
	}
}

// figure is what two like fasteners must have in common.
type endFigure struct {
	how       spec.Action // stretch, verify for only felt, or torque with turns
	low, high float64     // mm, or N·m
	turned    [2]float64
}

func (e *ending) figure() endFigure {
	if e.length != nil {
		low, high := e.length.In(quantity.Millimetre)
		return endFigure{how: spec.Stretch, low: low, high: high}
	}
	how := spec.Torque
	if e.by == spec.Verify {
		how = spec.Verify
	}
	low, high := e.torque.In(quantity.NewtonMetre)
	return endFigure{how, low, high, e.turned}
}

// text says how the fastener is left: "left at 22 N·m and 90°", "only felt at 22 N·m".
func (e *ending) text() string {
	switch {
	case e.length != nil:
		return "left at a stretch of " + e.length.Text()
	case e.by == spec.Verify:
		return "only felt at " + e.torque.Text()
	case e.turned[1] == 0:
		return "left at " + e.torque.Text()
	case math.IsInf(e.turned[1], 1):
		return fmt.Sprintf("left at %s and at least %.4g°", e.torque.Text(), e.turned[0])
	case e.turned[0] == e.turned[1]:
		return fmt.Sprintf("left at %s and %.4g°", e.torque.Text(), e.turned[1])
	}
	return fmt.Sprintf("left at %s and %.4g° to %.4g°", e.torque.Text(), e.turned[0], e.turned[1])
}

// wrongEnd is what is wrong with how fasteners are left; those it is true of are
// named together.
type wrongEnd struct{ what, remedy string }

// everyFastenerEndsRight holds the rule that the last thing done to a fastener is
// its final figure, taken from the sheet; or, when opening, that it is loose.
func (b *binder) everyFastenerEndsRight() {
	ends := b.endings()
	b.finalsAreReached(ends)
	type place struct {
		wrongEnd
		at figureAt
	}
	of := map[place][]*spec.Fastener{}
	var order []place
	blame := func(f *spec.Fastener, why wrongEnd) {
		p := place{why, ends[f.Index].at}
		if of[p] == nil {
			order = append(order, p)
		}
		of[p] = append(of[p], f)
	}
	for _, g := range b.p.Groups {
		var whole []*spec.Fastener // those with nothing wrong, to compare with each other
		var last ending
		var why wrongEnd
		for _, f := range g.Members {
			e := &ends[f.Index]
			if *e != last {
				last, why = *e, b.endFault(g, e)
			}
			switch {
			case e.by == "":
				b.fault(b.at[f], "name it in a pass, or take it out of the file", "no pass touches fastener %s", spec.Quote(f.ID))
			case why != wrongEnd{}:
				blame(f, why)
			default:
				whole = append(whole, f)
			}
		}
		unlike(g, whole, ends, blame)
	}
	for _, p := range order {
		b.fault(b.at[p.at], p.remedy, "%s", someOf(of[p])+p.what)
	}
}

// fault is an error in a file, and a warning in the text of a record: what was walked
// by an earlier version's rules is still read.
func (b *binder) fault(at int, remedy, what string, args ...any) {
	b.say(at, b.recorded, remedy, what, args)
}

// endFault says what is wrong with how one fastener is left, or nothing.
func (b *binder) endFault(g *spec.Group, e *ending) wrongEnd {
	if e.by == "" {
		return wrongEnd{}
	}
	switch closing := b.p.Direction == spec.Close; {
	case closing && e.by.Frees():
		return wrongEnd{": the last thing this close procedure does is " + doing(e.by), `tighten to the final figure in a later pass, or write direction = "open"`}
	case !closing && e.by.Tightens():
		return wrongEnd{": the last thing this open procedure does is to tighten", `loosen or remove in a later pass, or write direction = "close"`}
	case !closing && e.by == spec.Verify:
		return wrongEnd{": only felt, and never loosened", "loosen or remove in a later pass, or take it out of the file"}
	case closing:
		return torqueFault(g, e)
	}
	return wrongEnd{}
}

// finalsAreReached warns where an angle starts from less than the sheet's final
// figure: the sheet may mean it, or the pass before the angle is missing.
func (b *binder) finalsAreReached(ends []ending) {
	for _, g := range b.p.Groups {
		if g.Torque == nil || b.p.Direction != spec.Close {
			continue
		}
		for _, f := range g.Members {
			if e := ends[f.Index]; e.by == spec.Turn && below(e.most, *g.Torque) && (e.felt.IsZero() || least(e.felt) < least(*g.Torque)) {
				b.warn(b.at[g], "add a final pass", "group %s: no pass reaches its final figure %s; the highest is %s", spec.Quote(g.ID), g.Torque.Text(), e.most.Text())
				break
			}
		}
	}
}

func doing(a spec.Action) string {
	if a == spec.Remove {
		return "to take out"
	}
	return "to loosen"
}

// torqueFault holds a fastener that ends at a torque against the group's own
// final figure, and against what it was taken to before. One that ends in a turn
// or a stretch has gone past its torque.
func torqueFault(g *spec.Group, e *ending) wrongEnd {
	if e.by != spec.Torque && e.by != spec.Verify {
		return wrongEnd{}
	}
	left := func(why string, args ...any) string { return ": " + e.text() + fmt.Sprintf(why, args...) }
	if below(e.torque, e.most) {
		return wrongEnd{left(" after %s, and a wrench set lower does nothing", e.most.Text()), "loosen in between, or leave the lower figure out"}
	}
	switch {
	case g.Torque == nil:
		return wrongEnd{}
	case below(e.torque, *g.Torque):
		return wrongEnd{left(", short of the final figure %s of group %s", g.Torque.Text(), spec.Quote(g.ID)), "add a pass that takes it there: torque = \"100 %\""}
	case e.by == spec.Torque && below(*g.Torque, e.torque):
		return wrongEnd{left(", over the final figure %s of group %s", g.Torque.Text(), spec.Quote(g.ID)), "end at the sheet's figure, or mend the group's"}
	}
	return wrongEnd{}
}

// below reports whether all of one span lies under another. Figures in different
// units may be the same one converted for the sheet: then half of the last digit
// printed of each is allowed for.
func below(a, b spec.TorqueSpan) bool {
	if a.High == nil || b.Low == nil {
		return false
	}
	slack := 0.0
	if a.High.Unit() != b.Low.Unit() {
		slack = halfDigit(*a.High) + halfDigit(*b.Low)
	}
	return a.High.Nm() < b.Low.Nm()-slack
}

// halfDigit is half of the last digit of a figure as printed, in N·m.
func halfDigit(t quantity.Torque) float64 {
	places, _ := t.Exact(t.Unit()).FloatPrec()
	return 0.5 * math.Pow10(-places) * t.Nm() / t.In(t.Unit())
}

// unlike blames the fewer of a group whose members end at different figures: a
// group is a set of like fasteners, and one left out of the last pass is the
// mistake that matters most.
func unlike(g *spec.Group, fs []*spec.Fastener, ends []ending, blame func(*spec.Fastener, wrongEnd)) {
	count, figures := map[endFigure]int{}, make([]endFigure, len(fs))
	var most *spec.Fastener
	var usual endFigure
	for i, f := range fs {
		fig := usual
		if most == nil || ends[f.Index] != ends[most.Index] {
			fig = ends[f.Index].figure()
		}
		figures[i] = fig
		if count[fig]++; most == nil || count[fig] > count[usual] {
			most, usual = f, fig
		}
	}
	for i, f := range fs {
		e, other := &ends[f.Index], &ends[most.Index]
		if figures[i] != usual {
			blame(f, wrongEnd{fmt.Sprintf(": %s, and %s of the same group %s is %s", e.text(), most.ID, spec.Quote(g.ID), other.text()), "give them the same passes, or a group of their own"})
		}
	}
}
