package read

import (
	"fmt"
	"strings"

	"evenpull/spec"
)

// judge looks at the procedure as a whole, once every piece of it could be read.
func (b *binder) judge() {
	b.turnsAreSnugged()
	b.everyFastenerEndsRight()
	b.figuresHaveSources()
	b.hollowOverrides()
	b.leftHandIsDeclared()
	b.doubtFigures()
	b.doubtSlips()
}

// turnsAreSnugged refuses an angle on a fastener that nothing has seated yet:
// an angle counts from snug, so from slack it means nothing.
func (b *binder) turnsAreSnugged() {
	snug := map[*spec.Fastener]bool{}
	for _, pass := range b.p.Passes {
		for i, step := range pass.Steps {
			var slack []*spec.Fastener
			for _, f := range pass.Fasteners {
				switch {
				case step.Action == spec.Torque || step.Action == spec.Stretch:
					snug[f] = true
				case step.Action.Frees():
					snug[f] = false
				case step.Action == spec.Turn && !snug[f]:
					slack = append(slack, f)
					snug[f] = true // reported once
				}
			}
			if len(slack) > 0 {
				b.wrong(b.at[stepAt{pass, i}], "give them a torque stage first", "pass %s turns what was never snugged: %s", spec.Quote(pass.Name), someOf(slack))
			}
		}
	}
}

// stepAt is where a step of a pass stands in the file.
type stepAt struct {
	pass *spec.Pass
	step int
}

// keyAt is where a key that a group has stands.
type keyAt struct {
	group *spec.Group
	key   string
}

// ceilingAt is where the ceiling of a pass's stretch stands.
type ceilingAt struct{ pass *spec.Pass }

// someOf names the first few of a list of fasteners.
func someOf(fs []*spec.Fastener) string {
	const few = 6
	var ids []string
	for _, f := range fs[:min(few, len(fs))] {
		ids = append(ids, f.ID)
	}
	if len(fs) > few {
		ids = append(ids, fmt.Sprintf("and %d more", len(fs)-few))
	}
	return strings.Join(ids, ", ")
}

func (b *binder) figuresHaveSources() {
	reported := map[*spec.Group]bool{}
	for _, pass := range b.p.Passes {
		for _, g := range pass.Groups() {
			if !reported[g] && pass.Steps[0].Action != spec.Remove && b.p.SourceOf(pass, g) == "" {
				reported[g] = true
				b.warn(b.at[g], `add source = "…" to the group, the pass or [procedure]`, "the figures of group %s are unsourced", spec.Quote(g.ID))
			}
		}
	}
}

// hollowOverrides warns where a list of ids takes a hollow fastener out of its place:
// first when loosening, last when tightening.
func (b *binder) hollowOverrides() {
	for _, pass := range b.p.Passes {
		list, first := pass.Order.List, b.p.HollowFirst(pass)
		out := false
		for i := 1; i < len(list); i++ {
			before, after := list[i-1].Group.Hollow(), list[i].Group.Hollow()
			out = out || before != after && after == first
		}
		if !out {
			continue
		}
		remedy := "check it against the sheet"
		if pass.Because == "" {
			remedy = `say why: because = "…"`
		}
		b.warn(b.at[pass], remedy, "pass %s: the list puts a hollow fastener elsewhere than %s", spec.Quote(pass.Name), map[bool]string{false: "last in", true: "first out"}[first])
	}
}

// leftHandIsDeclared warns where the words say left-hand and the hand does not.
func (b *binder) leftHandIsDeclared() {
	for _, g := range b.p.Groups {
		words := strings.ToLower(g.Title + " " + g.Caution + " " + g.Prep)
		said := strings.Contains(words, "left-hand") || strings.Contains(words, "left hand") || strings.Contains(words, "lefthand")
		if said && !g.LeftHand {
			b.warn(b.at[g], `add hand = "left"`, "group %s speaks of a left-hand thread but its hand is right", spec.Quote(g.ID))
		}
	}
}
