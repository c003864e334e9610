package walk

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/outside"
)

// Sheets so small that every sequence of commands can be tried, to a depth.
var smallSheets = map[string]string{
	"torque, turn, wait, sealant, preparation, question": `format = 1
[procedure]
name = "S"
direction = "close"
source = "invented"
[sealant]
name = "sealant"
work_time = "2h"
[group.g]
thread = "M8x1.25"
class = "8.8"
one_use = true
prep = "oil"
[group.g.at]
A = [0, 0]
[[pass]]
name = "P"
groups = ["g"]
each = [{ torque = "20 N·m" }, { turn = "90°" }]
[[pass]]
name = "W"
wait = "1h"
[[pass]]
name = "Q"
groups = ["g"]
verify = "at least 15 N·m"
[[check]]
after = "P"
ask = "Free?"
no_restarts = ["A"]
`,
	"stretch, preparation, case thread": `format = 1
[procedure]
name = "S"
direction = "close"
source = "invented"
[group.g]
thread = "M8x1"
class = "10.9"
prep = "oil"
[group.g.at]
A = [0, 0]
B = [40, 0]
[[pass]]
name = "P"
groups = ["g"]
stretch = "0.12 mm to 0.15 mm"
ceiling = "45 N·m"
`,
	"parts and what an engine brings": `format = 1
[procedure]
name = "S"
direction = "close"
source = "invented"
[group.g]
thread = "M8x1.25"
class = "8.8"
with = [{ part = "washer", count = 1, one_use = true }]
[group.g.at]
A = [0, 0]
[[part]]
name = "gasket"
kind = "gasket"
one_use = true
[[part]]
name = "shim"
kind = "shim"
[[pass]]
name = "P"
groups = ["g"]
each = [{ loosen = "90°" }, { torque = "20 N·m" }]
[[check]]
before = "P"
measure = "float"
min = "0.05 mm"
max = "0.20 mm"
of = ["shim"]
no_restarts = ["g"]
`,
	"taking apart": `format = 1
[procedure]
name = "S"
direction = "open"
source = "invented"
[group.g]
thread = "M8x1.25"
class = "8.8"
[group.g.at]
A = [0, 0]
[[pass]]
name = "P"
groups = ["g"]
loosen = "90°"
[[pass]]
name = "Q"
groups = ["g"]
remove = true
[[part]]
name = "shim"
kind = "shim"
`,
}

// everyCommand is what is tried in every state; after says that time goes by first.
var everyCommand = []struct {
	after time.Duration
	do    Command
}{
	{0, Command{Do: Confirm}}, {3 * time.Hour, Command{Do: Confirm}}, {-time.Hour, Command{Do: Confirm}}, {0, Command{Do: Yes}},
	{0, Command{Do: No, Text: "x"}}, {0, Command{Do: No, Text: "x", Restarts: []string{"A"}}},
	{0, measured("20 N·m")}, {0, measured("30 N·m")}, {0, measured("10 N·m")}, {0, measured("97°")}, {0, measured("90°")},
	{0, measured("0.13 mm at 40 N·m")}, {0, measured("0.13 mm at 50 N·m")}, {0, measured("0.3 mm at 40 N·m")},
	{0, Command{Do: Measure, Reading: "0.1 mm"}}, {0, Command{Do: Measure, Reading: "0.3 mm"}},
	{0, Command{Do: Renew, Number: "none"}}, {0, Command{Do: Renew, Target: "A", Number: "none"}}, {0, Command{Do: Renew, Target: "A", Piece: "washer", Number: "none"}}, {0, Command{Do: Renew, Target: "gasket", Number: "none"}}, {0, Command{Do: Renew, Target: "shim", Number: "none"}},
	{0, Command{Do: Undo, Text: "x"}}, {0, Command{Do: Lose, Target: "A", Text: "x"}}, {0, Command{Do: Problem, Target: "A", Text: "bent"}},
	{0, Command{Do: Problem, Target: "A", Text: "stripped", Facts: Facts{StrippedAt: InCase}}}, {0, repairOf("A")}, {0, Command{Do: Reseal, Text: "x"}},
	{0, bring(Carried{ID: "A", Fastener: true, Thread: "M8x1.25", Name: "A", Count: 1, Facts: Facts{Condition: "stretched"}, Record: "r1"}, Carried{ID: "shim", Name: "shim", Count: 1, Record: "r1"})},
	{0, bring(Carried{ID: "A", Fastener: true, Thread: "M8x1.25", Name: "A", Count: 1, Record: "r2"}, Carried{ID: "shim", Name: "shim", Count: 2, Unclean: "blasting", Record: "r2"})},
	{0, bring(Carried{ID: "A", Fastener: true, Thread: "M8x1.25", Name: "A", Count: 1, Loose: true, Record: "r3"}, Carried{ID: "old", Name: "old key", Count: 1, Record: "r1"})},
	{0, Command{Do: Bring, Faults: []Fault{{ID: "float", What: "float", Found: "is 0.3 mm", Max: "0.2 mm", Record: "r1"}, {ID: "free", What: "Free?", Found: "stuck", Record: "r1"}}}},
	{0, Command{Do: Settle, Target: "free", Facts: Facts{How: ByRepair, By: "the shop"}}}, {0, Command{Do: Settle, Facts: Facts{How: ByNew}}}, {0, Command{Do: Settle}}, {0, Command{Do: Later, Text: "x"}},
	{0, bring(Carried{ID: "thin", Name: "thin washer", Count: 1, New: true, Before: "part:shim", Record: "r4"}, Carried{ID: "clip", Name: "clip", Count: 1, New: true, Before: "A", Facts: Facts{Condition: "stretched"}, Record: "r4"})},
	{0, Command{Do: Find, New: "odd key", Facts: Facts{Condition: "good"}}}, {0, Command{Do: Refit, Target: "clip"}}, {0, Command{Do: Refit, Target: "odd key"}},
	{0, Command{Do: Account, Target: "shim", Text: "x"}}, {0, Command{Do: Account, Target: "A", Text: "x"}}, {0, Command{Do: Account, Target: "gasket", Text: "x"}}, {0, Command{Do: Clean, Target: "shim"}}, {0, Command{Do: Refit, Target: "old key"}},
	{0, Command{Do: Picture, Text: "x", Facts: lobe.Facts()}}, {0, Command{Do: Note, Text: "x"}},
	{0, Command{Do: Find, Target: "shim", Facts: Facts{Condition: "scored"}}}, {0, Command{Do: FinishUp}}, {0, Command{Do: Stop, Text: "x"}},
}

// lobe is a picture that somebody took.
var lobe = Photo{Name: "lobe.jpg", SHA256: strings.Repeat("0a", 32), Type: "jpg"}

func repairOf(id string) Command {
	return Command{Do: Repair, Target: id, Facts: Facts{"insert": "coil", "size": "M8", "by": "shop", "torque": "as the sheet", "engagement": "14 mm", "drive": "as the sheet"}}
}

// Every state of a small sheet that can be reached: no done with anything open,
// stop always possible, and from each open one a way to done.
func TestEveryStateOfSmallSheetsIsHonestAndLeadsOn(t *testing.T) {
	most := outside.Times(300, 1500)
	if text := os.Getenv("EVENPULL_STATES"); text != "" {
		most, _ = strconv.Atoi(text)
	}
	for name, text := range smallSheets {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			explore(t, planOf(t, text), most)
		})
	}
}

type reached struct {
	events []Event
	now    time.Time
	depth  int
}

func explore(t *testing.T, p *plan.Plan, most int) {
	course := CourseOf(p, Rules)
	seen := map[string]bool{}
	queue := []reached{{nil, start, 0}}
	ends, depth := map[Phase]int{}, 0
	for len(queue) > 0 && len(seen) < most {
		r := queue[0]
		queue = queue[1:]
		depth = r.depth
		for _, c := range everyCommand {
			s := course.Start()
			Replay(s, r.events)
			now := r.now.Add(time.Second + c.after)
			e, _ := Decide(s, c.do, now)
			if e == nil {
				continue
			}
			s.Apply(*e)
			key := fingerprint(s, now)
			if seen[key] {
				continue
			}
			seen[key] = true
			honest(t, p, s)
			if ends[s.Phase]++; s.Phase != IsOpen {
				continue
			}
			leadsOn(t, course, s, now)
			if t.Failed() {
				return
			}
			queue = append(queue, reached{slices.Clone(s.Events), now, r.depth + 1})
		}
	}
	t.Logf("%d states, depth %d, %d still to look at: %v", len(seen), depth, len(queue), ends)
}

// fingerprint tells states apart by what is open, due, said and known, and by
// what undo would give back, but not by when.
func fingerprint(s *State, now time.Time) string {
	var b strings.Builder
	for _, m := range s.marks {
		fmt.Fprintf(&b, "%v%s%v ", m.Closed, m.Answer, m.Facts)
	}
	for _, piece := range s.pieces {
		p := *piece
		p.At, p.Why = time.Time{}, ""
		fmt.Fprintf(&b, "%v ", p)
	}
	for _, t := range s.order {
		fmt.Fprintf(&b, "%v ", *s.carried[t])
	}
	left, running := s.SealantLeft(now)
	for _, it := range s.Items {
		if it.Kind == FaultItem || it.Unforeseen {
			b.WriteString(it.Key().String())
		}
	}
	fmt.Fprintf(&b, "%s %v %v %v %v", s.Phase, s.loosed, s.found, running && left < 0, s.sealHeld.IsZero())
	if n := len(s.history); n > 0 {
		fmt.Fprintf(&b, "undo %s %s", s.Events[s.history[n-1].event].Kind, s.history[n-1].final())
		for _, m := range s.history[n-1].marks {
			fmt.Fprintf(&b, " %d%v", m.at, m.mark.Closed)
		}
	}
	return b.String()
}

func honest(t *testing.T, p *plan.Plan, s *State) {
	if differs := s.differs(p); differs != "" || s.Phase == IsDone && len(s.left()) > 0 {
		t.Errorf("%s after %s: %s", s.Phase, trail(s), differs)
	}
	for i, it := range s.Items {
		if s.marks[i].Closed && s.marks[i].Facts["accounted"] == "" && s.needsNew(i) && len(s.Due(it.Thing())) > 0 {
			t.Errorf("after %s: %s is confirmed and %v due", trail(s), it.Text(), s.Due(it.Thing()))
		}
	}
}

func trail(s *State) string {
	var words []string
	for _, e := range s.Events {
		words = append(words, strings.TrimSpace(fmt.Sprintf("%s %s%s %s%s%v", e.Kind, e.Item, e.Fastener, e.Reading, e.Answer, e.Facts)))
	}
	return strings.Join(words, "; ")
}

// leadsOn: a stop is taken, and going straight on comes to done.
func leadsOn(t *testing.T, course *Course, from *State, now time.Time) {
	s := course.Start()
	Replay(s, from.Events)
	if e, r := Decide(s, Command{Do: Stop, Text: "x"}, now); e == nil {
		t.Errorf("after %s a stop is refused: %v", trail(s), r)
	}
	for range 200 {
		now = now.Add(time.Minute)
		e, r := Decide(s, straightOn(s, now), now)
		if e == nil {
			t.Errorf("dead end after %s:\nat %s: %v", trail(from), s.nextText(), r)
			return
		}
		if s.Apply(*e); s.Phase == IsDone {
			return
		}
	}
	t.Errorf("never done after %s: left %q", trail(from), s.left())
}

// straightOn is what a person would do who wants to be done.
func straightOn(s *State, now time.Time) Command {
	it := s.CurrentItem()
	if left, running := s.SealantLeft(now); running && left < 0 && s.next <= s.sealEnd {
		return Command{Do: Reseal, Text: "it skinned over"}
	}
	if it == nil {
		if left := s.LeftOver(); len(left) > 0 {
			return Command{Do: Account, Target: s.NameCarried(left[0]).String(), Text: "spare"}
		}
		for _, p := range s.Pieces() {
			if p.due() {
				return Command{Do: Renew, Target: s.Owner(p).String(), Number: NoNumber}
			}
		}
		return Command{Do: FinishUp}
	}
	if c, ok := s.CarriedOf(it.Thing()); ok && c.Unclean != "" && !s.renewed(it.Thing()) {
		return Command{Do: Clean, Target: c.ID}
	}
	if len(s.DueNow()) > 0 {
		return Command{Do: Renew, Number: NoNumber}
	}
	switch it.Kind {
	case AskItem:
		return Command{Do: Yes}
	case MeasureItem:
		return Command{Do: Measure, Reading: "0.1 mm"}
	case RepairItem:
		return repairOf(it.Fastener.ID)
	case FaultItem:
		return Command{Do: Settle, Facts: Facts{How: ByNew}}
	case StageItem:
		if it.Stage.Action == spec.Stretch {
			return measured(WindowOf(it.Stage).Example())
		}
	case WaitItem:
		if s.WaitLeft(s.next, now) > 0 {
			return Command{Do: Note, Text: "waiting"}
		}
	}
	return ok()
}
