//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/ui/internal/term"
	"evenpull/ui/keys"
)

// bench is the program on a real pseudo-terminal, with its record on disk and
// a clock that the test moves.
type bench struct {
	*testing.T
	*term.Term
	term.Clock
	program, home, records string

	begun map[string]*walk.State // by record: a sheet is read once, however often a test looks
}

func newBench(t *testing.T) *bench {
	home := t.TempDir()
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	b.walk()
	return b
}

// self is the program, under the name that TestMain knows it by.
func self(t *testing.T) string {
	t.Helper()
	binary, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "evenpull")
	if err := os.Symlink(binary, program); err != nil {
		t.Fatal(err)
	}
	return program
}

// walk starts the program on its walk, the first time or as after a power cut.
func (b *bench) walk() { b.start("walk", "crankcase-close", "--engine", "stand 2") }

func (b *bench) start(arguments ...string) {
	b.Helper()
	o := term.Options{Home: b.home, Clock: b.Clock}
	b.Term = term.Start(b.T, o, b.program, append(arguments, "--records", b.records)...)
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
	sheet := files[0] + f.Header.SHA256
	if b.begun[sheet] == nil {
		s, err := f.Start()
		if err != nil {
			b.Fatal(err)
		}
		b.begun = map[string]*walk.State{sheet: s}
	}
	s := b.begun[sheet].Anew()
	if findings := walk.Replay(s, f.Events[:f.Trusted]); len(findings) > 0 {
		b.Fatal(findings)
	}
	return s
}

// apart is how long a person must leave between two confirmations.
const apart = keys.DoublePress

// step does what the current item asks for, by the keys a person would press,
// and waits until it is on disk and the screen says so.
func (b *bench) step() {
	b.Helper()
	b.Advance(apart)
	s := b.state()
	it := s.CurrentItem()
	said := "confirmed: " + it.Text()
	over, changes := s.Changeover()
	switch {
	case changes && !over.Again:
		b.WaitText("enter it is")
		b.Press("enter")
		said = "the wrench is set"
		if !over.Wrench {
			said = "the socket is on"
		}
	case len(s.DueNow()) > 0:
		b.renew()
		b.dismiss()
		return
	case it.Kind == walk.MeasureItem:
		b.Press("enter")
		b.WaitText("figure and unit")
		b.Type("0.12 mm")
		b.Press("enter")
	default:
		b.Press("enter")
	}
	b.WaitText(said[:min(len(said), 40)])
	if len(b.state().Events) != len(s.Events)+1 {
		b.Fatalf("the screen says %q, and it is not on disk", said)
	}
}

// comesBack reads where the walk was left, and goes on.
func (b *bench) comesBack() {
	b.Helper()
	b.WaitText("Coming back", "just now")
	b.Press("esc")
	b.WaitGone("Coming back")
	b.dismiss()
}

// renew records that all is new that is due.
func (b *bench) renew() {
	b.Helper()
	b.Press("n")
	b.WaitText("all of these are fitted")
	b.Press("a")
	b.WaitGone("all of these are fitted")
}

// dismiss presses the Enter that confirms nothing, after a panel.
func (b *bench) dismiss() {
	b.Helper()
	b.WaitText("enter dismiss") // two keys that are read at once count for none
	b.Advance(apart)
	b.Press("enter")
	b.WaitGone("enter dismiss")
}

// The bundled case closing at the stand: done asked for early and refused with
// its list, the program killed half way, back at the same stage, closed with an
// earned done; then the record is reviewed and verified.
func TestCaseClosingSurvivesAPowerCutAndIsEarned(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.WaitText("Close the crankcase, engine stand 2", "0 of 37 stages")
	b.Press("d")
	b.WaitText("Not done:", "outstanding")
	b.Press("esc")
	b.WaitGone("Not done:")
	b.dismiss()
	for confirmed(b.state()) < 9 {
		b.step()
	}
	at := b.state().CurrentItem().Key()
	b.Kill()
	b.walk()
	b.comesBack()
	b.WaitText("9 of 37 stages")
	if s := b.state(); s.CurrentItem().Key() != at {
		t.Fatalf("came back at %s, left at %s", s.CurrentItem().Key(), at)
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
	b.start()
	b.WaitText("Procedures")
	b.Press("end")
	b.WaitText("Records", "Close the crankcase")
	b.WaitText("enter review")
	b.Press("enter")
	b.WaitText("stand 2", "Bolts", "Final")
	b.Press("q")
	b.WaitText("enter review") // where it was, at the end of the lists
	b.Press("q")
	b.WaitExit()
	files, _ := filepath.Glob(filepath.Join(b.records, "*.jsonl"))
	report := record.Verify(files[0])
	if !report.OK() || report.Confirmed != 37 {
		b.Errorf("verify: %+v", report.Problems)
	}
	refused := 0
	f, err := record.Read(files[0])
	if err != nil {
		b.Fatal(err)
	}
	for _, e := range f.Events {
		if e.Kind == walk.Refused {
			refused++
		}
	}
	if refused != 1 {
		b.Errorf("%d refused dones in the record, want 1", refused)
	}
}

// A terminal that answers no query gets its first frame without one being
// asked. This is of the program as it is built, since it rests on the order in
// which packages start.
func firstFrameAsksTheTerminalNothing(t *testing.T, program string) {
	s := term.Start(t, term.Options{}, program, "walk", "crankcase-close")
	s.WaitText("0 of 37 stages")
	if asked := s.Asked(); asked != nil {
		t.Errorf("the terminal was asked %q", asked)
	}
	s.Press("q")
	s.WaitText("come back")
	s.Press("q")
	if code := s.WaitExit(); code != ExitOutstanding {
		t.Errorf("exit code %d, want %d", code, ExitOutstanding)
	}
}

// A second program on the same walk shows it, says who has it, and writes
// nothing; a terminated one leaves a whole record behind.
func TestASecondScreenIsReadOnlyAndATerminatedOneLosesNothing(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.WaitText("0 of 37 stages")
	for range 3 {
		b.step()
	}
	first := b.Term
	b.walk()
	b.WaitText("READ ONLY", "read only: process ", ", since ")
	b.Advance(apart)
	b.Press("enter")
	b.WaitText("REFUSED", "read only: process ")
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
	b.walk()
	b.comesBack()
	b.WaitText("0 of 37 stages")
	if got := len(b.state().Events); got < before {
		t.Errorf("%d events left of %d", got, before)
	}
}

// An Enter that chatters on the start screen's list opens the walk and no more.
// What falls between the two screens is lost; what comes after must not count.
func TestAnEnterChatteringOnTheStartScreenConfirmsNothing(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.WaitText("0 of 37 stages")
	b.step()
	b.Kill()
	before := len(b.state().Events)
	b.start()
	b.WaitText("Close the crankcase", "stand 2", "enter go on")
	for range 3 { // more at once are a pedal that is stuck, and open nothing
		b.Send("\r")
		b.Advance(apart / 30) // all of them within the guard, however late they are read
	}
	b.WaitText("Coming back")
	// The first closes that, the second shows the keys, once all that came before has been
	// taken; one read together with it counts for nothing, and is pressed again.
	for !strings.Contains(b.Screen(), "Keys of this moment") {
		was := b.Screen()
		b.Press("?")
		for tries := 0; tries < 200 && b.Screen() == was; tries++ {
			time.Sleep(10 * time.Millisecond)
		}
	}
	if after := len(b.state().Events); after != before+1 {
		b.Errorf("%d events in the record, want one more than %d, for going on\n%s", after, before, b.Screen())
	}
	b.Press("esc")
	b.WaitGone("Keys of this moment")
	b.dismiss()
	b.step()
}
