// Package plan turns a procedure into the ordered list of its stages, each
// with the reason why it stands where it does.
//
// The order, exactly:
//  1. A list of ids is taken as it stands.
//  2. Otherwise hollow fasteners form their own block: first in a pass that
//     loosens or removes, last in one that tightens. The others go in blocks of
//     equal strength, weak to strong or strong to weak as the pass says.
//  3. Inside a block: listed, cross, spiral or reverse (order.go); by caps where
//     the pass says so (caps.go).
//
// Strength is the proof load: proof stress × (tensile stress area − bore area).
package plan

import (
	"fmt"
	"slices"
	"sort"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// Stage is one fastener in one pass; a pass of several steps gives several.
// A wait is a stage without a fastener. A large sheet has hundreds of thousands,
// which are held as small as can be.
type Stage struct {
	*Work
	Number   int // from 1
	Fastener *spec.Fastener
}

// Work is what is done in a stage. The fasteners of a group share it that follow each
// other in one block.
type Work struct {
	Pass   *spec.Pass
	Step   int // index into Pass.Steps
	Action spec.Action
	Target *spec.Target
	Block  string // why the block stands here; empty when the pass has only one

	first  int      // number of the first stage of the block
	places []string // why each fastener comes where it does inside it
}

// Place says why a stage comes where it does inside its block.
func (s *Stage) Place() string {
	if s.Step > 0 {
		return fmt.Sprintf("step %d of %d on %s before the next", s.Step+1, len(s.Pass.Steps), s.Fastener.ID)
	}
	return s.places[(s.Number-s.first)/len(s.Pass.Steps)]
}

// Why gives the whole reason in one line.
func (s *Stage) Why() string {
	place := s.Place()
	switch {
	case s.Block == "":
		return place
	case place == "":
		return s.Block
	}
	return s.Block + "; " + place
}

// Key names the stage for as long as the file keeps its names: records use it,
// so that they outlive a change to the rules of order.
func (s *Stage) Key() ident.Step {
	if s.Fastener == nil {
		return ident.WaitStep(s.Pass.Name)
	}
	return KeyOf(s.Pass, s.Fastener.ID, s.Step)
}

// KeyOf names the stage of a fastener in a pass; step is an index into its steps.
func KeyOf(pass *spec.Pass, fastener string, step int) ident.Step {
	if len(pass.Steps) > 1 {
		return ident.StageStep(pass.Name, fastener, step+1)
	}
	return ident.StageStep(pass.Name, fastener, 0)
}

// Plan is a procedure with its stages in order.
type Plan struct {
	Procedure *spec.Procedure
	Stages    []*Stage
}

// Of plans a procedure. Cost is linear in stages, but for sorting within a block.
func Of(p *spec.Procedure) *Plan { return of(p, p.HollowFirst) }

// Earlier plans as the first version did, which took hollow fasteners first or last by
// the direction of the procedure alone. Records walked in that order are read by it.
func Earlier(p *spec.Procedure) *Plan {
	return of(p, func(*spec.Pass) bool { return p.Direction == spec.Open })
}

func of(p *spec.Procedure, hollowFirst func(*spec.Pass) bool) *Plan {
	stages := 0
	for _, pass := range p.Passes {
		stages += max(1, len(pass.Fasteners)*len(pass.Steps))
	}
	pl := &planner{plan: &Plan{Procedure: p, Stages: make([]*Stage, 0, stages)}, hollowFirst: hollowFirst,
		last: make(map[*spec.Fastener]int, len(p.Fasteners)), made: map[string]arranged{}}
	for _, pass := range p.Passes {
		if pass.IsWait() {
			pl.add(pl.work(pass, 0, nil, block{places: []string{"time to let go by before the next pass"}}), nil)
			continue
		}
		pl.pass(pass)
	}
	return pl.plan
}

type planner struct {
	plan *Plan
	free []Stage                // made, and not in use yet
	last map[*spec.Fastener]int // number of the stage that last tightened it
	made map[string]arranged    // by the kind of order, the block that was arranged last

	hollowFirst func(*spec.Pass) bool
}

// room is how many stages are made at once: one by one, each would cost an allocation.
const room = 256

func (pl *planner) add(w *Work, f *spec.Fastener) {
	if len(pl.free) == 0 {
		pl.free = make([]Stage, room)
	}
	pl.free[0] = Stage{Work: w, Number: len(pl.plan.Stages) + 1, Fastener: f}
	pl.plan.Stages = append(pl.plan.Stages, &pl.free[0])
	pl.free = pl.free[1:]
}

func (pl *planner) pass(pass *spec.Pass) {
	for _, b := range pl.blocks(pass) {
		of := map[*spec.Group][]*Work{}
		for _, f := range b.fasteners {
			for step := len(of[f.Group]); step < len(pass.Steps); step++ {
				of[f.Group] = append(of[f.Group], pl.work(pass, step, f.Group, b))
			}
		}
		for _, f := range b.fasteners {
			for _, w := range of[f.Group] {
				pl.add(w, f)
			}
		}
	}
	first := len(pl.plan.Stages) - len(pass.Fasteners)*len(pass.Steps)
	for _, s := range pl.plan.Stages[first:] {
		if s.Action.Tightens() {
			pl.last[s.Fastener] = s.Number
		}
	}
}

// work is what a step asks of the fasteners of a group, in a block that begins with the
// next stage.
func (pl *planner) work(pass *spec.Pass, step int, g *spec.Group, b block) *Work {
	s := pass.Steps[step]
	return &Work{Pass: pass, Step: step, Action: s.Action, Target: s.Target(g), Block: b.because, first: len(pl.plan.Stages) + 1, places: b.places}
}

// block is a run of fasteners that follow each other by one rule.
type block struct {
	fasteners []*spec.Fastener
	because   string   // why the block stands here
	places    []string // why each comes where it does inside it
}

func (pl *planner) blocks(pass *spec.Pass) []block {
	if list := pass.Order.List; list != nil {
		return []block{{list, "", numbered(len(list))}}
	}
	solid, hollow := pl.split(pass)
	var list []block
	for i, fs := range solid {
		list = append(list, block{fasteners: fs, because: solidReason(pass, i, len(solid))})
	}
	if len(hollow) > 0 {
		first := pl.hollowFirst(pass)
		hb := block{fasteners: hollow, because: hollowReason(pass, first, len(solid))}
		if first {
			list = append([]block{hb}, list...)
		} else {
			list = append(list, hb)
		}
	}
	for i := range list {
		list[i].fasteners, list[i].places = pl.arrangeBlock(pass, list[i].fasteners)
	}
	return list
}

func numbered(n int) []string {
	places := make([]string, n)
	for i := range places {
		places[i] = fmt.Sprintf("number %d of the sheet's own order", i+1)
	}
	return places
}

// split sorts a pass's fasteners into blocks of equal strength, in the order
// the pass asks for, and the hollow ones apart.
func (pl *planner) split(pass *spec.Pass) (solid [][]*spec.Fastener, hollow []*spec.Fastener) {
	home := map[*spec.Group]int{}
	for _, f := range pass.Fasteners {
		if f.Group.Hollow() {
			hollow = append(hollow, f)
			continue
		}
		i, known := home[f.Group]
		if !known {
			i = slices.IndexFunc(solid, func(fs []*spec.Fastener) bool { return spec.SameStrength(fs[0].Group, f.Group) })
			if i < 0 {
				i, solid = len(solid), append(solid, nil)
			}
			home[f.Group] = i
		}
		solid[i] = append(solid[i], f)
	}
	sort.SliceStable(solid, func(i, j int) bool {
		a, b := solid[i][0].Group.ProofLoadN, solid[j][0].Group.ProofLoadN
		if pass.First == "strong" {
			return a > b
		}
		return a < b
	})
	return solid, hollow
}

func solidReason(pass *spec.Pass, i, of int) string {
	words := [2]string{"weak", "strong"}
	if pass.First == "strong" {
		words = [2]string{"strong", "weak"}
	}
	switch {
	case of == 1:
		return ""
	case i == 0:
		return words[0] + " ones first, as the sheet says"
	case i == of-1:
		return words[1] + " ones after the " + words[0] + ", as the sheet says"
	}
	return "in between: neither weakest nor strongest"
}

func hollowReason(pass *spec.Pass, first bool, others int) string {
	switch {
	case first && pass.Steps[0].Action == spec.Verify:
		return "hollow: handled apart, first when opening"
	case first:
		return "hollow: first out, it must not carry the joint as the others let go"
	case others == 0:
		return "hollow: on its own, after the solid ones hold the joint"
	}
	return "hollow: last in, it must not draw the joint closed"
}

// arranged is a block with what came of it: passes of one order share it.
type arranged struct {
	of, out []*spec.Fastener
	places  []string
}

// arrange orders one block and says of each fastener why it comes there.
func (pl *planner) arrange(pass *spec.Pass, fs []*spec.Fastener) ([]*spec.Fastener, []string) {
	kind := pass.Order.Kind
	if m, ok := pl.made[kind]; ok && len(fs) > 1 && slices.Equal(m.of, fs) {
		return m.out, m.places
	}
	out, places := pl.arrangeAnew(pass, fs)
	if kind != "reverse" { // which goes by what was done before
		pl.made[kind] = arranged{fs, out, places}
	}
	return out, places
}

func (pl *planner) arrangeAnew(pass *spec.Pass, fs []*spec.Fastener) ([]*spec.Fastener, []string) {
	if len(fs) == 1 {
		return fs, []string{onlyOne(pass, fs[0])}
	}
	switch pass.Order.Kind {
	case "cross":
		return crossed(fs)
	case "spiral":
		out := spiral(fs)
		return out, follow(out, "nearest the middle", func(i int) string { return "spiral outwards, far side from " + out[i-1].ID })
	case "reverse":
		return pl.backwards(fs)
	}
	return fs, follow(fs, "first listed", func(int) string { return "as listed" })
}

// onlyOne is the reason of a fastener alone in its block.
func onlyOne(pass *spec.Pass, f *spec.Fastener) string {
	if len(pass.Fasteners) == 1 {
		return "the only one in this pass"
	}
	return "the only one of its strength"
}

// follow gives the first a reason of its own and the others theirs.
func follow(fs []*spec.Fastener, first string, then func(i int) string) []string {
	places := []string{first}
	for i := 1; i < len(fs); i++ {
		places = append(places, then(i))
	}
	return places
}

func crossed(fs []*spec.Fastener) ([]*spec.Fastener, []string) {
	round, n := clockwise(fs), len(fs)
	out := make([]*spec.Fastener, n)
	for i, at := range Cross(n) {
		out[i] = round[at]
	}
	return out, follow(out, "first listed; the cross pattern is counted clockwise from it", func(i int) string {
		switch {
		case n%2 == 1:
			return "star: nearly opposite " + out[i-1].ID
		case i%2 == 1:
			return "cross: opposite " + out[i-1].ID
		case n%4 == 0 && i%4 == 2:
			return fmt.Sprintf("cross: square to %s and %s", out[i-2].ID, out[i-1].ID)
		}
		return "cross: new pair, in the widest gap left"
	})
}

// backwards is the order in which these were last tightened here, reversed; in
// an open procedure the spiral reversed, from the outside in.
func (pl *planner) backwards(fs []*spec.Fastener) ([]*spec.Fastener, []string) {
	if pl.plan.Procedure.Direction == spec.Open {
		return reversed(spiral(fs)), repeat("reverse: from the outside in", len(fs))
	}
	type tightened struct {
		f    *spec.Fastener
		last int
	}
	by, newest := make([]tightened, len(fs)), 0
	for i, f := range fs {
		by[i] = tightened{f, pl.last[f]}
		newest = max(newest, by[i].last)
	}
	if newest == 0 {
		return reversed(fs), repeat("reverse: the file's order backwards, as nothing was tightened before", len(fs))
	}
	slices.SortStableFunc(by, func(a, b tightened) int { return b.last - a.last })
	out := make([]*spec.Fastener, len(fs))
	for i := range by {
		out[i] = by[i].f
	}
	return out, repeat("reverse: the order they were last tightened in, backwards", len(fs))
}

func repeat(text string, n int) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = text
	}
	return list
}
