package walk

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// Apply folds one event that Judge accepts. Cost does not grow with the walk,
// but for events that send a fastener back.
func (s *State) Apply(e Event) {
	s.keep(e)
	s.apply(e)
}

// apply folds an event that is among those so far already, if they are kept.
func (s *State) apply(e Event) {
	if last := s.LastAt(); e.At.Before(last) {
		s.deviate(e, fmt.Sprintf("the clock ran backwards by %s; times are kept as they were", last.Sub(e.At).Round(time.Second)))
	}
	s.count(e)
	c := change{event: s.events - 1, did: stepOf(e)}
	s.remember(e)
	switch e.Kind {
	case Confirmed, Repaired:
		i := s.itemOf(e.Item)
		if it := s.Items[i]; it.Kind == StageItem {
			s.hand.take(it.Stage)
		}
		s.cooled(e, i)
		s.setMark(&c, i, markOf(e))
	case Measured:
		s.measure(&c, e)
	case Settled:
		s.settle(&c, e)
	case PutOff:
		s.putOff(&c, e)
	case Resheeted:
		s.resheet(e)
	case Answered:
		s.answer(&c, e)
	case Renewed:
		s.renew(&c, e)
	case Lost:
		s.deviate(e, fmt.Sprintf("%s: angle lost (%s); back to its first stage", e.Fastener, e.Text))
		s.undoFor(&c, AngleLost, "its angle was lost", s.fastenerThing(e.Fastener))
	case Trouble:
		s.trouble(&c, e)
	case Rejected:
		s.reject(&c, e)
	case Resealed:
		s.deviate(e, "sealed afresh: "+e.Text)
		s.undoWhole(&c, SealedAfresh, "the joint was opened to seal it afresh")
	case Found, Refitted, Accounted, Cleaned:
		s.thing(&c, e)
	case Brought:
		s.bring(e)
	case Changed:
		s.hand.take(s.Items[s.itemOf(e.Item)].Stage)
	case Undone:
		s.undo(e)
	case Resumed:
		s.resume(e)
	case Refused:
		s.deviate(e, fmt.Sprintf("done was refused with %d outstanding", len(e.Outstanding)))
	case Stopped:
		s.Phase = IsStopped
		s.deviate(e, "stopped: "+e.Text)
	case Done:
		s.Phase = IsDone
	}
	s.followSmear(e)
	s.holdSeal(&c, e)
	if s.undoable(e) {
		s.history = append(s.history, c)
	}
}

// undoable events are steps of the person, whether or not they changed what is
// open: undo takes back the last thing done, never the one before it.
func (s *State) undoable(e Event) bool {
	switch e.Kind {
	case Confirmed, Measured, Answered, Renewed, Repaired, Lost, Trouble, Resealed, Found, Refitted, Accounted, Cleaned, Settled, PutOff, Pictured:
		return true
	case Rejected:
		return s.sendsBack(e)
	}
	return false
}

// sendsBack: a refused reading after which something starts again.
func (s *State) sendsBack(e Event) bool {
	it := s.Items[s.itemOf(e.Item)]
	if it.Kind == StageItem {
		return s.actOf(it, e.Reading) != ""
	}
	return it.Check != nil && len(it.Check.NoRestarts) > 0
}

// actOf is what a refused reading of a stage means.
func (s *State) actOf(it Item, reading string) Act {
	w := s.window(it.Stage)
	v, _ := w.read(reading)
	if s.lenient() && it.Stage.Action == spec.Stretch {
		if v, _ = w.readPlainLength(reading); v == beyond {
			return PulledOver
		}
	}
	return w.act(v)
}

// resume takes note that a walk was opened again, and by which rules it goes on.
func (s *State) resume(e Event) {
	s.hand = hand{}
	n, err := strconv.Atoi(e.Facts[rulesFact])
	if err != nil || n <= s.rules {
		return
	}
	if s.lenient() {
		s.deviate(e, "walked so far under the rules of before; from here on a new piece comes before the pull, and a stretch needs its reading")
	}
	s.rules = n
}

func (s *State) deviate(e Event, text string) {
	s.Deviations = append(s.Deviations, Deviation{e.Seq, e.At, text})
}

func (s *State) answer(c *change, e Event) {
	i := s.itemOf(e.Item)
	m := Mark{Closed: e.Answer == "yes", Seq: e.Seq, At: e.At, Answer: e.Answer, Facts: e.Facts}
	if e.Answer == "no" && s.finds() {
		m.Closed, m.Fault = true, e.Text
	}
	s.setMark(c, i, m)
	if e.Answer == "yes" {
		return
	}
	s.deviate(e, fmt.Sprintf("%s: no (%s)", s.Items[i].Text(), e.Text))
	s.loosened(c, e, s.cameLoose(s.Items[i].Check, e.Restarts))
}

// loosened sends back what came loose by the answer to a check. That stands open then, with
// what was answered: only on the way apart does a no close it, and there nothing is tight.
func (s *State) loosened(c *change, e Event, ids []string) {
	if len(ids) == 0 || s.lenient() {
		return
	}
	var things []ident.Thing
	for _, id := range ids {
		s.deviate(e, id+": it starts again")
		things = append(things, s.fastenerThing(id))
	}
	s.undoFor(c, CameLoose, "it came loose again", things...)
}

func (s *State) trouble(c *change, e Event) {
	s.deviate(e, fmt.Sprintf("%s: %s", e.Fastener, e.Text))
	if s.Plan.Procedure.Direction != spec.Close {
		if e.Facts[StrippedAt] == InCase {
			s.strip(c, s.fastenerThing(e.Fastener))
		}
		return
	}
	act := GaveTrouble
	if e.Facts[StrippedAt] == InCase && !s.lenient() {
		act = CaseStripped
	}
	s.undoFor(c, act, "it was "+e.Text, s.fastenerThing(e.Fastener))
}

// strip keeps that the thread in the case was found stripped on the way apart:
// the close-up has to answer it.
func (s *State) strip(c *change, t ident.Thing) {
	if s.stripped == nil {
		s.stripped = map[ident.Thing]bool{}
	}
	was := s.stripped[t]
	s.stripped[t] = true
	c.onUndo(func() { s.stripped[t] = was })
}

// CaseStripped reports that the thread a fastener goes into was found stripped
// on the way apart.
func (s *State) CaseStripped(fastener string) bool { return s.stripped[s.fastenerThing(fastener)] }

// reject keeps a reading that was out of range. Where that spent the fastener or
// let it go it starts again; short of the figure the stage is simply open.
func (s *State) reject(c *change, e Event) {
	i := s.itemOf(e.Item)
	it := s.Items[i]
	s.deviate(e, fmt.Sprintf("%s: read %s, refused: %s", it.Text(), e.Reading, e.Text))
	if it.Kind != StageItem {
		if it.Check != nil {
			s.loosened(c, e, s.cameLoose(it.Check, nil))
		}
		return
	}
	why := map[Act]string{PulledOver: "it went beyond its figure", DidNotHold: "it did not hold its figure", OverStretched: "it was stretched too far"}
	if act := s.actOf(it, e.Reading); act != "" {
		s.undoFor(c, act, why[act], it.Thing())
	}
}

// undo takes back the newest change that still stands.
func (s *State) undo(e Event) {
	if len(s.history) == 0 {
		return
	}
	c := s.history[len(s.history)-1]
	s.history = s.history[:len(s.history)-1]
	for i := len(c.marks) - 1; i >= 0; i-- {
		s.put(c.marks[i].at, c.marks[i].mark)
	}
	if c.rest != nil {
		for _, was := range slices.Backward(c.rest.pieces) {
			s.pieces[was.at] = was.piece
		}
		for _, restore := range slices.Backward(c.rest.restore) {
			restore()
		}
	}
	if s.struck == nil {
		s.struck = map[int]bool{}
	}
	s.struck[c.event] = true
	s.deviate(e, fmt.Sprintf("undone: %s (%s)", s.describe(c.did), e.Text))
}

// LastUndoable says in words what undo would take back, or "" if nothing.
func (s *State) LastUndoable() string {
	if len(s.history) == 0 {
		return ""
	}
	return s.describe(s.history[len(s.history)-1].did)
}

// step is what has to be known of an event to say that it was taken back.
type step struct {
	kind Kind
	item string
	said string // what was answered, how it was settled, what the picture is; of all else the fastener
}

func stepOf(e Event) step {
	did := step{kind: e.Kind, item: e.Item, said: e.Fastener}
	switch e.Kind {
	case Answered:
		did.said = e.Answer
	case Settled:
		did.said = e.Facts[How]
	case Pictured:
		p, _ := PhotoOf(e)
		did.said = p.Text(e.Text)
	}
	return did
}

// describe names a step in words a person reads, not by the key of its item.
func (s *State) describe(did step) string {
	what := did.item
	if i, ok := s.Find(did.item); ok {
		what = s.Items[i].Text()
	}
	if what == "" {
		what = did.said
	}
	switch did.kind {
	case Renewed:
		return what + " renewed"
	case Answered:
		return what + " answered " + did.said
	case Settled:
		return what + " " + did.said
	case Pictured:
		return did.said
	}
	return what + " " + string(did.kind)
}
