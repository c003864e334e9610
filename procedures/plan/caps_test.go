package plan_test

import (
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec/read"
)

// fiveCaps is a crank in five caps of two bolts, in a row, and a bolt of its own.
const fiveCaps = `format = 1
[procedure]
name = "Fit the main caps"
direction = "DIRECTION"
source = "invented"
[order.caps]
rule = "spiral"
by = "cap"
because = "from the middle outwards"
[order.back]
reverse_of = "caps"
[order.hand]
list = ["M9", "M10", "M1", "M2", "M3", "M4", "M5", "M6", "M7", "M8", "X"]
[order.away]
reverse_of = "hand"
[group.main]
thread = "M10x1.25"
class = "10.9"
[group.main.caps]
1 = ["M1", "M2"]
2 = ["M3", "M4"]
3 = ["M5", "M6"]
4 = ["M7", "M8"]
5 = ["M10", "M9"]
[group.main.at]
M1 = [0, 0]
M2 = [0, 80]
M3 = [90, 0]
M4 = [90, 80]
M5 = [180, 0]
M6 = [180, 80]
M7 = [270, 0]
M8 = [270, 80]
M9 = [360, 0]
M10 = [360, 80]
X = [180, 160]
`

func orderOf(t *testing.T, direction, passes string) (order, why string) {
	t.Helper()
	p, problems := read.Procedure("caps.toml", []byte(strings.Replace(fiveCaps, "DIRECTION", direction, 1)+passes))
	if p == nil {
		t.Fatal(problems.Errors())
	}
	last := p.Passes[len(p.Passes)-1]
	var ids, reasons []string
	for _, s := range plan.Of(p).Stages {
		if s.Pass == last && s.Step == 0 {
			ids, reasons = append(ids, s.Fastener.ID), append(reasons, s.Why())
		}
	}
	return strings.Join(ids, " "), strings.Join(reasons, "; ")
}

func TestBoltsOfACapGoTogether(t *testing.T) {
	const tight = "[[pass]]\nname = \"Pull\"\ngroups = [\"main\"]\ntorque = \"60 N·m\"\n"
	const out = "[[pass]]\nname = \"Out\"\ngroups = [\"main\"]\nloosen = \"fully\"\n"
	again := strings.Replace(tight, "Pull", "Again", 1)
	tests := []struct{ name, direction, passes, want, why string }{
		{"spiral by cap, by name", "close", tight + "order = \"caps\"\n", "M5 M6 X M3 M4 M7 M8 M1 M2 M10 M9", "nearest the middle"},
		{"spiral by cap, in the pass", "close", tight + "order = \"spiral\"\nby = \"cap\"\n", "M5 M6 X M3 M4 M7 M8 M1 M2 M10 M9", "cap 3: nearest the middle; the same cap as M5"},
		{"another order backwards", "close", tight + "order = \"back\"\n", "", "order back: the other one, backwards"},
		{"listed by cap", "close", tight + "order = \"listed\"\nby = \"cap\"\n", "M1 M2 M3 M4 M5 M6 M7 M8 M10 M9 X", "cap 1: first listed"},
		{"reverse by cap, caps and bolts as they were last tightened", "close", tight + "order = \"caps\"\n" + again + "order = \"reverse\"\nby = \"cap\"\n", "", ""},
		{"a list by its name", "close", tight + "order = \"hand\"\n", "M9 M10 M1 M2 M3 M4 M5 M6 M7 M8 X", "number 1 of the sheet's own order"},
		{"a list turned round", "open", out + "order = \"away\"\n", "X M8 M7 M6 M5 M4 M3 M2 M1 M10 M9", "number 1 of the sheet's own order"},
		{"taking apart, from the outside in", "open", out + "order = \"reverse\"\nby = \"cap\"\n", "", "reverse: from the outside in"},
	}
	orders := map[string]string{}
	for _, tt := range tests {
		got, why := orderOf(t, tt.direction, tt.passes)
		orders[tt.name] = got
		if !strings.Contains(why, tt.why) || tt.want != "" && got != tt.want {
			t.Errorf("%s: %s (%s), want %s (%s)", tt.name, got, why, tt.want, tt.why)
		}
	}
	spiral := strings.Fields(orders["spiral by cap, by name"])
	for name, list := range orders {
		if list == "" {
			t.Errorf("%s: no order", name)
		}
	}
	backwards := func(list []string) string {
		var out []string
		for i := len(list) - 1; i >= 0; i-- {
			out = append(out, list[i])
		}
		return strings.Join(out, " ")
	}
	for _, name := range []string{"another order backwards", "reverse by cap, caps and bolts as they were last tightened", "taking apart, from the outside in"} {
		if orders[name] != backwards(spiral) {
			t.Errorf("%s: %s, want %s", name, orders[name], backwards(spiral))
		}
	}
}

// A pass over some bolts of a shared list takes those, and the reason of the order.
func TestASharedOrderServesPassesOverSome(t *testing.T) {
	p, problems := read.Procedure("caps.toml", []byte(strings.Replace(fiveCaps, "DIRECTION", "close", 1)+
		"[[pass]]\nname = \"Some\"\nfasteners = [\"M1\", \"M9\", \"X\"]\ntorque = \"60 N·m\"\norder = \"hand\"\n"+
		"[[pass]]\nname = \"Rest\"\nfasteners = [\"M2\", \"M3\", \"M4\", \"M5\", \"M6\", \"M7\", \"M8\", \"M10\"]\ntorque = \"60 N·m\"\norder = \"caps\"\n"))
	if p == nil {
		t.Fatal(problems.Errors())
	}
	var ids []string
	for _, f := range p.Passes[0].Order.List {
		ids = append(ids, f.ID)
	}
	if got := strings.Join(ids, " "); got != "M9 M1 X" {
		t.Errorf("the list gives %s", got)
	}
	if p.Passes[1].Because != "from the middle outwards" || p.Passes[0].Because != "" {
		t.Errorf("because %q and %q", p.Passes[0].Because, p.Passes[1].Because)
	}
}
