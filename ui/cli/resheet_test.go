//go:build unix

package cli

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenpull/procedures/walk"
	"evenpull/ui/internal/term"
)

// At a terminal the reason is asked for, with what differs above; without one the walk
// is left as it is, and with one it goes on at the stand by the sheet as it is now.
func TestAtATerminalTheReasonOfAnEditIsAskedFor(t *testing.T) {
	home := t.TempDir()
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	sheet := filepath.Join(home, "cover.toml")
	write := func(figure string) {
		t.Helper()
		text := "format = 1\n[procedure]\nname = \"Close the cover\"\ndirection = \"close\"\nsource = \"Osier sheet 3 (invented)\"\n[group.main]\nthread = \"M8x1.25\"\nclass = \"8.8\"\n[group.main.at]\nM1 = [0, 0]\n[[pass]]\nname = \"Final\"\ngroups = [\"main\"]\ntorque = \"" + figure + "\"\n"
		if err := os.WriteFile(sheet, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	leave := func() {
		t.Helper()
		b.Press("q")
		b.WaitText("LEAVE?")
		b.Press("q")
		b.WaitExit()
	}
	write("22 N·m")
	b.start("walk", sheet, "--engine", "7")
	b.WaitText("set the wrench to 22 N·m")
	leave()

	write("24 N·m")
	b.start("walk", sheet, "--engine", "7", "--resheet")
	b.WaitText("pass Final, figure of main: was torque 22 N·m, now torque 24 N·m", "stages that stay confirmed: 0", "why was it edited?")
	b.Press("enter")
	if code := b.WaitExit(); code != ExitProblem || !strings.Contains(b.Screen(), "no reason was given: the walk is left as it is") {
		t.Errorf("exit %d:\n%s", code, b.Screen())
	}
	if n := len(b.state().Events); n != 0 {
		t.Errorf("%d events written without a reason", n)
	}

	b.start("walk", sheet, "--engine", "7", "--resheet")
	b.WaitText("why was it edited?")
	b.Type("misread")
	b.Press("enter")
	b.WaitText("goes on by the sheet as it is now", "set the wrench to 24 N·m")
	leave()

	// The same from the start screen; what is edited while the reason is typed is shown first.
	write("26 N·m")
	b.start()
	b.WaitText("Left open", "e go by edited sheet")
	b.Press("e")
	b.WaitText("The sheet was edited", "was torque 24 N·m, now torque 26 N·m")
	write("28 N·m")
	b.Type("a newer sheet")
	b.WaitText("> a newer sheet")
	b.Press("enter")
	b.WaitText("was torque 24 N·m, now torque 28 N·m", "> a newer sheet")
	b.Press("enter")
	b.WaitText("goes on by the sheet as it is now", "set the wrench to 28 N·m")
	b.Press("q")
	b.WaitText("LEAVE?")
	b.Press("q")
	b.WaitText("Left open")
	b.Press("e")
	b.WaitText("the sheet is as it was, to the letter")
	b.Press("q")
	b.WaitExit()
	var reasons []string
	for _, e := range b.state().Events {
		if e.Kind == walk.Resheeted {
			reasons = append(reasons, e.Text)
		}
	}
	if !slices.Equal(reasons, []string{"misread", "a newer sheet"}) {
		t.Errorf("on record: %q", reasons)
	}
}
