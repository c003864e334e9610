package engine

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// The sheets of an invented engine: every name and figure is made up.
const openSheet = `format = 1
[procedure]
name      = "Open the cover"
engine    = "Osier 125 single"
direction = "open"
source    = "Osier sheet 4 (invented)"
[group.main]
title  = "cover bolts"
thread = "M8x1.25"
class  = "8.8"
number = "125-01"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name   = "Take out"
groups = ["main"]
remove = true
order  = "listed"
[[part]]
name   = "thrust washer"
kind   = "washer"
number = "125-31"
[[part]]
name  = "shim"
kind  = "shim"
count = 2
[[part]]
name = "rotor"
`

const closeSheet = `format = 1
[procedure]
name      = "Close the cover"
engine    = "Osier 125 single"
direction = "close"
source    = "Osier sheet 3 (invented)"
[group.main]
title  = "cover bolts"
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
number = "125-01"
with   = [{ part = "sealing washer", count = 2, one_use = true, number = "125-12" }]
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name   = "Final"
groups = ["main"]
torque = "100 %"
order  = "listed"
[[part]]
name = "rotor"
[[part]]
name  = "shim"
kind  = "shim"
count = 2
[[check]]
before  = "Final"
measure = "shaft end float"
min     = "0.10 mm"
max     = "0.20 mm"
[[part]]
name   = "thrust washer"
kind   = "washer"
number = "125-31"
after  = "Final"
[[part]]
name    = "cover gasket"
kind    = "gasket"
one_use = true
number  = "125-40"
after   = "Final"
`

var day = time.Date(2025, 3, 2, 9, 0, 0, 0, time.UTC)

func sheet(t testing.TB, text string) *spec.Procedure {
	t.Helper()
	p, problems := read.Procedure("sheet.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	p.File = strings.ReplaceAll(strings.ToLower(p.Name), " ", "-")
	return p
}

func bundled(t testing.TB, name string) *spec.Procedure {
	t.Helper()
	p, problems, err := procedures.Library{}.Load(name)
	if p == nil {
		t.Fatal(problems, err)
	}
	p.File = name
	return p
}

// walked is a walk under way, by a clock of its own.
type walked struct {
	t    testing.TB
	id   string
	tag  string
	proc *spec.Procedure
	now  time.Time
	live *walk.Live
	// after is what it was known to come after, when its clock was behind.
	after time.Time
}

func begin(t testing.TB, id string, p *spec.Procedure, at time.Time) *walked {
	w := &walked{t: t, id: id, tag: "7", proc: p, now: at}
	w.live = &walk.Live{State: walk.New(plan.Of(p)), Append: func(walk.Event) error { return nil },
		Now: func() time.Time { w.now = w.now.Add(time.Second); return w.now }}
	return w
}

func (w *walked) do(commands ...walk.Command) *walked {
	w.t.Helper()
	for _, c := range commands {
		if r, err := w.live.Do(c); r != nil || err != nil {
			w.t.Fatalf("%s: %+v: %v %v", w.id, c, r, err)
		}
	}
	return w
}

func (w *walked) refused(c walk.Command, want string) *walked {
	w.t.Helper()
	r, err := w.live.Do(c)
	if err != nil || r == nil || !strings.Contains(r.Error(), want) {
		w.t.Fatalf("%s: %+v: got %v, %v, want a refusal with %q", w.id, c, r, err, want)
	}
	return w
}

// on goes straight on, up to the item called stop; found says what is found
// of things on the way.
func (w *walked) on(stop string, found map[string]walk.Facts) *walked {
	w.t.Helper()
	for it := w.live.State.CurrentItem(); it != nil && it.Key().String() != stop; it = w.live.State.CurrentItem() {
		key := it.Key().String()
		if it.Kind == walk.StageItem {
			key = it.Stage.Fastener.ID
		}
		if f := found[key]; f != nil {
			w.do(walk.Command{Do: walk.Find, Facts: f})
		}
		if len(w.live.State.DueNow()) > 0 {
			w.do(walk.Command{Do: walk.Renew})
		}
		switch it.Kind {
		case walk.MeasureItem:
			w.do(walk.Command{Do: walk.Measure, Reading: it.Check.How.Example()})
		case walk.WaitItem:
			w.now = w.now.Add(it.Pass.Wait)
			w.do(walk.Command{Do: walk.Confirm})
		case walk.StageItem:
			c := walk.Command{Do: walk.Confirm}
			if it.Stage.Action == spec.Stretch {
				c.Reading = walk.WindowOf(it.Stage).Example()
			}
			w.do(c)
		default:
			w.do(walk.Command{Do: walk.Confirm})
		}
	}
	return w
}

func (w *walked) done() *walked { return w.do(walk.Command{Do: walk.FinishUp}) }

func (w *walked) bring(e Engine) *walked {
	return w.do(walk.Command{Do: walk.Bring, Brought: e.Carried(w.proc), Faults: e.FaultsFor(w.proc)})
}

// walk is what WalkOf makes of a record of it.
func (w *walked) walk() Walk {
	s := w.live.State
	started := w.now
	if len(s.Events) > 0 {
		started = s.Events[0].At
	}
	return Walk{ID: w.id, Tag: w.tag, Procedure: w.proc.Name, Source: w.proc.File, Direction: w.proc.Direction, Started: started, After: w.after, Last: s.LastAt(),
		Phase: s.Phase, Confirmed: record.Confirmed(s), Stages: len(s.Plan.Stages), State: s, Proc: w.proc}
}

// ledger makes a ledger of events, numbered and a minute apart from a time on.
func ledger(id string, at time.Time, events ...walk.Event) *record.File {
	for i := range events {
		events[i].Seq = i + 1
		if events[i].At.IsZero() {
			events[i].At = at.Add(time.Duration(i) * time.Minute)
		}
	}
	return &record.File{Path: id + ".ledger", Header: record.Header{Ledger: true, Engine: "7"}, Events: events, Trusted: len(events)}
}

func keys(things []Thing) []string {
	list := []string{}
	for _, t := range things {
		list = append(list, fmt.Sprintf("%d %s", t.Count, t.Thing))
	}
	slices.Sort(list)
	return list
}

func rows(e Engine) []string {
	list := []string{}
	for _, b := range e.Buy {
		list = append(list, fmt.Sprintf("%d/%d %s %s", b.Arrived, b.Count, b.Name, b.Number))
	}
	return list
}

func wantList(t *testing.T, what string, got, want []string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: got %q, want %q", what, got, want)
	}
}

// fold is Fold with the close procedures at hand.
func fold(tag string, walks []Walk, ledgers []*record.File, closers []*spec.Procedure) Engine {
	return Fold(tag, walks, ledgers, func() []*spec.Procedure { return closers })
}

// Who has never been apart is folded without a look at what closes: reading that takes
// longer than all else.
func TestNothingOffAsksForNoCloseProcedure(t *testing.T) {
	asked := false
	closers := func() []*spec.Procedure { asked = true; return nil }
	shut := begin(t, "up", sheet(t, closeSheet), day).on("", nil).done().walk()
	e := Fold("7", []Walk{shut}, nil, closers)
	if e.AllDifferences(); asked {
		t.Error("asked for with nothing off")
	}
	if down, _ := apart(t); len(Fold("7", []Walk{down}, nil, closers).Off) == 0 || !asked {
		t.Error("not asked for with something off")
	}
}
