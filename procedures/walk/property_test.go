package walk

import (
	"fmt"
	"math/rand/v2"
	"os"
	"reflect"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"evenpull/procedures/plan"
	"evenpull/spec/ident"
	"evenpull/spec/outside"
)

// left is everything that keeps a walk from being done, in the words of second.
func (s *State) left() []string {
	var list []string
	for i, it := range s.Items {
		if !s.marks[i].Closed {
			list = append(list, it.Key().String())
		}
	}
	for _, p := range s.pieces {
		if p.due() {
			list = append(list, "new "+s.called(s.Owner(*p))+"|"+p.Name)
		}
	}
	for _, c := range s.LeftOver() {
		list = append(list, "left "+s.called(s.NameCarried(c)))
	}
	slices.Sort(list)
	return list
}

// differs says how a second reading of the events differs from the walk: in what is
// open, and in what comes next.
func (s *State) differs(p *plan.Plan) string {
	again, next := secondReading(p, s.Course.rules, s.Events), ""
	if it := s.CurrentItem(); it != nil {
		next = it.Key().String()
	}
	if got, want := s.left(), again.left(); !slices.Equal(got, want) {
		return fmt.Sprintf("the walk has open\n%q\nread again\n%q", got, want)
	}
	if got, want := s.told(), again.told(); !slices.Equal(got, want) {
		return fmt.Sprintf("was told\n%q\nread again\n%q", got, want)
	}
	if again.next() != next {
		return fmt.Sprintf("next is %q, read again %q", next, again.next())
	}
	if got, want := s.changeText(), again.change(s.Events); s.Phase == IsOpen && got != want {
		return fmt.Sprintf("before %s there is to change %q, read again %q", next, got, want)
	}
	return ""
}

// told is what was said and not taken back, in the words of second.
func (s *State) told() (list []string) {
	for of, at := range s.said {
		name := of.item
		if !of.thing.IsZero() {
			name = of.thing.Text()
		}
		shown := s.saidOf(of)
		for _, i := range at {
			e := s.Events[i]
			if s.struck[i] {
				continue
			}
			words := e.Text
			if !strings.Contains(shown[0].Line(), strings.TrimSpace(words)) || !shown[0].At.Equal(e.At) {
				list = append(list, "not as it was said: "+shown[0].Line())
			}
			if e.Kind == Pictured {
				words += " " + shown[0].Photo.SHA256
			}
			shown = shown[1:]
			list = append(list, fmt.Sprintf("%s|%s|%s", name, e.Kind, words))
		}
		if len(shown) > 0 {
			list = append(list, fmt.Sprintf("said too much of %s", name))
		}
	}
	slices.Sort(list)
	return list
}

// changeText is the changeover in the words of second.
func (s *State) changeText() (text string) {
	c, _ := s.Changeover()
	for i, said := range []bool{c.Wrench, c.Socket, c.Again} {
		if said {
			text += []string{"wrench ", "socket ", "again"}[i]
		}
	}
	return text
}

// drawRules are rules that the second reading knows as well.
func drawRules(d dice) int { return one(d, []int{strictRules, Rules, Rules}) }

// called is a thing in the words of second.
func (s *State) called(t ident.Thing) string {
	if t.IsFastener() && t != s.fastenerThing(t.ID) {
		return t.String()
	}
	return t.Text()
}

// No sequence of commands reaches done with anything outstanding, read twice;
// nothing is confirmed over a piece that is due; replaying the events gives the
// same state; undo and the same again gives the same state.
func TestNoCommandsReachDoneWithAnythingOpen(t *testing.T) {
	ended := map[Phase]int{}
	kinds := map[Kind]int{}
	steps := 0
	outside.Tries(t, 20, 100)
	rapid.Check(t, func(t *rapid.T) {
		d := rapidDice{t}
		p := planOf(t, drawProcedure(d))
		s := CourseOf(p, drawRules(d)).Start()
		now := start
		for range between(d, 1, 120) {
			now = now.Add(drawWait(d))
			c := drawCommand(d, s)
			if c.Do == Stop && d.roll(4) > 0 {
				continue
			}
			e, refusal := Decide(s, c, now)
			if e == nil && refusal == nil {
				t.Fatalf("%+v was neither accepted nor refused", c)
			}
			if e == nil {
				continue
			}
			steps++
			kinds[e.Kind]++
			undoAndRedo(t, s, *e)
			s.Apply(*e)
			if differs := s.differs(p); differs != "" {
				t.Fatalf("after %s %s%s %s", e.Kind, e.Item, e.Fastener, differs)
			}
			if n := len(s.left()); n != len(s.Outstanding(now)) || n != s.OutstandingCount() || s.Phase == IsDone && len(s.left()) > 0 {
				t.Fatalf("%s with %v open, %v outstanding, %d counted", s.Phase, s.left(), s.Outstanding(now), s.OutstandingCount())
			}
			nothingOverADuePiece(t, s)
			if s.Phase != IsOpen {
				break
			}
		}
		again := s.Anew()
		if findings := Replay(again, s.Events); len(findings) > 0 {
			t.Fatalf("an accepted event is refused when replayed: %v", findings[0].Refusal)
		}
		same(t, again, s)
		ended[s.Phase]++
	})
	t.Logf("walks ended: %v after %d steps: %v", ended, steps, kinds)
	// Of a few walks now and then none is done; TestManySequencesReadTheSameTwice draws its own by number.
	if outside.Asking && (ended[IsDone] == 0 || ended[IsOpen] == 0) {
		t.Errorf("the commands drawn never reached both done and open: %v", ended)
	}
}

// nothingOverADuePiece: no stage that tightens, and no part, stands confirmed
// while something of it is due new.
func nothingOverADuePiece(t *rapid.T, s *State) {
	for i, it := range s.Items {
		if s.marks[i].Closed && s.marks[i].Facts["accounted"] == "" && s.needsNew(i) && len(s.Due(it.Thing())) > 0 {
			t.Fatalf("%s stands confirmed and %v is due", it.Text(), s.Due(it.Thing()))
		}
	}
}

// undoAndRedo applies an event, takes it back, and checks that the state is as
// it was but for the log.
func undoAndRedo(t *rapid.T, s *State, e Event) {
	if len(s.Events) > 40 || e.Kind == Undone || e.Kind == Brought || e.Kind == Resheeted {
		return // every early event is enough; brought and resheeted are not undone
	}
	fork := s.Anew()
	Replay(fork, s.Events)
	before := len(fork.history)
	fork.Apply(e)
	if len(fork.history) == before {
		return // nothing that undo takes back
	}
	after := snapshot(fork)
	undo := Event{Seq: len(fork.Events) + 1, At: e.At, Kind: Undone, Text: "test"}
	if r := fork.Judge(undo); r != nil {
		if !strings.Contains(r.What, "stays used") {
			t.Fatalf("undo of %s is refused: %s", e.Kind, r.What)
		}
		return
	}
	fork.Apply(undo)
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
	marks := make([]Mark, len(s.marks))
	for i, m := range s.marks {
		marks[i] = *m
		marks[i].Seq = 0 // done again, it has another number
	}
	var pieces []Renewable
	for _, p := range s.pieces {
		pieces = append(pieces, *p)
	}
	var steps []string
	for _, it := range s.Items {
		steps = append(steps, it.Key().String())
	}
	return fmt.Sprintf("%q %v %v %d %s %v %s %v %v %v %q", s.told(), marks, pieces, s.next, s.Phase, s.found, things, s.loosed, s.sealHeld, s.faults, steps) + fmt.Sprint(s.each)
}

func same(t *rapid.T, a, b *State) {
	if snapshot(a) != snapshot(b) || !reflect.DeepEqual(a.Deviations, b.Deviations) || !reflect.DeepEqual(a.Events, b.Events) {
		t.Fatalf("replay gives another state:\n%s\n%s", snapshot(a), snapshot(b))
	}
}

// A done event slipped into the log at any point is not earned, and does not count.
func TestAForgedDoneDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapidDice{t}
		p := planOf(t, drawProcedure(d))
		s := New(p)
		now := start
		for range between(d, 0, 30) {
			now = now.Add(drawWait(d))
			if e, _ := Decide(s, aptCommand(d, s), now); e != nil {
				s.Apply(*e)
			}
		}
		if s.Phase == IsDone {
			return
		}
		open := len(secondReading(p, Rules, s.Events).left())
		forged := append(append([]Event{}, s.Events...), Event{Seq: len(s.Events) + 1, At: now, Kind: Done})
		read := New(p)
		findings := Replay(read, forged)
		if open > 0 && (read.Phase == IsDone || len(findings) != 1) {
			t.Fatalf("a forged done counts with %d open: phase %s, findings %v", open, read.Phase, findings)
		}
	})
}

// Very many sequences, read twice at their end and now and then on the way. How
// many: EVENPULL_SEQUENCES.
func TestManySequencesReadTheSameTwice(t *testing.T) {
	const perSheet = 50
	n := outside.Times(600, 4000)
	if text := os.Getenv("EVENPULL_SEQUENCES"); text != "" {
		var err error
		if n, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
	}
	workers := runtime.GOMAXPROCS(0)
	ended, steps := make([]map[Phase]int, workers), make([]int, workers)
	var wg sync.WaitGroup
	for w := range workers {
		ended[w] = map[Phase]int{}
		wg.Go(func() {
			for sheet := w; sheet < n/perSheet && !t.Failed(); sheet += workers {
				d := plainDice{rand.New(rand.NewPCG(7, uint64(sheet)))}
				text := drawProcedure(d)
				p := planOf(t, text)
				course := CourseOf(p, drawRules(d))
				for range perSheet {
					s := course.Start()
					steps[w] += sequence(t, d, p, s, sheet)
					ended[w][s.Phase]++
				}
			}
		})
	}
	wg.Wait()
	total, all := 0, map[Phase]int{}
	for w := range workers {
		total += steps[w]
		for phase, n := range ended[w] {
			all[phase] += n
		}
	}
	t.Logf("%d sequences, %d steps: %v", all[IsDone]+all[IsOpen]+all[IsStopped], total, all)
	if all[IsDone] == 0 || all[IsOpen] == 0 {
		t.Errorf("the commands drawn never reached both done and open: %v", all)
	}
}

// sequence walks a while and gives the number of events.
func sequence(t *testing.T, d dice, p *plan.Plan, s *State, sheet int) int {
	now := start
	for range between(d, 1, 60) {
		now = now.Add(drawWait(d))
		c := drawCommand(d, s)
		if c.Do == Stop && d.roll(4) > 0 {
			continue
		}
		e, _ := Decide(s, c, now)
		if e == nil {
			continue
		}
		s.Apply(*e)
		if s.Phase != IsOpen || d.roll(24) == 0 {
			if differs := s.differs(p); differs != "" || s.Phase == IsDone && len(s.left()) > 0 {
				t.Errorf("sheet %d, after %s: %s", sheet, e.Kind, differs)
				return len(s.Events)
			}
		}
		if s.Phase != IsOpen {
			return len(s.Events)
		}
	}
	if differs := s.differs(p); differs != "" {
		t.Errorf("sheet %d, at the end: %s", sheet, differs)
	}
	return len(s.Events)
}
