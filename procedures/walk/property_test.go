package walk

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenpull/procedures/plan"
	"evenpull/spec"
)

// plainly works out what is open from the events alone, the slow and obvious
// way: undone events are struck out, then one pass over what is left. It
// shares nothing with Apply but the agenda and the window of a reading.
func plainly(p *plan.Plan, events []Event) (open map[string]bool) {
	fresh := New(p)
	var standing, settled []Event // settled: nothing before a brought can be undone
	effective := func(e Event) bool {
		switch e.Kind {
		case Confirmed, Measured, Answered, Renewed, Lost, Trouble, Resealed, Found, Refitted, Accounted, Cleaned:
			return true
		case Rejected:
			i := fresh.at[e.Item]
			return fresh.Items[i].Kind == StageItem && WindowOf(fresh.Items[i].Stage).Restarts(e.Reading)
		}
		return false
	}
	for _, e := range events {
		if e.Kind == Undone {
			standing = standing[:len(standing)-1]
		} else if e.Kind == Brought {
			settled, standing = append(append(settled, standing...), e), nil
		} else if effective(e) {
			standing = append(standing, e)
		}
	}
	return scan(p, append(settled, standing...))
}

func scan(p *plan.Plan, events []Event) map[string]bool {
	open := map[string]bool{}
	items := agenda(p)
	for _, it := range items {
		open[it.Key] = true
	}
	piece := func(owner, name string) string { return "piece:" + owner + ":" + name }
	needed := map[string]bool{}
	for _, q := range New(p).pieces {
		owner := q.Fastener
		if owner == "" {
			owner = "part:" + q.Part
		}
		if q.Needed {
			open[piece(owner, q.Name)], needed[piece(owner, q.Name)] = true, true
		}
	}
	reset := func(fastener string, replace bool) {
		begun := false
		for _, it := range items {
			mine := it.Kind == StageItem && it.Stage.Fastener.ID == fastener
			if begun && (it.Kind == WaitItem || it.Check != nil && it.Check.After != nil) || mine || it.Key == "prep:"+groupOf(p, fastener)+"/"+fastener {
				open[it.Key] = true
			}
			begun = begun || mine
		}
		if replace {
			needed[piece(fastener, itself)] = true
		}
		for key := range needed {
			if strings.HasPrefix(key, "piece:"+fastener+":") {
				open[key] = true
			}
		}
	}
	brought := map[string]Carried{}
	for _, e := range events {
		switch e.Kind {
		case Brought:
			for _, c := range e.Brought {
				brought[c.key()] = c
				name := c.Name
				if c.Fastener {
					name = itself
				}
				if !named(items, p, c) {
					open["left:"+c.key()] = true
				}
				if c.Facts.Condemned() {
					open[piece(c.key(), name)], needed[piece(c.key(), name)] = true, true
				}
			}
		case Refitted:
			delete(open, "left:"+e.Fastener+e.Item)
		case Accounted:
			key := e.Fastener + e.Item
			delete(open, "left:"+key)
			if strings.HasPrefix(key, "part:") {
				delete(open, key)
			}
			if c := brought[key]; c.Facts.Condemned() && !oneUse(p, c) {
				name := c.Name
				if c.Fastener {
					name = itself
				}
				delete(open, piece(key, name))
				delete(needed, piece(key, name))
			}
		case Confirmed, Measured:
			delete(open, e.Item)
		case Answered:
			if e.Answer == "yes" {
				delete(open, e.Item)
			}
		case Renewed:
			delete(open, piece(e.Fastener+e.Item, e.Piece))
			delete(open, "left:"+e.Fastener+e.Item)
			delete(open, e.Item)
		case Lost:
			reset(e.Fastener, false)
		case Trouble:
			if p.Procedure.Direction == spec.Close { // on the way apart it is only a remark
				reset(e.Fastener, true)
			}
		case Rejected:
			reset(fastenerOf(items, e.Item), false)
		case Resealed:
			reseal(items, open, reset)
		}
	}
	return open
}

func groupOf(p *plan.Plan, fastener string) string {
	if f := p.Procedure.Fastener(fastener); f != nil {
		return f.Group.ID
	}
	return ""
}

// named: the procedure names the thing.
func named(items []Item, p *plan.Plan, c Carried) bool {
	for _, it := range items {
		if it.Key == c.key() {
			return true
		}
	}
	return c.Fastener && p.Procedure.Fastener(c.ID) != nil
}

// oneUse: the procedure itself wants a new one.
func oneUse(p *plan.Plan, c Carried) bool {
	if c.Fastener {
		f := p.Procedure.Fastener(c.ID)
		return f != nil && f.Group.OneUse && p.Procedure.Direction == spec.Close
	}
	part := p.Procedure.Part(c.ID)
	return part != nil && part.OneUse && p.Procedure.Direction == spec.Close
}

func fastenerOf(items []Item, key string) string {
	for _, it := range items {
		if it.Key == key {
			return it.Stage.Fastener.ID
		}
	}
	return ""
}

func reseal(items []Item, open map[string]bool, reset func(string, bool)) {
	smeared := false
	seen := map[string]bool{}
	for _, it := range items {
		smeared = smeared || it.Kind == SealItem
		if it.Kind == StageItem && !seen[it.Stage.Fastener.ID] {
			seen[it.Stage.Fastener.ID] = true
			if smeared {
				reset(it.Stage.Fastener.ID, false)
			}
		}
		if smeared {
			open[it.Key] = true
		}
	}
}

// No sequence of commands reaches done with anything outstanding; replaying
// the events gives the same state; undo and the same again gives the same state.
func TestNoCommandsReachDoneWithAnythingOpen(t *testing.T) {
	ended := map[Phase]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := planOf(t, drawProcedure(t))
		s := New(p)
		now := start
		for range rapid.IntRange(1, 250).Draw(t, "commands") {
			now = now.Add(drawWait(t))
			c := drawCommand(t, s)
			if c.Do == Stop && rapid.IntRange(0, 3).Draw(t, "stop") > 0 {
				continue
			}
			e, refusal := Decide(s, c, now)
			if e == nil && refusal == nil {
				t.Fatalf("%+v was neither accepted nor refused", c)
			}
			if e == nil {
				continue
			}
			undoAndRedo(t, s, *e)
			s.Apply(*e)
			open := plainly(p, s.Events)
			if s.Phase == IsDone && len(open) > 0 {
				t.Fatalf("done with %v open", open)
			}
			if got := len(s.Outstanding(now)); got != len(open) {
				t.Fatalf("outstanding says %d, plainly %d are open: %v / %v", got, len(open), s.Outstanding(now), open)
			}
			if s.Phase != IsOpen {
				break
			}
		}
		again := New(p)
		if findings := Replay(again, s.Events); len(findings) > 0 {
			t.Fatalf("an accepted event is refused when replayed: %v", findings[0].Refusal)
		}
		same(t, again, s)
		ended[s.Phase]++
	})
	t.Logf("walks ended: %v", ended)
	if ended[IsDone] == 0 || ended[IsOpen] == 0 {
		t.Errorf("the commands drawn never reached both done and open: %v", ended)
	}
}

// undoAndRedo applies an event, takes it back, and checks that the state is as
// it was but for the log.
func undoAndRedo(t *rapid.T, s *State, e Event) {
	if len(s.Events) > 40 || e.Kind == Undone || e.Kind == Brought {
		return // every early event is enough; brought is not undone
	}
	fork := New(s.Plan)
	Replay(fork, s.Events)
	before := len(fork.history)
	fork.Apply(e)
	if len(fork.history) == before {
		return // nothing that undo takes back
	}
	after := snapshot(fork)
	fork.Apply(Event{Seq: len(fork.Events) + 1, At: e.At, Kind: Undone, Text: "test"})
	if got, want := snapshot(fork), snapshot(s); got != want {
		t.Fatalf("undo of %s left\n%s\nwant\n%s", e.Kind, got, want)
	}
	e.Seq = len(fork.Events) + 1
	fork.Apply(e)
	if got := snapshot(fork); got != after {
		t.Fatalf("undo and again of %s gave\n%s\nwant\n%s", e.Kind, got, after)
	}
}

// snapshot is all of the state but its log.
func snapshot(s *State) string {
	things := ""
	for _, key := range s.order {
		things += fmt.Sprintf("%s %+v;", key, *s.carried[key])
	}
	return fmt.Sprintf("%v %v %d %d %s %v %s", s.marks, s.pieces, s.next, s.open, s.Phase, s.found, things)
}

func same(t *rapid.T, a, b *State) {
	if snapshot(a) != snapshot(b) || !reflect.DeepEqual(a.Deviations, b.Deviations) || !reflect.DeepEqual(a.Events, b.Events) {
		t.Fatalf("replay gives another state:\n%s\n%s", snapshot(a), snapshot(b))
	}
}

// A done event slipped into the log at any point is not earned, and does not count.
func TestAForgedDoneDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planOf(t, drawProcedure(t))
		s := New(p)
		now := start
		for range rapid.IntRange(0, 30).Draw(t, "commands") {
			now = now.Add(drawWait(t))
			if e, _ := Decide(s, aptCommand(t, s), now); e != nil {
				s.Apply(*e)
			}
		}
		if s.Phase == IsDone {
			return
		}
		open := len(plainly(p, s.Events))
		forged := append(append([]Event{}, s.Events...), Event{Seq: len(s.Events) + 1, At: now, Kind: Done})
		read := New(p)
		findings := Replay(read, forged)
		if open > 0 && (read.Phase == IsDone || len(findings) != 1) {
			t.Fatalf("a forged done counts with %d open: phase %s, findings %v", open, read.Phase, findings)
		}
	})
}
