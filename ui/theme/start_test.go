package theme_test

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"

	"evenpull/ui/internal/term"
)

// The point of the package: no question asked, so no wait for an answer. What
// the first frame costs is for the benchmarks to say. That a program without the theme does ask,
// and is seen to, is a test of ui/internal/term.
//
// NO_COLOR takes the hues and leaves the emphasis; a dumb terminal gets neither.
func TestFirstFrameAsksTheTerminalNothingAndKeepsItsEmphasis(t *testing.T) {
	program := term.Build(t, "evenpull/ui/theme/testdata/firstframe")
	cases := []struct {
		env           string
		reverse, hues bool
	}{
		{"COLORTERM=", true, true},
		{"NO_COLOR=1", true, false},
		{"TERM=dumb", false, false},
	}
	for _, c := range cases {
		s := term.Start(t, term.Options{Env: []string{c.env}}, program)
		s.WaitText("first frame")
		if found := s.Asked(); found != nil {
			t.Errorf("%s: the program asked the terminal %q; all it wrote: %q", c.env, found, s.Raw())
		}
		if got := bytes.Contains(s.Raw(), []byte("\x1b[1;7")); got != c.reverse {
			t.Errorf("%s: bold and reverse written: %v, want %v; wrote %q", c.env, got, c.reverse, s.Raw())
		}
		if got := bytes.Contains(s.Raw(), []byte("38;5;")); got != c.hues {
			t.Errorf("%s: hues written: %v, want %v; wrote %q", c.env, got, c.hues, s.Raw())
		}
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
