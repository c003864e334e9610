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
	byID     map[string]*spec.Fastener
	lies     []lies              // of each fastener, as the sheet lists them
	places   map[ident.Thing]int // a part → index of its item
	stages   int                 // stages that are not waits
	pieces   []Renewable
	ofParts  map[ident.Thing][]int // a part → its pieces
	around   []int                 // waits and checks
	smear    int                   // index of the first smear; -1 without one
	ready    map[*spec.Group]int   // index of the threads of a group made ready
	sealEnd  int                   // index of the last item inside the sealant's clock
	legs     map[*spec.Pass]span
	heats    map[int][]int // index of an act → of the callouts of heat it follows in time
	hot      []int         // of these acts, in order
	measured figures       // what readings of checks came to
	others   otherSheets   // what sheets came to that were gone over to

	unforeseen []*spec.Part // that have a place here and none on the sheet
}

// lies is where the items and pieces of one fastener lie. -1: it has none.
type lies struct {
	stages                []int // in order
	tight                 int   // the first of them that tightens or holds it
	repair, slacken, prep int
	pieces                []int
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
	c := &Course{Plan: p, Items: items, rules: rules, ready: map[*spec.Group]int{}, places: map[ident.Thing]int{}, ofParts: map[ident.Thing][]int{}, smear: -1}
	c.listFasteners()
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
		l := &c.lies[it.Stage.Fastener.Index]
		l.stages = append(l.stages, i)
		if l.repair >= 0 && l.tight < 0 {
			l.tight = i
		}
	case RepairItem:
		c.lies[it.Fastener.Index].repair = i
	case SlackenItem:
		c.lies[it.Fastener.Index].slacken = i
	case PrepItem:
		if it.Fastener == nil {
			c.ready[it.Group] = i
			return
		}
		c.lies[it.Fastener.Index].prep = i
	}
}

// listFasteners makes room for where the items of each lie: as much as its stages take.
func (c *Course) listFasteners() {
	list := c.Plan.Procedure.Fasteners
	c.byID, c.lies = make(map[string]*spec.Fastener, len(list)), make([]lies, len(list))
	many, all := make([]int, len(list)), 0
	for _, it := range c.Items {
		if it.Kind == StageItem {
			many[it.Stage.Fastener.Index]++
			all++
		}
	}
	room := make([]int, all)
	for i, f := range list {
		c.byID[f.ID] = f
		c.lies[i] = lies{stages: room[:0:many[i]], tight: -1, repair: -1, slacken: -1, prep: -1}
		room = room[many[i]:]
	}
}

// liesOf is nil for what is no fastener of the sheet.
func (c *Course) liesOf(fastener string) *lies {
	if f := c.byID[fastener]; f != nil {
		return &c.lies[f.Index]
	}
	return nil
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
	c.pieces = make([]Renewable, 0, len(proc.Fasteners)+len(proc.Parts))
	for i, f := range proc.Fasteners {
		l := &c.lies[i]
		if len(l.stages) == 0 {
			continue
		}
		l.pieces = c.addPiece(l.pieces, Renewable{Fastener: f.ID, Name: Itself, Count: 1, Needed: f.Group.OneUse, Number: f.Group.Number, Why: OneUse})
		for _, w := range f.Group.With {
			if w.OneUse {
				l.pieces = c.addPiece(l.pieces, Renewable{Fastener: f.ID, Name: w.Part, Count: w.Count, Needed: true, Number: w.Number, Why: OneUse})
			}
		}
	}
	for _, p := range append(proc.Parts[:len(proc.Parts):len(proc.Parts)], c.unforeseen...) {
		piece := Renewable{Part: p.ID, Name: p.Name, Count: p.Count, Needed: p.OneUse, Number: p.Number}
		if p.OneUse {
			piece.Why = OneUse
		}
		t := ident.Part(p.ID)
		c.ofParts[t] = c.addPiece(c.ofParts[t], piece)
	}
}

// addPiece puts a piece behind the others of its owner.
func (c *Course) addPiece(of []int, p Renewable) []int {
	c.pieces = append(c.pieces, p)
	return append(of, len(c.pieces)-1)
}

// piecesOf gives the indexes of what goes with a thing, itself first.
func (c *Course) piecesOf(t ident.Thing) []int {
	switch {
	case !t.IsFastener():
		return c.ofParts[t]
	case c.hasPlace(t):
		return c.liesOf(t.ID).pieces
	}
	return nil
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
		stages := c.StagesOf(f.ID)
		return len(stages) > 0 && stages[0] < c.smear
	})
}

// PullsFirst reports whether item i is the stage that first tightens its fastener.
func (c *Course) PullsFirst(i int) bool {
	it := c.Items[i]
	return it.Kind == StageItem && it.Stage.Action.Tightens() && c.lies[it.Stage.Fastener.Index].tight == i
}

// StagesOf gives the indexes of a fastener's stages, in order.
func (c *Course) StagesOf(fastener string) []int {
	if l := c.liesOf(fastener); l != nil {
		return l.stages
	}
	return nil
}

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
	stages := c.StagesOf(fastener)
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
