package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"evenpull/ui/internal/term"
)

// The scripts of testdata/script run the program as a process: exit code,
// output, and what is on disk afterwards. Other tests put it on a terminal.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"evenpull": func() {
			os.Exit(Run(os.Args[1:], Env{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: term.ProgramClock(), Getenv: os.Getenv}))
		},
		"talk":         func() { talk(); os.Exit(0) },
		"talk-forever": func() { talk(); time.Sleep(time.Hour) },
	})
}

// talk is a speech program: it writes down its process and what it is to say, and
// what nobody should see wherever it can.
func talk() {
	said, _ := io.ReadAll(os.Stdin)
	if len(os.Args) > 1 {
		said = append(said, os.Args[1]+"\n"...)
	}
	for _, name := range []string{"/dev/stdout", "/dev/stderr", "/dev/tty"} {
		if f, err := os.OpenFile(name, os.O_WRONLY, 0); err == nil {
			fmt.Fprintln(f, "NOT TO BE SEEN")
		}
	}
	f, err := os.OpenFile(os.Getenv("SPOKEN"), os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		panic(err)
	}
	fmt.Fprintf(f, "%d %s", os.Getpid(), said)
}

func TestScripts(t *testing.T) {
	scripts, err := filepath.Glob("testdata/script/*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_DATA_HOME", filepath.Join(env.WorkDir, "data"))
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			env.Setenv("XDG_CACHE_HOME", filepath.Join(env.WorkDir, "cache"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits,
			"clock": clock,
		},
	})
}

// exits CODE PROGRAM ARGS… runs the program and wants this very exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGS…")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = codeOf(err)
	}
	if got != args[0] {
		ts.Fatalf("exit code %s, want %s", got, args[0])
	}
}

// clock TIME sets the clock of the programs that the script starts from here on,
// clock +DURATION moves it on. Until then theirs is the machine's.
func clock(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: clock 2006-01-02T15:04 or clock +90m")
	}
	path := ts.MkAbs("clock")
	at, err := time.Parse("2006-01-02T15:04", args[0])
	if further, ok := strings.CutPrefix(args[0], "+"); ok {
		var by time.Duration
		by, err = time.ParseDuration(further)
		info, none := os.Stat(path)
		ts.Check(none)
		at = info.ModTime().UTC().Add(by)
	} else {
		ts.Check(os.WriteFile(path, nil, 0o600))
	}
	ts.Check(err)
	ts.Check(os.Chtimes(path, at, at))
	ts.Setenv(term.ClockName, path)
}
