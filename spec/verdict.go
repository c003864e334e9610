package spec

import (
	"slices"
	"strings"

	"evenpull/spec/clamp"
)

// Verdict says what of a group's figures was held against its bolt, and what was not.
// Doubts stand among the problems as warnings.
type Verdict struct {
	Group *Group
	clamp.Judgement
}

// Whole reports whether every figure of the group was judged.
func (v Verdict) Whole() bool { return len(v.NotJudged) == 0 }

// Text is the verdict in a line, to stand after the group's name.
func (v Verdict) Text() string {
	if len(v.Doubts) == 0 {
		return v.Summary()
	}
	text := "doubted: " + countedFigures(len(v.Doubts))
	if rest := v.Summary(); rest != "" {
		text += "; " + rest
	}
	return text
}

func countedFigures(n int) string {
	if n == 1 {
		return "1 figure, see the warning"
	}
	return "several figures, see the warnings"
}

// doubtFigures judges every group, and warns where a figure does not fit its bolt.
func (b *binder) doubtFigures() {
	type alike struct {
		joint clamp.Joint
		final clamp.Stage
	}
	known := map[alike]clamp.Judgement{} // groups of the same bolt and figure are judged once
	for _, g := range b.p.Groups {
		joint, _ := g.Joint()
		final, tightened := b.p.FinalOf(g)
		if b.p.Direction != Close || !tightened {
			b.p.Verdicts = append(b.p.Verdicts, Verdict{g, clamp.Judgement{NotJudged: []string{"nothing here tightens it"}}})
			continue
		}
		same := alike{joint, final}
		judgement, ok := known[same]
		if !ok {
			var err error
			if judgement, err = joint.Judge(final); err != nil { // what the estimate cannot take is no reason to doubt the sheet
				judgement = clamp.Judgement{NotJudged: []string{err.Error()}}
			}
			known[same] = judgement
		}
		b.p.Verdicts = append(b.p.Verdicts, Verdict{g, judgement})
		for _, d := range judgement.Doubts {
			b.warn(b.doubtedAt(g, d.Kind), "check it against the service manual, which governs", "group %s: %s", quote(g.ID), d.Text)
		}
	}
}

// doubtedAt is where the figure of a doubt stands.
func (b *binder) doubtedAt(g *Group, kind string) int {
	switch kind {
	case "torque to yield", "idle turn", "overstretched":
		return b.lastStep(g, Turn)
	case "stretch":
		return b.lastStep(g, Stretch)
	case "verify":
		return b.lastStep(g, Verify)
	case "engagement", "nut":
		return b.at[keyAt{g, kind}]
	case "ceiling":
		for _, pass := range slices.Backward(b.p.Passes) {
			if at, ok := b.at[ceilingAt{pass}]; ok && pass.takes(g) {
				return at
			}
		}
	}
	return b.figureOf(g)
}

// lastStep finds the last step of a group that does something.
func (b *binder) lastStep(g *Group, action Action) int {
	at := b.at[g]
	for _, pass := range b.p.Passes {
		if !pass.takes(g) {
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
	pass  *Pass // nil: the group's own final figure
	step  int
	group *Group
}

// figureOf finds the figure that takes a group highest.
func (b *binder) figureOf(g *Group) int {
	at, most := b.at[g], 0.0
	for _, pass := range b.p.Passes {
		if !pass.takes(g) {
			continue
		}
		for i, step := range pass.Steps {
			target := step.Target(g)
			if step.Action != Torque || spanTop(target.Torque) < most {
				continue
			}
			most = spanTop(target.Torque)
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
func lightByName(g *Group) string {
	names := []string{g.Title}
	for _, piece := range g.With {
		names = append(names, piece.Part)
	}
	for _, name := range names {
		words := " " + strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" ,.;:()/", r) }), " ") + " "
		for _, light := range lightWords {
			if strings.Contains(words, " "+light+" ") || strings.Contains(words, " "+light+"s ") || strings.Contains(words, " "+light+"es ") {
				return light
			}
		}
	}
	return ""
}
