package plain

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/ui/words"
)

// overLid walks the lid that takes turns with these lines and gives what was said, and the
// events.
func overLid(t *testing.T, lines string, o Options) (string, []walk.Event) {
	t.Helper()
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	var events []walk.Event
	live := &walk.Live{State: state(t, turns), Now: func() time.Time { return now }, Append: func(e walk.Event) error { events = append(events, e); return nil }}
	var out bytes.Buffer
	if _, err := Walk(live, strings.NewReader(lines), &out, o); err != nil {
		t.Fatal(err)
	}
	return out.String(), events
}

// A walk of one ok a stage goes as it always did: what changes is said, not asked.
func TestWhatChangesIsSaidAndNotAsked(t *testing.T) {
	text, events := overLid(t, strings.Repeat("ok\n", 10)+"done\n", Options{})
	if len(events) != 11 || events[10].Kind != walk.Done {
		t.Fatalf("%d events for ten stages and a done\n%s", len(events), text)
	}
	if over, mind := strings.Count(text, "change over: "), strings.Count(text, "  mind: "); over != 3 || mind != 2 {
		t.Errorf("said %d times to change over and %d to mind\n%s", over, mind, text)
	}
}

// It is said once before a stage, however often that is asked for.
func TestWhatChangesIsSaidOnce(t *testing.T) {
	text, _ := overLid(t, "read 3\nnote lunch\nwhy\n", Options{})
	if n := strings.Count(text, "change over: set the wrench to 20 N·m, socket 12 mm hex"); n != 1 {
		t.Errorf("said %d times\n%s", n, text)
	}
}

// Who wants to can have it kept that the wrench is set, with the wrench.
func TestSetKeepsThatTheWrenchIsSet(t *testing.T) {
	facts := func(st *plan.Stage) map[string]string {
		return map[string]string{"wrench": "mid", "set": "for " + st.Target.Torque.Text()}
	}
	text, events := overLid(t, "set\nok\nok\nok\nok\nset\nset now\nset\n", Options{Facts: facts})
	if len(events) != 7 || events[0].Kind != walk.Changed || events[5].Kind != walk.Changed || events[6].Kind != walk.Changed {
		t.Fatalf("%+v\n%s", events, text)
	}
	if f := events[0].Facts; f["wrench"] != "mid" || f[walk.SetFor] != "20 N·m" || f[walk.SocketOn] != "12 mm hex" {
		t.Errorf("kept %v", f)
	}
	if e := events[5]; e.Item != "One by one/A1/1" || e.Facts["set"] != "for 20 N·m" { // before it is let go
		t.Errorf("kept %+v", e)
	}
	if !strings.Contains(text, "refused: set takes nothing after it; a remark goes in with: note now") || strings.Count(text, "recorded: the wrench is set") != 3 {
		t.Errorf("said\n%s", text)
	}
}

// With an adapter on, the scale does not show the sheet's figure; and a work card was
// ticked long after.
func TestChangesWithAnAdapterAndOnACard(t *testing.T) {
	scale := func(st *plan.Stage) words.Setting {
		return words.Setting{Mark: "less than 20", Unit: st.Target.Torque.Unit().Symbol(), With: "crowfoot\x1b[2J"}
	}
	text, _ := overLid(t, "ok\nok\n", Options{Scale: scale})
	if !strings.Contains(text, "change over: set the wrench to less than 20 N·m with crowfoot") || strings.Contains(text, "\x1b") || !strings.Contains(text, "  mind: wrench to less than 20 N·m") {
		t.Errorf("said\n%s", text)
	}
	if text, _ := overLid(t, "ok\nok\n", Options{Paper: true}); strings.Contains(text, "change over") {
		t.Errorf("on a card\n%s", text)
	}
}
