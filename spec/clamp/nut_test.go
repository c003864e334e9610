package clamp

import (
	"math"
	"strings"
	"testing"

	"evenpull/spec/bolt"
)

// A nut of 8 on M10x1.5 holds 800 MPa × 58.0 mm² = 46.4 kN under proof load.
func TestANutIsHeldAgainstItsBoltAndWhatTheFigurePulls(t *testing.T) {
	for _, c := range []struct {
		name, class, nut string
		stage            Pull
		doubt, judged    string
	}{
		{"it goes with its bolt", "8.8", "8", Pull{TorqueNm: 45}, "", "a nut of class 8 goes with 8.8"},
		{"too weak for the figure", "10.9", "8", Pull{TorqueNm: 65}, "a nut of class 8 holds 46.4 kN, and the figure pulls up to", ""},
		{"weaker than its bolt, though it holds the figure", "10.9", "8", Pull{TorqueNm: 45}, "a nut of class 8 is for bolts up to class 8: on M10x1.5 10.9 its thread strips before the bolt breaks", ""},
		{"past yield by a turn", "10.9", "8", Pull{TorqueNm: 30, TurnDegrees: 90}, "a nut of class 8 holds 46.4 kN, and the bolt at yield pulls up to", ""},
		{"a thin one that holds", "8.8", "05", Pull{TorqueNm: 25}, "", "a thin nut of class 05 holds what the figure pulls"},
		{"a thin one that does not", "8.8", "04", Pull{TorqueNm: 45}, "a nut of class 04 holds 22 kN, and the figure pulls up to", ""},
		{"a stainless bolt", "A2-70", "8", Pull{TorqueNm: 25}, "", "a nut of class 8 holds what the figure pulls, 22.2 of 46.4 kN"},
		{"nothing that pulls", "8.8", "04", Pull{VerifyNm: 30}, "", ""},
		{"no nut", "10.9", "", Pull{TorqueNm: 65}, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			thread, err := bolt.ParseThread("M10x1.5")
			if err != nil {
				t.Fatal(err)
			}
			j := Joint{Thread: thread}
			if j.Class, err = bolt.ParseClass(c.class); err != nil {
				t.Fatal(err)
			}
			j.Friction, _ = ParseFriction("oiled")
			if c.nut != "" {
				if c.stage.Nut, err = bolt.ParseNut(c.nut); err != nil {
					t.Fatal(err)
				}
			}
			g, err := j.Judge(c.stage)
			if err != nil {
				t.Fatal(err)
			}
			var doubts, judged []string
			for _, d := range g.Doubts {
				if d.Kind == "nut" {
					if d.Unit == "kN" && (math.Abs(d.Limit-c.stage.Nut.ProofMPa*0.0579896) > 0.001 || d.Number <= d.Limit || d.Number > 2*d.Limit) {
						t.Errorf("%v kN held against %v", d.Number, d.Limit)
					}
					doubts = append(doubts, d.Text)
				}
			}
			for _, text := range g.Judged {
				if strings.Contains(text, "nut") {
					judged = append(judged, text)
				}
			}
			holds := func(list []string, want string) bool {
				return want == "" && len(list) == 0 || want != "" && len(list) == 1 && strings.Contains(list[0], want)
			}
			if !holds(doubts, c.doubt) || !holds(judged, c.judged) {
				t.Errorf("doubted %q, judged %q; want %q, %q", doubts, judged, c.doubt, c.judged)
			}
		})
	}
}
