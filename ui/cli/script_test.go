package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"evenpull/procedures/sshsig/testkey"
	"evenpull/spec/outside"
	"evenpull/ui/internal/term"
	"evenpull/ui/theme"
)

// Under the name of the program this test binary is the program. Other tests put it on
// a terminal.
func TestMain(m *testing.M) {
	if filepath.Base(os.Args[0]) == "evenpull" {
		os.Exit(Run(os.Args[1:], Env{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: term.ProgramClock(), Getenv: os.Getenv}))
	}
	if filepath.Base(os.Args[0]) == "ssh-keygen" {
		keygen()
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// keygen stands in for ssh-keygen in scripts, where that need not be installed: it signs
// with the key of the number that its key file holds. The build tag outside has the real
// one sign as well (sign_outside_test.go).
func keygen() {
	text, err := os.ReadFile(os.Args[4])
	n, none := strconv.Atoi(strings.TrimSpace(string(text)))
	if strings.Join(append(os.Args[1:4:4], os.Args[5:]...), " ") != "-Y sign -f -n evenpull" || err != nil || none != nil {
		fmt.Fprintln(os.Stderr, "no such key:", os.Args)
		os.Exit(1)
	}
	record, _ := io.ReadAll(os.Stdin)
	_, _ = os.Stdout.Write(testkey.Sign(byte(n), record, "evenpull"))
}

// The scripts of testdata/script: exit code, output, and what is on disk afterwards.
// A line that begins with evenpull is carried out in this process, and as a process of
// its own with the build tag outside; exec evenpull is one always, as are scripts of the shell.
func TestScripts(t *testing.T) {
	theme.ForText()
	scripts, err := filepath.Abs("testdata/script")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir()) // where this and the variables are given back, whatever the scripts set
	for _, name := range lookedUp {
		t.Setenv(name, os.Getenv(name))
	}
	bin := filepath.Dir(self(t))
	if err := os.Symlink("evenpull", filepath.Join(bin, "ssh-keygen")); err != nil {
		t.Fatal(err)
	}
	testscript.RunT(inTurn{t}, testscript.Params{
		Dir: scripts,
		Setup: func(env *testscript.Env) error {
			env.Setenv("PATH", bin+string(filepath.ListSeparator)+env.Getenv("PATH"))
			env.Setenv("XDG_DATA_HOME", filepath.Join(env.WorkDir, "data"))
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			env.Setenv("XDG_CACHE_HOME", filepath.Join(env.WorkDir, "cache"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"evenpull": func(ts *testscript.TestScript, neg bool, args []string) {
				if code := evenpull(ts, args); (code != "0") != neg {
					ts.Fatalf("exit code %s", code)
				}
			},
			"exits": func(ts *testscript.TestScript, neg bool, args []string) {
				if neg || len(args) < 2 || args[1] != "evenpull" {
					ts.Fatalf("usage: exits CODE evenpull ARGS…")
				}
				if code := evenpull(ts, args[2:]); code != args[0] {
					ts.Fatalf("exit code %s, want %s", code, args[0])
				}
			},
			"clock": clock,
		},
	})
}

// inTurn has scripts run one after the other, and while no other test runs: the folder
// and the variables of the process are theirs.
type inTurn struct{ *testing.T }

func (inTurn) Parallel()     {}
func (inTurn) Verbose() bool { return testing.Verbose() }
func (t inTurn) Run(name string, f func(testscript.T)) {
	t.T.Run(name, func(t *testing.T) { f(inTurn{t}) })
}

// lookedUp are the variables that the program does not ask Env.Getenv for.
var lookedUp = []string{"HOME", "USERPROFILE", "PATH", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", term.ClockName}

// evenpull ARGS… [<FILE] carries out one command line, with the file as its input.
func evenpull(ts *testscript.TestScript, args []string) (code string) {
	file := os.DevNull
	if last := len(args) - 1; last >= 0 && strings.HasPrefix(args[last], "<") {
		file, args = args[last][1:], args[:last]
	}
	if outside.Asking {
		return codeOf(ts.Exec("sh", append([]string{"-c", `in=$1; shift; exec evenpull "$@" <"$in"`, "sh", file}, args...)...))
	}
	ts.Check(os.Chdir(ts.MkAbs(".")))
	for _, name := range lookedUp {
		ts.Check(os.Setenv(name, ts.Getenv(name)))
	}
	in := strings.NewReader(ts.ReadFile(file))
	return strconv.Itoa(Run(args, Env{In: in, Out: ts.Stdout(), Err: ts.Stderr(), Now: term.ProgramClock(), Getenv: ts.Getenv}))
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
