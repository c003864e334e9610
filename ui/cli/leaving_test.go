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
	"evenpull/ui/internal/term"
)

// holder is the process that has the only record open; 0 when nobody has.
func (b *bench) holder() int {
	b.Helper()
	files, _ := filepath.Glob(filepath.Join(b.records, "*.jsonl"))
	if len(files) != 1 {
		b.Fatalf("%d records", len(files))
	}
	store, err := record.Open(b.records, time.Now)
	if err != nil {
		b.Fatal(err)
	}
	h, held := store.HeldBy(strings.TrimSuffix(filepath.Base(files[0]), ".jsonl"))
	if !held {
		return 0
	}
	return h.PID
}

// sane wants all of the terminal given back.
func (b *bench) sane(when string) {
	b.Helper()
	if left := b.Left(); left != nil {
		b.Errorf("%s: %s\n%q", when, strings.Join(left, ", "), b.Raw()[max(0, len(b.Raw())-200):])
	}
}

// A signal that ends the program leaves the terminal as it was, lets go of the record,
// and says how to come back. What was pressed before is on disk.
func TestASignalGivesBackTheTerminalAndTheRecord(t *testing.T) {
	t.Parallel()
	for _, s := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT} {
		for _, first := range [][]string{{"walk", "crankcase-close", "--engine", "stand 2"}, nil} { // straight, or over the start screen
			b := newBench(t)
			b.WaitText("0 of 37 stages")
			b.step()
			if first == nil {
				b.leave()
				b.WaitExit()
				b.start()
				b.WaitText("Left open")
				b.Press("enter")
				b.comesBack()
			}
			if len(b.Left()) < 4 || b.holder() != b.PID() {
				t.Fatalf("at the stand the terminal lacks only %v, the record is held by %d", b.Left(), b.holder())
			}
			events := len(b.state().Events)
			b.Signal(s)
			code := b.WaitExit()
			b.sane(s.String())
			if first != nil && (code != ExitOutstanding || !strings.Contains(b.Screen(), "go on with: evenpull")) {
				t.Errorf("%s: exit code %d, and\n%s", s, code, b.Screen())
			}
			if got := len(b.state().Events); b.holder() != 0 || got != events {
				t.Errorf("%s: held by %d, %d events, want %d", s, b.holder(), got, events)
			}
		}
	}
}

// A terminal that is gone ends the program, told so by the system or not: nobody can
// answer any more, and others wait for the record.
func TestATerminalThatIsGoneEndsTheProgram(t *testing.T) {
	for name, start := range map[string]string{"told": `exec "$0" "$@"`, "not told, as under nohup": `trap "" HUP; exec "$0" "$@"`} {
		b := underSh(t, start)
		b.HangUp()
		b.WaitExit()
		if pid := b.holder(); pid != 0 {
			t.Errorf("%s: the record is held by %d", name, pid)
		}
	}
}

// underSh is a walk that a script starts.
func underSh(t *testing.T, script string) *bench {
	home := t.TempDir()
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	b.Term = term.Start(t, term.Options{Home: home, Clock: b.Clock}, "/bin/sh", "-c", script, b.program, "walk", "crankcase-close", "--engine", "7", "--records", b.records)
	b.WaitText("0 of 37 stages")
	return b
}

// inShell is a walk as a job of a shell. When it is stopped the shell says so, and takes
// it up again at an Enter.
func inShell(t *testing.T) *bench {
	return underSh(t, `set -m; "$0" "$@"; code=$?
while [ $code -gt 100 ]; do echo "STOPPED $code"; read _; fg >/dev/null; code=$?; done; echo "ENDED $code"`)
}

// stopped waits until the shell has said n times that its job is stopped.
func (b *bench) stopped(n int) {
	b.Helper()
	b.WaitFor("the shell's word", func(string) bool { return strings.Count(string(b.Raw()), "STOPPED ") == n })
}

// leave leaves the walk as a person does.
func (b *bench) leave() {
	b.Helper()
	b.Press("q")
	b.WaitText("come back")
	b.Press("q")
}

// Stopped from outside, or by ctrl+z, the program gives the terminal back to the shell
// and takes it again when it goes on; the walk is as it was.
func TestStoppedItGivesTheTerminalBackMeanwhile(t *testing.T) {
	t.Parallel()
	for name, stop := range map[string]func(b *bench, pid int){
		"ctrl+z":  func(b *bench, _ int) { b.Press("ctrl+z") },
		"SIGTSTP": func(b *bench, pid int) { kill(b, pid, syscall.SIGTSTP) },
	} {
		b := inShell(t)
		pid := b.holder()
		for n := range 2 {
			stop(b, pid)
			b.stopped(n + 1)
			b.sane(name)
			b.Send("\n")
			b.WaitText("0 of 37 stages")
			b.Press("?")
			b.WaitText("Keys of this moment")
			b.Press("esc")
			b.WaitGone("Keys of this moment")
			b.dismiss()
		}
		b.step()
		b.leave()
		b.WaitText("ENDED 3")
		b.sane(name + ", then left")
	}
}

// Stopped without being asked it can give nothing back; going on, it takes the terminal
// anew, whatever the shell made of it.
func TestStoppedUnaskedItTakesTheTerminalAnew(t *testing.T) {
	b := inShell(t)
	pid := b.holder()
	kill(b, pid, syscall.SIGSTOP)
	b.stopped(1)
	b.Send("\n")
	b.WaitFor("the walk, and no word of the shell", func(screen string) bool {
		return strings.Contains(screen, "0 of 37 stages") && !strings.Contains(screen, "STOPPED")
	})
	if len(b.Left()) < 4 {
		t.Errorf("it has not taken the terminal: it lacks only %v", b.Left())
	}
	b.step()
	b.leave()
	b.WaitText("ENDED 3")
}

// Where no shell waits, as in a terminal opened for the program alone, ctrl+z does not
// hang it.
func TestCtrlZWithoutAShellDoesNothing(t *testing.T) {
	b := newBench(t)
	b.WaitText("0 of 37 stages")
	b.Press("ctrl+z")
	b.step()
	if n := strings.Count(string(b.Raw()), "\x1b[?1049l"); n > 0 {
		t.Errorf("it has given the terminal back %d times, to nobody", n)
	}
}

// A terminal that can only print lines gets the walk as lines, and is told so; where
// there is nothing as lines it is told what to do instead.
func TestADumbTerminalGetsLines(t *testing.T) {
	home := t.TempDir()
	for _, tt := range []struct {
		args  []string
		shows []string
		code  int
	}{
		{[]string{"walk", "crankcase-close", "--engine", "7"}, []string{"TERM=dumb", "goes as lines, as with --plain", "Close the crankcase", "step 1 of 26"}, ExitOutstanding},
		{[]string{"review"}, []string{"TERM=dumb", "evenpull records"}, ExitUsage},
		{nil, []string{"TERM=dumb", "evenpull --help"}, ExitUsage},
	} {
		s := term.Start(t, term.Options{Home: home, Env: []string{"TERM=dumb"}}, self(t), tt.args...)
		s.WaitText(tt.shows...)
		if tt.code == ExitOutstanding {
			s.Type("quit\n")
		}
		if code := s.WaitExit(); code != tt.code {
			t.Errorf("%v: exit code %d, want %d", tt.args, code, tt.code)
		}
		if raw := string(s.Raw()); strings.Contains(raw, "\x1b") {
			t.Errorf("%v: an escape sequence was sent: %q", tt.args, raw)
		}
	}
}

func kill(b *bench, pid int, s syscall.Signal) {
	b.Helper()
	p, err := os.FindProcess(pid)
	if err == nil {
		err = p.Signal(s)
	}
	if err != nil {
		b.Fatalf("send %v to %d: %v", s, pid, err)
	}
}
