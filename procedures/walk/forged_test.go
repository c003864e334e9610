package walk

import "testing"

// Events slipped into a log that nobody could have earned there do not count.
func TestForgedEventsDoNotCount(t *testing.T) {
	s, now := walked(t, joint, fit(), ok(), Command{Do: Yes}, ok(), ok(), Command{Do: Renew, Number: "lot 1"}, ok())
	next(t, s, "Snug: M2, 9 N·m")
	for _, c := range []struct {
		name string
		e    Event
	}{
		{"a refused reading that is in range", Event{Kind: Rejected, Item: "Snug/M2", Reading: "9 N·m"}},
		{"a refused reading of what is not in hand", Event{Kind: Rejected, Item: "Turn/M1", Reading: "120°"}},
		{"a refused reading over a piece that is due", Event{Kind: Rejected, Item: "Snug/M2", Reading: "99 N·m"}},
		{"a refused reading of a part", Event{Kind: Rejected, Item: "part:gasket", Reading: "99 N·m"}},
		{"a refused reading of nothing", Event{Kind: Rejected, Item: "Snug/M9", Reading: "99 N·m"}},
		{"a repair of what is whole", Event{Kind: Repaired, Item: "repair:M1", Facts: repairOf("M1").Facts}},
		{"a new piece of what is not in hand", Event{Kind: Renewed, Fastener: "M1", Piece: "copper washer", Number: "lot 2"}},
		{"a new piece nobody has", Event{Kind: Renewed, Fastener: "M2", Piece: "nut"}},
		{"a stage out of turn", Event{Kind: Confirmed, Item: "Turn/M1"}},
		{"a stage over a piece that is due", Event{Kind: Confirmed, Item: "Snug/M2"}},
		{"a slackening nobody asked for", Event{Kind: Confirmed, Item: "slacken:M1"}},
		{"an angle lost where none is turned", Event{Kind: Lost, Fastener: "M1", Text: "x"}},
		{"a problem without words", Event{Kind: Trouble, Fastener: "M1", Text: "  "}},
		{"a problem with nobody", Event{Kind: Trouble, Fastener: "M9", Text: "x"}},
		{"a stripped thread of nowhere", Event{Kind: Trouble, Fastener: "M1", Text: "stripped"}},
		{"an undo without words", Event{Kind: Undone}},
		{"something accounted for that did not come off", Event{Kind: Accounted, Item: "part:gasket", Text: "x"}},
		{"a stop without words", Event{Kind: Stopped}},
		{"a done", Event{Kind: Done}},
		{"a kind from another world", Event{Kind: "blessed"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			read := New(s.Plan)
			Replay(read, s.Events)
			c.e.Seq, c.e.At = len(s.Events)+1, now
			before := snapshot(read)
			if findings := Replay(read, []Event{c.e}); len(findings) != 1 {
				t.Error("it counts")
			}
			if after := snapshot(read); after != before {
				t.Errorf("it changed the walk:\n%s\n%s", before, after)
			}
		})
	}
	gap := New(s.Plan)
	if findings := Replay(gap, s.Events[1:]); len(findings) != len(s.Events)-1 {
		t.Errorf("%d of %d events after a gap were found out", len(findings), len(s.Events)-1)
	}
}
