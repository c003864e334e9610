package read

import (
	"evenpull/spec"
	"evenpull/spec/estimate"
	"evenpull/spec/quantity"
	"slices"
	"strings"
)

// doubtFigures warns where a figure does not fit its bolt.
func (b *binder) doubtFigures() {
	for _, v := range estimate.Verdicts(b.p) {
		for _, d := range v.Doubts {
			b.warn(b.doubtedAt(v.Group, d.Kind), "check it against the service manual, which governs", "group %s: %s", spec.Quote(v.Group.ID), d.Text)
		}
	}
}

// doubtedAt is where the figure of a doubt stands.
func (b *binder) doubtedAt(g *spec.Group, kind string) int {
	switch kind {
	case "torque to yield", "idle turn", "overstretched":
		return b.lastStep(g, spec.Turn)
	case "stretch":
		return b.lastStep(g, spec.Stretch)
	case "verify":
		return b.lastStep(g, spec.Verify)
	case "engagement", "nut":
		return b.at[keyAt{g, kind}]
	case "ceiling":
		for _, pass := range slices.Backward(b.p.Passes) {
			if at, ok := b.at[ceilingAt{pass}]; ok && pass.Takes(g) {
				return at
			}
		}
	}
	return b.figureOf(g)
}

// lastStep finds the last step of a group that does something.
func (b *binder) lastStep(g *spec.Group, action spec.Action) int {
	at := b.at[g]
	for _, pass := range b.p.Passes {
		if !pass.Takes(g) {
			continue
		}
		for i, step := range pass.Steps {
			if step.Action == action {
				at = b.at[stepAt{pass, i}]
			}
		}
	}
	return at
}

// figureAt is where the figure of a group in a pass stands in the file.
type figureAt struct {
	pass  *spec.Pass // nil: the group's own final figure
	step  int
	group *spec.Group
}

// figureOf finds the figure that takes a group highest.
func (b *binder) figureOf(g *spec.Group) int {
	at, highest := b.at[g], 0.0
	for _, pass := range b.p.Passes {
		if !pass.Takes(g) {
			continue
		}
		for i, step := range pass.Steps {
			target := step.Target(g)
			_, nm := target.Torque.Ends(quantity.NewtonMetre)
			if step.Action != spec.Torque || nm < highest {
				continue
			}
			highest = nm
			if at = b.at[figureAt{pass, i, g}]; target.Percent != "" {
				at = b.at[figureAt{group: g}]
			}
		}
	}
	return at
}

// lightWords are what a sheet calls fasteners that only seal: a light figure is right for
// them (common practice, no source).
var lightWords = []string{"plug", "drain", "banjo", "bleed", "bleeder", "sealing washer", "crush washer", "copper washer", "gasket", "rubber", "cork", "o-ring", "sensor", "switch", "filter"}

// lightByName knows a light fastener by its title or by what goes on with it.
func lightByName(g *spec.Group) string {
	names := []string{g.Title}
	for _, piece := range g.With {
		names = append(names, piece.Part)
	}
	for _, name := range names {
		if name == "" {
			continue
		}
		words := " " + strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" ,.;:()/", r) }), " ") + " "
		for _, light := range lightWords {
			if strings.Contains(words, " "+light+" ") || strings.Contains(words, " "+light+"s ") || strings.Contains(words, " "+light+"es ") {
				return light
			}
		}
	}
	return ""
}
