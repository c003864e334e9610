package report

import (
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
)

// What the wrench was set to, and when, stands in the timeline, and counts for nothing.
func TestASettingOfTheWrenchStandsInTheTimeline(t *testing.T) {
	p, problems := read.Procedure("cover.toml", []byte(settings))
	if p == nil {
		t.Fatal(problems)
	}
	s := walk.New(plan.Of(p))
	at := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for _, c := range []walk.Command{{Do: walk.Change, Facts: map[string]string{"wrench": "small click"}}, {Do: walk.Confirm}} {
		e, refusal := walk.Decide(s, c, at)
		if refusal != nil {
			t.Fatal(refusal)
		}
		s.Apply(*e)
	}
	sheet := New(Input{State: s})
	if got, want := sheet.Timeline[0].Text, "wrench set for Final: M1, 22 N·m; drive: 12 mm hex; torque: 22 N·m; wrench: small click"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if sheet.Fasteners[0].Stages[0].Wrench != "" {
		t.Error("the stage counts as pulled with the wrench that was set")
	}
}

const settings = `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
drive = "12 mm hex"
at = { M1 = [0, 0] }
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
`
