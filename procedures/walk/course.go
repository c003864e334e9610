package walk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Course is what a plan asks for, laid out once: any number of walks share it.
// Nothing changes it.
type Course struct {
	Plan  *plan.Plan
	Items []Item

	rules    int            // it is laid out by
	at       map[string]int // text of a step that is no stage → index of its item
	passes   map[string]*spec.Pass
	stagesOf map[string][]int
	mineOf   map[string]mine
	places   map[ident.Thing]int // a part → index of its item
	stages   int                 // stages that are not waits
	pieces   []Renewable
	piecesOf map[ident.Thing][]int
	around   []int               // waits and checks
	smear    int                 // index of the first smear; -1 without one
	ready    map[*spec.Group]int // index of the threads of a group made ready
	sealEnd  int                 // index of the last item inside the sealant's clock
	byID     map[string]*spec.Fastener
	legs     map[*spec.Pass]span
	heats    map[int][]int // index of an act → of the callouts of heat it follows in time
	hot      []int         // of these acts, in order
	measured figures       // what readings of checks came to
	others   otherSheets   // what sheets came to that were gone over to

	unforeseen []*spec.Part // that have a place here and none on the sheet
}

// mine is where the items of one fastener lie that are no stages. -1: it has none.
type mine struct {
	repair, slacken, prep int
	tight                 int // index of its first stage that tightens or holds it
}

// PlanOf is the order of a walk by the rules it was begun by.
func PlanOf(p *spec.Procedure, rules int) *plan.Plan {
	if rules <= FirstRules {
		return plan.Earlier(p)
	}
	return plan.Of(p)
}

// CourseOf lays out a plan as these rules have it; 0 stands for the first, which
// old records do not name. Cost is linear in its stages.
func CourseOf(p *plan.Plan, rules int) *Course {
	rules = max(FirstRules, rules)
	return layOut(p, rules, agenda(p, rules))
}

func layOut(p *plan.Plan, rules int, items []Item) *Course {
	c := &Course{Plan: p, Items: items, rules: rules, ready: map[*spec.Group]int{}, stagesOf: map[string][]int{}, mineOf: map[string]mine{}, places: map[ident.Thing]int{}, piecesOf: map[ident.Thing][]int{}, byID: map[string]*spec.Fastener{}, smear: -1}
	c.at, c.passes = map[string]int{}, map[string]*spec.Pass{}
	for i, it := range c.Items {
		if it.Kind != StageItem {
			c.at[it.Key().String()] = i
		}
		c.index(i, it)
	}
	for _, pass := range p.Procedure.Passes {
		c.passes[pass.Name] = pass
	}
	for _, f := range p.Procedure.Fasteners {
		c.byID[f.ID] = f
	}
	c.listPieces()
	c.sealEnd = c.endOfSealing()
	c.legs = legsOf(c.Items)
	c.listHeats()
	return c
}

// what is known of an item before the first event: it is open, or not asked for yet.
var unmarked, unasked = &Mark{}, &Mark{Closed: true}

func (it Item) unmarked() *Mark {
	if it.Later {
		return unasked
	}
	return unmarked
}

func (c *Course) unmarked() []*Mark {
	marks := make([]*Mark, len(c.Items))
	for i, it := range c.Items {
		marks[i] = it.unmarked()
	}
	return marks
}

func (c *Course) index(i int, it Item) {
	switch it.Kind {
	case SealItem:
		c.smear = i
	case WaitItem, AskItem, MeasureItem:
		c.around = append(c.around, i)
	case PartItem:
		c.places[it.Thing()] = i
		if it.Unforeseen {
			c.unforeseen = append(c.unforeseen, it.Part)
		}
	case StageItem:
		c.stages++
		id := it.Stage.Fastener.ID
		c.stagesOf[id] = append(c.stagesOf[id], i)
		if m, begun := c.mineOf[id]; begun && m.tight < 0 {
			m.tight = i
			c.mineOf[id] = m
		}
	case RepairItem:
		c.mineOf[it.Fastener.ID] = mine{repair: i, slacken: -1, prep: -1, tight: -1}
	case SlackenItem, PrepItem:
		if it.Fastener == nil {
			c.ready[it.Group] = i
			return
		}
		m := c.mineOf[it.Fastener.ID]
		if it.Kind == SlackenItem {
			m.slacken = i
		} else {
			m.prep = i
		}
		c.mineOf[it.Fastener.ID] = m
	}
}

// Itself is how a fastener is called among its own pieces.
const Itself = "fastener"

// listPieces lists what may have to be new: a fastener and what goes with it,
// and the parts. On the way apart nothing is renewed; it goes on the list to order.
func (c *Course) listPieces() {
	proc := c.Plan.Procedure
	if proc.Direction != spec.Close {
		return
	}
	for _, f := range proc.Fasteners {
		if len(c.stagesOf[f.ID]) == 0 {
			continue
		}
		c.addPiece(thingOf(f), Renewable{Fastener: f.ID, Name: Itself, Count: 1, Needed: f.Group.OneUse, Number: f.Group.Number, Why: OneUse})
		for _, w := range f.Group.With {
			if w.OneUse {
				c.addPiece(thingOf(f), Renewable{Fastener: f.ID, Name: w.Part, Count: w.Count, Needed: true, Number: w.Number, Why: OneUse})
			}
		}
	}
	for _, p := range append(proc.Parts[:len(proc.Parts):len(proc.Parts)], c.unforeseen...) {
		piece := Renewable{Part: p.ID, Name: p.Name, Count: p.Count, Needed: p.OneUse, Number: p.Number}
		if p.OneUse {
			piece.Why = OneUse
		}
		c.addPiece(ident.Part(p.ID), piece)
	}
}

func (c *Course) addPiece(owner ident.Thing, p Renewable) {
	c.piecesOf[owner] = append(c.piecesOf[owner], len(c.pieces))
	c.pieces = append(c.pieces, p)
}

// endOfSealing is the last stage inside the sealant's clock: of the last
// tightening pass after the smear, up to the first wait, if there is one.
func (c *Course) endOfSealing() int {
	if c.smear < 0 {
		return -1
	}
	end := c.smear
	for i := c.smear; i < len(c.Items); i++ {
		it := c.Items[i]
		if it.Kind == WaitItem {
			break
		}
		if it.Kind == StageItem && it.Stage.Action.Tightens() {
			end = i
		}
	}
	return end
}

// readyAhead reports whether the threads of a group are made ready before the
// sealant is smeared that its bolts hold.
func (c *Course) readyAhead(g *spec.Group) bool {
	i, ok := c.ready[g]
	return ok && i < c.smear && !slices.ContainsFunc(g.Members, func(f *spec.Fastener) bool {
		stages := c.stagesOf[f.ID]
		return len(stages) > 0 && stages[0] < c.smear
	})
}

// PullsFirst reports whether item i is the stage that first tightens its fastener.
func (c *Course) PullsFirst(i int) bool {
	it := c.Items[i]
	return it.Kind == StageItem && it.Stage.Action.Tightens() && c.mineOf[it.Stage.Fastener.ID].tight == i
}

// StagesOf gives the indexes of a fastener's stages, in order.
func (c *Course) StagesOf(fastener string) []int { return c.stagesOf[fastener] }

// StageCount is how many stages there are to confirm; waits are none.
func (c *Course) StageCount() int { return c.stages }

// StagesText says how far a walk is: "3 of 12 stages". A sheet with parts only has none.
func StagesText(confirmed, of int) string {
	if of == 0 {
		return "parts only"
	}
	return fmt.Sprintf("%d of %d stages", confirmed, of)
}

// Find gives the index of an item by the text of its step. Stages, of which a large sheet
// has hundreds of thousands, stand in no table of their own: the text says where they are.
func (c *Course) Find(step string) (int, bool) {
	if i, ok := c.at[step]; ok {
		return i, true
	}
	for cut := strings.LastIndexByte(step, '/'); cut >= 0; cut = strings.LastIndexByte(step[:cut], '/') {
		pass := c.passes[step[:cut]] // names may have a slash in them: each is tried
		if pass == nil {
			continue
		}
		if i, ok := c.stageAt(pass, step[cut+1:], 0); ok {
			return i, true
		}
		if end := strings.LastIndexByte(step, '/'); end > cut {
			if action, err := strconv.Atoi(step[end+1:]); err == nil && strconv.Itoa(action) == step[end+1:] {
				if i, ok := c.stageAt(pass, step[cut+1:end], action); ok {
					return i, true
				}
			}
		}
	}
	return 0, false
}

// stageAt gives the index of a fastener's stage in a pass, which action of several; 0
// where the pass has one.
func (c *Course) stageAt(pass *spec.Pass, fastener string, action int) (int, bool) {
	stages := c.stagesOf[fastener]
	from, _ := slices.BinarySearch(stages, c.legs[pass].from)
	for _, i := range stages[from:] {
		st := c.Items[i].Stage
		switch {
		case i >= c.legs[pass].to:
			return 0, false
		case st.Pass != pass:
		case action == 0 && len(pass.Steps) == 1, action == st.Step+1 && len(pass.Steps) > 1:
			return i, true
		}
	}
	return 0, false
}

// itemOf is Find for a step that is known to be there.
func (c *Course) itemOf(step string) int {
	i, _ := c.Find(step)
	return i
}

// PlaceOf gives the index of the item where a part goes in or comes off.
func (c *Course) PlaceOf(part string) (int, bool) {
	i, ok := c.places[ident.Part(part)]
	return i, ok
}

// Part finds a part by its id or name, be it the sheet's or one that it did not
// foresee, or nil.
func (c *Course) Part(name string) *spec.Part {
	if p := c.Plan.Procedure.Part(name); p != nil {
		return p
	}
	for _, p := range c.unforeseen {
		if strings.EqualFold(p.ID, name) || strings.EqualFold(p.Name, name) {
			return p
		}
	}
	return nil
}

// hasPlace reports whether the procedure itself has a place for a thing.
func (c *Course) hasPlace(t ident.Thing) bool {
	if t.IsFastener() {
		f := c.byID[t.ID]
		return f != nil && thingOf(f) == t
	}
	_, ok := c.places[t]
	return ok
}

// fastenerThing names a fastener by its id alone, as old events do.
func (c *Course) fastenerThing(id string) ident.Thing {
	if f := c.byID[id]; f != nil {
		return thingOf(f)
	}
	return ident.Fastener(id, "")
}

// ItemThing is what the step of this text is about, or the zero Thing.
func (c *Course) ItemThing(step string) ident.Thing {
	if i, ok := c.Find(step); ok {
		return c.Items[i].Thing()
	}
	return ident.Thing{}
}

// fastener finds one by its id, in any case of letters.
func (c *Course) fastener(id string) *spec.Fastener {
	if f := c.byID[id]; f != nil {
		return f
	}
	return c.Plan.Procedure.Fastener(id)
}
