// Package plan turns a procedure into the ordered list of its stages, each
// with the reason why it stands where it does.
//
// The order, exactly:
//  1. A list of ids is taken as it stands.
//  2. Otherwise hollow fasteners form their own block: first out in an open
//     procedure, last in each pass of a close one. The others go in blocks of
//     equal strength, weak to strong or strong to weak as the pass says.
//  3. Inside a block: listed, cross, spiral or reverse (order.go).
//
// Strength is proof stress × (tensile stress area − bore area).
package plan

import (
	"fmt"
	"slices"
	"sort"
	"strconv"

	"evenpull/spec"
)

// Stage is one fastener in one pass; a pass of several steps gives several.
// A wait is a stage without a fastener.
type Stage struct {
	Number   int // from 1
	Pass     *spec.Pass
	Step     int // index into Pass.Steps
	Fastener *spec.Fastener
	Action   spec.Action
	Target   spec.Target
	Why      string
}

// Key names the stage for as long as the file keeps its names: records use it,
// so that they outlive a change to the rules of order.
func (s *Stage) Key() string {
	key := s.Pass.Name
	if s.Fastener != nil {
		key += "/" + s.Fastener.ID
	}
	if len(s.Pass.Steps) > 1 {
		key += "/" + strconv.Itoa(s.Step+1)
	}
	return key
}

// Plan is a procedure with its stages in order.
type Plan struct {
	Procedure *spec.Procedure
	Stages    []*Stage
}

// Of plans a procedure. Cost is linear in stages, but for sorting within a block.
func Of(p *spec.Procedure) *Plan {
	pl := &planner{plan: &Plan{Procedure: p}, last: map[*spec.Fastener]int{}}
	for _, pass := range p.Passes {
		if pass.IsWait() {
			pl.add(&Stage{Pass: pass, Action: spec.Wait, Why: "time to let go by before the next pass"})
			continue
		}
		pl.pass(pass)
	}
	return pl.plan
}

type planner struct {
	plan *Plan
	last map[*spec.Fastener]int // number of the stage that last tightened it
}

func (pl *planner) add(s *Stage) {
	s.Number = len(pl.plan.Stages) + 1
	pl.plan.Stages = append(pl.plan.Stages, s)
}

func (pl *planner) pass(pass *spec.Pass) {
	for _, b := range pl.blocks(pass) {
		for i, f := range b.fasteners {
			for step, s := range pass.Steps {
				stage := &Stage{Pass: pass, Step: step, Fastener: f, Action: s.Action, Target: s.Targets[f.Group], Why: b.why(i, step)}
				pl.add(stage)
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

// block is a run of fasteners that follow each other by one rule.
type block struct {
	fasteners []*spec.Fastener
	because   string // why the block stands here
	pattern   string // why they follow each other so inside it
	steps     int
}

func (b block) why(i, step int) string {
	switch {
	case step > 0:
		return fmt.Sprintf("step %d of %d on this one before the next", step+1, b.steps)
	case i == 0 && b.because != "":
		return b.because
	case b.pattern != "" && b.because != "":
		return b.because + "; " + b.pattern
	case b.pattern != "":
		return b.pattern
	}
	return b.because
}

func (pl *planner) blocks(pass *spec.Pass) []block {
	if pass.Order.List != nil {
		return []block{{pass.Order.List, "", "the sheet's own numbered order", len(pass.Steps)}}
	}
	solid, hollow := pl.split(pass)
	var list []block
	for i, fs := range solid {
		list = append(list, block{fs, solidReason(pass, i, len(solid)), "", len(pass.Steps)})
	}
	if len(hollow) > 0 {
		hb := block{hollow, pl.hollowReason(pass, len(solid)), "", len(pass.Steps)}
		if pl.plan.Procedure.Direction == spec.Open {
			list = append([]block{hb}, list...)
		} else {
			list = append(list, hb)
		}
	}
	for i := range list {
		list[i].fasteners, list[i].pattern = pl.arrange(pass, list[i].fasteners)
	}
	return list
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
		a, b := solid[i][0].Group.StrengthN, solid[j][0].Group.StrengthN
		if pass.First == "strong" {
			return a > b
		}
		return a < b
	})
	return solid, hollow
}

func solidReason(pass *spec.Pass, i, of int) string {
	if of == 1 {
		return ""
	}
	what := "weaker"
	if (pass.First == "strong") == (i == 0) {
		what = "stronger"
	}
	if i > 0 && i < of-1 {
		what = "in between"
	}
	place := "then"
	if i == 0 {
		place = "first"
	} else if i == of-1 {
		place = "last"
	}
	return fmt.Sprintf("%s: %s of the solid ones, %s as the sheet says", what, place, pass.First+" first")
}

func (pl *planner) hollowReason(pass *spec.Pass, others int) string {
	switch {
	case pl.plan.Procedure.Direction == spec.Open && pass.Steps[0].Action.Frees():
		return "hollow: first out, it must not carry the joint as the others let go"
	case pl.plan.Procedure.Direction == spec.Open:
		return "hollow: handled apart, first when opening"
	case others == 0:
		return "hollow: on its own, after the solid ones hold the joint"
	}
	return "hollow: last in, it must not draw the joint closed"
}

// arrange orders one block and says why in a few words.
func (pl *planner) arrange(pass *spec.Pass, fs []*spec.Fastener) ([]*spec.Fastener, string) {
	if len(fs) == 1 {
		return fs, ""
	}
	switch pass.Order.Kind {
	case "cross":
		round := clockwise(fs)
		out := make([]*spec.Fastener, len(fs))
		for i, at := range Cross(len(fs)) {
			out[i] = round[at]
		}
		return out, crossReason(len(fs))
	case "spiral":
		return spiral(fs), "spiral: from the middle outwards, changing sides"
	case "reverse":
		return pl.backwards(fs)
	}
	return fs, "as listed"
}

func crossReason(n int) string {
	switch {
	case n%4 == 0:
		return "cross: opposite pairs by quadrants, so the faces close square"
	case n%2 == 0:
		return "cross: opposite pairs, so the faces close square"
	}
	return "cross: star, each nearly opposite the last"
}

// backwards is the order in which these were last tightened here, reversed; in
// an open procedure the spiral reversed, from the outside in.
func (pl *planner) backwards(fs []*spec.Fastener) ([]*spec.Fastener, string) {
	if pl.plan.Procedure.Direction == spec.Open {
		return reversed(spiral(fs)), "reverse: from the outside in"
	}
	out := append([]*spec.Fastener{}, fs...)
	sort.SliceStable(out, func(i, j int) bool { return pl.last[out[i]] > pl.last[out[j]] })
	if pl.last[out[0]] == 0 {
		return reversed(fs), "reverse: the file's order backwards, as nothing was tightened before"
	}
	return out, "reverse: last tightened, first loosened"
}
