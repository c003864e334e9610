package spec

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"evenpull/spec/quantity"
)

// saying is one thing that a sheet says of something: the key, and its words.
type saying struct {
	key, text string
	aside     bool // no work rests on it: a source, a part number, what to look for
}

// meaning is what work rests on, in one text: two that are alike ask for the same.
func meaning(list []saying) string {
	var b strings.Builder
	for _, s := range list {
		if !s.aside && s.text != "" {
			fmt.Fprintf(&b, "%s=%q\n", s.key, s.text)
		}
	}
	return b.String()
}

// Meaning is what the work at the group's fasteners rests on, besides their figures:
// thread, class, friction, what goes on the wrench, what goes on with them.
func (g *Group) Meaning() string { return meaning(g.sayings()) }

// Meaning is what the work of a pass rests on, besides its figures and its order.
func (p *Pass) Meaning() string { return meaning(p.sayings()) }

// Meaning is what the answer to a check rests on.
func (c *Check) Meaning() string { return meaning(c.sayings()) }

// Meaning is what a part rests on that has gone in, or come off.
func (p *Part) Meaning() string { return meaning(p.sayings()) }

// Meaning is what was made ready, and for what.
func (c *Callout) Meaning() string { return meaning(c.sayings()) }

func (g *Group) sayings() []saying {
	with := make([]string, len(g.With))
	numbers := make([]string, len(g.With))
	for i, p := range g.With {
		with[i] = fmt.Sprintf("%d × %s%s", p.Count, p.Part, map[bool]string{true: ", one-use"}[p.OneUse])
		numbers[i] = p.Number
	}
	friction := g.Friction.Word
	if g.Friction.Coefficient > 0 {
		friction = strconv.FormatFloat(g.Friction.Coefficient, 'g', -1, 64)
	}
	class := ""
	if g.HasClass {
		class = g.Class.Name
	}
	return []saying{
		{key: "thread", text: g.Thread.Name}, {key: "class", text: class}, {key: "nut", text: g.Nut.Name}, {key: "hand", text: map[bool]string{true: "left", false: "right"}[g.LeftHand]},
		{key: "friction", text: friction}, {key: "bore", text: unlessZero(g.Bore)}, {key: "drive", text: g.Drive},
		{key: "one_use", text: whether(g.OneUse)}, {key: "with", text: strings.Join(with, ", ")},
		{key: "prep", text: g.Prep}, {key: "prep_each", text: whether(g.PrepEach)}, {key: "caution", text: g.Caution},

		{key: "title", text: g.Title, aside: true}, {key: "number", text: strings.TrimSpace(strings.Join(append([]string{g.Number}, numbers...), " ")), aside: true}, {key: "into", text: g.Into, aside: true},
		{key: "engagement", text: unlessZero(g.Engagement), aside: true}, {key: "grip", text: unlessZero(g.Grip), aside: true}, {key: "clamps", text: g.Clamps, aside: true},
		{key: "shank", text: unlessNil(g.Shank), aside: true}, {key: "waist", text: strings.TrimSpace(unlessZero(g.Waist.Diameter) + " " + unlessZero(g.Waist.Length)), aside: true},
		{key: "insert", text: map[bool]string{true: "wire"}[g.WireInsert], aside: true}, {key: "cross_hole", text: unlessZero(g.CrossHole), aside: true}, {key: "light", text: g.Light, aside: true},
		{key: "source", text: g.Source, aside: true}, {key: "look_for", text: strings.Join(g.LookFor, ", "), aside: true}, {key: "condemn", text: strings.Join(g.Condemn, ", "), aside: true},
	}
}

// sayings of a pass: its figures and its order are not among what it rests on as a
// whole, since each of its stages has its own.
func (p *Pass) sayings() []saying {
	list := []saying{{key: "caution", text: p.Caution}, {key: "prepare", text: p.Prepare}}
	if p.IsWait() {
		return append(list, saying{key: "wait", text: Span(p.Wait), aside: true})
	}
	for i, step := range p.Steps {
		key := "figure"
		if len(p.Steps) > 1 {
			key = fmt.Sprintf("figure %d", i+1)
		}
		for _, g := range p.Groups() {
			list = append(list, saying{key: key + " of " + g.ID, text: step.Target(g).words(step.Action), aside: true})
		}
	}
	order := p.Order.Kind + idsOf(p.Order.List)
	if p.Order.By != "" {
		order += ", by " + p.Order.By
	}
	if p.Order.Backwards {
		order += ", backwards"
	}
	return append(list, saying{key: "fasteners", text: idsOf(p.Fasteners), aside: true}, saying{key: "first", text: p.First, aside: true}, saying{key: "order", text: order, aside: true},
		saying{key: "because", text: p.Because, aside: true}, saying{key: "source", text: p.Source, aside: true})
}

// words gives a figure as the action takes it.
func (t Target) words(a Action) string {
	switch {
	case a == Torque || a == Verify:
		return string(a) + " " + t.Torque.Text()
	case a == Turn:
		return "turn " + t.Turn.Text()
	case a == Loosen && t.Fully:
		return "loosen fully"
	case a == Loosen:
		return "loosen " + t.Turn.Text()
	case a == Stretch && t.Ceiling != nil:
		return "stretch " + t.Stretch.Text() + ", at most " + t.Ceiling.String()
	case a == Stretch:
		return "stretch " + t.Stretch.Text()
	}
	return string(a)
}

func (c *Check) sayings() []saying {
	shim := ""
	if c.Shim != nil {
		shim = fmt.Sprintf("%s, %v, at %d", c.Shim.Part.Name, c.Shim.Stock, c.Shim.Ends)
	}
	h := c.How
	return []saying{
		{key: "ask", text: c.Ask}, {key: "measure", text: c.Measure}, {key: "kind", text: h.Kind}, comes(c.Before, c.After),
		{key: "min", text: unlessNil(c.Min)}, {key: "max", text: unlessNil(c.Max)}, {key: "wanted", text: unlessNil(h.Wanted)}, {key: "spread", text: unlessNil(h.Spread)},
		{key: "pitch_radius", text: unlessZero(h.PitchRadius)}, {key: "dial_radius", text: unlessZero(h.DialRadius)},
		{key: "readings", text: fmt.Sprint(max(1, h.Readings))}, {key: "labels", text: strings.Join(h.Labels, ", ")}, {key: "shim", text: shim},
		{key: "of", text: aboutOf(c)}, {key: "no_restarts", text: idsOf(c.NoRestarts)}, {key: "caution", text: c.Caution},
		{key: "remedy", text: c.Remedy, aside: true}, {key: "source", text: c.Source, aside: true},
	}
}

func (p *Part) sayings() []saying {
	return []saying{
		{key: "name", text: p.Name}, {key: "kind", text: p.Kind}, {key: "count", text: fmt.Sprint(p.Count)}, {key: "one_use", text: whether(p.OneUse)},
		comes(p.Before, p.After), {key: "where", text: p.Where}, {key: "caution", text: p.Caution},
		{key: "number", text: p.Number, aside: true}, {key: "look_for", text: strings.Join(p.LookFor, ", "), aside: true}, {key: "condemn", text: strings.Join(p.Condemn, ", "), aside: true},
		{key: "measure", text: p.Measure, aside: true}, {key: "work", text: p.Work, aside: true},
	}
}

func (c *Callout) sayings() []saying {
	return []saying{{key: "say", text: c.Say}, {key: "kind", text: c.Kind}, comes(c.Before, nil), {key: "caution", text: c.Caution},
		{key: "to", text: unlessNil(c.To)}, {key: "within", text: spanOf(c.Within)}}
}

func (s *Sealant) sayings() []saying {
	return []saying{{key: "name", text: s.Name}, comes(s.Before, nil), {key: "work_time", text: Span(s.WorkTime)}, {key: "cure_time", text: Span(s.CureTime)}}
}

func (c *Cover) sayings() []saying {
	names := make([]string, len(c.Groups))
	for i, g := range c.Groups {
		names[i] = g.ID
	}
	return []saying{{key: "part", text: c.Part}, {key: "material", text: c.Material}, {key: "thickness", text: unlessZero(c.Thickness)}, {key: "face", text: c.Face}, {key: "groups", text: strings.Join(names, ", ")}}
}

// sayings of a fastener: an id that has gone elsewhere on the joint is another bolt.
func (f *Fastener) sayings() []saying {
	cap := ""
	if f.Cap != nil {
		cap = f.Cap.Name
	}
	return []saying{{key: "group", text: f.Group.ID}, {key: "at", text: fmt.Sprintf("%g, %g", f.X, f.Y)}, {key: "cap", text: cap, aside: true}}
}

// Meaning is what the work at one fastener rests on, besides its figures.
func (f *Fastener) Meaning() string { return meaning(f.sayings()) + f.Group.Meaning() }

func comes(before, after *Pass) saying {
	switch {
	case before != nil:
		return saying{key: "when", text: "before " + before.Name}
	case after != nil:
		return saying{key: "when", text: "after " + after.Name}
	}
	return saying{key: "when"}
}

func whether(yes bool) string { return map[bool]string{true: "yes", false: "no"}[yes] }

func unlessZero(l quantity.Length) string {
	if l.IsZero() {
		return ""
	}
	return l.String()
}

func spanOf(d time.Duration) string {
	if d == 0 {
		return ""
	}
	return Span(d)
}

func unlessNil[T fmt.Stringer](v *T) string {
	if v == nil {
		return ""
	}
	return (*v).String()
}

func idsOf(list []*Fastener) string {
	names := make([]string, len(list))
	for i, f := range list {
		names[i] = f.ID
	}
	return strings.Join(names, ", ")
}

func aboutOf(c *Check) string {
	names := make([]string, len(c.Of))
	for i, t := range c.Of {
		names[i] = t.String()
	}
	return strings.Join(names, ", ")
}
