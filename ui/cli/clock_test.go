package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A clock set back is said loudly when a walk is begun or gone on with, and on
// marks, before anything else.
func TestAClockSetBackIsSaidLoudly(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", dir)
	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	run := func(in string, want int, args ...string) string {
		t.Helper()
		var out, said bytes.Buffer
		code := Run(append(args, "--records", filepath.Join(dir, "records")), Env{In: strings.NewReader(in), Out: &out, Err: &said, Getenv: os.Getenv,
			Now: func() time.Time { now = now.Add(time.Second); return now }})
		if code != want {
			t.Fatalf("%q: exit code %d, want %d\n%s%s", args, code, want, &out, &said)
		}
		return said.String()
	}
	if said := run("ok\n", ExitOutstanding, "walk", "crankcase-open", "--engine", "7", "--plain"); strings.Contains(said, "attention") {
		t.Errorf("a right clock: %s", said)
	}
	now = now.AddDate(-1, 0, 0)
	for _, c := range []struct {
		want int
		args []string
	}{
		{ExitOutstanding, []string{"walk", "crankcase-open", "--engine", "7", "--plain"}},
		{ExitOutstanding, []string{"walk", "crankcase-close", "--engine", "7", "--plain"}},
		{ExitDone, []string{"engine", "7", "--note", "looked at"}},
	} {
		if said := run("", c.want, c.args...); !strings.Contains(said, "attention: this clock says 2025-03-02 09:00:") || !strings.Contains(said, "an entry of 2026-03-02 09:00:") {
			t.Errorf("%q says %s", c.args, said)
		}
	}
}
