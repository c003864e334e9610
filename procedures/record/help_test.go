package record

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// cover is a procedure with one of everything that can keep a walk open. Its
// engine and every figure are invented.
const cover = `format = 1

[procedure]
name      = "Close the cover"
engine    = "Osier 380 parallel twin"
direction = "close"
source    = "Osier sheet 1 (invented)"

[group.main]
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
one_use = true
with   = [{ part = "sealing washer", count = 2, one_use = true }]
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]

[[pass]]
name   = "Snug"
groups = ["main"]
torque = "40 %"

[[pass]]
name = "Settle"
wait = "10m"

[[pass]]
name   = "Turn"
groups = ["main"]
turn   = "90°"

[[check]]
before = "Snug"
ask    = "Both dowels in place?"

[[check]]
after   = "Turn"
measure = "end float"
min     = "0.05 mm"
max     = "0.20 mm"

[[part]]
name    = "cover gasket"
kind    = "gasket"
one_use = true
`

const coverStages = 4

var started = time.Date(2026, 11, 25, 9, 30, 0, 0, time.FixedZone("", 3600))

// clock gives a minute more each time it is asked.
func clock() func() time.Time {
	now := started
	return func() time.Time {
		now = now.Add(time.Minute)
		return now
	}
}

func newStore(t testing.TB) *Store {
	t.Helper()
	s, err := Open(filepath.Join(t.TempDir(), "records"), clock())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func procedureOf(t testing.TB, text string) *spec.Procedure {
	t.Helper()
	p, problems := read.Procedure("cover.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	return p
}

func create(t testing.TB, s *Store, engine string) *Writer {
	t.Helper()
	w, err := s.Create(NewHeader(procedureOf(t, cover), "cover.toml", engine, "test", started))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// walking is a walk that writes to a record.
func walking(t testing.TB, w *Writer) *walk.Live {
	t.Helper()
	return &walk.Live{State: walk.New(plan.Of(procedureOf(t, cover))), Now: clock(), Append: w.Append}
}

// do carries out commands that must be accepted.
func do(t testing.TB, l *walk.Live, commands ...walk.Command) {
	t.Helper()
	for _, c := range commands {
		refusal, err := l.Do(c)
		if err != nil || refusal != nil {
			t.Fatalf("%+v: %v %v", c, err, refusal)
		}
	}
}

// forward does what comes next in a walk, n times at most.
func forward(t testing.TB, l *walk.Live, n int) {
	t.Helper()
	for range n {
		it := l.State.CurrentItem()
		if it == nil {
			return
		}
		if len(l.State.DueNow()) > 0 {
			do(t, l, walk.Command{Do: walk.Renew})
			continue
		}
		switch {
		case it.Kind == walk.MeasureItem:
			do(t, l, walk.Command{Do: walk.Measure, Reading: "0.12 mm"})
		case it.Kind == walk.WaitItem:
			now := l.Now().Add(10 * time.Minute)
			l.Now = func() time.Time { now = now.Add(time.Minute); return now }
			do(t, l, walk.Command{Do: walk.Confirm})
		default:
			do(t, l, walk.Command{Do: walk.Confirm})
		}
	}
}

// finished makes a record of a walk that is done, with a detour, and gives its path.
func finished(t testing.TB, s *Store, engine string) string {
	t.Helper()
	w := create(t, s, engine)
	l := walking(t, w)
	forward(t, l, 3)
	if refusal, err := l.Do(walk.Command{Do: walk.FinishUp}); refusal == nil || err != nil {
		t.Fatalf("an early done: got %v, %v, want a refusal", refusal, err)
	}
	do(t, l, walk.Command{Do: walk.Undo, Text: "wrong socket"}, walk.Command{Do: walk.Note, Text: "25 % \"off\"\tµ <ok>"})
	forward(t, l, 100)
	do(t, l, walk.Command{Do: walk.FinishUp})
	closeWriter(t, w)
	return w.Path
}

func closeWriter(t testing.TB, w *Writer) {
	t.Helper()
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func writeFile(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

func wantText(t testing.TB, err error, parts ...string) {
	t.Helper()
	if err == nil {
		t.Fatalf("got no error, want one with %q", parts)
	}
	for _, p := range parts {
		if !strings.Contains(err.Error(), p) {
			t.Errorf("error %q does not say %q", err, p)
		}
	}
}

// clockAt gives a second more each time it is asked, from a time on.
func clockAt(now time.Time) func() time.Time {
	return func() time.Time {
		defer func() { now = now.Add(time.Second) }()
		return now
	}
}

func note(seq int, text string) walk.Event {
	return walk.Event{Seq: seq, At: started, Kind: walk.Noted, Text: text}
}

// eventsIn are all events of a record that can be read.
func eventsIn(t *testing.T, path string) []walk.Event {
	t.Helper()
	f, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return f.Events
}
