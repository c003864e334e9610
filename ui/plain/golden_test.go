package plain

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
	"evenpull/ui/internal/golden"
)

// mechanic answers what is asked, twenty seconds after it was, and writes down what
// was typed behind the question.
type mechanic struct {
	*testing.T
	live  *walk.Live
	out   *bytes.Buffer
	now   time.Time
	until func(*walk.State) bool // then quit
}

func (m *mechanic) Read(p []byte) (int, error) {
	m.now = m.now.Add(20 * time.Second)
	line := m.answer() + "\n"
	m.out.WriteString(line)
	return copy(p, line), nil
}

func (m *mechanic) answer() string {
	s, it := m.live.State, m.live.State.CurrentItem()
	switch {
	case m.until != nil && m.until(s):
		return "quit"
	case it == nil:
		return "done"
	case len(s.DueNow()) > 0:
		return strings.TrimSuffix("renew "+it.Thing().ID, " ") + ", lot 19"
	case it.Kind == walk.MeasureItem && it.Check.Min != nil:
		return "measure " + it.Check.Min.String()
	case it.Kind == walk.MeasureItem:
		return "measure " + it.Check.Max.String()
	case it.Kind == walk.AskItem:
		return "yes"
	}
	return "ok"
}

// walks begins a walk, leaves it where it is said, comes back after a while and ends it.
func walks(t *testing.T, p *spec.Procedure, leave func(*walk.State) bool, away time.Duration) string {
	t.Helper()
	m := &mechanic{T: t, out: &bytes.Buffer{}, now: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), until: leave}
	m.live = &walk.Live{State: walk.New(plan.Of(p)), Now: func() time.Time { return m.now }, Append: func(walk.Event) error { return nil }}
	o := Options{Wrench: func(st *plan.Stage) string {
		if st.Action != spec.Torque {
			return ""
		}
		return "click wrench: set " + st.Target.Torque.Text()
	}}
	if leave != nil {
		if ended, err := Walk(m.live, m, m.out, o); ended != Left || err != nil {
			t.Fatalf("left: %v, %v\n%s", ended, err, m.out)
		}
		m.until, m.now = nil, m.now.Add(away)
		m.out.WriteString("\n-- left, and opened again --\n\n")
		back := m.live.State.Returning(m.now)
		o.Return = &back
		if refusal, err := m.live.Do(walk.Command{Do: walk.Resume}); refusal != nil || err != nil {
			t.Fatal(refusal, err)
		}
	}
	if ended, err := Walk(m.live, io.Reader(m), m.out, o); ended != Done || err != nil {
		t.Fatalf("%v, %v\n%s", ended, err, m.out)
	}
	return m.out.String()
}

// bolts that take turns: figures and sockets change with every bolt.
const turns = `format = 1
[procedure]
name = "Close the lid"
direction = "close"
source = "invented"
[group.a]
thread = "M8x1.25"
class = "8.8"
torque = "20 N·m"
drive = "12 mm hex"
friction = "oiled"
at = { A1 = [0, 0], A2 = [80, 0] }
[group.b]
thread = "M6x1"
class = "8.8"
torque = "8 N·m"
drive = "8 mm hex"
friction = "dry"
at = { B1 = [40, 40], B2 = [40, -40] }
[[pass]]
name = "Together"
groups = ["a", "b"]
torque = "100 %"
order = ["A1", "B1", "A2", "B2"]
[[pass]]
name = "One by one"
groups = ["a"]
each = [{ loosen = "90°" }, { torque = "20 N·m" }, { turn = "30°" }]
`

func at(pass, id string) func(*walk.State) bool {
	return func(s *walk.State) bool {
		it := s.CurrentItem()
		return it != nil && it.Kind == walk.StageItem && it.Pass.Name == pass && it.Stage.Fastener.ID == id
	}
}

// Whole walks as they are read: what is asked before the bolts, what changes on the
// wrench, and what is said to whoever comes back.
func TestGoldenWalks(t *testing.T) {
	bundled := func(name string) *spec.Procedure {
		p, _, err := procedures.Library{}.Load(name)
		if err != nil || p == nil {
			t.Fatal(name, err)
		}
		return p
	}
	lid, problems := read.Procedure("lid.toml", []byte(turns))
	if lid == nil {
		t.Fatal(problems)
	}
	golden.Files(t, map[string]string{
		"crankcase-close.txt":  walks(t, bundled("crankcase-close"), at("Final", "R3"), 4*time.Minute),
		"head-torque-turn.txt": walks(t, bundled("head-torque-turn"), at("First turn", "H4"), 400*24*time.Hour),
		"taking-turns.txt":     walks(t, lid, nil, 0),
	})
}
