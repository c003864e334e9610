package draft

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"evenpull/spec"
)

// caps is the sheet of five main caps, made by its script.
func caps(t testing.TB) Draft {
	t.Helper()
	text, err := os.ReadFile("testdata/main-caps.toml")
	if err != nil {
		t.Fatal(err)
	}
	return open(t, "caps.toml", text)
}

// answered gives one answer that has to be taken.
func answered(t testing.TB, d Draft, id, text string) (Draft, string) {
	t.Helper()
	next, then, no := d.Answer(id, text)
	if no != nil {
		t.Fatalf("%s = %q: %v", id, text, no)
	}
	return next, then
}

func TestWhatAnAnswerLeavesInTheFile(t *testing.T) {
	tests := []struct{ id, answer, has, hasNot, then string }{
		{"pass/1/name", "Seat", `name    = "Seat"`, `"Snug"`, "pass/1/figure"},
		{"pass/0/name", "Pull", `before  = "Pull"`, `"Draw down"`, "pass/0/figure"},
		{"pass/2/name", "Angle", `after   = "Angle"`, `"Turn"`, "pass/2/figure"},
		{"pass/0/figure", "12 N·m", `torque  = "12 N·m"`, "40 %", "pass/0/order"},
		{"pass/0/figure", "loosen 90°", `loosen  = "90°"`, "40 %", "pass/0/order"},
		{"pass/0/figure", "stretch 0.1 mm to 0.2 mm, at most 40 N·m", `ceiling = "40 N·m"`, "40 %", "pass/0/order"},
		{"pass/0/order", "", "torque  = \"40 %\"\n\n[[pass]]", "", "pass/0/because"},
		{"pass/0/because", "an even pull", `because = "an even pull"`, "", "pass/0/more"},
		{"group/main-cap/with/0", "2 x plain washer, one use", `with     = [{ part = "plain washer", count = 2, one_use = true }]`, "hardened", "group/main-cap/+with"},
		{"group/main-cap/with/0", "", "", "hardened", "group/main-cap/+with"},
		{"group/main-cap/+with", "3 x sleeve", `{ part = "hardened washer 10 mm" }, { part = "sleeve", count = 3 }]`, "", "group/main-cap/+with"},
		{"group/main-cap/one_use", "no", "", "one_use", "group/main-cap/with/0"},
		{"group/main-cap/friction", "mol", `friction = "moly"`, `"oiled"`, "group/main-cap/drive"},
		{"check/0/when", "after Snug", `after   = "Snug"`, "", "check/0/remedy"},
		{"check/1/max", "0.25 mm", `max     = "0.25 mm"`, `"0.20 mm"`, "check/1/when"},
		{"part/0/count", "6", "count   = 6", "count   = 5", "part/0/one_use"},
		{"part/0/where", "arrow to the front", `where   = "arrow to the front"`, "", "part/0/more"},
		{"caution/0", "Take care", `cautions  = ["Take care"]`, "A cap fits", "+caution"},
		{"caution/0", "", "cautions  = []", "A cap fits", "+caution"},
		{"+caution", "Take care", `front", "Take care"]`, "", "+caution"},
		{"+part", "2 x big-end shell", "kind    = \"bearing\"\ncount   = 2", "", "+part"},
		{"+part", "thrust bearing cap", `name    = "thrust bearing cap"`, `kind    = "bearing"`, "+part"},
		{"+part", "tab washer, one use", "kind    = \"tab-washer\"\none_use = true", "", "+part"},
		{"+check", "All caps seated?", `ask     = "All caps seated?"`, "", "check/2/when"},
		{"+check", "run-out: at most 0.05 mm", `max     = "0.05 mm"`, "", "check/2/when"},
		{"+check", "drag: at least 2 N·m", `min     = "2 N·m"`, "", "check/2/when"},
		{"+check", "gap: 0.1 to 0.2 mm", "min     = \"0.1 mm\"\nmax     = \"0.2 mm\"", "", "check/2/when"},
		{"+callout", "A long bar", `say    = "A long bar"`, "", "callout/1/when"},
		{"+sealant", "grey paste", "[sealant]\nname      = \"grey paste\"", "", "sealant/work_time"},
		{"group/main-cap/at", "M1 up 5", "M1  = [0, 5]", "", "group/main-cap/torque"},
		{"group/main-cap/at", "m10 down 1 in", "M10 = [360, 50.6]", "", "group/main-cap/torque"},
		{"group/main-cap/at", "add M11 at 400 38,5", "M11 = [400, 38.5]", "", "group/main-cap/torque"},
		{"group/main-cap/at", "again circle of 3, called C", "C3", "M1 ", "group/main-cap/torque"},
	}
	rare, without := asked(t, caps(t)), caps(t)
	for _, tt := range tests {
		d, then := answered(t, rare, tt.id, tt.answer)
		text := string(d.Text())
		if !strings.Contains(text, tt.has) || tt.hasNot != "" && strings.Contains(text, tt.hasNot) {
			t.Errorf("%s = %q: no %q, or %q, in\n%s", tt.id, tt.answer, tt.has, tt.hasNot, text)
		}
		plain, then2 := answered(t, without, tt.id, tt.answer) // the rare questions between
		if then2 != tt.then || string(plain.Text()) != text {
			t.Errorf("%s = %q goes on to %s (%s with the rare ones), want %s", tt.id, tt.answer, then2, then, tt.then)
		}
	}
}

func TestThingsAreTakenOutAndPassesMoved(t *testing.T) {
	for _, tt := range []struct{ thing, has, hasNot, then string }{
		{"pass/0", `name    = "Snug"`, `name    = "Draw down"`, "+pass/shape"},
		{"check/1", "tang in its notch", "crank end float", "+check"},
		{"part/0", "thrust half ring", "main bearing cap\"\ncount", "+part"},
		{"group/main-cap", "[[pass]]", "[group.main-cap", "+group"},
	} {
		d, then, no := caps(t).TakeOut(tt.thing)
		if no != nil || then != tt.then || !strings.Contains(string(d.Text()), tt.has) || strings.Contains(string(d.Text()), tt.hasNot) {
			t.Errorf("%s: %v, on to %s\n%s", tt.thing, no, then, d.Text())
		}
	}
	d := caps(t)
	for _, tt := range []struct {
		id, answer string
		want       string
	}{
		{"pass/0/more", "yes", "Draw down Snug Turn"}, {"pass/0/keep", "later", "Snug Draw down Turn"},
		{"pass/2/more", "yes", "Snug Draw down Turn"}, {"pass/2/keep", "earlier", "Snug Turn Draw down"},
		{"pass/1/more", "yes", "Snug Turn Draw down"}, {"pass/1/keep", "keep", "Snug Turn Draw down"},
	} {
		d, _ = answered(t, d, tt.id, tt.answer)
		if got := strings.Join(d.passNames(), " "); got != tt.want {
			t.Errorf("%s = %s: %s, want %s", tt.id, tt.answer, got, tt.want)
		}
	}
	d, _ = answered(t, d, "pass/0/more", "yes")
	if _, _, no := d.Answer("pass/0/keep", "earlier"); no == nil {
		t.Error("the first pass came earlier")
	}
}

func TestLayouts(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"2 rows of 3", "B1 0 0, B2 40 0, B3 80 0, B4 0 40, B5 40 40, B6 80 40"},
		{"2x2, 50 mm apart, rows 30 mm apart", "B1 0 0, B2 50 0, B3 0 30, B4 50 30"},
		{"row of 2, 2 in apart", "B1 0 0, B2 50.8 0"},
		{"rows of 3 and 2", "B1 0 0, B2 40 0, B3 80 0, B4 20 40, B5 60 40"},
		{"rows of 1 and 3", "B1 40 0, B2 0 40, B3 40 40, B4 80 40"},
		{"2 pairs", "B1 0 0, B2 0 40, B3 40 0, B4 40 40"},
		{"2 caps of 3; called Z", "Z1 0 0, Z2 0 40, Z3 0 80, Z4 40 0, Z5 40 40, Z6 40 80"},
		{"circle of 4, 100 mm across", "B1 0 50, B2 50 0, B3 0 -50, B4 -50 0"},
		{"ring of 2", "B1 0 20, B2 0 -20"},
		{"one", "B1 0 0"},
		{"3", "B1 0 0, B2 40 0, B3 80 0"},
	} {
		l, no := readLayout(tt.text)
		if no != nil {
			t.Errorf("%s: %v", tt.text, no)
			continue
		}
		var got []string
		for _, p := range l.places("B") {
			got = append(got, fmt.Sprintf("%s %s %s", p.id, mm(p.x), mm(p.y)))
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("%s: %s, want %s", tt.text, strings.Join(got, ", "), tt.want)
		}
	}
}

func TestFiguresTellWhatIsDone(t *testing.T) {
	for _, tt := range []struct {
		shape, text string
		want        string
		what        string // of a refusal
	}{
		{Staged, "8 N·m, 15 N·m, 22 N·m", "First pull: torque 8 N·m; Second pull: torque 15 N·m; Final: torque 22 N·m", ""},
		{Staged, "40 % then 100 %", "Draw down: torque 40 %; Final: torque 100 %", ""},
		{Staged, "22,5 Nm", "Final: torque 22,5 Nm", ""},
		{Turns, "20 N·m; 1/4 turn; 90° to 94°", "Snug: torque 20 N·m; First turn: turn 1/4 turn; Second turn: turn 90° to 94°", ""},
		{Turns, "20 ± 2 N·m, 1.5 flats", "Snug: torque 20 ± 2 N·m; Turn: turn 1.5 flats", ""},
		{Stretch, "12 N·m, 0.12 mm to 0.15 mm, at most 36 N·m", "Snug: torque 12 N·m; Stretch: stretch 0.12 mm to 0.15 mm at most 36 N·m", ""},
		{EachOne, "loosen fully, 25 N·m, turn 60°", "One at a time: loosen fully + torque 25 N·m + turn 60°", ""},
		{Loosen, "90°, 1/2 turn, fully, take out", "Slacken: loosen 90°; Loosen: loosen 1/2 turn; Loosen 2: loosen fully; Take out: remove ", ""},
		{Staged, "20 N·m, wait 4h, at least 18 N·m", "Final: torque 20 N·m; Wait: wait 4h; Feel: verify at least 18 N·m", ""},
		{Staged, "verify 18 N·m", "Feel: verify 18 N·m", ""},
		{Staged, "turn 20 N·m", "", "N·m is a unit of torque, not of angle"},
		{Staged, "22", "", "it has no unit"},
		{Staged, "loosen soon", "", `"soon"`},
		{Staged, "12 kN", "", "none of what is done to a bolt"},
		{Staged, ",", "", "there is no figure"},
	} {
		steps, no := readSteps(tt.text, tt.shape == Loosen)
		if no != nil {
			if tt.what == "" || !strings.Contains(no.What, tt.what) || no.Remedy == "" {
				t.Errorf("%s: %v, want %q", tt.text, no, tt.what)
			}
			continue
		}
		var list []string
		for _, p := range passesOf(tt.shape, steps, nil) {
			var of []string
			for _, s := range p.steps {
				text := string(s.action) + " " + s.figure
				if s.ceiling != "" {
					text += " at most " + s.ceiling
				}
				of = append(of, text)
			}
			list = append(list, p.name+": "+strings.Join(of, " + "))
		}
		if got := strings.Join(list, "; "); got != tt.want {
			t.Errorf("%s of %s: %s, want %s", tt.text, tt.shape, got, tt.want)
		}
	}
}

func TestFiguresThatAreNotOfTheShapeAreRefused(t *testing.T) {
	for _, tt := range []struct{ shape, text, what string }{
		{Stretch, "12 N·m, 20 N·m", "has no stretch in it"}, {EachOne, "20 N·m", "is one thing"}, {Staged, "140 %", ""}, {Staged, "400 %", "400 %"},
	} {
		d, _ := answered(t, caps(t), "+pass/shape", tt.shape)
		_, _, no := d.Answer("+pass/figures", tt.text)
		if tt.what == "" && no != nil || tt.what != "" && (no == nil || !strings.Contains(no.What, tt.what)) {
			t.Errorf("%s, %s: %v", tt.shape, tt.text, no)
		}
	}
}

// Two groups make passes with figures of their own, and an order that says who goes first.
func TestPassesOverSeveralGroups(t *testing.T) {
	d, _ := answered(t, caps(t), "+group", "side bolts")
	d, _ = answered(t, d, "group/side/thread", "M8")
	d, _ = answered(t, d, "group/side/class", "8.8")
	d, _ = answered(t, d, "group/side/at", "2 rows of 2")
	if got := d.BoltsOf(question(t, d, "pass/0/order")); len(got) != 10 {
		t.Errorf("the first pass has %v", got)
	}
	d, _ = answered(t, d, "pass/0/groups", "side, main-cap")
	if got := d.BoltsOf(question(t, d, "pass/0/order")); len(got) != 14 {
		t.Errorf("the first pass has %v now", got)
	}
	d, _ = answered(t, d, "pass/0/figure", "main-cap 12 N·m, side 8 N·m")
	if got := question(t, d, "pass/0/figure").Answer; got != "main-cap 12 N·m, side 8 N·m" {
		t.Errorf("it does %q", got)
	}
	if q := question(t, d, "pass/0/first"); len(q.Wrong) != 1 || !strings.Contains(q.Wrong[0], "mixes strengths") || !q.Open() {
		t.Errorf("what goes first is asked for as %+v", q)
	}
	d, _ = answered(t, d, "pass/0/first", "weak")
	if q := question(t, d, "pass/0/first"); q.Open() {
		t.Errorf("still wrong: %v", q.Wrong)
	}
	// The side bolts end short: said where their figure stands.
	d, _ = answered(t, d, "group/side/torque", "20 N·m")
	if q := question(t, d, "pass/0/figure"); len(q.Wrong) != 1 || !strings.Contains(q.Wrong[0], "short of the final figure 20 N·m") {
		t.Errorf("the figure is said to be %v", q.Wrong)
	}
	if d.Ready() || len(d.Rows()) != 3 || len(d.Rows()[0].Bolts) != 14 {
		t.Errorf("ready %v, rows %v", d.Ready(), d.Rows())
	}
	if _, _, no := d.Answer("pass/0/figure", "main-cap 12 N·m, side 90°"); no == nil || !strings.Contains(no.What, "in one pass") {
		t.Errorf("two kinds in a pass: %v", no)
	}
}

// Every problem of a spoiled sheet is said at a question that is there.
func TestEveryProblemOfASheetIsSaidAtAQuestion(t *testing.T) {
	good, err := os.ReadFile("testdata/main-caps.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ was, is, at string }{
		{`thread   = "M10x1.25"`, `thread   = "M10x9"`, "group/main-cap/thread"},
		{`M5  = [180, 0]`, `M5  = [180]`, "group/main-cap/at"},
		{`3 = ["M5", "M6"]`, `3 = ["M5", "M66"]`, "group/main-cap/at"},
		{`max     = "0.20 mm"`, `max     = "0.20"`, "check/1/max"},
		{`before  = "Draw down"`, `before  = "Draw up"`, "check/0/when"},
		{`torque  = "40 %"`, `torque  = "40"`, "pass/0/figure"},
		{`turn    = "90°"`, `loosen  = "90°"`, "pass/2/figure"},
		{`one_use  = true`, `one_uses = true`, "group/main-cap/title"},
		{"name    = \"Snug\"\n", "", "pass/1/name"},
		{`cautions  = ["A cap`, "cautions  = [\"\\u0007A cap", "caution/0"},
		{`by      = "cap"  `, `by      = "cups" `, "pass/0/order"},
	} {
		text := strings.Replace(string(good), tt.was, tt.is, 1)
		if text == string(good) {
			t.Fatalf("no %q", tt.was)
		}
		d, err := Open("f", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", tt.is, err)
			continue
		}
		said := 0
		for _, q := range d.Questions() {
			said += len(q.Wrong) + len(q.Doubts)
			if len(q.Wrong) > 0 && q.ID != tt.at {
				t.Errorf("%s is said at %s: %v", tt.is, q.ID, q.Wrong)
			}
		}
		if q := question(t, d, tt.at); !q.Open() || d.Ready() {
			t.Errorf("%s: %s is not wanted, of %v", tt.is, tt.at, d.Problems())
		}
		if want := len(d.Problems()); tt.at != "pass/1/name" && said != want {
			t.Errorf("%s: %d of %d problems are said", tt.is, said, want)
		}
	}
}

func TestWhatCannotBeAskedAboutIsSaid(t *testing.T) {
	for _, text := range []string{"", "format = 2\n", "a = ", "format = 1\nprocedure = 3\n", "format = 1\n[[group]]\n", "format = \"1\"\n"} {
		if _, err := Open("f", []byte(text)); err == nil || err.Error() == "" {
			t.Errorf("%q is opened: %v", text, err)
		}
	}
}

func TestPlacesInAnyOrderOfTheFileAreBolts(t *testing.T) {
	d := open(t, "f", []byte("format = 1\n[procedure]\nname = \"x\"\ndirection = \"close\"\n[group.a]\nthread = \"M8\"\nbore = \"2 mm\"\nat = { A1 = [0, 1.5] }\n[group.b]\nthread = \"M8\"\nat.B1 = [3, 0]\n"))
	want := []Bolt{{"A1", "a", 0, 1.5, true}, {"B1", "b", 3, 0, false}}
	if got := d.Bolts(); !slices.Equal(got, want) {
		t.Errorf("got %+v", got)
	}
	d, _, no := d.AddBeside("B1")
	if no != nil || !strings.Contains(string(d.Text()), "at.B2 = [43, 0]") {
		t.Errorf("%v\n%s", no, d.Text())
	}
	if d.Procedure() != nil || d.Rows() != nil {
		t.Error("there is an order without a pass")
	}
	if _, ok := fieldOf(groupFields, "colour"); ok || !slices.Contains(spec.Orders, "spiral") {
		t.Error("a key is asked for that is none")
	}
}
