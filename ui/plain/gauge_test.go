package plain

import (
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/ui/gauge"
)

// gaugeWalk is a plain walk of lines, with what was written and printed.
func gaugeWalk(t *testing.T, o Options, lines ...string) (out string, events []walk.Event) {
	t.Helper()
	live := sealedWalk(t)
	live.Append = func(e walk.Event) error { events = append(events, e); return nil }
	var b strings.Builder
	if _, err := Walk(live, strings.NewReader(strings.Join(lines, "\n")), &b, o); err != nil {
		t.Fatal(err)
	}
	return b.String(), events
}

func TestAGaugesFigureIsALineWithoutAUnit(t *testing.T) {
	g, err := gauge.Read("N·m")
	if err != nil {
		t.Fatal(err)
	}
	facts := func(*plan.Stage) map[string]string { return map[string]string{"wrench": "old"} }
	out, events := gaugeWalk(t, Options{Gauge: g, Facts: facts}, "ok", "22.1", "read 22.2")
	if n := len(events); n != 3 || events[1].Reading != "22.1 N·m" || events[1].Facts["gauge"] != "sent 22.1" || events[1].Facts["wrench"] != "old" || events[2].Reading != "22.2 N·m" {
		t.Errorf("%+v", events)
	}
	if n := strings.Count(out, "\n  gauge sends N·m\n"); n != 2 {
		t.Errorf("it is said at %d stages, want 2:\n%s", n, out)
	}
}

func TestWhatAGaugeSendsIsToldInALine(t *testing.T) {
	for _, tt := range []struct {
		name  string
		lines []string
		want  string // readings kept, apart by commas
		says  []string
	}{
		{"not told", []string{"ok", "22.1"}, "", []string{"refused: it has no unit"}},
		{"told", []string{"ok", "gauge N·m", "22.1"}, "22.1 N·m", []string{"gauge sends N·m\n"}},
		{"of another kind", []string{"ok", "gauge mm", "22.1"}, "", []string{"gauge sends mm\n", "refused: it has no unit"}},
		{"both", []string{"ok", "gauge mm", "gauge ft-lb", "16.3"}, "16.3 lbf·ft", []string{"gauge sends mm, lbf·ft\n"}},
		{"taken back", []string{"ok", "gauge N·m", "GAUGE None", "22.1"}, "", []string{"gauge sends its units itself\n", "refused: it has no unit"}},
		{"nothing said", []string{"ok", "gauge", "gauge ,"}, "", []string{"refused: gauge needs the unit that it sends"}},
		{"no unit", []string{"ok", "gauge furlong"}, "", []string{"refused: what the gauge sends: ", "furlong"}},
	} {
		out, events := gaugeWalk(t, Options{}, tt.lines...)
		var kept []string
		for _, e := range events {
			if e.Reading != "" {
				kept = append(kept, e.Reading)
			}
		}
		if got := strings.Join(kept, ","); got != tt.want {
			t.Errorf("%s: kept %q, want %q", tt.name, got, tt.want)
		}
		for _, text := range tt.says {
			if !strings.Contains(out, text) {
				t.Errorf("%s: it does not say %q:\n%s", tt.name, text, out)
			}
		}
	}
}
