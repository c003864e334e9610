package stand

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
	"evenpull/ui/internal/term"
	"evenpull/ui/keys"
)

// The test binary is also the program under test: started with this name set,
// it walks the procedure of that file and keeps its events in the home folder.
const runAs = "STAND_TEST_PROCEDURE"

func TestMain(m *testing.M) {
	if path := os.Getenv(runAs); path != "" {
		if err := runProgram(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func runProgram(path string) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	p, problems := read.Procedure(path, text)
	if p == nil {
		return fmt.Errorf("%v", problems)
	}
	record, err := os.OpenFile(filepath.Join(os.Getenv("HOME"), "events.jsonl"), os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		return err
	}
	defer record.Close()
	state := walk.New(plan.Of(p))
	for lines := bufio.NewScanner(record); lines.Scan(); {
		var e walk.Event
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			return err
		}
		state.Apply(e)
	}
	m := New(Config{State: state, Append: appender(record), Now: term.ProgramClock(), RecordID: "r1", Engine: "A12", Back: "evenpull walk case.toml --engine A12"})
	_, err = tea.NewProgram(m, tea.WithAltScreen()).Run()
	return err
}

// appender writes an event and syncs it.
func appender(f *os.File) func(walk.Event) error {
	return func(e walk.Event) error {
		line, err := json.Marshal(e)
		if err != nil {
			return err
		}
		if _, err := f.Write(append(line, '\n')); err != nil {
			return err
		}
		return f.Sync()
	}
}

func start(t *testing.T, o term.Options) *term.Term {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	path, err := filepath.Abs("testdata/case.toml")
	if err != nil {
		t.Fatal(err)
	}
	o.Env = append(o.Env, runAs+"="+path)
	return term.Start(t, o, self)
}

func TestKilledMidWalkComesBackAtTheSameStage(t *testing.T) {
	home, clock := t.TempDir(), term.NewClock(t)
	apart := func() { clock.Advance(keys.DoublePress) }
	s := start(t, term.Options{Home: home, Clock: clock})
	s.WaitText("Both dowels in place?")
	apart()
	s.Press("enter")
	s.WaitText("thrust washer", "confirmed: check")
	apart()
	s.Press("space")
	s.WaitText("set the wrench to 8.8 N·m, socket 12 mm hex")
	apart()
	s.Press("enter")
	s.WaitText("FIRST SMEAR")
	apart()
	s.Press("pgdown")
	s.WaitText("40 % of the final figure", "bottom row, left one", "sealant")
	apart()
	s.Press("enter")
	s.Send("\r") // a bounce
	s.WaitText("top row, right one", "1 of 4")
	s.Kill()
	s.WaitExit()

	s = start(t, term.Options{Home: home, Cols: 40, Rows: 15, Clock: clock})
	s.WaitText("top row, right one", "12 mm hex", "1 of 4")
	s.Resize(10, 3)
	s.WaitFor("the smallest screen", func(screen string) bool { return strings.Contains(screen, "8.8 N·m") })
	s.Resize(120, 30)
	s.WaitText("Then", "top row, right one")
	s.Press("q")
	s.WaitText("evenpull walk case.toml --engine A12")
	s.Press("q")
	if code := s.WaitExit(); code != 0 {
		t.Errorf("exit code %d, want 0", code)
	}
}

// The characters are the same with colours for either background and with
// none, and what must not be overlooked is in reverse even then.
func TestNothingIsToldByColourAlone(t *testing.T) {
	screens := map[string]string{}
	for name, env := range map[string]string{"dark": "EVENPULL_BACKGROUND=dark", "light": "EVENPULL_BACKGROUND=light", "none": "NO_COLOR=1"} {
		s := start(t, term.Options{Env: []string{env}, Clock: term.NewClock(t)})
		s.WaitText("Both dowels in place?")
		s.Press("s")
		s.WaitText("1 part to be replaced")
		s.Press("1")
		s.WaitText("> part to be replaced")
		s.Press("enter")
		s.WaitText("STOP FOR GOOD?")
		screens[name] = s.Screen()
		if !s.Reversed("STOP FOR GOOD?") {
			t.Errorf("%s: the warning is not in reverse\n%s", name, s.Screen())
		}
		if !s.Bold("Both dowels in place?") {
			t.Errorf("%s: the question is not in bold", name)
		}
		if coloured := strings.Contains(string(s.Raw()), "\x1b[38;") || strings.Contains(string(s.Raw()), ";38;"); coloured != (name != "none") {
			t.Errorf("%s: coloured is %v", name, coloured)
		}
	}
	if screens["dark"] != screens["light"] || screens["dark"] != screens["none"] {
		t.Errorf("the characters differ:\n%s\n%s\n%s", screens["dark"], screens["light"], screens["none"])
	}
}

func TestSevenBitTerminalsGetSevenBits(t *testing.T) {
	clock := term.NewClock(t)
	s := start(t, term.Options{Env: []string{"EVENPULL_ASCII=1"}, Clock: clock})
	s.WaitText("Both dowels in place?")
	for _, after := range []string{"GOES ON NOW", "set the wrench to 8.8 N.m", "FIRST SMEAR", "6.49 lbf.ft"} {
		clock.Advance(keys.DoublePress)
		s.Press("enter")
		s.WaitText(after)
	}
	for _, look := range [][2]string{{"r", "Reading; it has"}, {"?", "Keys of this moment"}, {"c", "a figure and its unit"}, {"w", "manual governs"}, {"o", "outstanding"}} {
		s.Press(look[0])
		s.WaitText(look[1])
		s.Press("esc")
		s.WaitText("6.49 lbf.ft", "? keys")
	}
	for i, b := range s.Raw() {
		if b >= 0x80 {
			t.Fatalf("byte %#x was sent: …%q", b, s.Raw()[max(0, i-40):i+4])
		}
	}
}
