package walk

import (
	"strings"
	"testing"

	"evenpull/spec/ident"
)

const closing = `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "20 N·m"
[[part]]
name = "drum shim"
kind = "shim"
count = 2
[[part]]
name = "cover"
kind = "other"
`

func bring(list ...Carried) Command { return Command{Do: Bring, Brought: list} }

func TestAPartBackFromWorkGoesInOnlyWhenHereAndClean(t *testing.T) {
	cover := Carried{ID: "cover", Name: "cover", Count: 1, Facts: Facts{Goes: "blasting"}, Away: "blasting"}
	shim := Carried{ID: "drum-shim", Name: "drum shim", Count: 2}
	s, now := walked(t, closing, bring(shim, cover), ok())
	if r := refuse(t, s, ok(), now); !strings.Contains(r.Error(), "away for blasting") {
		t.Errorf("refused with %q", r)
	}
	refuse(t, s, Command{Do: Clean, Target: "cover"}, now)
	cover.Away, cover.Unclean = "", "blasting"
	must(t, s, bring(cover), now)
	if r := refuse(t, s, ok(), now); !strings.Contains(r.Error(), "no media in oilways") {
		t.Errorf("refused with %q", r)
	}
	must(t, s, Command{Do: Clean, Target: "cover"}, now)
	must(t, s, ok(), now)
	must(t, s, ok(), now)
	must(t, s, Command{Do: FinishUp}, now)
}

func TestFewerThanGoInAreMadeUpOrExplained(t *testing.T) {
	one := Carried{ID: "drum-shim", Name: "drum shim", Count: 1, Facts: Facts{Size: "0.8 mm"}}
	s, now := walked(t, closing, bring(one))
	if r := refuse(t, s, ok(), now); !strings.Contains(r.Error(), "2 × drum shim go in, 1 came off") {
		t.Errorf("refused with %q", r)
	}
	refuse(t, s, Command{Do: Account, Target: "drum-shim"}, now) // a reason is needed
	must(t, s, Command{Do: Account, Target: "drum-shim", Text: "one thick one took the place of two"}, now)
	if s.CurrentItem().Part.ID != "cover" {
		t.Errorf("next is %s", s.CurrentItem().Text())
	}
}

func TestWhatWasLostOrCondemnedHasToBeNew(t *testing.T) {
	lost := Carried{ID: "drum-shim", Name: "drum shim", Count: 2, Facts: Facts{Condition: "missing"}}
	bolt := Carried{ID: "M1", Fastener: true, Name: "M1", Count: 1, Facts: Facts{Condition: "stretched"}}
	s, now := walked(t, closing, bring(lost, bolt))
	r := refuse(t, s, Command{Do: FinishUp}, now)
	want := "part: 2 × drum shim: not accounted for|part: cover: not accounted for|Final: M1, 20 N·m: not confirmed|renew: M1: the fastener itself (it was stretched at strip-down)|renew: 2 × drum shim (it was missing at strip-down)"
	if got := strings.Join(r.Outstanding, "|"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	refuse(t, s, Command{Do: Renew, Target: "M1"}, now) // it is not in hand
	refuse(t, s, ok(), now)
	for _, c := range []Command{{Do: Renew, Target: "drum-shim"}, ok(), ok(), {Do: Renew, Target: "M1"}, ok(), {Do: FinishUp}} {
		must(t, s, c, now)
	}
}

func TestWhatIsLeftOverIsNamedUntilItIsSettled(t *testing.T) {
	key := Carried{ID: "old-key", Name: "primary gear key", Count: 1, Facts: Facts{Size: "5 mm", Where: "off the crank end"}}
	three := Carried{ID: "drum-shim", Name: "drum shim", Count: 3}
	s, now := walked(t, closing, bring(key, three), ok(), ok(), ok())
	r := refuse(t, s, Command{Do: FinishUp}, now)
	want := "left over: primary gear key, 5 mm, off the crank end|left over: drum shim"
	if got := strings.Join(r.Outstanding, "|"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	must(t, s, Command{Do: Refit, Target: "primary gear key"}, now)
	refuse(t, s, Command{Do: Refit, Target: "drum shim"}, now) // it has a place of its own
	must(t, s, Command{Do: Account, Target: "drum shim", Text: "the float came right with two"}, now)
	must(t, s, Command{Do: FinishUp}, now)
}

func TestWhatIsSaidOfAThingIsOnlyCorrectedWithAReason(t *testing.T) {
	s, now := walked(t, closing, Command{Do: Find, Target: "cover", Facts: Facts{Condition: "good", Box: "2"}})
	refuse(t, s, Command{Do: Find, Target: "cover", Facts: Facts{Condition: "scored"}}, now)
	refuse(t, s, Command{Do: Find, Target: "cover", Facts: Facts{Condition: "rusty"}, Text: "x"}, now)
	refuse(t, s, Command{Do: Find, Target: "nobody", Facts: Facts{Condition: "good"}}, now)
	must(t, s, Command{Do: Find, Target: "cover", Facts: Facts{Condition: "scored"}, Text: "seen in daylight"}, now)
	if got := s.FoundOf(ident.Part("cover")).Text(); got != "scored, box 2" {
		t.Errorf("got %q", got)
	}
	must(t, s, Command{Do: Undo, Text: "it was the other one"}, now)
	if got := s.FoundOf(ident.Part("cover")).Text(); got != "good, box 2" {
		t.Errorf("after undo %q", got)
	}
}
