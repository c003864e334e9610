package walk

import (
	"fmt"
	"slices"

	"evenpull/procedures/plan"
	"evenpull/spec"
)

// ItemKind is what an agenda item asks of the person.
type ItemKind string

const (
	StageItem   ItemKind = "stage"
	WaitItem    ItemKind = "wait"
	AskItem     ItemKind = "ask"
	MeasureItem ItemKind = "measure"
	PartItem    ItemKind = "part"
	CalloutItem ItemKind = "callout"
	SealItem    ItemKind = "seal"
	PrepItem    ItemKind = "prep" // threads made ready, once for a group
)

// Item is one line of the agenda: everything the walk asks for, in order.
type Item struct {
	Kind    ItemKind
	Key     string // what events call it
	Pass    *spec.Pass
	Stage   *plan.Stage   // stage, wait
	Check   *spec.Check   // ask, measure
	Part    *spec.Part    // part
	Callout *spec.Callout // callout
	Group   *spec.Group   // prep

	Fastener *spec.Fastener // prep: the first it is for, or the only one
}

// Text names the item in a few words, for lists of what is outstanding.
func (it Item) Text() string {
	switch it.Kind {
	case StageItem:
		return fmt.Sprintf("%s: %s, %s", it.Stage.Pass.Name, it.Stage.Fastener.ID, it.Stage.TargetText())
	case WaitItem:
		return fmt.Sprintf("%s: wait %s", it.Pass.Name, spec.Span(it.Pass.Wait))
	case AskItem:
		return "check: " + it.Check.Ask
	case MeasureItem:
		return "measure: " + it.Check.Measure
	case PartItem:
		return "part: " + PartText(it.Part)
	case PrepItem:
		return "threads of " + it.Group.Title + ": " + it.Group.Prep
	case CalloutItem:
		return "have ready: " + it.Callout.Say
	default:
		return "first smear of sealant"
	}
}

// prepares reports whether the item makes ready the threads of this fastener alone.
func (it Item) prepares(fastener string) bool {
	return it.Kind == PrepItem && it.Group.PrepEach && it.Fastener.ID == fastener
}

// PartText gives a part's name, with its count when there are several.
func PartText(p *spec.Part) string {
	if p.Count > 1 {
		return fmt.Sprintf("%d × %s", p.Count, p.Name)
	}
	return p.Name
}

// agenda lays out a plan: before each pass what must be ready, asked and
// fitted, then its stages, then what comes free, and what is asked after it.
func agenda(p *plan.Plan) []Item {
	proc := p.Procedure
	stages := map[*spec.Pass][]*plan.Stage{}
	for _, s := range p.Stages {
		stages[s.Pass] = append(stages[s.Pass], s)
	}
	a := &agendaBuilder{proc: proc, prepared: map[string]bool{}}
	for _, pass := range proc.Passes {
		a.before(pass)
		for _, s := range stages[pass] {
			a.prepare(s)
			kind := StageItem
			if s.Action == spec.Wait {
				kind = WaitItem
			}
			a.add(Item{Kind: kind, Key: s.Key(), Pass: pass, Stage: s})
		}
		a.after(pass)
	}
	return a.items
}

type agendaBuilder struct {
	proc     *spec.Procedure
	items    []Item
	prepared map[string]bool
}

// prepare asks for the threads to be made ready before the first stage that
// tightens: once a group, or at each fastener where the sheet says so.
func (a *agendaBuilder) prepare(s *plan.Stage) {
	if !s.Action.Tightens() || s.Fastener.Group.Prep == "" || a.proc.Direction != spec.Close {
		return
	}
	g := s.Fastener.Group
	key := "prep:" + g.ID
	if g.PrepEach {
		key += "/" + s.Fastener.ID
	}
	if !a.prepared[key] {
		a.prepared[key] = true
		a.add(Item{Kind: PrepItem, Key: key, Pass: s.Pass, Group: g, Fastener: s.Fastener})
	}
}

func (a *agendaBuilder) add(it Item) { a.items = append(a.items, it) }

// before gathers what comes before a pass, in the order of the file: what to
// have ready, what to ask and measure, what goes in; the smear comes last.
func (a *agendaBuilder) before(pass *spec.Pass) {
	var due []placed
	for _, c := range a.proc.Callouts {
		if c.Before == pass {
			due = append(due, placed{c.Order, Item{Kind: CalloutItem, Key: "callout:" + c.ID, Pass: pass, Callout: c}})
		}
	}
	for _, c := range a.proc.Checks {
		if c.Before == pass {
			due = append(due, placed{c.Order, checkItem(c, pass)})
		}
	}
	for _, part := range a.proc.Parts {
		if part.Before == pass || a.floating(part) && a.proc.Direction == spec.Close && pass.Index == 0 {
			due = append(due, placed{part.Order, partItem(part, pass)})
		}
	}
	a.inOrder(due)
	if s := a.proc.Sealant; s != nil && s.Before == pass {
		a.add(Item{Kind: SealItem, Key: "sealant", Pass: pass})
	}
}

// after gathers what comes free and what is asked after a pass, in the order of the file.
func (a *agendaBuilder) after(pass *spec.Pass) {
	last := pass.Index == len(a.proc.Passes)-1
	var due []placed
	for _, part := range a.proc.Parts {
		if part.After == pass || a.floating(part) && a.proc.Direction == spec.Open && last {
			due = append(due, placed{part.Order, partItem(part, pass)})
		}
	}
	for _, c := range a.proc.Checks {
		if c.After == pass {
			due = append(due, placed{c.Order, checkItem(c, pass)})
		}
	}
	a.inOrder(due)
}

// placed is an item with its place in the file.
type placed struct {
	order int
	item  Item
}

func (a *agendaBuilder) inOrder(due []placed) {
	slices.SortStableFunc(due, func(x, y placed) int { return x.order - y.order })
	for _, d := range due {
		a.add(d.item)
	}
}

// floating parts say no time of their own: they go in before the first pass of
// a close procedure and are off after the last of an open one.
func (a *agendaBuilder) floating(part *spec.Part) bool {
	return part.Before == nil && part.After == nil
}

func checkItem(c *spec.Check, pass *spec.Pass) Item {
	kind := AskItem
	if c.Measure != "" {
		kind = MeasureItem
	}
	return Item{Kind: kind, Key: "check:" + c.ID, Pass: pass, Check: c}
}

func partItem(part *spec.Part, pass *spec.Pass) Item {
	return Item{Kind: PartItem, Key: "part:" + part.ID, Pass: pass, Part: part}
}
