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

// Item is one line of the agenda: everything the walk asks for, in order. A large
// sheet has hundreds of thousands, most of them stages that differ in nothing else.
type Item struct {
	*Asked
	Stage    *plan.Stage    // stage, wait
	Fastener *spec.Fastener // prep of one alone, slacken, repair: whose
}

// Asked is what an item asks for, but for which stage or fastener. Nothing changes it.
type Asked struct {
	Kind    ItemKind
	Pass    *spec.Pass
	Check   *spec.Check   // ask, measure
	Part    *spec.Part    // part
	Callout *spec.Callout // callout
	Group   *spec.Group   // prep
	Fault   *Fault        // finding

	Unforeseen bool // a part that the sheet does not have
	Later      bool // asked for only once something has happened: closed until then
}

// Key names the item. It is put together when it is asked for.
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
	a := &agendaBuilder{proc: proc, items: make([]Item, 0, len(p.Stages)+2*len(proc.Fasteners)), shared: map[Asked]*Asked{}, prepared: map[*spec.Group]bool{}, tightened: map[*spec.Fastener]bool{}, begun: map[*spec.Fastener]bool{}}
	for _, s := range p.Stages {
		if s.Action.Tightens() {
			a.tightened[s.Fastener] = true
		}
	}
	if rules >= readyRules {
		a.ready = readyBefore(p)
	}
	left := p.Stages // those of a pass follow each other
	for _, pass := range proc.Passes {
		a.before(pass)
		asked := a.asked(Asked{Kind: StageItem, Pass: pass})
		if pass.IsWait() {
			asked = a.asked(Asked{Kind: WaitItem, Pass: pass})
		}
		for ; len(left) > 0 && left[0].Pass == pass; left = left[1:] {
			a.begin(left[0])
			a.items = append(a.items, Item{Asked: asked, Stage: left[0]})
		}
		a.after(pass)
	}
	return a.items
}

type agendaBuilder struct {
	proc      *spec.Procedure
	items     []Item
	shared    map[Asked]*Asked
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
	f := s.Fastener
	if a.proc.Direction != spec.Close || a.begun[f] || !s.Action.Tightens() && (s.Action != spec.Verify || a.tightened[f]) {
		return
	}
	a.begun[f] = true
	a.add(Asked{Kind: RepairItem, Pass: s.Pass, Later: true}, f)
	a.add(Asked{Kind: SlackenItem, Pass: s.Pass, Later: true}, f)
	g := f.Group
	if g.Prep == "" || !s.Action.Tightens() {
		return
	}
	if !g.PrepEach {
		a.prepare(g, s.Pass)
	}
	a.add(Asked{Kind: PrepItem, Pass: s.Pass, Group: g, Later: !g.PrepEach}, f)
}

// prepare asks once for the threads of a group.
func (a *agendaBuilder) prepare(g *spec.Group, pass *spec.Pass) {
	if a.prepared[g] {
		return
	}
	a.prepared[g] = true
	a.add(Asked{Kind: PrepItem, Pass: pass, Group: g}, nil)
}

func (a *agendaBuilder) add(what Asked, f *spec.Fastener) {
	a.items = append(a.items, Item{Asked: a.asked(what), Fastener: f})
}

// asked gives the one that all items share which ask for the same.
func (a *agendaBuilder) asked(what Asked) *Asked {
	if a.shared[what] == nil {
		a.shared[what] = &what
	}
	return a.shared[what]
}

// before gathers what comes before a pass, in the order of the file: what to
// have ready, what to ask and measure, what goes in; then the threads, and the
// smear last.
func (a *agendaBuilder) before(pass *spec.Pass) {
	var due []placed
	for _, c := range a.proc.Callouts {
		if c.Before == pass {
			due = append(due, placed{c.Order, Asked{Kind: CalloutItem, Pass: pass, Callout: c}})
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
		a.add(Asked{Kind: SealItem, Pass: pass}, nil)
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

// placed is what is asked for, with its place in the file.
type placed struct {
	order int
	asked Asked
}

func (a *agendaBuilder) inOrder(due []placed) {
	slices.SortStableFunc(due, func(x, y placed) int { return x.order - y.order })
	for _, d := range due {
		a.add(d.asked, nil)
	}
}

// floating parts say no time of their own: they go in before the first pass of
// a close procedure and are off after the last of an open one.
func (a *agendaBuilder) floating(part *spec.Part) bool {
	return part.Before == nil && part.After == nil
}

func checkItem(c *spec.Check, pass *spec.Pass) Asked {
	kind := AskItem
	if c.Measure != "" {
		kind = MeasureItem
	}
	return Asked{Kind: kind, Pass: pass, Check: c}
}

func partItem(part *spec.Part, pass *spec.Pass) Asked {
	return Asked{Kind: PartItem, Pass: pass, Part: part}
}
