package walk

import (
	"fmt"
	"slices"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/ident"
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
	PrepItem    ItemKind = "prep"    // threads made ready
	SlackenItem ItemKind = "slacken" // let go, before it is started again
	RepairItem  ItemKind = "repair"  // the thread in the case made good
	FaultItem   ItemKind = "finding" // what the strip-down found wrong
)

// Item is one line of the agenda: everything the walk asks for, in order.
type Item struct {
	Kind    ItemKind
	Pass    *spec.Pass
	Stage   *plan.Stage   // stage, wait
	Check   *spec.Check   // ask, measure
	Part    *spec.Part    // part
	Callout *spec.Callout // callout
	Group   *spec.Group   // prep
	Fault   *Fault        // finding

	Fastener *spec.Fastener // prep of one alone, slacken, repair: whose

	Unforeseen bool // a part that the sheet does not have
	Later      bool // asked for only once something has happened: closed until then
}

// Key names the item. It is put together when it is asked for: a large sheet has
// hundreds of thousands of items.
func (it Item) Key() ident.Step {
	switch it.Kind {
	case StageItem, WaitItem:
		return it.Stage.Key()
	case AskItem, MeasureItem:
		return ident.CheckStep(it.Check.ID)
	case PartItem:
		return ident.PartStep(it.Part.ID)
	case CalloutItem:
		return ident.CalloutStep(it.Callout.ID)
	case PrepItem:
		if it.Fastener == nil {
			return ident.PrepStep(it.Group.ID, "")
		}
		return ident.PrepStep(it.Group.ID, it.Fastener.ID)
	case SlackenItem:
		return ident.SlackenStep(it.Fastener.ID)
	case RepairItem:
		return ident.RepairStep(it.Fastener.ID)
	case FaultItem:
		return it.Fault.Step()
	}
	return ident.SmearStep()
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
		of := it.Group.Title
		if it.Fastener != nil {
			of = it.Fastener.ID
		}
		return "threads of " + of + ": " + it.Group.Prep
	case CalloutItem:
		return "have ready: " + it.Callout.Text()
	case SlackenItem:
		return "slacken " + it.Fastener.ID + " fully, before it starts again"
	case RepairItem:
		return "repair the thread in the case at " + it.Fastener.ID
	case FaultItem:
		return "found at strip-down: " + it.Fault.Text()
	}
	return "first smear of sealant"
}

// Thing is the fastener or part the item is about, or the zero Thing.
func (it Item) Thing() ident.Thing {
	switch {
	case it.Kind == PartItem:
		return ident.Part(it.Part.ID)
	case it.Kind == StageItem:
		return thingOf(it.Stage.Fastener)
	case it.Fastener != nil:
		return thingOf(it.Fastener)
	}
	return ident.Thing{}
}

func thingOf(f *spec.Fastener) ident.Thing { return ident.Fastener(f.ID, f.Group.Thread.Name) }

// PartText gives a part's name, with its count when there are several.
func PartText(p *spec.Part) string {
	if p.Count > 1 {
		return fmt.Sprintf("%d × %s", p.Count, p.Name)
	}
	return p.Name
}

// agenda lays out a plan: before each pass what must be ready, asked and
// fitted, then its stages, then what comes free, and what is asked after it.
func agenda(p *plan.Plan, rules int) []Item {
	proc := p.Procedure
	stages := map[*spec.Pass][]*plan.Stage{}
	tightened := map[*spec.Fastener]bool{}
	for _, s := range p.Stages {
		stages[s.Pass] = append(stages[s.Pass], s)
		if s.Action.Tightens() {
			tightened[s.Fastener] = true
		}
	}
	a := &agendaBuilder{proc: proc, items: make([]Item, 0, len(p.Stages)+2*len(proc.Fasteners)), prepared: map[*spec.Group]bool{}, tightened: tightened, begun: map[*spec.Fastener]bool{}}
	if rules >= readyRules {
		a.ready = readyBefore(p)
	}
	for _, pass := range proc.Passes {
		a.before(pass)
		for _, s := range stages[pass] {
			kind := WaitItem
			if s.Action != spec.Wait {
				kind = StageItem
				a.begin(s)
			}
			a.add(Item{Kind: kind, Pass: pass, Stage: s})
		}
		a.after(pass)
	}
	return a.items
}

type agendaBuilder struct {
	proc      *spec.Procedure
	items     []Item
	prepared  map[*spec.Group]bool
	tightened map[*spec.Fastener]bool // at some stage; else it is only felt
	begun     map[*spec.Fastener]bool // past its first stage of these

	ready map[*spec.Pass][]*spec.Group // whose threads are made ready before a pass begins
}

// begin puts before a fastener's first stage what may be asked for again: the
// repair of its thread and its slackening; and before the first that tightens
// it the threads made ready: once a group, unless that was before the pass, or at
// each fastener where the sheet says so, and at one alone when that one is replaced.
func (a *agendaBuilder) begin(s *plan.Stage) {
	f, g := s.Fastener, s.Fastener.Group
	if a.proc.Direction != spec.Close || a.begun[f] || !s.Action.Tightens() && (s.Action != spec.Verify || a.tightened[f]) {
		return
	}
	a.begun[f] = true
	a.add(Item{Kind: RepairItem, Pass: s.Pass, Fastener: f, Later: true})
	a.add(Item{Kind: SlackenItem, Pass: s.Pass, Fastener: f, Later: true})
	if g.Prep == "" || !s.Action.Tightens() {
		return
	}
	if !g.PrepEach {
		a.prepare(g, s.Pass)
	}
	a.add(Item{Kind: PrepItem, Pass: s.Pass, Group: g, Fastener: f, Later: !g.PrepEach})
}

// prepare asks once for the threads of a group.
func (a *agendaBuilder) prepare(g *spec.Group, pass *spec.Pass) {
	if a.prepared[g] {
		return
	}
	a.prepared[g] = true
	a.add(Item{Kind: PrepItem, Pass: pass, Group: g})
}

func (a *agendaBuilder) add(it Item) { a.items = append(a.items, it) }

// before gathers what comes before a pass, in the order of the file: what to
// have ready, what to ask and measure, what goes in; then the threads, and the
// smear last.
func (a *agendaBuilder) before(pass *spec.Pass) {
	var due []placed
	for _, c := range a.proc.Callouts {
		if c.Before == pass {
			due = append(due, placed{c.Order, Item{Kind: CalloutItem, Pass: pass, Callout: c}})
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
	for _, g := range a.ready[pass] {
		a.prepare(g, pass)
	}
	if s := a.proc.Sealant; s != nil && s.Before == pass {
		a.add(Item{Kind: SealItem, Pass: pass})
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
	return Item{Kind: kind, Pass: pass, Check: c}
}

func partItem(part *spec.Part, pass *spec.Pass) Item {
	return Item{Kind: PartItem, Pass: pass, Part: part}
}
