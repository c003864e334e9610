package engine

import (
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// What may be in the engine is asked once, whoever said it, until a close-up has
// answered it; renewing the piece answers nothing.
func TestWhatMayBeInTheEngineIsAskedUntilItIsAnswered(t *testing.T) {
	closer := sheet(t, closeSheet)
	lost := walk.Facts{walk.Condition: "missing", walk.Inside: "yes"}
	down := begin(t, "down", sheet(t, openSheet), day).on("", map[string]walk.Facts{"part:shim": lost}).done()
	var events []walk.Event
	said := func(hour int, facts walk.Facts) {
		events = append(events, walk.Event{Kind: record.Corrected, At: day.Add(time.Duration(hour) * time.Hour), Item: "part:shim", Text: "looked", Facts: facts})
	}
	fold := func(more ...Walk) Engine {
		return fold("7", append([]Walk{down.walk()}, more...), []*record.File{ledger("l", day.Add(time.Hour), events...)}, []*spec.Procedure{closer})
	}
	if got := fold().FaultsFor(closer); len(got) != 1 || got[0].Text() != "shim may be in the engine (missing)" {
		t.Fatalf("got %+v", got)
	}
	said(2, lost)
	e := fold()
	if got := e.FaultsFor(closer); len(got) != 1 || !got[0].At.Equal(events[0].At) {
		t.Fatalf("said again between walks: %+v", got)
	}
	up := begin(t, "up", closer, day.Add(5*time.Hour)).bring(e)
	up.refused(walk.Command{Do: walk.Confirm}, "shim may be in the engine")
	for how, want := range map[string]string{walk.ByRepair: "shim may be in the engine", walk.ByNew: "shim may be in the engine", walk.ByFound: "found where?", walk.ByProof: "how is it known"} {
		up.refused(walk.Command{Do: walk.Settle, Facts: walk.Facts{walk.How: how, walk.By: "me"}}, want)
	}
	if got := fold(up.walk()).Faults; len(got) != 1 {
		t.Errorf("before it is answered: %+v", got)
	}
	up.do(walk.Command{Do: walk.Settle, Facts: walk.Facts{walk.How: walk.ByFound}, Text: "in the sump"})
	if got := fold(up.walk()).Faults; len(got) != 0 {
		t.Errorf("answered: %+v", got)
	}
	said(20, walk.Facts{walk.Inside: "no"})
	if got := fold().Faults; len(got) != 1 {
		t.Errorf("what a strip-down said is answered by a close-up alone: %+v", got)
	}
}
