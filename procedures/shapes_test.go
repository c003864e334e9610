package procedures

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec/read"
)

// The staged shapes of published service data must fit the format. The shapes
// are those of print; the figures here are invented.

const shapeHead = `format = 1
[procedure]
name = "Shape"
direction = "close"
source = "invented"
[group.long]
thread = "M10x1.5"
class = "10.9"
torque = "40 N·m"
one_use = true
[group.long.at]
L1 = [0, 0]
L2 = [80, 0]
[group.short]
thread = "M8x1.25"
class = "8.8"
torque = "20 N·m"
[group.short.at]
S1 = [0, 40]
S2 = [80, 40]
`

var shapes = []struct {
	name, passes, want string
}{
	{"torque, then several turns", `
[[pass]]
name = "Snug"
groups = ["long"]
torque = "30 N·m"
[[pass]]
name = "Torque"
groups = ["long"]
torque = "100 %"
[[pass]]
name = "First turn"
groups = ["long"]
turn = "90°"
[[pass]]
name = "Second turn"
groups = ["long"]
turn = "90° to 94°"
[[pass]]
name = "Third turn"
groups = ["long"]
turn = "1/4 turn"
[[pass]]
name = "Side"
groups = ["short"]
torque = "19 to 21 N·m"`,
		`L1 30 N·m; L2 30 N·m; L1 40 N·m; L2 40 N·m; L1 turn 90°; L2 turn 90°; L1 turn 90° to 94°; L2 turn 90° to 94°;
		 L1 turn 1/4 turn; L2 turn 1/4 turn; S1 19 to 21 N·m; S2 19 to 21 N·m`},

	{"loosened to nothing in reverse and started again", `
[[pass]]
name = "Crush"
groups = ["long", "short"]
torque = "100 %"
first = "strong"
[[pass]]
name = "Loosen"
groups = ["long", "short"]
loosen = "fully"
first = "weak"
order = "reverse"
[[pass]]
name = "Again"
groups = ["long", "short"]
torque = "100 %"
first = "strong"
[[pass]]
name = "Turn"
groups = ["long"]
turn = "60°"`,
		`L1 40 N·m; L2 40 N·m; S1 20 N·m; S2 20 N·m; S2 loosen fully; S1 loosen fully; L2 loosen fully; L1 loosen fully;
		 L1 40 N·m; L2 40 N·m; S1 20 N·m; S2 20 N·m; L1 turn 60°; L2 turn 60°`},

	{"groups with different figures interleaved in numbered order", `
[[pass]]
name = "Final"
groups = ["long", "short"]
torque = { long = "40 N·m", short = "15 lbf·ft" }
order = ["L2", "S1", "L1", "S2"]`,
		`L2 40 N·m; S1 15 lbf·ft; L1 40 N·m; S2 15 lbf·ft`},

	{"a repeat pass over the same figure", `
[[pass]]
name = "Final"
groups = ["long", "short"]
torque = "100 %"
first = "weak"
[[pass]]
name = "Once more"
groups = ["long", "short"]
torque = "100 %"
first = "weak"
because = "the first round settles the gasket"`,
		`S1 20 N·m; S2 20 N·m; L1 40 N·m; L2 40 N·m; S1 20 N·m; S2 20 N·m; L1 40 N·m; L2 40 N·m`},

	{"a lower limit felt after the turn", `
[[pass]]
name = "Torque"
groups = ["long", "short"]
torque = "100 %"
first = "strong"
[[pass]]
name = "Turn"
groups = ["long"]
turn = "90°"
[[pass]]
name = "Feel"
groups = ["long"]
verify = "at least 122 N·m"`,
		`L1 40 N·m; L2 40 N·m; S1 20 N·m; S2 20 N·m; L1 turn 90°; L2 turn 90°; L1 verify at least 122 N·m; L2 verify at least 122 N·m`},

	{"one at a time, all the way", `
[[pass]]
name = "Re-torque"
fasteners = ["L1", "L2"]
each = [{ loosen = "90°" }, { torque = "100 %" }, { turn = "1.5 flats" }]
[[pass]]
name = "Settle"
wait = "4h"
[[pass]]
name = "Side"
fasteners = ["S1", "S2"]
torque = "20 ± 1 N·m"`,
		`L1 loosen 90°; L1 40 N·m; L1 turn 1.5 flats; L2 loosen 90°; L2 40 N·m; L2 turn 1.5 flats; wait 4 h; S1 20 ± 1 N·m; S2 20 ± 1 N·m`},
}

func TestPublishedShapesFitTheFormat(t *testing.T) {
	for _, shape := range shapes {
		p, problems := read.Procedure("shape.toml", []byte(shapeHead+shape.passes))
		if len(problems) > 0 {
			t.Errorf("%s: %s", shape.name, problems.Error())
			continue
		}
		var got []string
		for _, s := range plan.Of(p).Stages {
			text := s.TargetText()
			if s.Fastener != nil {
				text = fmt.Sprintf("%s %s", s.Fastener.ID, text)
			}
			got = append(got, text)
		}
		want := strings.Join(strings.Fields(shape.want), " ")
		if strings.Join(got, "; ") != want {
			t.Errorf("%s:\n got %s\nwant %s", shape.name, strings.Join(got, "; "), want)
		}
	}
}
