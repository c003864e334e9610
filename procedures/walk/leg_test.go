package walk

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// Where in its pass a walk stands, step by step.
func TestStepsAroundTheBoltsAreCounted(t *testing.T) {
	text := cases + "[[check]]\nafter = \"Draw down\"\nask = \"Turns?\"\n[[check]]\nafter = \"Draw down\"\nask = \"Level?\"\n[[part]]\nname = \"pipe\"\nbefore = \"Final\"\n"
	s := New(planOf(t, text))
	var got []string
	for now := start; s.CurrentItem() != nil; now = now.Add(time.Second) {
		leg, done, total := s.Leg()
		got = append(got, fmt.Sprint(leg, done, total))
		must(t, s, straightOn(s, now), now)
	}
	want := "1 0 5,1 1 5,1 2 5,1 3 5,1 4 5,0 0 0,0 0 0,2 0 2,2 1 2,1 0 1,0 0 0,0 0 0,0 0 0"
	if list := strings.Join(got, ","); list != want {
		t.Errorf("got  %s\nwant %s", list, want)
	}
	if leg, done, total := s.Leg(); leg != AmongBolts || done+total != 0 {
		t.Errorf("at the end: %d %d of %d", leg, done, total)
	}
}

// A sheet with parts only has no bolts to be before or after.
func TestStepsAreCountedWithoutBolts(t *testing.T) {
	s := New(planOf(t, "format = 1\n[procedure]\nname = \"Gears\"\ndirection = \"close\"\nsource = \"invented\"\n[[part]]\nname = \"shim\"\n[[part]]\nname = \"gear\"\n[[part]]\nname = \"key\"\n"))
	for done := range 3 {
		if leg, n, total := s.Leg(); leg != AmongBolts || n != done || total != 3 {
			t.Errorf("after %d: %d %d of %d", done, leg, n, total)
		}
		must(t, s, ok(), start)
	}
}

// A bolt that starts again stands among the bolts, also the first; a smear that is
// done again before them; and a wait is what its pass is about.
func TestWhatBelongsToABoltIsAmongTheBolts(t *testing.T) {
	s := New(planOf(t, cases))
	for range 6 {
		forward(t, s, start)
	}
	must(t, s, Command{Do: Problem, Target: "R1", Text: "bent"}, start)
	if leg, _, _ := s.Leg(); s.nextText() != "check: Faces clean?" || leg != BeforeFirst {
		t.Errorf("at %s: %d", s.nextText(), leg)
	}
	must(t, s, ok(), start)
	if leg, _, total := s.Leg(); s.CurrentItem().Fastener == nil || leg != AmongBolts || total != 0 {
		t.Errorf("at %s: %d of %d", s.nextText(), leg, total)
	}
	must(t, s, Command{Do: Reseal, Text: "smeared off"}, start)
	if leg, done, total := s.Leg(); leg != BeforeFirst || done != 0 || total != 5 {
		t.Errorf("sealed afresh: %d %d of %d", leg, done, total)
	}

	w := New(planOf(t, waiting+"[[check]]\nbefore = \"Settle\"\nask = \"Warm?\"\n[[check]]\nafter = \"Settle\"\nask = \"Cold?\"\n"))
	must(t, w, Command{Do: Note, Text: "heater on"}, start)
	legs := ""
	for now := start.Add(5 * time.Hour); w.CurrentItem() != nil; now = now.Add(5 * time.Hour) {
		leg, _, _ := w.Leg()
		legs += fmt.Sprint(int(leg))
		must(t, w, straightOn(w, now), now)
	}
	if legs != "001020" {
		t.Errorf("legs of a walk with a wait: %s", legs)
	}
}
