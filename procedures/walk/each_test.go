package walk

import (
	"strings"
	"testing"

	"evenpull/spec/ident"
)

func foundOne(piece string, f Facts, because string) Command {
	return Command{Do: Find, Target: "shim", Facts: merged(f, Facts{OfPiece: piece}), Text: because}
}

func TestOneOfSeveralIsDescribedAlone(t *testing.T) {
	three := strings.Replace(dismantle, "[[part]]\nname = \"cover\"", "[[part]]\nname = \"shim\"\ncount = 2\n[[part]]\nname = \"cover\"", 1)
	s, now := walked(t, three, foundOne("inlet", Facts{Condition: "worn", Size: "2.45 mm"}, ""), foundOne("2", Facts{Condition: "good"}, ""))
	for _, c := range []struct {
		do   Command
		want string
	}{
		{foundOne("Inlet", Facts{Condition: "good"}, ""), "shim, Inlet, has been described before"},
		{foundOne("3", Facts{Condition: "good"}, ""), "all 2 of shim have been described"},
		{foundOne(strings.Repeat("x", 41), Facts{Condition: "good"}, ""), "too long"},
		{foundOne("2", Facts{Condition: "bent"}, "x"), "bent: is it to be used again?"},
		{foundOne("2", Facts{}, "x"), "nothing is said of it"},
		{Command{Do: Find, Target: "cover", Facts: Facts{OfPiece: "2", Condition: "good"}}, "there is one cover only"},
		{Command{Do: Find, Target: "M1", Facts: Facts{OfPiece: "2", Condition: "good"}}, "there is one M1 only"},
	} {
		if r := refuse(t, s, c.do, now); !strings.Contains(r.Error(), c.want) {
			t.Errorf("%+v refused with %q", c.do, r)
		}
	}
	must(t, s, foundOne("INLET", Facts{Condition: "scored"}, "in daylight"), now)
	list := s.PiecesFound(ident.Part("shim"))
	if len(list) != 2 || list[0].Text() != "inlet: scored, 2.45 mm" || list[1].Text() != "2: good" || len(s.FoundOf(ident.Part("shim"))) > 0 {
		t.Errorf("%+v", list)
	}
	must(t, s, Command{Do: Undo, Text: "no"}, now)
	must(t, s, Command{Do: Undo, Text: "no"}, now)
	if list := s.PiecesFound(ident.Part("shim")); len(list) != 1 || list[0].Text() != "inlet: worn, 2.45 mm" {
		t.Errorf("after two undos %+v", list)
	}
	old := CourseOf(s.Plan, readyRules).Start()
	if _, r := Decide(old, foundOne("2", Facts{Condition: "good"}, ""), now); r == nil {
		t.Error("under the rules of before one of several is described")
	}
}

// Only the one that was condemned has to be new, and its correction lifts it alone.
func TestOneOfSeveralIsRenewedAlone(t *testing.T) {
	shim := Carried{ID: "drum-shim", Name: "drum shim", Count: 2, Record: "r1", Pieces: []PieceFound{{"1", Facts{Condition: "scored"}}, {"2", Facts{Condition: "bent", Again: "no"}}}}
	s, now := walked(t, closing, bring(shim))
	due := func() (list []string) {
		for _, p := range s.Due(ident.Part("drum-shim")) {
			list = append(list, p.Text()+" ("+p.Why+")")
		}
		return list
	}
	if got := strings.Join(due(), "|"); got != "drum shim, 1 (it was scored at strip-down)|drum shim, 2 (it was bent at strip-down)" {
		t.Error(got)
	}
	shim.Pieces[1].Facts = Facts{Condition: "good"}
	must(t, s, bring(shim), now)
	if got := strings.Join(due(), "|"); got != "drum shim, 1 (it was scored at strip-down)" {
		t.Error(got)
	}
	refuse(t, s, ok(), now)
	must(t, s, Command{Do: Renew, Target: "drum-shim", Number: "lot 2"}, now)
	must(t, s, ok(), now)
}
