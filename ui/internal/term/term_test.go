package term

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	_ "evenpull/ui/internal/golden" // the flag -update
)

func sh(t testing.TB, o Options, script string) *Term {
	t.Helper()
	return Start(t, o, "/bin/sh", "-c", script)
}

func TestShowsCharactersAndNotBytes(t *testing.T) {
	term := sh(t, Options{Cols: 20, Rows: 4}, `printf '\033[2J\033[2;3H\033[1;7mM3\033[0m 25 N·m 漢x'; read _`)
	term.WaitText("漢x")
	if got, want := term.Screen(), "\n  M3 25 N·m 漢x\n\n"; got != want {
		t.Errorf("Screen() = %q, want %q", got, want)
	}
	if !term.Reversed("M3") || !term.Bold("M3") || term.Reversed("25") || term.Reversed("M4") {
		t.Errorf("want M3 alone reversed and bold; raw %q", term.Raw())
	}
	if !strings.Contains(string(term.Raw()), "\x1b[2;3H") {
		t.Errorf("Raw() = %q, want the bytes as written", term.Raw())
	}
}

func TestTypesPressesAndTellsTheExitCode(t *testing.T) {
	term := sh(t, Options{}, `read line; echo "got <$line>"; exit 3`)
	term.Type("25 N·m")
	term.Press("x", "space", "enter")
	term.WaitText("got <25 N·mx>")
	if code := term.WaitExit(); code != 3 {
		t.Errorf("WaitExit() = %d, want 3", code)
	}
}

// Page Down is what pedals and presenters send.
func TestPressSendsWhatATerminalSends(t *testing.T) {
	cases := map[string]string{"enter": "0d", "pgdown": "1b5b367e", "ctrl+c": "03", "esc": "1b", "é": "c3a9"}
	for name, want := range cases {
		t.Run(name, func(t *testing.T) {
			n := len(want) / 2
			term := sh(t, Options{}, fmt.Sprintf(`stty raw -echo; echo ready; dd bs=1 count=%d 2>/dev/null | od -An -tx1; echo over`, n))
			term.WaitText("ready")
			term.Press(name)
			term.WaitText("over")
			if got := strings.ReplaceAll(term.Screen(), " ", ""); !strings.Contains(got, want) {
				t.Errorf("%s sent %q, want %s", name, got, want)
			}
		})
	}
}

func TestResizeReachesTheProgram(t *testing.T) {
	term := sh(t, Options{Cols: 80, Rows: 24}, `trap 'stty size' WINCH; stty size; while :; do read _ && break; done`)
	term.WaitText("24 80")
	term.Resize(40, 15)
	term.WaitText("15 40")
	if rows := strings.Count(term.Screen(), "\n") + 1; rows != 15 {
		t.Errorf("the screen has %d rows, want 15", rows)
	}
}

func TestKillAndSignalsShowInTheExitCode(t *testing.T) {
	for name, end := range map[int]func(*Term){
		128 + 9:  func(term *Term) { term.Kill() },
		128 + 15: func(term *Term) { term.Signal(syscall.SIGTERM) },
	} {
		term := Start(t, Options{}, "cat")
		term.Type("hello")
		term.WaitText("hello")
		end(term)
		if code := term.WaitExit(); code != name {
			t.Errorf("WaitExit() = %d, want %d", code, name)
		}
	}
}

// asks sends a cursor query and shows what is answered: it waits for that as
// the terminal settings say.
func asks(wait string) string {
	return `stty raw -echo ` + wait + `; printf '\033[6n'; answer=$(dd bs=16 count=1 2>/dev/null | od -An -tx1); stty sane; echo "answer<$answer>"`
}

func TestAnswersQueriesWhenAsked(t *testing.T) {
	term := sh(t, Options{Answer: true}, asks("min 1 time 0")) // for as long as it takes
	term.WaitText("answer<")
	if !strings.Contains(term.Screen(), "1b 5b") {
		t.Errorf("no answer came:\n%s", term.Screen())
	}
}

func TestStaysSilentOtherwise(t *testing.T) {
	term := sh(t, Options{}, asks("min 0 time 2")) // for two tenths of a second
	term.WaitText("answer<>")
	term.WaitExit()
}

// screen is the smallest Bubble Tea program. This test binary is one, started with the
// variable screenName.
type screen struct{}

const screenName = "EVENPULL_TEST_SCREEN"

func (screen) Init() tea.Cmd { return nil }
func (s screen) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if _, pressed := msg.(tea.KeyMsg); pressed {
		return s, tea.Quit
	}
	return s, nil
}
func (screen) View() string { return "\x1b[7mfirst frame\x1b[0m done" }

func TestMain(m *testing.M) {
	if os.Getenv(screenName) == "" {
		os.Exit(m.Run())
	}
	if _, err := tea.NewProgram(screen{}, tea.WithAltScreen()).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func onScreen(t *testing.T, o Options) *Term {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	o.Env = []string{screenName + "=1"}
	return Start(t, o, program)
}

// A real Bubble Tea program, from its first frame through a key to its end.
func TestDrivesABubbleTeaProgram(t *testing.T) {
	term := onScreen(t, Options{Cols: 40, Rows: 15, Answer: true})
	term.WaitText("first frame")
	if !term.Reversed("first frame") || term.Reversed("done") {
		t.Errorf("want the frame reversed and the end of it not; raw %q", term.Raw())
	}
	term.Press("pgdown")
	if code := term.WaitExit(); code != 0 {
		t.Errorf("WaitExit() = %d, want 0", code)
	}
}

// Without ui/theme a Bubble Tea program asks, so the test there that one with it does not
// can fail.
func TestAProgramWithoutTheThemeAsks(t *testing.T) {
	term := onScreen(t, Options{})
	term.WaitFor("a query, or ui/theme need no longer prevent it", func(string) bool { return term.Asked() != nil })
}

func TestBuildNamesWhatDoesNotBuild(t *testing.T) {
	if got := failure(t, func(tb testing.TB) { Build(tb, "evenpull/no/such/package") }); !strings.Contains(got, "go build evenpull/no/such/package") {
		t.Errorf("failed with %q", got)
	}
}

// The emulator's reply pipe holds nothing: many queries must not stop it.
func TestManyQueriesDoNotStopTheScreen(t *testing.T) {
	term := sh(t, Options{}, `i=0; while [ $i -lt 500 ]; do printf '\033[6n\033]11;?\033\\'; i=$((i+1)); done; echo still here`)
	term.WaitText("still here")
}

func TestFreshHomeAndFewNames(t *testing.T) {
	t.Setenv("EVENPULL_STRANGER", "leaked")
	first := sh(t, Options{Env: []string{"EXTRA=given"}}, `echo "$TERM|$EXTRA|$EVENPULL_STRANGER|"; mkdir -p "$XDG_DATA_HOME" && echo kept >"$XDG_DATA_HOME/file"`)
	first.WaitText("xterm-256color|given||")
	first.WaitExit()
	again := sh(t, Options{Home: first.Home()}, `cat "$XDG_DATA_HOME/file"`)
	again.WaitText("kept")
	if _, err := os.Stat(filepath.Join(first.Home(), "data", "file")); err != nil {
		t.Error(err)
	}
	other := sh(t, Options{}, `ls -A "$HOME"; echo listed`)
	other.WaitText("listed")
	if strings.Contains(other.Screen(), "data") {
		t.Errorf("a fresh home is not empty:\n%s", other.Screen())
	}
}

// failing is a testing.TB that keeps its failure to itself.
type failing struct {
	testing.TB
	failure string
}

func (f *failing) Helper() {}
func (f *failing) Fatalf(format string, args ...any) {
	f.failure = fmt.Sprintf(format, args...)
	runtime.Goexit()
}

// failure runs f, which should fail, and returns what it failed with.
func failure(t *testing.T, f func(tb testing.TB)) string {
	t.Helper()
	tb := &failing{TB: t}
	done := make(chan struct{})
	go func() { defer close(done); f(tb) }()
	<-done
	if tb.failure == "" {
		t.Error("no failure, want one")
	}
	return tb.failure
}

func TestFailuresShowTheLastScreen(t *testing.T) {
	cases := []struct {
		name string
		do   func(tb testing.TB)
		want []string
	}{
		{"patience runs out", func(tb testing.TB) {
			sh(tb, Options{Patience: 300 * time.Millisecond}, "echo M3 current; read _").WaitText("M4 current")
		}, []string{"waited 300ms for the text M4 current", "|M3 current"}},
		{"the program ended", func(tb testing.TB) {
			sh(tb, Options{}, "echo goodbye").WaitText("welcome")
		}, []string{"ended before the screen showed the text welcome", "|goodbye"}},
		{"the program does not end", func(tb testing.TB) {
			sh(tb, Options{Patience: 300 * time.Millisecond}, "echo busy; read _").WaitExit()
		}, []string{"waited 300ms for the program to end", "|busy"}},
		{"no such key", func(tb testing.TB) {
			sh(tb, Options{}, "read _").Press("return")
		}, []string{`no key is called "return"`, "enter"}},
		{"no such program", func(tb testing.TB) {
			Start(tb, Options{}, "/no/such/program")
		}, []string{"start /no/such/program on a terminal"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := failure(t, c.do)
			for _, want := range c.want {
				if !strings.Contains(got, want) {
					t.Errorf("failed with %q, want it to say %q", got, want)
				}
			}
		})
	}
}
