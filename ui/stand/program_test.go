package stand

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"evenpull/ui/internal/term"
)

// program is the real program, with a home and a folder of records of its own.
type program struct {
	t             *testing.T
	path, records string
	home          string
}

func newProgram(t *testing.T) program {
	home := t.TempDir()
	return program{t: t, path: term.Build(t, "evenpull"), home: home, records: filepath.Join(home, "records")}
}

func (p program) run(arguments ...string) *term.Term {
	p.t.Helper()
	o := term.Options{Cols: 100, Rows: 30, Home: p.home, Patience: 20 * time.Second}
	return term.Start(p.t, o, p.path, append(arguments, "--records", p.records)...)
}

func (p program) walk() *term.Term {
	p.t.Helper()
	return p.run("walk", "crankcase-close", "--engine", "stand 2")
}

// confirms presses Enter and waits until it is recorded.
func confirms(s *term.Term) {
	s.WaitText("0 of 37 stages")
	apart()
	s.Press("enter")
	s.WaitText("confirmed:")
}

// Two processes on one record: the second shows it and says who has it.
func TestASecondScreenOnARecordSaysWhoHoldsIt(t *testing.T) {
	p := newProgram(t)
	first := p.walk()
	confirms(first)

	second := p.walk()
	second.WaitText("READ ONLY", "read only: process ", ", since ")
	apart()
	second.Press("enter")
	second.WaitText("REFUSED", "read only: process ")
	second.Press("q")
	second.WaitText("LEAVE?")
	second.Press("q")
	second.WaitExit()

	first.Kill()
	first.WaitExit()
	third := p.walk()
	third.WaitGone("READ ONLY")
	confirms(third)
}

// An Enter that chatters on the start screen's list opens the walk and no more.
// What falls between the two screens is lost; what comes after must not count.
func TestAnEnterChatteringOnTheStartScreenConfirmsNothing(t *testing.T) {
	p := newProgram(t)
	s := p.walk()
	confirms(s)
	s.Kill()
	s.WaitExit()
	before := p.lines()

	s = p.run()
	s.WaitText("Close the crankcase", "stand 2", "enter go on")
	for range 25 {
		s.Press("enter")
		time.Sleep(40 * time.Millisecond)
	}
	s.WaitText("0 of 37 stages", "enter yes")
	time.Sleep(600 * time.Millisecond)
	if got := p.lines(); got != before+1 {
		t.Errorf("%d lines in the record, want one more than %d, for going on\n%s", got, before, s.Screen())
	}
	s.Press("enter")
	s.WaitText("confirmed:")
}

// lines counts those of the one record there is.
func (p program) lines() int {
	p.t.Helper()
	files, err := filepath.Glob(filepath.Join(p.records, "*.jsonl"))
	if err != nil || len(files) != 1 {
		p.t.Fatalf("%d records (%v), want one", len(files), err)
	}
	text, err := os.ReadFile(files[0])
	if err != nil {
		p.t.Fatal(err)
	}
	return bytes.Count(text, []byte("\n"))
}
