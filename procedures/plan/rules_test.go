package plan_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/read"
)

// Rule by rule: what follows what, and what reason is given for it.

// planned reads a sheet of groups and passes and plans it. Its figures are invented.
func planned(t *testing.T, direction, groups, passes string) *plan.Plan {
	t.Helper()
	p, problems := read.Procedure("rules.toml", []byte("format = 1\n[procedure]\nname = \"Rules\"\ndirection = \""+direction+"\"\nsource = \"invented\"\n"+groups+passes))
	if p == nil {
		t.Fatal(problems.Errors())
	}
	return plan.Of(p)
}

// orderIn gives the fasteners of a pass as planned, each once, and their reasons.
func orderIn(p *plan.Plan, pass string) (ids string, why []string) {
	var list []string
	for _, s := range p.Stages {
		if s.Pass.Name == pass && s.Step == 0 && s.Fastener != nil {
			list, why = append(list, s.Fastener.ID), append(why, s.Why())
		}
	}
	return strings.Join(list, " "), why
}

func pass(name, groups, rest string) string {
	return fmt.Sprintf("[[pass]]\nname = %q\ngroups = [%s]\n%s\n", name, groups, rest)
}

// mixed are bolts of three strengths and a hollow one, the middle strength in two groups.
// The thick one of soft steel is the weakest: strength is proof stress × stress area
// (ISO 898-1), 0.225 × 58.0 mm² = 13 kN, 0.6 × 36.6 = 22 kN and 0.97 × 36.6 = 36 kN.
const mixed = `[group.hard]
thread = "M8x1.25"
class = "12.9"
at = { H1 = [0, 0], H2 = [40, 0] }
[group.feed]
thread = "M8x1.25"
class = "8.8"
bore = "4 mm"
at = { F1 = [20, 60] }
[group.front]
thread = "M8x1.25"
class = "8.8"
at = { A1 = [80, 0] }
[group.soft]
thread = "M10x1.5"
class = "4.6"
at = { S1 = [0, 30], S2 = [40, 30] }
[group.back]
thread = "M8x1.25"
class = "8.8"
at = { B1 = [80, 30] }
`

const all = `"hard", "feed", "front", "soft", "back"`

func TestBlocksGoByStrengthAndHollowOnesApart(t *testing.T) {
	for _, c := range []struct{ name, direction, does, want, reasons string }{
		{"weak first", "close", "torque = \"10 N·m\"\nfirst = \"weak\"", "S1 S2 A1 B1 H1 H2 F1",
			"weak ones first, as the sheet says|weak ones first, as the sheet says|in between: neither weakest nor strongest|in between: neither weakest nor strongest|strong ones after the weak, as the sheet says|strong ones after the weak, as the sheet says|hollow: last in, it must not draw the joint closed"},
		{"strong first", "close", "torque = \"10 N·m\"\nfirst = \"strong\"", "H1 H2 A1 B1 S1 S2 F1",
			"strong ones first, as the sheet says|strong ones first, as the sheet says|in between: neither weakest nor strongest|in between: neither weakest nor strongest|weak ones after the strong, as the sheet says|weak ones after the strong, as the sheet says|hollow: last in, it must not draw the joint closed"},
		{"apart, the hollow one first", "open", "loosen = \"fully\"\nfirst = \"strong\"", "F1 H1 H2 A1 B1 S1 S2", "hollow: first out, it must not carry the joint as the others let go"},
		{"felt on the way apart", "open", "verify = \"at least 5 N·m\"\nfirst = \"weak\"", "F1 S1 S2 A1 B1 H1 H2", "hollow: handled apart, first when opening"},
	} {
		end := pass("End", all, "torque = \"10 N·m\"\nfirst = \"weak\"")
		if c.direction == "open" {
			end = pass("End", all, "remove = true\nfirst = \"weak\"")
		}
		got, why := orderIn(planned(t, c.direction, mixed, pass("Here", all, c.does)+end), "Here")
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		for i, reason := range strings.Split(c.reasons, "|") {
			if !strings.HasPrefix(why[i], reason) {
				t.Errorf("%s: number %d stands there because %q, want %q", c.name, i+1, why[i], reason)
			}
		}
	}
}

// One block has no reason for where it stands, whatever its groups are called; without a
// class, what is alike by its thread and bore is one.
func TestAlikeGroupsAreOneBlock(t *testing.T) {
	for _, class := range []string{"class = \"8.8\"\n", ""} {
		groups := "[group.a]\nthread = \"M8x1.25\"\n" + class + "at = { A1 = [0, 0] }\n[group.b]\nthread = \"M8x1.25\"\n" + class + "at = { B1 = [40, 0] }\n"
		got, why := orderIn(planned(t, "close", groups, pass("Here", `"a", "b"`, "torque = \"10 N·m\"")), "Here")
		if got != "A1 B1" || !slices.Equal(why, []string{"first listed", "as listed"}) {
			t.Errorf("%q: %s, %q", class, got, why)
		}
	}
}

// The sheet's own list stands above strength and bore.
func TestAListOfIDsIsTakenAsItStands(t *testing.T) {
	got, why := orderIn(planned(t, "close", mixed, pass("Here", all, "torque = \"10 N·m\"\nbecause = \"the sheet says so\"\norder = [\"H1\", \"F1\", \"S2\", \"B1\", \"S1\", \"A1\", \"H2\"]")), "Here")
	if got != "H1 F1 S2 B1 S1 A1 H2" || why[0] != "number 1 of the sheet's own order" || why[6] != "number 7 of the sheet's own order" {
		t.Errorf("%s, %q", got, why)
	}
}

// On a flange the printed cross patterns come out bolt by bolt: numbered clockwise as seen
// at the stand from the bolt listed first, wherever the others are in the file
// (testdata/published/sequences.csv, ASME PCC-1 legacy table).
func TestAFlangeGoesAsPrinted(t *testing.T) {
	f, err := os.Open("../../testdata/published/sequences.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, row := range rows[1:] {
		if row[1] != "circular cross pattern" {
			continue
		}
		n, err := strconv.Atoi(row[2])
		if err != nil {
			t.Fatal(err)
		}
		for _, first := range []float64{90, 0, 217} { // degrees anticlockwise from x, where bolt 1 is
			var at []string
			for i := range n {
				k := (i*7 + 0) % n // the file's order is none of the flange's, but for the first
				if n%7 == 0 {
					k = (i * 5) % n
				}
				turn := (first - float64(k)*360/float64(n)) * math.Pi / 180
				at = append(at, fmt.Sprintf("B%d = [%.6f, %.6f]", k+1, 500+200*math.Cos(turn), 200*math.Sin(turn)))
			}
			groups := "[group.flange]\nthread = \"M8x1.25\"\nclass = \"8.8\"\n[group.flange.at]\n" + strings.Join(at, "\n") + "\n"
			got, why := orderIn(planned(t, "close", groups, pass("Here", `"flange"`, "torque = \"10 N·m\"\norder = \"cross\"")), "Here")
			want := regexp.MustCompile(`\d+`).FindAllString(row[3], -1)
			if got != "B"+strings.Join(want, " B") {
				t.Errorf("%s, first at %v°: %s, printed %s", row[0], first, got, row[3])
			}
			reasons := []string{"first listed; the cross pattern is counted clockwise from it", "cross: opposite B1", fmt.Sprintf("cross: square to B1 and B%s", want[1])}
			if n > 4 {
				reasons = append(reasons, "cross: opposite B"+want[2], "cross: new pair, in the widest gap left")
			}
			if !slices.Equal(why[:len(reasons)], reasons) {
				t.Errorf("%s: %q, want %q", row[0], why[:len(reasons)], reasons)
			}
		}
		checked++
	}
	if checked != 5 {
		t.Errorf("checked %d printed patterns, want 5", checked)
	}
}

// Numbers that no table has: pairs of six, the star of five (common practice, no source).
// Of two in one direction the outer one is counted first.
func TestCrossOfOtherNumbers(t *testing.T) {
	const group = "[group.a]\nthread = \"M8x1.25\"\nclass = \"8.8\"\nat = { %s }\n"
	for _, c := range []struct{ at, want, second string }{
		{"A = [0, 100], B = [87, 50], C = [87, -50], D = [0, -100], E = [-87, -50], F = [-87, 50]", "A D B E C F", "cross: opposite A"},
		{"A = [0, 100], B = [95, 31], C = [59, -81], D = [-59, -81], E = [-95, 31]", "A C E B D", "star: nearly opposite A"},
		{"A = [0, 100], I = [50, 0], O = [100, 0], D = [0, -100], W = [-150, 0]", "A I W O D", "star: nearly opposite A"},
		{"A = [0, 0], B = [40, 0]", "A B", "cross: opposite A"},
		{"A = [0, 100], B = [87, -50], C = [-87, -50]", "A B C", "star: nearly opposite A"},
	} {
		got, why := orderIn(planned(t, "close", fmt.Sprintf(group, c.at), pass("Here", `"a"`, "torque = \"10 N·m\"\norder = \"cross\"")), "Here")
		if got != c.want || why[1] != c.second {
			t.Errorf("%s: %s because %q, want %s because %q", c.at, got, why[1], c.want, c.second)
		}
	}
}

// grid is a head of two rows of five. No standard prints its order; service manuals say
// "start at the middle and work outward" (sequences.csv, S14 and S15).
const grid = `[group.head]
thread = "M10x1.25"
class = "10.9"
at = { U1 = [-100, 20], U2 = [-50, 20], U3 = [0, 20], U4 = [50, 20], U5 = [100, 20], L1 = [-100, -20], L2 = [-50, -20], L3 = [0, -20], L4 = [50, -20], L5 = [100, -20] }
`

const outwards, inwards = "U3 L3 U2 L4 L2 U4 L1 U5 U1 L5", "L5 U1 U5 L1 U4 L2 L4 U2 L3 U3"

func TestSpiralGoesFromTheMiddleOutAndAcross(t *testing.T) {
	got, why := orderIn(planned(t, "close", grid, pass("Here", `"head"`, "torque = \"40 N·m\"\norder = \"spiral\"")), "Here")
	if got != outwards || why[0] != "nearest the middle" || why[3] != "spiral outwards, far side from U2" {
		t.Errorf("%s, %q", got, why)
	}
}

// What is loosened goes the other way round than it was tightened (sequences.csv, S16).
func TestReverseIsWhatWasTightenedBackwards(t *testing.T) {
	torque := func(name, order string) string {
		return pass(name, `"head"`, "torque = \"40 N·m\"\norder = \""+order+"\"")
	}
	for _, c := range []struct{ name, direction, passes, want, reason string }{
		{"after a spiral", "close", torque("First", "spiral") + torque("Here", "reverse"), inwards, "reverse: the order they were last tightened in, backwards"},
		{"a loosening between is no tightening", "close", torque("First", "spiral") + pass("Let go", `"head"`, "loosen = \"90°\"") + torque("Here", "reverse"), inwards, "reverse: the order they were last tightened in, backwards"},
		{"the last tightening counts", "close", torque("First", "spiral") + torque("Second", "listed") + torque("Here", "reverse"), "L5 L4 L3 L2 L1 U5 U4 U3 U2 U1", "reverse: the order they were last tightened in, backwards"},
		{"nothing was tightened", "close", torque("Here", "reverse"), "L5 L4 L3 L2 L1 U5 U4 U3 U2 U1", "reverse: the file's order backwards, as nothing was tightened before"},
		{"on the way apart", "open", pass("Here", `"head"`, "loosen = \"90°\"\norder = \"reverse\"") + pass("Out", `"head"`, "remove = true"), inwards, "reverse: from the outside in"},
	} {
		got, why := orderIn(planned(t, c.direction, grid, c.passes), "Here")
		if got != c.want || why[0] != c.reason {
			t.Errorf("%s: %s because %q, want %s because %q", c.name, got, why[0], c.want, c.reason)
		}
	}
}

func TestOneAloneSaysSo(t *testing.T) {
	p := planned(t, "close", mixed, pass("All", all, "torque = \"10 N·m\"\nfirst = \"weak\"")+pass("Feed", `"feed"`, "torque = \"12 N·m\""))
	if _, why := orderIn(p, "All"); why[6] != "hollow: last in, it must not draw the joint closed; the only one of its strength" {
		t.Errorf("among others: %q", why[6])
	}
	if _, why := orderIn(p, "Feed"); why[0] != "hollow: on its own, after the solid ones hold the joint; the only one in this pass" {
		t.Errorf("by itself: %q", why[0])
	}
}

// All steps of a pass on one fastener come before the next; a wait is a stage of its own.
// Records know each by its key, whatever its number.
func TestStepsWaitsAndKeys(t *testing.T) {
	p := planned(t, "close", "[group.a]\nthread = \"M8x1.25\"\nclass = \"8.8\"\ntorque = \"20 N·m\"\nat = { A1 = [0, 0], A2 = [40, 0] }\n",
		pass("Snug", `"a"`, "torque = \"50 %\"")+"[[pass]]\nname = \"Settle\"\nwait = \"4h\"\n"+pass("Again", `"a"`, "each = [{ loosen = \"90°\" }, { torque = \"100 %\" }]"))
	var got []string
	for i, s := range p.Stages {
		if s.Number != i+1 {
			t.Errorf("stage %d has number %d", i+1, s.Number)
		}
		got = append(got, s.Key().String()+" "+s.TargetText()+": "+s.Why())
	}
	want := []string{
		"Snug/A1 10 N·m: first listed", "Snug/A2 10 N·m: as listed", "Settle wait 4 h: time to let go by before the next pass",
		"Again/A1/1 loosen 90°: first listed", "Again/A1/2 20 N·m: step 2 of 2 on A1 before the next", "Again/A2/1 loosen 90°: as listed", "Again/A2/2 20 N·m: step 2 of 2 on A2 before the next",
	}
	if !slices.Equal(got, want) {
		t.Errorf("planned\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A figure is in the plan as the sheet means it, as text and as numbers: the middle of a
// range, and its limits where there are two.
func TestFiguresInThePlan(t *testing.T) {
	at := func(v float64) *float64 { return &v }
	type target struct {
		Text                       string
		Nm, Degrees, Mm, Low, High *float64
		Percent                    string
	}
	for _, c := range []struct {
		does string
		want target
		free bool // there is no figure to keep to
	}{
		{`torque = "22 N·m"`, target{Text: "22 N·m", Nm: at(22)}, false},
		{`torque = "50 %"`, target{Text: "15 N·m", Nm: at(15), Percent: "50 %"}, false},
		{`torque = "18 to 22 N·m"`, target{Text: "18 to 22 N·m", Nm: at(20), Low: at(18), High: at(22)}, false},
		{`torque = "at most 22 N·m"`, target{Text: "at most 22 N·m", Nm: at(22), High: at(22)}, false},
		{`verify = "at least 22 N·m"`, target{Text: "verify at least 22 N·m", Nm: at(22), Low: at(22)}, false},
		{`turn = "90° to 94°"`, target{Text: "turn 90° to 94°", Degrees: at(92), Low: at(90), High: at(94)}, false},
		{`loosen = "1/4 turn"`, target{Text: "loosen 1/4 turn", Degrees: at(90)}, false},
		{`loosen = "fully"`, target{Text: "loosen fully"}, true},
		{`remove = true`, target{Text: "remove"}, true},
		{"stretch = \"0.12 mm to 0.16 mm\"\nceiling = \"45 N·m\"", target{Text: "stretch 0.12 to 0.16 mm, at most 45 N·m", Mm: at(0.14), Low: at(0.12), High: at(0.16)}, false},
	} {
		p := planned(t, "close", "[group.a]\nthread = \"M8x1.25\"\nclass = \"12.9\"\ntorque = \"30 N·m\"\nat = { A1 = [0, 0] }\n",
			pass("Snug", `"a"`, "torque = \"5 N·m\"")+pass("Here", `"a"`, c.does+"\nbecause = \"it is so\"")+pass("End", `"a"`, "each = [{ loosen = \"fully\" }, { torque = \"100 %\" }]"))
		var text strings.Builder
		if err := p.WriteJSON(&text); err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Procedure string
			Stages    []struct {
				Number                              int
				Pass, Fastener, Group, Because, Why string
				Source                              string
				Action                              spec.Action
				Target                              target
			}
		}
		if err := json.Unmarshal([]byte(text.String()), &doc); err != nil {
			t.Fatal(err)
		}
		got := doc.Stages[1]
		if want, is := fmt.Sprint(said(c.want.Nm), said(c.want.Degrees), said(c.want.Mm), said(c.want.Low), said(c.want.High), c.want.Text, c.want.Percent), fmt.Sprint(said(got.Target.Nm), said(got.Target.Degrees), said(got.Target.Mm), said(got.Target.Low), said(got.Target.High), got.Target.Text, got.Target.Percent); is != want {
			t.Errorf("%s\nis  %s\nwant %s", c.does, is, want)
		}
		if got.Number != 2 || got.Pass != "Here" || got.Fastener != "A1" || got.Group != "a" || got.Because != "it is so" || got.Why != "the only one in this pass" || got.Source != "invented" || doc.Procedure != "Rules" {
			t.Errorf("%s: %+v", c.does, got)
		}
		if has := p.Stages[1].HasFigure(); has == c.free {
			t.Errorf("%s: has a figure %v", c.does, has)
		}
	}
}

func said(v *float64) string {
	if v == nil {
		return "– "
	}
	return fmt.Sprintf("%.4g ", *v)
}

// The plan a person reads: pass by pass, a reason where it changes.
func TestThePlanAsText(t *testing.T) {
	p := planned(t, "close", strings.Replace(mixed, "[group.hard]\n", "[group.hard]\ntorque = \"30 N·m\"\n", 1),
		pass("Weak to strong", `"hard", "feed", "soft"`, "torque = { hard = \"50 %\", feed = \"8 N·m\", soft = \"10 N·m\" }\nfirst = \"weak\"\nbecause = \"the film spreads\"")+"[[pass]]\nname = \"Settle\"\nwait = \"4h\"\n"+pass("Final", all, "torque = \"30 N·m\"\nfirst = \"weak\""))
	var b strings.Builder
	if err := p.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	want := `Rules (close)
source: invented

Weak to strong
  because the film spreads
      weak ones first, as the sheet says
   1  S1     10 N·m                   first listed
   2  S2     10 N·m                   as listed
      strong ones after the weak, as the sheet says
   3  H1     15 N·m (50 %)            first listed
   4  H2     15 N·m (50 %)            as listed
      hollow: last in, it must not draw the joint closed
   5  F1     8 N·m                    the only one of its strength

Settle
   6  wait 4 h
`
	if got := b.String(); !strings.HasPrefix(got, want) {
		t.Errorf("is\n%s\nwant it to begin\n%s", got, want)
	}
}

// A second pass in reverse is tightened, so its reason must not speak of loosening.
func TestAReversedPassIsExplainedAsWhatItIs(t *testing.T) {
	p, problems := read.Procedure("cover.toml", []byte(`format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
source = "invented"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Snug"
groups = ["main"]
torque = "40 %"
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
order = "reverse"
`))
	if p == nil {
		t.Fatal(problems)
	}
	last := plan.Of(p).Stages[2]
	if last.Fastener.ID != "M2" || strings.Contains(last.Why(), "loosen") || !strings.Contains(last.Why(), "backwards") {
		t.Errorf("%s: %s", last.Fastener.ID, last.Why())
	}
}

// A close sheet that lets everything go takes the hollow one first, as when opening; in
// the pass that tightens it comes last. So it does in an open sheet that tightens.
func TestHollowGoesFirstWhereAPassLoosensAndLastWhereItTightens(t *testing.T) {
	const head = `format = 1
[procedure]
name = "Cover"
direction = "%s"
source = "invented"
[group.feed]
thread = "M10x1.25"
class = "8.8"
bore = "5 mm"
torque = "20 N·m"
[group.feed.at]
F1 = [35, 0]
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "20 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
`
	for _, c := range []struct{ direction, does, want, earlier string }{
		{"close", `torque = "100 %"`, "M1 M2 F1", "M1 M2 F1"},
		{"close", `loosen = "fully"`, "F1 M1 M2", "M1 M2 F1"},
		{"close", `remove = true`, "F1 M1 M2", "M1 M2 F1"},
		{"close", `each = [{ loosen = "90°" }, { torque = "100 %" }, { verify = "at least 18 N·m" }]`, "M1 M2 F1", "M1 M2 F1"},
		{"close", `each = [{ torque = "100 %" }, { loosen = "90°" }]`, "F1 M1 M2", "M1 M2 F1"},
		{"close", `verify = "at least 20 N·m"`, "M1 M2 F1", "M1 M2 F1"},
		{"open", `loosen = "90°"`, "F1 M1 M2", "F1 M1 M2"},
		{"open", `torque = "5 N·m"`, "M1 M2 F1", "F1 M1 M2"},
		{"open", `verify = "at least 20 N·m"`, "F1 M1 M2", "F1 M1 M2"},
	} {
		end := "torque = \"100 %\""
		if c.direction == "open" {
			end = "remove = true"
		}
		text := fmt.Sprintf(head, c.direction)
		for _, pass := range []string{"name = \"Here\"\n" + c.does, "name = \"End\"\n" + end} {
			text += "[[pass]]\n" + pass + "\ngroups = [\"feed\", \"main\"]\n"
		}
		p, problems := read.Procedure("cover.toml", []byte(text))
		if p == nil {
			t.Fatal(problems)
		}
		for earlier, want := range map[*plan.Plan]string{plan.Of(p): c.want, plan.Earlier(p): c.earlier} {
			var got []string
			for _, s := range earlier.Stages {
				if s.Pass.Name == "Here" && s.Step == 0 {
					got = append(got, s.Fastener.ID)
					if hollow := s.Fastener.ID == "F1"; hollow != strings.HasPrefix(s.Block, "hollow: ") {
						t.Errorf("%s, %s: %s: %q", c.direction, c.does, s.Fastener.ID, s.Block)
					}
				}
			}
			if strings.Join(got, " ") != want {
				t.Errorf("%s, %s: %v, want %s", c.direction, c.does, got, want)
			}
		}
	}
}
