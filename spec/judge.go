package spec

import (
	"fmt"
	"strings"
)

// judge looks at the procedure as a whole, once every piece of it could be read.
func (b *binder) judge() {
	b.turnsAreSnugged()
	b.everyFastenerIsUsed()
	b.finalsAreReached()
	b.figuresHaveSources()
	b.hollowOverrides()
	b.leftHandIsDeclared()
	b.doubtFigures()
	b.doubtSlips()
}

// turnsAreSnugged refuses an angle on a fastener that nothing has seated yet:
// an angle counts from snug, so from slack it means nothing.
func (b *binder) turnsAreSnugged() {
	snug := map[*Fastener]bool{}
	for _, pass := range b.p.Passes {
		for i, step := range pass.Steps {
			var slack []*Fastener
			for _, f := range pass.Fasteners {
				switch {
				case step.Action == Torque || step.Action == Stretch:
					snug[f] = true
				case step.Action.Frees():
					snug[f] = false
				case step.Action == Turn && !snug[f]:
					slack = append(slack, f)
					snug[f] = true // reported once
				}
			}
			if len(slack) > 0 {
				b.wrong(b.at[stepAt{pass, i}], "give them a torque stage first", "pass %s turns what was never snugged: %s", quote(pass.Name), someOf(slack))
			}
		}
	}
}

// stepAt is where a step of a pass stands in the file.
type stepAt struct {
	pass *Pass
	step int
}

// keyAt is where a key of a group stands, or the group if it has none.
type keyAt struct {
	group *Group
	key   string
}

// ceilingAt is where the ceiling of a pass's stretch stands.
type ceilingAt struct{ pass *Pass }

// someOf names the first few of a list of fasteners.
func someOf(fs []*Fastener) string {
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

func (b *binder) everyFastenerIsUsed() {
	used := map[*Fastener]bool{}
	for _, pass := range b.p.Passes {
		for _, f := range pass.Fasteners {
			used[f] = true
		}
	}
	for _, f := range b.p.Fasteners {
		if !used[f] {
			b.warn(b.at[f], "name it in a pass, or take it out", "no pass touches fastener %s", quote(f.ID))
		}
	}
}

// finalsAreReached warns where the passes stop short of the sheet's final figure.
func (b *binder) finalsAreReached() {
	if b.p.Direction != Close {
		return
	}
	most := map[*Group]float64{}
	for _, pass := range b.p.Passes {
		for _, step := range pass.Steps {
			for g, target := range step.Targets {
				if step.Action == Torque {
					most[g] = max(most[g], spanTop(target.Torque))
				}
			}
		}
	}
	for _, g := range b.p.Groups {
		if g.Torque == nil || most[g] == 0 {
			continue
		}
		if final := spanBottom(*g.Torque); most[g] < final*0.999 {
			b.warn(b.at[g], "add a final pass", "group %s: no pass reaches its final figure %s; the highest is %.4g N·m", quote(g.ID), g.Torque.Text(), most[g])
		}
	}
}

func (b *binder) figuresHaveSources() {
	reported := map[*Group]bool{}
	for _, pass := range b.p.Passes {
		for _, g := range groupsOf(pass.Fasteners) {
			if !reported[g] && pass.Steps[0].Action != Remove && b.p.SourceOf(pass, g) == "" {
				reported[g] = true
				b.warn(b.at[g], `add source = "…" to the group, the pass or [procedure]`, "the figures of group %s are unsourced", quote(g.ID))
			}
		}
	}
}

// hollowOverrides warns where a list of ids takes a hollow fastener out of its place:
// first out when opening, last in when closing.
func (b *binder) hollowOverrides() {
	for _, pass := range b.p.Passes {
		list := pass.Order.List
		out := false
		for i := 1; i < len(list); i++ {
			before, after := list[i-1].Group.Hollow(), list[i].Group.Hollow()
			if b.p.Direction == Close {
				out = out || before && !after
			} else {
				out = out || !before && after
			}
		}
		if !out {
			continue
		}
		remedy := "check it against the sheet"
		if pass.Because == "" {
			remedy = `say why: because = "…"`
		}
		b.warn(b.at[pass], remedy, "pass %s: the list puts a hollow fastener elsewhere than %s", quote(pass.Name), map[Direction]string{Close: "last in", Open: "first out"}[b.p.Direction])
	}
}

// leftHandIsDeclared warns where the words say left-hand and the hand does not.
func (b *binder) leftHandIsDeclared() {
	for _, g := range b.p.Groups {
		words := strings.ToLower(g.Title + " " + g.Caution + " " + g.Prep)
		said := strings.Contains(words, "left-hand") || strings.Contains(words, "left hand") || strings.Contains(words, "lefthand")
		if said && !g.LeftHand {
			b.warn(b.at[g], `add hand = "left"`, "group %s speaks of a left-hand thread but its hand is right", quote(g.ID))
		}
	}
}
