package theme_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
)

// queryPatterns are the ways a program asks a terminal something: colours
// (OSC 10, 11), the cursor's place (CPR), device attributes and status.
// Sources: ECMA-48 (DSR, DA) and the xterm control sequences page, from memory.
var queryPatterns = []string{"\x1b]10;?", "\x1b]11;?", "\x1b[6n", "\x1b[5n", "\x1b[c", "\x1b[0c", "\x1b[>c", "\x1b[?u"}

// firstFrame runs a program on a terminal that never answers and returns what
// it wrote up to its first frame, and how long that took.
func firstFrame(t *testing.T, program string, limit time.Duration, env ...string) (string, time.Duration) {
	t.Helper()
	cmd := exec.Command(program)
	cmd.Env = []string{"TERM=xterm-256color", "PATH=" + os.Getenv("PATH"), "LANG=C.UTF-8"}
	cmd.Env = append(cmd.Env, env...)
	start := time.Now()
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = cmd.Process.Kill(); _ = cmd.Wait(); _ = tty.Close() }()
	wrote := make(chan []byte)
	go func() {
		defer close(wrote)
		for {
			buf := make([]byte, 4096)
			n, err := tty.Read(buf)
			if err != nil {
				return
			}
			wrote <- buf[:n]
		}
	}()
	defer func() { // let the reader end whatever happens
		go func() {
			for range wrote {
			}
		}()
	}()
	var all bytes.Buffer
	deadline := time.After(limit)
	for {
		select {
		case b, open := <-wrote:
			all.Write(b)
			if strings.Contains(all.String(), "first frame") || !open {
				return all.String(), time.Since(start)
			}
		case <-deadline:
			return all.String(), limit
		}
	}
}

func build(t *testing.T, name string) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), name)
	if msg, err := exec.Command("go", "build", "-o", out, "./testdata/"+name).CombinedOutput(); err != nil {
		t.Fatalf("go build %s: %v\n%s", name, err, msg)
	}
	return out
}

func queries(wrote string) (found []string) {
	for _, q := range queryPatterns {
		if strings.Contains(wrote, q) {
			found = append(found, q)
		}
	}
	return found
}

// The point of the package: no question asked, so no wait for an answer.
func TestFirstFrameAsksTheTerminalNothing(t *testing.T) {
	program := build(t, "firstframe")
	best := time.Hour
	for range 5 {
		wrote, took := firstFrame(t, program, 4*time.Second)
		if !strings.Contains(wrote, "first frame") {
			t.Fatalf("no first frame in %v; the program wrote %q", took, wrote)
		}
		if found := queries(wrote); found != nil {
			t.Fatalf("the program asked the terminal %q; all it wrote: %q", found, wrote)
		}
		best = min(best, took)
	}
	// The same without the theme, on a terminal Bubble Tea doesn't ask.
	bare, control := build(t, "nothemeframe"), time.Hour
	for range 5 {
		wrote, took := firstFrame(t, bare, 4*time.Second, "TERM=tmux-256color")
		if !strings.Contains(wrote, "first frame") {
			t.Fatalf("no first frame without the theme in %v; the program wrote %q", took, wrote)
		}
		control = min(control, took)
	}
	t.Logf("first frame, best of 5: %v; without the theme, never asking: %v; ratio %.2f", best, control, best.Seconds()/control.Seconds())
	// Far under the five seconds of an unanswered query, far over a busy machine.
	if best > time.Second {
		t.Errorf("first frame after %v at best, want it within a second", best)
	}
}

// NO_COLOR takes the hues and leaves the emphasis; a dumb terminal gets neither.
func TestEmphasisSurvivesWithoutColour(t *testing.T) {
	program := build(t, "firstframe")
	cases := []struct {
		env           string
		reverse, hues bool
	}{
		{"COLORTERM=", true, true},
		{"NO_COLOR=1", true, false},
		{"TERM=dumb", false, false},
	}
	for _, c := range cases {
		wrote, _ := firstFrame(t, program, 4*time.Second, c.env)
		if got := strings.Contains(wrote, "\x1b[1;7"); got != c.reverse {
			t.Errorf("%s: bold and reverse written: %v, want %v; wrote %q", c.env, got, c.reverse, wrote)
		}
		if got := strings.Contains(wrote, "38;5;"); got != c.hues {
			t.Errorf("%s: hues written: %v, want %v; wrote %q", c.env, got, c.hues, wrote)
		}
	}
}

// Without the theme the same program does ask, so the test above can fail.
func TestSameProgramWithoutThemeAsks(t *testing.T) {
	wrote, took := firstFrame(t, build(t, "nothemeframe"), 2*time.Second)
	if queries(wrote) == nil {
		t.Errorf("no query seen in %v; then this package is no longer needed. It wrote %q", took, wrote)
	}
}

// The two conditions the order of package inits rests on.
func TestInitComesBeforeBubbleTea(t *testing.T) {
	ours := deps(t, ".")
	theirs := deps(t, "github.com/charmbracelet/bubbletea")
	for path := range ours {
		if path != "evenpull/ui/theme" && !theirs[path] {
			t.Errorf("theme imports %s and Bubble Tea doesn't: its init could come after Bubble Tea's", path)
		}
		if path == "github.com/charmbracelet/bubbletea" {
			t.Error("theme imports Bubble Tea, whose init then comes first")
		}
	}
	if !ours["evenpull/ui/theme"] {
		t.Error(`the import path is no longer evenpull/ui/theme: it must sort before "github.com/"`)
	}
}

func deps(t *testing.T, pkg string) map[string]bool {
	t.Helper()
	out, err := exec.Command("go", "list", "-deps", pkg).Output()
	if err != nil {
		t.Fatalf("go list -deps %s: %v", pkg, err)
	}
	set := map[string]bool{}
	for path := range strings.FieldsSeq(string(out)) {
		set[path] = true
	}
	return set
}
