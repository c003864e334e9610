package stand

import (
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
)

const twoBolts = `format = 1
[procedure]
name = "Close the cover"
direction = "close"
source = "invented"
[group.main]
thread = "M6x1"
class = "8.8"
torque = "9 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
[[check]]
before = "Final"
ask = "Both dowels in place?"
`

// The wrench of a stage is kept with its confirmation, and with its being set for it.
func TestConfirmationsKeepTheWrenchOfTheirStage(t *testing.T) {
	r := newRig(t, twoBolts, func(c *Config) {
		c.FactsOf = func(st *plan.Stage) map[string]string { return map[string]string{"wrench": "for " + st.Fastener.ID} }
	})
	r.press("y", "enter", "enter", "enter")
	var got []string
	for _, e := range r.events {
		switch {
		case e.Kind == walk.Confirmed, e.Kind == walk.Changed:
			got = append(got, e.Facts["wrench"])
		case e.Facts["wrench"] != "":
			t.Errorf("%s keeps a wrench", e.Kind)
		}
	}
	if strings.Join(got, ", ") != "for M1, for M1, for M2" {
		t.Errorf("kept %q", got)
	}
}
