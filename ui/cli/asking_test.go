//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/spec/read"
	"evenpull/ui/internal/term"
)

// A sheet made on the start screen, on a terminal, is written where the start screen finds
// it; opened again there it can be changed.
func TestASheetIsMadeFromTheStartScreen(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	clock := term.NewClock(t)
	b := &bench{T: t, Clock: clock, program: self(t), home: home, records: filepath.Join(home, "records")}
	b.start()
	b.WaitText("w new sheet")
	b.Press("w")
	b.WaitText("What to call it?")
	b.Type("pump cover")
	b.WaitText("pump cover")
	b.Press("enter")
	b.WaitText("Sheet pump-cover.toml", "what is done >")
	say := func(answer, next string) {
		t.Helper()
		if answer != "" {
			b.Type(answer)
			b.WaitText("> " + answer)
		}
		b.Press("enter")
		b.WaitText(next + " >")
	}
	say("Close the pump", "engine")
	say("", "direction")
	say("", "source")
	say("sheet 5", "a caution")
	say("", "which bolts")
	say("cover screws", "thread")
	say("M6", "class")
	say("8.8", "how they sit")
	say("circle of 4", "final torque")
	b.Type("10")
	b.WaitText("> 10")
	b.Press("enter")
	b.WaitText("NOT SO", "it has no unit")
	b.Type(" Nm")
	b.WaitText("> 10 Nm")
	b.Press("enter")
	b.WaitText("threads >")
	for _, next := range []string{"on the wrench", "new ones each time", "goes on with it", "more", "more bolts", "how it is done"} {
		say("", next)
	}
	say("", "figures")
	say("100 %", "order of these")
	b.WaitText("1 C1", "3 C2", "2 C3", "4 C4")
	b.Press("ctrl+s")
	b.WaitText("pump-cover.toml is written")
	file := filepath.Join(home, "config", "evenpull", "procedures", "pump-cover.toml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if p, problems := read.Procedure(file, text); p == nil || !strings.Contains(string(text), `torque   = "10 Nm"`) {
		t.Errorf("%v\n%s", problems, text)
	}
	b.Press("esc")
	b.WaitText("Close the pump", "close, 4 stages")
	b.Press("q")
	if code := b.WaitExit(); code != ExitDone {
		t.Errorf("exit code %d", code)
	}
}
