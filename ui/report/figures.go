package report

import (
	"strings"

	"evenpull/procedures/plan"
	"evenpull/spec"
)

// passes says what each pass asks of each group, and how far it is.
func (b *builder) passes() {
	firsts, counts := map[*spec.Pass]map[*spec.Group][]*plan.Stage{}, map[*spec.Pass]Count{}
	for i, it := range b.s.Items {
		if it.Stage == nil || it.Stage.Fastener == nil {
			continue
		}
		st, c := it.Stage, counts[it.Pass]
		c.Of++
		if b.s.Mark(i).Closed {
			c.Confirmed++
		}
		counts[it.Pass] = c
		if firsts[it.Pass] == nil {
			firsts[it.Pass] = map[*spec.Group][]*plan.Stage{}
		}
		if list := firsts[it.Pass][st.Fastener.Group]; len(list) == st.Step {
			firsts[it.Pass][st.Fastener.Group] = append(list, st)
		}
	}
	b.sheet.Passes = make([]Pass, len(b.proc.Passes))
	for i, p := range b.proc.Passes {
		out := Pass{Name: clean(p.Name), Because: clean(p.Because), Caution: clean(p.Caution), Stages: counts[p], Figures: []Figure{}}
		if p.IsWait() {
			out.Wait = spec.Span(p.Wait)
		}
		for _, g := range b.proc.Groups {
			if list := firsts[p][g]; len(list) > 0 {
				out.Figures = append(out.Figures, Figure{clean(g.ID), figureText(list), clean(b.proc.SourceOf(p, g))})
			}
		}
		b.sheet.Passes[i] = out
		b.sheet.Stages.Confirmed += counts[p].Confirmed
		b.sheet.Stages.Of += counts[p].Of
	}
}

func figureText(stages []*plan.Stage) string {
	var texts []string
	for _, st := range stages {
		text := st.TargetText()
		if st.Target.Percent != "" {
			text += " (" + st.Target.Percent + ")"
		}
		texts = append(texts, text)
	}
	return clean(strings.Join(texts, ", then "))
}

func (b *builder) groups() {
	b.sheet.Groups = make([]Group, len(b.proc.Groups))
	for i, g := range b.proc.Groups {
		source := g.Source
		if source == "" {
			source = b.proc.Source
		}
		b.sheet.Groups[i] = Group{clean(g.ID), clean(g.Title), groupText(g), g.OneUse, g.Hollow(), clean(g.Caution), clean(source)}
	}
}

func groupText(g *spec.Group) string {
	words := []string{g.Thread.Name}
	if g.HasClass {
		words = append(words, g.Class.Name)
	}
	if g.LeftHand {
		words = append(words, "left-hand thread")
	}
	if g.Hollow() {
		words = append(words, "hollow, bore "+g.Bore.String())
	}
	if g.Friction.Word != "" {
		words = append(words, g.Friction.Word)
	}
	if g.OneUse {
		words = append(words, "one-use")
	}
	for _, w := range g.With {
		if w.OneUse {
			words = append(words, "one-use "+w.Part)
		}
	}
	return clean(strings.Join(words, ", "))
}
