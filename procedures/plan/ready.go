package plan

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"evenpull/spec"
)

// Ready is what has to be at hand, and known, before a bolt is touched, as the
// sheet alone tells. Lists that would be empty are left out.
type Ready struct {
	Procedure string         `json:"procedure"`
	Engine    string         `json:"engine"`
	Direction spec.Direction `json:"direction"` // close or open
	Stages    int            `json:"stages"`    // to confirm, waits not counted
	Lists     []ReadyList    `json:"lists"`     // in the order in which they are wanted
}

// ReadyList is what is wanted of one kind.
type ReadyList struct {
	Name  string      `json:"name"` // beware, tools, heat, help, new pieces, parts or comes off, threads, sealant, times, questions, to measure
	Items []ReadyItem `json:"items"`
}

// ReadyItem is one thing to have or to know.
type ReadyItem struct {
	Text   string `json:"text"`
	Count  int    `json:"count,omitempty"`  // pieces; 0: it is not counted
	Number string `json:"number,omitempty"` // part number
	Note   string `json:"note,omitempty"`   // what for, where, which caution
}

// Ready gathers it.
func (p *Plan) Ready() Ready {
	proc := p.Procedure
	r := Ready{Procedure: proc.Name, Engine: proc.Engine, Direction: proc.Direction, Lists: []ReadyList{}}
	for _, s := range p.Stages {
		if s.Fastener != nil {
			r.Stages++
		}
	}
	r.add("beware", beware(proc))
	r.add("tools", append(p.sockets(), called(proc, "tool", "press", "spring")...))
	r.add("heat", called(proc, "heat"))
	r.add("help", called(proc, "lift"))
	if proc.Direction == spec.Close {
		r.add("new pieces", p.newPieces())
	}
	laid := "parts"
	if proc.Direction == spec.Open {
		laid = "comes off"
	}
	r.add(laid, partsToHand(proc))
	r.add("threads", threads(p))
	if s := proc.Sealant; s != nil {
		r.add("sealant", []ReadyItem{{Text: s.Name, Note: "first smear before " + s.Before.Name}})
	}
	r.add("times", p.times())
	r.add("questions", asked(proc))
	r.add("to measure", measured(proc))
	return r
}

func (r *Ready) add(name string, items []ReadyItem) {
	if len(items) > 0 {
		r.Lists = append(r.Lists, ReadyList{name, items})
	}
}

func beware(proc *spec.Procedure) (list []ReadyItem) {
	say := func(text, of string) {
		if text != "" && !slices.ContainsFunc(list, func(it ReadyItem) bool { return it.Text == text }) {
			list = append(list, ReadyItem{Text: text, Note: of})
		}
	}
	for _, c := range proc.Cautions {
		say(c, "")
	}
	for _, g := range proc.Groups {
		say(g.Caution, g.Title)
		if g.LeftHand {
			say("Left-hand thread: tightens anticlockwise.", g.Title)
		}
	}
	for _, pass := range proc.Passes {
		say(pass.Caution, pass.Name)
	}
	for _, c := range proc.Checks {
		say(c.Caution, "")
	}
	for _, part := range proc.Parts {
		say(part.Caution, part.Name)
	}
	for _, c := range proc.Callouts {
		say(c.Caution, "")
	}
	return list
}

// sockets are the drives with what is pulled on them, and what else the
// figures are reached with.
func (p *Plan) sockets() (list []ReadyItem) {
	type use struct {
		groups []string
		low    *Stage // of the smallest and the largest torque
		high   *Stage
	}
	uses, order := map[string]*use{}, []string{}
	var turns, stretches bool
	for _, s := range p.Stages {
		if s.Fastener == nil {
			continue
		}
		g := s.Fastener.Group
		u := uses[g.Drive]
		if u == nil {
			u = &use{}
			uses[g.Drive], order = u, append(order, g.Drive)
		}
		if !slices.Contains(u.groups, g.Title) {
			u.groups = append(u.groups, g.Title)
		}
		switch s.Action {
		case spec.Torque, spec.Verify:
			if u.low == nil || s.Target.Torque.Aim().Cmp(u.low.Target.Torque.Aim()) < 0 {
				u.low = s
			}
			if u.high == nil || s.Target.Torque.Aim().Cmp(u.high.Target.Torque.Aim()) > 0 {
				u.high = s
			}
		case spec.Turn:
			turns = true
		case spec.Stretch:
			stretches = true
		}
	}
	for _, drive := range order {
		u := uses[drive]
		it := ReadyItem{Text: drive, Note: strings.Join(u.groups, ", ")}
		if drive == "" {
			it.Text = "socket, which the sheet does not name"
		}
		if u.low != nil {
			low, high := u.low.Target.Torque.Aim(), u.high.Target.Torque.Aim()
			it.Text += ", torque wrench for " + low.String()
			if low.Cmp(high) != 0 {
				it.Text += " to " + high.String()
			}
		}
		list = append(list, it)
	}
	if turns {
		list = append(list, ReadyItem{Text: "angle gauge, or a mark on the head and one beside it"})
	}
	if stretches {
		list = append(list, ReadyItem{Text: "gauge or micrometer for the stretch of a bolt"})
	}
	return list
}

func called(proc *spec.Procedure, kinds ...string) (list []ReadyItem) {
	for _, c := range proc.Callouts {
		if slices.Contains(kinds, c.Kind) {
			list = append(list, ReadyItem{Text: c.Text(), Note: "before " + c.Before.Name})
		}
	}
	return list
}

// newPieces are the one-use fasteners, what goes on with them, and the one-use parts.
func (p *Plan) newPieces() (list []ReadyItem) {
	walked := map[*spec.Fastener]bool{}
	for _, s := range p.Stages {
		walked[s.Fastener] = true
	}
	add := func(it ReadyItem) {
		for i := range list {
			if list[i].Text == it.Text && list[i].Number == it.Number {
				list[i].Count += it.Count
				list[i].Note = strings.TrimPrefix(list[i].Note+", "+it.Note, ", ")
				return
			}
		}
		list = append(list, it)
	}
	for _, g := range p.Procedure.Groups {
		n := 0
		for _, f := range g.Members {
			if walked[f] {
				n++
			}
		}
		if n == 0 {
			continue
		}
		if g.OneUse {
			add(ReadyItem{Text: g.Title + ", " + g.Thread.Name, Count: n, Number: g.Number})
		}
		for _, w := range g.With {
			if w.OneUse {
				add(ReadyItem{Text: w.Part, Count: n * w.Count, Number: w.Number, Note: g.Title})
			}
		}
	}
	for _, part := range p.Procedure.Parts {
		if part.OneUse {
			add(ReadyItem{Text: part.Name, Count: part.Count, Number: part.Number})
		}
	}
	return list
}

// partsToHand are those that are not new each time: they go in, or come off and want a place.
func partsToHand(proc *spec.Procedure) (list []ReadyItem) {
	for _, part := range proc.Parts {
		if !part.OneUse || proc.Direction == spec.Open {
			list = append(list, ReadyItem{Text: part.Name, Count: part.Count, Number: part.Number, Note: part.Where})
		}
	}
	return list
}

func threads(p *Plan) (list []ReadyItem) {
	for _, g := range p.Procedure.Groups {
		text := g.Prep
		if text == "" && g.Friction.Word != "" {
			text = g.Friction.Word
		}
		if text != "" {
			list = append(list, ReadyItem{Text: text, Note: g.Title})
		}
	}
	for _, pass := range p.Procedure.Passes {
		if pass.Prepare != "" {
			list = append(list, ReadyItem{Text: pass.Prepare, Note: "before " + pass.Name})
		}
	}
	return list
}

func (p *Plan) times() (list []ReadyItem) {
	if s := p.Procedure.Sealant; s != nil {
		list = append(list, ReadyItem{Text: spec.Span(s.WorkTime) + " from first smear to the last pull under the sealant"})
	}
	for _, c := range p.Procedure.Callouts {
		if c.Within > 0 {
			list = append(list, ReadyItem{Text: spec.Span(c.Within) + " from hot to what follows", Note: c.Say})
		}
	}
	for _, pass := range p.Procedure.Passes {
		if pass.IsWait() {
			list = append(list, ReadyItem{Text: spec.Span(pass.Wait) + " to wait", Note: pass.Name})
		}
	}
	if s := p.Procedure.Sealant; s != nil && s.CureTime > 0 {
		list = append(list, ReadyItem{Text: spec.Span(s.CureTime) + " to cure before oil goes in"})
	}
	return list
}

func asked(proc *spec.Procedure) (list []ReadyItem) {
	for _, c := range proc.Checks {
		if c.Ask != "" {
			list = append(list, ReadyItem{Text: c.Ask, Note: when(c)})
		}
	}
	return list
}

func measured(proc *spec.Procedure) (list []ReadyItem) {
	for _, c := range proc.Checks {
		if c.Measure == "" {
			continue
		}
		text := c.Measure
		switch {
		case c.Min != nil && c.Max != nil:
			text += fmt.Sprintf(", %s to %s", c.Min, c.Max)
		case c.Min != nil:
			text += fmt.Sprintf(", at least %s", c.Min)
		case c.Max != nil:
			text += fmt.Sprintf(", at most %s", c.Max)
		}
		list = append(list, ReadyItem{Text: text, Note: when(c)})
	}
	return list
}

func when(c *spec.Check) string {
	if c.Before != nil {
		return "before " + c.Before.Name
	}
	return "after " + c.After.Name
}

// WriteReady writes it for a person, each line with a box to tick.
func (p *Plan) WriteReady(w io.Writer) error {
	r := p.Ready()
	var b strings.Builder
	fmt.Fprintf(&b, "Ready before starting: %s (%s), %d stages\n", r.Procedure, r.Direction, r.Stages)
	if r.Engine != "" {
		fmt.Fprintf(&b, "engine: %s\n", r.Engine)
	}
	for _, list := range r.Lists {
		fmt.Fprintf(&b, "\n%s\n", list.Name)
		for _, it := range list.Items {
			b.WriteString("  [ ] " + it.Line() + "\n")
		}
	}
	b.WriteString("\nThe engine's own service manual governs.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// Line is the item in one line: "8 × sealing washer, 380-11-112 (oil-feed bolt)".
func (it ReadyItem) Line() string {
	text := it.Text
	if it.Count > 1 {
		text = fmt.Sprintf("%d × %s", it.Count, text)
	}
	if it.Number != "" {
		text += ", " + it.Number
	}
	if it.Note != "" {
		text += " (" + it.Note + ")"
	}
	return text
}
