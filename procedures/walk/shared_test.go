package walk

import (
	"fmt"
	"slices"
	"testing"
)

// A state shares the events it was replayed from: nothing that comes of it changes them,
// whatever of them counts and whatever is done afterwards.
func TestAReplayLeavesTheEventsAsTheyAre(t *testing.T) {
	s, now := walked(t, joint, fit(), ok(), Command{Do: Yes}, ok(), ok(), Command{Do: Renew, Number: "lot 1"}, ok())
	whole := slices.Clone(s.Events)
	texts := func(events []Event) (list []string) {
		for _, e := range events {
			list = append(list, fmt.Sprintf("%+v", e))
		}
		return list
	}
	forged := slices.Clone(whole)
	forged[2].Kind = "blessed" // and nothing after it counts as it stands
	twice := slices.Insert(slices.Clone(whole), 3, whole[2])
	again := New(s.Plan)
	if Replay(again, twice); !slices.Equal(texts(again.Events), texts(whole)) {
		t.Errorf("with an event that stands twice the walk has\n%v\nwant\n%v", texts(again.Events), texts(whole))
	}
	for name, events := range map[string][]Event{"all count": whole, "one does not": forged, "one stands twice": twice} {
		for n := range len(events) + 1 {
			before := texts(events)
			read := New(s.Plan)
			Replay(read, events[:n])
			kept := texts(read.Events)
			note, r := Decide(read, Command{Do: Note, Text: "gone on with"}, now)
			if r != nil {
				t.Fatal(r)
			}
			read.Apply(*note)
			if got := texts(events); !slices.Equal(got, before) {
				t.Fatalf("%s, %d replayed: the events are now\n%v\nwere\n%v", name, n, got, before)
			}
			if got := texts(read.Events); !slices.Equal(got[:len(kept)], kept) || len(got) != len(kept)+1 {
				t.Fatalf("%s, %d replayed: the walk has\n%v\nhad\n%v", name, n, got, kept)
			}
		}
	}
}
