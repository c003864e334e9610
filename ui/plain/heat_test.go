package plain

import (
	"bufio"
	"bytes"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// What has to be hot says to what temperature and what runs from then; its clock is
// in every prompt until what follows is in, and being late is said at once.
func TestHeatIsSaidAsItRunsAndWhenItIsTooLate(t *testing.T) {
	text := strings.Replace(cover, "[[pass]]", "[[callout]]\nbefore = \"Final\"\nkind = \"heat\"\nsay = \"Seat hot.\"\nto = \"120 °C\"\nwithin = \"30s\"\n[[part]]\nname = \"hot bearing\"\nbefore = \"Final\"\n[[pass]]", 1)
	s, now := state(t, text), time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	var out bytes.Buffer
	w := &walker{live: &walk.Live{State: s, Now: func() time.Time { return now }, Append: func(walk.Event) error { return nil }}, out: bufio.NewWriter(&out)}
	for s.CurrentItem().Kind != walk.CalloutItem {
		if refusal, err := w.live.Do(walk.Command{Do: walk.Confirm}); refusal != nil || err != nil {
			t.Fatal(refusal, err)
		}
	}
	prompt := func() string { return strings.Join(Prompt(s, "", nil, now), "\n") }
	if got := prompt(); !strings.Contains(got, "have ready: Seat hot: to 120 °C, then within 30 s\n  ok once it is hot: its 30 s run from then") || strings.Contains(got, "left") {
		t.Errorf("before it is hot:\n%s", got)
	}
	confirm := func() {
		t.Helper()
		it := *s.CurrentItem()
		before := len(s.Events)
		if refusal, err := w.live.Do(walk.Command{Do: walk.Confirm}); refusal != nil || err != nil {
			t.Fatal(refusal, err)
		}
		w.accepted(walk.Command{Do: walk.Confirm}, &it, s.Events[before:])
	}
	confirm()
	now = now.Add(12 * time.Second)
	if got := prompt(); !strings.Contains(got, "  hot: 18 s left") {
		t.Errorf("12 s after:\n%s", got)
	}
	now = now.Add(30 * time.Second)
	if got := prompt(); !strings.Contains(got, "  TOO LATE AFTER THE HEAT by 12 s: take the heat back, heat it again: undo REASON") {
		t.Errorf("42 s after:\n%s", got)
	}
	confirm()
	w.out.Flush()
	if !strings.Contains(out.String(), "confirmed: part: hot bearing\nattention: too late: 42 s after it was hot, 30 s at most; that is kept\n") {
		t.Errorf("said:\n%s", out.String())
	}
	if got := prompt(); strings.Contains(got, "HEAT") || strings.Contains(got, "hot:") {
		t.Errorf("once it is in:\n%s", got)
	}
}
