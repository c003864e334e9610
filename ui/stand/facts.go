package stand

import (
	"fmt"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/boltmap"
	"evenpull/ui/things"
	"evenpull/ui/words"
)

// facts is what the screen needs of the state that costs a walk over it. It is
// gathered once after each event, not once a frame.
type facts struct {
	change    int // counts how often stock was taken
	item      *walk.Item
	pass      *spec.Pass
	passOf    string // "pass 2 of 5"
	inPass    count  // stages of the pass
	inWalk    count  // all stages; of a sheet with parts only, all it asks for
	counted   string // "stages" or "steps"
	bolts     []boltmap.Bolt
	where     string   // the fastener in hand sits
	next      []string // what comes after this one, in a few words each
	pieces    count
	told      []string       // said of what is in hand, oldest first
	left      []walk.Carried // came off earlier, and nothing has been said of it
	things    int            // of those, and the part in hand
	fresh     []string       // new pieces already on what is in hand
	wrench    string
	over      *walk.Changeover // what changes on the wrench before what is in hand
	scale     words.Setting    // what an adapter makes of its figure
	setting   bool             // it is a step of its own, but for who looks on at what does not go on
	leg       walk.Leg
	inLeg     count               // steps before the first bolt of the pass, or after its last
	lastDone  string              // what undo would take back
	rejected  map[string][]string // item key → readings that were refused
	seenEvent int                 // events already looked through for rejected
}

// count is so many of so many.
type count struct{ done, total int }

// how many items ahead are named.
const lookAhead = 8

// gather takes stock of the state.
func (m *Model) gather() {
	s := m.cfg.State
	f := facts{change: m.facts.change + 1, item: s.CurrentItem(), rejected: m.facts.rejected, seenEvent: m.facts.seenEvent}
	if f.item != nil {
		f.pass = f.item.Pass
	} else if n := len(s.Plan.Procedure.Passes); n > 0 {
		f.pass = s.Plan.Procedure.Passes[n-1]
	}
	if f.pass != nil {
		f.passOf = fmt.Sprintf("pass %d of %d", f.pass.Index+1, len(s.Plan.Procedure.Passes))
	}
	f.over = m.changeover()
	if f.over != nil && f.over.Pull != nil && m.cfg.Scale != nil {
		f.scale = m.cfg.Scale(f.over.Pull)
		f.scale = words.Setting{Mark: spec.Printable(f.scale.Mark), Unit: spec.Printable(f.scale.Unit), With: spec.Printable(f.scale.With)}
	}
	f.setting = f.over != nil && !f.over.Again && (m.cfg.ReadOnly == "" || m.cfg.Follow != nil)
	f.leg, f.inLeg.done, f.inLeg.total = s.Leg()
	if stage := f.pulled(); stage != nil && m.cfg.Wrench != nil {
		f.wrench = spec.Printable(m.cfg.Wrench(stage))
	}
	f.lastDone = s.LastUndoable()
	f.stages(s, m.memo)
	f.lookAhead(s)
	f.countPieces(s)
	f.told = words.ToldOf(s, f.item)
	f.left, f.things = s.LeftOver(), len(things.Of(s))
	f.readings(s)
	m.facts = f
}

// pulled is the stage whose wrench is in hand, or about to be.
func (f *facts) pulled() *plan.Stage {
	switch {
	case f.over != nil:
		return f.over.Pull
	case f.item != nil && f.item.Kind == walk.StageItem:
		return f.item.Stage
	}
	return nil
}

// countPieces counts what must be new, and names what is new on the item in hand.
func (f *facts) countPieces(s *walk.State) {
	for _, p := range s.Pieces() {
		f.pieces.add(p.Renewed)
		here := f.item != nil && (f.item.Kind == walk.StageItem && p.Fastener == f.item.Stage.Fastener.ID || f.item.Kind == walk.PartItem && p.Part == f.item.Part.ID)
		if here && p.Renewed {
			f.fresh = append(f.fresh, p.Text())
		}
	}
}

// stages counts, and draws the state of each bolt in the pass at hand.
func (f *facts) stages(s *walk.State, m *memo) {
	fasteners := s.Plan.Procedure.Fasteners
	tally := make([]count, len(fasteners))
	whole := f.item == nil || f.pass != nil && f.pass.IsWait() // no pass to draw: all of them
	f.counted = "stages"
	if len(fasteners) == 0 {
		f.counted = "steps"
	}
	for i, it := range s.Items {
		if it.Kind != walk.StageItem && len(fasteners) > 0 {
			continue
		}
		closed := s.Mark(i).Closed
		f.inWalk.add(closed)
		if it.Pass == f.pass {
			f.inPass.add(closed)
		}
		if it.Kind == walk.StageItem && (whole || it.Pass == f.pass) {
			tally[it.Stage.Fastener.Index].add(closed)
		}
	}
	f.bolts = make([]boltmap.Bolt, len(fasteners))
	bolts := f.bolts
	for i, fa := range fasteners {
		bolts[i] = boltmap.Bolt{ID: fa.ID, Group: fa.Group.ID, X: fa.X, Y: fa.Y, Hollow: fa.Group.Hollow(), State: tally[i].state(), Note: tally[i].note(whole)}
	}
	for _, p := range s.Pieces() {
		if !p.Renewed && p.Fastener != "" && p.Why != "one-use" {
			if fa := s.Plan.Procedure.Fastener(p.Fastener); fa != nil {
				bolts[fa.Index].State = boltmap.Trouble
			}
		}
	}
	if at := words.InHand(f.item); at != nil {
		bolts[at.Index].State = boltmap.Current
		f.where = m.where(bolts, at.Index)
	}
}

func (c *count) add(done bool) {
	c.total++
	if done {
		c.done++
	}
}

func (c count) state() boltmap.State {
	switch {
	case c.total == 0:
		return boltmap.NotThisPass
	case c.done == c.total:
		return boltmap.Done
	case c.done > 0:
		return boltmap.Part
	}
	return boltmap.Untouched
}

// note says how many of a fastener's steps are done where a pass has several.
func (c count) note(whole bool) string {
	if whole || c.total < 2 {
		return ""
	}
	return fmt.Sprintf("%d/%d", c.done, c.total)
}

// lookAhead names the open items after the current one.
func (f *facts) lookAhead(s *walk.State) {
	from := s.Current() + 1
	if f.setting {
		from-- // what is in hand comes after the change
	}
	for i := from; i < len(s.Items) && len(f.next) < lookAhead; i++ {
		if s.Mark(i).Closed {
			continue
		}
		f.next = append(f.next, nextText(s.Items[i], f.pass))
	}
}

// nextText is short inside the pass at hand: id and figure.
func nextText(it walk.Item, pass *spec.Pass) string {
	if it.Kind == walk.StageItem {
		if it.Pass == pass {
			return it.Stage.Fastener.ID + " " + it.Stage.TargetText()
		}
		return it.Pass.Name + ": " + it.Stage.Fastener.ID + " " + it.Stage.TargetText()
	}
	return it.Text()
}

// readings keeps the refused readings of each item. Only new events are read.
func (f *facts) readings(s *walk.State) {
	if f.rejected == nil {
		f.rejected = map[string][]string{}
	}
	for ; f.seenEvent < len(s.Events); f.seenEvent++ {
		if e := s.Events[f.seenEvent]; e.Kind == walk.Rejected {
			f.rejected[e.Item] = append(f.rejected[e.Item], spec.Printable(e.Reading))
		}
	}
}
