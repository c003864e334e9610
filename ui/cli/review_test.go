//go:build unix

package cli

import (
	"path/filepath"
	"testing"

	"evenpull/ui/internal/term"
)

// From the list to a record, its walk on the map, and back; a walk that is open
// elsewhere says by whom.
func TestReviewFromTheListToTheReplayAndBack(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	b.start("demo", b.records)
	b.WaitExit()
	b.start("walk", "crankcase-open", "--engine", "osier-1")
	b.WaitText("osier-1")
	walking := b.Term

	b.start("review")
	b.WaitText("4 of 4", "open*", "elsewhere now: process")
	b.Type("/")
	b.WaitText("find:")
	b.Type("engine:osier procedure:close")
	b.WaitText("1 of 4")
	b.Press("enter")
	b.WaitText("enter look at it")
	b.Press("enter")
	b.WaitText("1 Bolts", "DONE 37/37")
	b.Type("7")
	b.WaitText("step 77 of 77")
	b.Press("home")
	b.WaitText("step 0 of 77", "everything is open")
	b.Press("right")
	b.WaitText("step 1 of 77")
	b.Type("q")
	b.WaitText("by date, newest first")
	b.Type("q")
	if code := b.WaitExit(); code != ExitDone {
		t.Errorf("exit %d", code)
	}
	walking.Kill()
}
