package engine

import (
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec/ident"
)

// The number on a bag is brought to the close-up, where all of a row came in one bag.
func TestTheNumberOnABagComesBackWithThePiece(t *testing.T) {
	down, closers := apart(t)
	arrived := func(things ...Marking) map[string]walk.Facts {
		t.Helper()
		var events []walk.Event
		fold := func() Engine {
			return fold("7", []Walk{down}, []*record.File{ledger("l", day.Add(time.Hour), events...)}, closers)
		}
		for _, m := range things {
			m.Kind = record.Arrived
			ev, err := fold().Mark(m)
			if err != nil {
				t.Fatal(err)
			}
			events = append(events, ev)
		}
		lots := map[string]walk.Facts{}
		for _, c := range fold().Carried(closers[0]) {
			lots[c.ID] = c.Lots
		}
		return lots
	}
	washer := Marking{Thing: "sealing washer", Number: "lot 7"}
	two := washer
	two.Count = 2
	other := two
	other.Number = "lot 8"
	for name, c := range map[string]struct {
		got  map[string]walk.Facts
		want string
	}{
		"all in one bag":       {arrived(washer), "lot 7"},
		"half of them":         {arrived(two), ""},
		"twice out of one lot": {arrived(two, two), "lot 7"},
		"of two lots":          {arrived(two, other), ""},
	} {
		for _, bolt := range []string{"M1", "M2"} {
			if got := c.got[bolt]["sealing washer"]; got != c.want {
				t.Errorf("%s: %s is brought %q, want %q", name, bolt, got, c.want)
			}
		}
	}
	got := arrived(Marking{Thing: "cover bolts M8x1.25", Number: "lot 3"}, Marking{Thing: "thrust washer", Number: "batch 12"})
	if got["M2"][walk.Itself] != "lot 3" || got["M1"][walk.Itself] != "" || got["thrust-washer"]["thrust washer"] != "batch 12" {
		t.Errorf("of things themselves: %v", got)
	}
}

// Said of a thing at a place, it is said of that one; a bare id means the one there is.
func TestARowIsFoundByWhatItIsForAtAPlace(t *testing.T) {
	b := Buy{of: []need{{piece: piece{Thing: ident.Fastener("H3", "M8x1.25").At("front head")}}}}
	for _, c := range []struct {
		name, place string
		want        bool
	}{
		{"H3", "", true}, {"h3", "Front Head", true}, {"H3 (front head)", "", true}, {"H3 M8x1.25, front head", "", true},
		{"H3", "rear head", false}, {"H2", "", false}, {"H3 (rear head)", "", false},
	} {
		if got := b.isFor(c.name, c.place); got != c.want {
			t.Errorf("%q at %q: %v", c.name, c.place, got)
		}
	}
}
