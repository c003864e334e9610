package words

import (
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
)

// Two bolts in two passes: snugged, then torqued and turned one after the other.
const prepared = `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
friction = "oiled"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Snug"
groups = ["main"]
torque = "9 N·m"
[[pass]]
name = "Final"
groups = ["main"]
each = [{ loosen = "90°" }, { torque = "22 N·m" }, { turn = "90°" }]
`

// The threads are spoken of where a bolt is first tightened, and where a pass has
// words of its own.
func TestPreparationIsSaidAtTheFirstPull(t *testing.T) {
	const byHand, prep, again = "prepare = \"By hand.\"\n", "prep = \"Oil it.\"\n", "prepare = \"Oil it again.\"\n"
	for name, c := range map[string]struct {
		change []string
		want   string // of M1, stage by stage
	}{
		"the state of the figure":            {nil, "threads oiled||||"},
		"the sheet's own words":              {[]string{"[group.main.at]", prep + "[group.main.at]"}, "Oil it.||||"},
		"the pass has words too":             {[]string{"torque = \"9 N·m\"", "torque = \"9 N·m\"\n" + byHand}, "By hand; threads oiled||||"},
		"the sheet's were a step of its own": {[]string{"torque = \"9 N·m\"", "torque = \"9 N·m\"\n" + byHand, "[group.main.at]", prep + "[group.main.at]"}, "By hand.||||"},
		"a later pass has words":             {[]string{"name = \"Final\"", "name = \"Final\"\n" + again}, "threads oiled||Oil it again.||"},
		"nothing is known of the threads":    {[]string{`friction = "oiled"`, "friction = 0.12"}, "||||"},
		"stretched first":                    {[]string{"torque = \"9 N·m\"", "stretch = \"0.12 mm\""}, "threads oiled||||"},
	} {
		p, problems := read.Recorded("cover.toml", []byte(strings.NewReplacer(c.change...).Replace(prepared)))
		if p == nil {
			t.Fatalf("%s: %v", name, problems)
		}
		course := walk.CourseOf(plan.Of(p), walk.Rules)
		got := ""
		for _, i := range course.StagesOf("M1") {
			got += Preparation(course, i) + "|"
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// On the way apart nothing is made ready to be tightened.
func TestNothingIsPreparedOnTheWayApart(t *testing.T) {
	text := strings.NewReplacer(`"close"`, `"open"`, `torque = "9 N·m"`, `loosen = "fully"`, `each = [{ loosen = "90°" }, { torque = "22 N·m" }, { turn = "90°" }]`, "remove = true").Replace(prepared)
	p, problems := read.Recorded("cover.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	course := walk.CourseOf(plan.Of(p), walk.Rules)
	for _, i := range course.StagesOf("M1") {
		if got := Preparation(course, i); got != "" {
			t.Errorf("%s: %q", course.Items[i].Text(), got)
		}
	}
}
