package read

import (
	"slices"
	"strings"
	"testing"

	"evenpull/spec"
)

// gearbox goes both ways.
const gearbox = `format = 1
[procedure]
name = "Gearbox cover"
direction = "both"
opening = "Open the gearbox"
source = "invented"
[sealant]
name = "sealant"
work_time = "20m"
[order.round]
list = ["R1", "R3", "R2"]
[order.back]
reverse_of = "round"
[group.rim]
thread = "M6x1"
class = "8.8"
torque = "10 N·m"
[group.rim.at]
R1 = [0, 0]
R2 = [90, 0]
R3 = [0, 90]
[[pass]]
name = "Slacken"
direction = "open"
groups = ["rim"]
loosen = "fully"
order = "back"
[[pass]]
name = "Draw down"
direction = "close"
groups = ["rim"]
torque = "40 %"
order = "round"
[[pass]]
name = "Final"
direction = "close"
groups = ["rim"]
torque = "100 %"
order = "round"
[[check]]
before = "Final"
ask = "Faces met all round?"
[[check]]
after = "Slacken"
ask = "Dowels out?"
[[callout]]
before = "Slacken"
say = "a plastic wedge"
[[part]]
name = "cover"
before = "Draw down"
after = "Slacken"
[[part]]
name = "selector shim"
kind = "shim"
[[part]]
name = "gasket"
kind = "gasket"
one_use = true
direction = "close"
`

func TestAFileThatGoesBothWaysIsTwoProcedures(t *testing.T) {
	p, problems := Procedure("gearbox.toml", []byte(gearbox))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, want := range []struct {
		way                           spec.Direction
		name                          string
		passes, checks, parts, orders []string
		callouts                      int
		sealed                        bool
	}{
		{spec.Close, "Gearbox cover, closing", []string{"Draw down", "Final"}, []string{"Faces met all round?"}, []string{"cover", "selector shim", "gasket"}, []string{"R1", "R3", "R2"}, 0, true},
		{spec.Open, "Open the gearbox", []string{"Slacken"}, []string{"Dowels out?"}, []string{"cover", "selector shim"}, []string{"R2", "R3", "R1"}, 1, false},
	} {
		one, err := p.Toward(want.way)
		if err != nil {
			t.Fatal(err)
		}
		var passes, checks, parts, list []string
		for i, pass := range one.Passes {
			passes = append(passes, pass.Name)
			if pass.Index != i {
				t.Errorf("%s: pass %s is number %d, want %d", want.way, pass.Name, pass.Index, i)
			}
		}
		for _, c := range one.Checks {
			checks = append(checks, c.Ask)
		}
		for _, part := range one.Parts {
			parts = append(parts, part.Name)
		}
		for _, f := range one.Passes[0].Order.List {
			list = append(list, f.ID)
		}
		if one.Name != want.name || one.Direction != want.way || one.Other != nil || !slices.Equal(passes, want.passes) || !slices.Equal(checks, want.checks) ||
			!slices.Equal(parts, want.parts) || !slices.Equal(list, want.orders) || len(one.Callouts) != want.callouts || (one.Sealant != nil) != want.sealed {
			t.Errorf("%s: %q, passes %v, checks %v, parts %v, order %v, %d callouts, sealed %v", want.way, one.Name, passes, checks, parts, list, len(one.Callouts), one.Sealant != nil)
		}
	}
	cover, _ := p.Toward(spec.Close)
	opened, _ := p.Toward(spec.Open)
	if c := cover.Part("cover"); c.Before != cover.Passes[0] || c.After != nil {
		t.Error("closing, the cover does not go on before the first pass")
	}
	if c := opened.Part("cover"); c.After != opened.Passes[0] || c.Before != nil {
		t.Error("opening, the cover does not come off after its pass")
	}
}

func TestAFileOfOneDirectionHasNoOther(t *testing.T) {
	p, _ := Procedure("f", []byte(rods))
	if p.Other != nil {
		t.Error("it has")
	}
	if one, err := p.Toward(spec.Close); err != nil || one.Name != p.Name {
		t.Error(err)
	}
	if _, err := p.Toward(spec.Open); err == nil || !strings.Contains(err.Error(), `"Fit the rods" only goes one way: close`) {
		t.Errorf("got %v", err)
	}
}
