//go:build unix

package cli

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"evenpull/procedures"
	"evenpull/ui/internal/term"
)

// A procedure on standard input leaves the answers to the terminal, and is
// refused where there is none.
func pipedProcedureIsAnsweredFromTheTerminal(t *testing.T, program string) {
	home := t.TempDir()
	src, err := procedures.Library{}.Find("rod-bolts")
	if err != nil {
		t.Fatal(err)
	}
	sheet := filepath.Join(home, "sheet.toml")
	if err := os.WriteFile(sheet, src.Text, 0o600); err != nil {
		t.Fatal(err)
	}
	tt := term.Start(t, term.Options{Cols: 120, Home: home}, "sh", "-c", `"$0" --records recs walk - --plain < "$1"`, program, sheet)
	tt.WaitText("service manual governs", "check:")
	tt.Type("quit\n")
	tt.WaitText("left open with", "go on with: evenpull --records recs")
	if code := tt.WaitExit(); code != ExitOutstanding {
		t.Errorf("exit %d, want %d", code, ExitOutstanding)
	}

	alone := exec.Command(program, "--records", "none", "walk", "-", "--plain")
	alone.Dir, alone.Stdin = home, strings.NewReader(string(src.Text))
	alone.SysProcAttr = &syscall.SysProcAttr{Setsid: true} // no terminal to go back to
	out, _ := alone.CombinedOutput()
	if code := alone.ProcessState.ExitCode(); code != ExitUsage || !strings.Contains(string(out), "no terminal to answer from; keep it in a file") {
		t.Errorf("exit %d and %q, want %d and what to do", code, out, ExitUsage)
	}
	if _, err := os.Stat(filepath.Join(home, "none")); !os.IsNotExist(err) {
		t.Errorf("a record was begun: %v", err)
	}
}
