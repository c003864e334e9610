// Package term runs a program on a pseudo-terminal for tests and shows what a
// person would see: the characters on the screen, not the bytes written.
//
// Nothing here sleeps. A test presses keys by name and waits until the screen
// shows what it should, up to a deadline; when it doesn't, the last screen is
// printed. The program gets a fixed TERM, an environment of few names and
// fresh folders, so the same test sees the same screen everywhere.
package term

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// Options says how to start a program. The zero value is a terminal of 80×24
// that answers no query, with a fresh home folder and a minute's patience.
type Options struct {
	Cols, Rows int           // size in cells; 0 is 80 or 24
	Env        []string      // added to the few names the program gets, NAME=value
	Home       string        // home folder, to start again in the same one; "" is a fresh one
	Dir        string        // working folder; "" is the home folder
	Clock      Clock         // the program's clock, if it has one of ours: keys are pressed at a hand's pace by it
	Answer     bool          // answer terminal queries, as most terminals do
	Patience   time.Duration // how long a wait may take, a stall of the machine not counted; 0 is a minute
}

// Term is a program running on a terminal.
type Term struct {
	t        testing.TB
	cmd      *exec.Cmd
	tty      *os.File // written to
	output   *os.File // the same, read from: a read of it ends when it is closed
	home     string
	clock    Clock
	patience time.Duration

	mu      sync.Mutex // guards what follows
	em      *vt.Emulator
	raw     bytes.Buffer
	changed chan struct{} // closed and replaced at each change
	ended   bool
	code    int
}

// Start runs a program on a new terminal. It is killed at the end of the test
// if it is still running.
func Start(t testing.TB, o Options, program string, args ...string) *Term {
	t.Helper()
	o = o.withDefaults(t)
	cmd := exec.Command(program, args...)
	cmd.Env, cmd.Dir = environment(t, o), o.Dir
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: uint16(o.Rows), Cols: uint16(o.Cols)})
	if err != nil {
		t.Fatalf("start %s on a terminal: %v", program, err)
	}
	output, err := pollable(tty)
	if err != nil {
		t.Fatalf("read what %s writes: %v", program, err)
	}
	term := &Term{
		t: t, cmd: cmd, tty: tty, output: output, home: o.Home, clock: o.Clock, patience: o.Patience,
		em: vt.NewEmulator(o.Cols, o.Rows), changed: make(chan struct{}),
	}
	go term.drainReplies(o.Answer)
	done := make(chan struct{})
	go func() { defer close(done); term.readOutput() }()
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		select {
		case <-done:
		case <-time.After(10 * time.Second): // a grandchild may hold the terminal open
		}
		_, _ = tty.Close(), output.Close()
	})
	return term
}

// pollable is a second way to a file whose reads do not outlive it.
func pollable(f *os.File) (*os.File, error) {
	fd, err := syscall.Dup(int(f.Fd()))
	if err == nil {
		err = syscall.SetNonblock(fd, true)
	}
	return os.NewFile(uintptr(fd), f.Name()), err
}

// control asks something of the terminal. Asked by its number, a file would be set to
// reads that nothing can end.
func (term *Term) control(ask func(fd int) error) error {
	conn, err := term.output.SyscallConn()
	if err != nil {
		return err
	}
	if failed := conn.Control(func(fd uintptr) { err = ask(int(fd)) }); failed != nil {
		return failed
	}
	return err
}

// Build builds a Go package of this module, given by import path, and returns
// the program.
func Build(t testing.TB, pkg string) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), filepath.Base(pkg))
	if message, err := exec.Command("go", "build", "-o", program, pkg).CombinedOutput(); err != nil {
		t.Fatalf("go build %s: %v\n%s", pkg, err, message)
	}
	return program
}

func (o Options) withDefaults(t testing.TB) Options {
	if o.Cols == 0 {
		o.Cols = 80
	}
	if o.Rows == 0 {
		o.Rows = 24
	}
	if o.Home == "" {
		o.Home = t.TempDir()
	}
	if o.Dir == "" {
		o.Dir = o.Home
	}
	if o.Patience == 0 {
		o.Patience = time.Minute
	}
	return o
}

// environment lists the only names the program sees.
func environment(t testing.TB, o Options) []string {
	env := []string{
		"TERM=xterm-256color", "LANG=C.UTF-8", "TZ=UTC",
		"PATH=" + os.Getenv("PATH"), "HOME=" + o.Home, "TMPDIR=" + t.TempDir(),
	}
	for name, folder := range map[string]string{
		"XDG_DATA_HOME": "data", "XDG_CONFIG_HOME": "config", "XDG_STATE_HOME": "state", "XDG_CACHE_HOME": "cache",
	} {
		env = append(env, name+"="+filepath.Join(o.Home, folder))
	}
	if dir := os.Getenv("GOCOVERDIR"); dir != "" { // coverage of a program built with -cover
		env = append(env, "GOCOVERDIR="+dir)
	}
	if o.Clock.path != "" {
		env = append(env, o.Clock.Env())
	}
	return append(env, o.Env...)
}

// drainReplies takes what the emulator answers to queries. It must always be
// taken: the emulator's reply pipe has no room, and a reply nobody reads
// would stop the screen for good.
func (term *Term) drainReplies(answer bool) {
	to := io.Discard
	if answer {
		to = term.tty
	}
	buf := make([]byte, 1024)
	for {
		n, err := term.em.Read(buf)
		if err != nil {
			return
		}
		_, _ = to.Write(buf[:n]) // fails only when the program is gone
	}
}

// readOutput feeds the emulator until the terminal closes, then notes how the
// program ended.
func (term *Term) readOutput() {
	buf := make([]byte, 32*1024)
	for {
		n, err := term.output.Read(buf)
		term.mu.Lock()
		term.raw.Write(buf[:n])
		_, _ = term.em.Write(buf[:n])
		term.notify()
		term.mu.Unlock()
		if err != nil {
			break // EIO on Linux, EOF elsewhere: the program closed its end
		}
	}
	code := exitCode(term.cmd.Wait())
	term.mu.Lock()
	defer term.mu.Unlock()
	term.ended, term.code = true, code
	term.notify()
	if pipe, ok := term.em.InputPipe().(io.Closer); ok { // ends drainReplies
		_ = pipe.Close()
	}
}

func (term *Term) notify() {
	close(term.changed)
	term.changed = make(chan struct{})
}

// exitCode is the program's own code, or 128 plus the signal that ended it,
// as a shell says it.
func exitCode(err error) int {
	var exit *exec.ExitError
	if err == nil {
		return 0
	}
	if !errors.As(err, &exit) {
		return -1
	}
	if status, ok := exit.Sys().(syscall.WaitStatus); ok && status.Signaled() {
		return 128 + int(status.Signal())
	}
	return exit.ExitCode()
}

// Home returns the home folder of the program, with its XDG folders data,
// config, state and cache inside.
func (term *Term) Home() string { return term.home }

// Raw returns all bytes the program wrote so far.
func (term *Term) Raw() []byte {
	term.mu.Lock()
	defer term.mu.Unlock()
	return bytes.Clone(term.raw.Bytes())
}

// Screen returns the character grid, one line a row, without the spaces at
// the end of lines.
func (term *Term) Screen() string {
	term.mu.Lock()
	defer term.mu.Unlock()
	return term.screen()
}

func (term *Term) screen() string {
	rows := make([]string, term.em.Height())
	for y := range rows {
		var row strings.Builder
		for x := 0; x < term.em.Width(); x++ {
			switch cell := term.em.CellAt(x, y); {
			case cell == nil || (cell.Content == "" && cell.Width > 0):
				row.WriteByte(' ')
			default: // the second half of a wide character is empty, width 0
				row.WriteString(cell.Content)
			}
		}
		rows[y] = strings.TrimRight(row.String(), " ")
	}
	return strings.Join(rows, "\n")
}
