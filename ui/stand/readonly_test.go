package stand

import (
	"path/filepath"
	"testing"
	"time"

	"evenpull/ui/internal/term"
)

// Two of the real program on one record: the second shows it and says who has it.
func TestASecondScreenOnARecordSaysWhoHoldsIt(t *testing.T) {
	program, home := term.Build(t, "evenpull"), t.TempDir()
	open := func() *term.Term {
		o := term.Options{Cols: 100, Rows: 30, Home: home, Patience: 20 * time.Second}
		return term.Start(t, o, program, "walk", "crankcase-close", "--engine", "stand 2", "--records", filepath.Join(home, "records"))
	}
	first := open()
	first.WaitText("0 of 37 stages")
	apart()
	first.Press("enter")
	first.WaitText("confirmed:")

	second := open()
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
	third := open()
	third.WaitText("0 of 37 stages")
	third.WaitGone("READ ONLY")
	apart()
	third.Press("enter")
	third.WaitText("confirmed:")
}
