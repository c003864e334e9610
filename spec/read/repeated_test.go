package read

import (
	"fmt"
	"slices"
	"testing"
)

const rods = `format = 1
[procedure]
name = "Fit the rods"
direction = "close"
source = "invented"
[group.rod]
thread = "M8x1"
class = "10.9"
torque = "30 N·m"
[group.rod.at]
A1 = [0, 0]
A2 = [0, 40]
B1 = [40, 0]
B2 = [40, 40]
[[part]]
name = "shells"
kind = "bearing"
before = "Final"
[[pass]]
name = "Final"
groups = ["rod"]
torque = "100 %"
`

func TestACheckOfSeveralNamesIsMadeForEach(t *testing.T) {
	p, problems := Procedure("f", []byte(rods+`[[check]]
after = "Final"
each = ["A", "Rod B"]
id = "side"
measure = "side clearance, {each}"
max = "0.35 mm"
remedy = "look at {each}"
[[check]]
after = "Final"
each = ["A", "B"]
ask = "Does {each} swing?"
of = ["{each}1", "{each}2"]
no_restarts = ["{each}1"]
[[check]]
after = "Final"
ask = "Done?"
`))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var got []string
	for _, c := range p.Checks {
		text := fmt.Sprint(c.ID, ": ", c.Ask, c.Measure, c.Remedy)
		for _, thing := range c.Of {
			text += " " + thing.ID
		}
		for _, f := range c.NoRestarts {
			text += " " + f.ID
		}
		got = append(got, text)
	}
	want := []string{
		"side-a: side clearance, Alook at A", "side-rod-b: side clearance, Rod Blook at Rod B",
		"does-a-swing: Does A swing? A1 A2 A1", "does-b-swing: Does B swing? B1 B2 B1", "done: Done?",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	for i := 1; i < len(p.Checks); i++ {
		if p.Checks[i].Order < p.Checks[i-1].Order {
			t.Errorf("%s comes before %s in the file and not in order", p.Checks[i-1].ID, p.Checks[i].ID)
		}
	}
	if p.Part("shells").Kind != "bearing" {
		t.Error("shells are no bearing")
	}
}
