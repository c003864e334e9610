package read

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/spec/ident"
)

const hotBearing = `format = 1
[procedure]
name = "Bearings in"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
order = "listed"
[[part]]
name = "bearing"
before = "Final"
[[callout]]
before = "Final"
kind = "heat"
say = "Seat hot"
to = "120 °C"
within = "30s"
[[check]]
before = "Final"
ask = "Square?"
of = ["bearing", "main"]
no_restarts = ["M2"]
`

// The ends of what is taken for a heat belong to it.
func TestHowHotAndHowLong(t *testing.T) {
	for _, c := range []struct{ to, within, wrong string }{
		{"650 °C", "24h", ""}, {"-200 °C", "1s", ""}, {"1202 °F", "30s", ""},
		{"651 °C", "30s", "give one from −200 °C to 650 °C"}, {"-201 °C", "30s", "give one from −200 °C to 650 °C"}, {"1203 °F", "30s", "give one from −200 °C to 650 °C"},
		{"120 °C", "24h 1s", "nothing stays hot for that long"}, {"120 mm", "30s", "is no temperature"},
	} {
		p, problems := Procedure("x.toml", []byte(strings.NewReplacer("120 °C", c.to, "30s", c.within).Replace(hotBearing)))
		said := fmt.Sprint(problems.Errors())
		if (p == nil) != (c.wrong != "") || !strings.Contains(said, c.wrong) {
			t.Errorf("to %s within %s: %s, want %q", c.to, c.within, said, c.wrong)
		}
	}
}

// A check names parts and fasteners, and a group stands for all of its own.
func TestWhatACheckIsOf(t *testing.T) {
	p, problems := Procedure("x.toml", []byte(hotBearing))
	if p == nil {
		t.Fatal(problems)
	}
	c := p.Checks[0]
	want := []ident.Thing{ident.Part("bearing"), ident.Fastener("M1", "M8x1.25"), ident.Fastener("M2", "M8x1.25")}
	if fmt.Sprint(c.Of) != fmt.Sprint(want) || len(c.NoRestarts) != 1 || c.NoRestarts[0].ID != "M2" {
		t.Errorf("it is of %v, and a no sends back %v", c.Of, c.NoRestarts)
	}
}
