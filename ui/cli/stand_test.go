//go:build unix

package cli

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/ui/internal/term"
)

// bench is the real program on a real pseudo-terminal, and its record on disk.
type bench struct {
	*testing.T
	*term.Term
	binary, home, records string
}

func newBench(t *testing.T) *bench {
	home := t.TempDir()
	b := &bench{T: t, binary: term.Build(t, "evenpull"), home: home, records: filepath.Join(home, "records")}
	b.open()
	return b
}

// open starts the program anew, as after a power cut.
func (b *bench) open() {
	b.Term = term.Start(b.T, term.Options{Cols: 80, Rows: 24, Home: b.home, Patience: 20 * time.Second}, b.binary, "walk", "crankcase-close", "--engine", "stand 2", "--records", b.records)
}

// state replays the record as it is on disk now.
func (b *bench) state() *walk.State {
	b.Helper()
	files, _ := filepath.Glob(filepath.Join(b.records, "*.jsonl"))
	if len(files) != 1 {
		b.Fatalf("%d records", len(files))
	}
	f, err := record.Read(files[0])
	if err != nil {
		b.Fatal(err)
	}
	s, findings, err := f.Replay()
	if err != nil || len(findings) > 0 {
		b.Fatalf("%v %v", err, findings)
	}
	return s
}

// doublePress is how long a person must leave between two confirmations.
const doublePress = 420 * time.Millisecond

// step does what the current item asks for, by the keys a person would press,
// and waits until it is on disk.
func (b *bench) step() {
	b.Helper()
	time.Sleep(doublePress)
	s := b.state()
	it := s.CurrentItem()
	switch {
	case len(s.DueNow()) > 0:
		b.Press("n")
		b.WaitText("all of these are fitted")
		b.Press("a")
	case it.Kind == walk.MeasureItem:
		b.Press("enter")
		b.WaitText("figure and unit")
		b.Type("0.12 mm")
		b.Press("enter")
	default:
		b.Press("enter")
	}
	before := len(s.Events)
	b.WaitFor("the next event on disk after "+it.Text(), func(string) bool { return len(b.state().Events) > before })
}

// The bundled case closing at the stand: done asked for early and refused with
// its list, the program killed half way, back at the same stage, closed with an
// earned done; then the record is reviewed and verified.
func TestCaseClosingSurvivesAPowerCutAndIsEarned(t *testing.T) {
	b := newBench(t)
	b.WaitText("Close the crankcase, engine stand 2", "0 of 37 stages")
	b.Press("d")
	b.WaitText("Not done:", "outstanding")
	b.Press("esc")
	b.WaitGone("Not done:")
	for confirmed(b.state()) < 9 {
		b.step()
	}
	at := b.state().CurrentItem().Key
	b.Kill()
	b.open()
	b.WaitText("9 of 37 stages")
	if s := b.state(); s.CurrentItem().Key != at {
		t.Fatalf("came back at %s, left at %s", s.CurrentItem().Key, at)
	}
	for b.state().CurrentItem() != nil {
		b.step()
	}
	b.Press("d")
	b.WaitFor("done on disk", func(string) bool { return b.state().Phase == walk.IsDone })
	b.WaitText("CLOSED", "All 37 stages confirmed")
	b.Press("q")
	if code := b.WaitExit(); code != ExitDone {
		t.Errorf("exit code %d", code)
	}
	b.reviewed()
}

func confirmed(s *walk.State) int { return record.Confirmed(s) }

// reviewed opens the start screen on the finished record, and verifies it.
func (b *bench) reviewed() {
	b.Helper()
	b.Term = term.Start(b.T, term.Options{Cols: 80, Rows: 24, Home: b.home}, b.binary, "--records", b.records)
	b.WaitText("Records", "Close the crankcase")
	b.Press("end", "enter")
	b.WaitText("stand 2", "Matrix", "Final")
	b.Press("q")
	b.WaitText("Procedures")
	b.Press("q")
	b.WaitExit()
	files, _ := filepath.Glob(filepath.Join(b.records, "*.jsonl"))
	report := record.Verify(files[0])
	if !report.OK() || report.Confirmed != 37 {
		b.Errorf("verify: %+v", report.Problems)
	}
	refused := 0
	for _, e := range report.File.Events {
		if e.Kind == walk.Refused {
			refused++
		}
	}
	if refused != 1 {
		b.Errorf("%d refused dones in the record, want 1", refused)
	}
}

// A terminal that answers no query gets its first frame without one being asked.
func TestFirstFrameAsksTheTerminalNothing(t *testing.T) {
	b := newBench(t)
	started := time.Now()
	b.WaitText("0 of 37 stages")
	if d := time.Since(started); d > 3*time.Second {
		t.Errorf("first frame after %s: somebody waited for an answer", d)
	}
	for _, query := range []string{"\x1b]11;?", "\x1b]10;?", "\x1b[6n", "\x1b[c", "\x1b[5n"} {
		if strings.Contains(string(b.Raw()), query) {
			t.Errorf("the terminal was asked %q", query)
		}
	}
	b.Press("q")
	b.WaitText("come back")
	b.Press("q")
	if code := b.WaitExit(); code != ExitOutstanding {
		t.Errorf("exit code %d, want %d", code, ExitOutstanding)
	}
}

// A second program on the same walk shows it, says who has it, and writes
// nothing; a terminated one leaves a whole record behind.
func TestASecondScreenIsReadOnlyAndATerminatedOneLosesNothing(t *testing.T) {
	b := newBench(t)
	b.WaitText("0 of 37 stages")
	for range 3 {
		b.step()
	}
	first := b.Term
	b.open()
	b.WaitText("read only", "process")
	b.Press("enter")
	b.WaitText("read only")
	before := len(b.state().Events)
	b.Press("q")
	b.WaitText("LEAVE?")
	b.Press("q")
	b.WaitExit()
	if after := len(b.state().Events); after != before {
		t.Errorf("the second screen wrote %d events", after-before)
	}
	first.Signal(syscall.SIGTERM)
	if code := first.WaitExit(); code != ExitProblem && code != ExitOutstanding {
		t.Errorf("exit code %d after SIGTERM", code)
	}
	if s := strings.ToLower(first.Screen()); strings.Contains(s, "goroutine") || strings.Contains(s, "panic") {
		t.Errorf("a stack trace:\n%s", s)
	}
	b.open()
	b.WaitText("0 of 37 stages")
	if got := len(b.state().Events); got < before {
		t.Errorf("%d events left of %d", got, before)
	}
}
