package walk

import "testing"

func TestWhatCondemnsAThing(t *testing.T) {
	for _, c := range []struct {
		f               Facts
		condemned, asks bool
		text            string
	}{
		{Facts{Condition: "good"}, false, false, "good"},
		{Facts{Condition: "worn"}, false, false, "worn"},
		{Facts{Condition: "pitted"}, true, false, "pitted"},
		{Facts{Condition: "missing"}, true, false, "missing"},
		{Facts{Condition: "scored", Goes: "back"}, false, false, "scored, goes back"},
		{Facts{Condition: "a little dull"}, false, false, "a little dull"},
		{Facts{Condition: "Cracked at the root"}, true, true, "Cracked at the root"},
		{Facts{Condition: "not bent, no cracks"}, false, false, "not bent, no cracks"},
		{Facts{Condition: "not bent but chipped"}, true, true, "not bent but chipped"},
		{Facts{Condition: "scored at one end"}, true, true, "scored at one end"},
		{Facts{Condition: "blued", Again: "yes"}, false, false, "blued, to be used again"},
		{Facts{Condition: "good", Again: "no", Box: "2"}, true, false, "good, not to be used again, box 2"},
		{Facts{Condition: "bent", Goes: "replace"}, true, false, "bent, goes replace"},
		{Facts{Condition: "bent", Goes: "straightening"}, false, false, "bent, goes straightening"},
	} {
		if c.f.Condemned() != c.condemned || c.f.AsksAgain() != c.asks || c.f.Text() != c.text {
			t.Errorf("%v: condemned %v, asks %v, %q", c.f, c.f.Condemned(), c.f.AsksAgain(), c.f.Text())
		}
	}
}

// A correction of the condition leaves nothing of the answer to what it was taken for.
func TestTheQuestionIsAnsweredWithTheFinding(t *testing.T) {
	s, now := walked(t, dismantle)
	r := refuse(t, s, Command{Do: Find, Target: "cover", Facts: Facts{Condition: "cracked", Box: "1"}}, now)
	if r.Yes == nil || r.No == nil || r.Error() != "cracked: is it to be used again?; say yes, or no" {
		t.Fatalf("%+v", r)
	}
	must(t, s, *r.No, now)
	cover, _ := partLine(t, s, "cover")
	if got := s.FoundOf(cover.Thing()).Text(); got != "cracked, not to be used again, box 1" {
		t.Error(got)
	}
	must(t, s, Command{Do: Find, Target: "cover", Facts: Facts{Condition: "good"}, Text: "it was a hair"}, now)
	if got := s.FoundOf(cover.Thing()); got.Condemned() || got.Text() != "good, box 1" {
		t.Error(got)
	}
	must(t, s, Command{Do: Undo, Text: "no, it is cracked"}, now)
	if got := s.FoundOf(cover.Thing()); !got.Condemned() {
		t.Errorf("after undo %v", got)
	}
	refuse(t, s, Command{Do: Find, Target: "sprocket", Facts: Facts{Again: "perhaps"}}, now)
	old := CourseOf(s.Plan, readyRules).Start()
	for _, f := range []Facts{{Condition: "a little dull"}, {Condition: "good", Again: "yes"}} {
		if _, r := Decide(old, Command{Do: Find, Target: "cover", Facts: f}, now); r == nil || r.Yes != nil {
			t.Errorf("under the rules of before %v: %v", f, r)
		}
	}
}
