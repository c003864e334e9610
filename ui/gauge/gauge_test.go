package gauge

import (
	"strings"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/quantity"
	"evenpull/spec/read"
)

func TestUnitsAreToldOneOfAKind(t *testing.T) {
	for _, tt := range []struct {
		texts []string
		want  string // notices
		wrong string
	}{
		{nil, "", ""},
		{[]string{""}, "", ""},
		{[]string{"N·m"}, "gauge sends N·m", ""},
		{[]string{"Nm", "mm"}, "gauge sends N·m; gauge sends mm", ""},
		{[]string{"ft-lb, thou,"}, "gauge sends lbf·ft; gauge sends thou", ""},
		{[]string{"N·m", "Nm"}, "gauge sends N·m", ""},
		{[]string{"N·m, lbf·ft"}, "", "N·m and lbf·ft are both a torque"},
		{[]string{"furlong"}, "", "furlong"},
		{[]string{"lb"}, "", "may be a torque or a force"},
	} {
		g, err := Read(tt.texts...)
		if (err != nil) != (tt.wrong != "") || err != nil && !strings.Contains(err.Error(), tt.wrong) {
			t.Errorf("%q: error %v, want %q", tt.texts, err, tt.wrong)
		}
		var said []string
		for d := range quantity.Dimension(20) {
			if text := g.Notice(d); text != "" {
				said = append(said, text)
			}
		}
		if got := strings.Join(said, "; "); got != tt.want {
			t.Errorf("%q: %q, want %q", tt.texts, got, tt.want)
		}
	}
}

func TestAUnitTakesThePlaceOfAnotherOfItsKindAlone(t *testing.T) {
	g, err := Read("N·m", "mm")
	if err != nil {
		t.Fatal(err)
	}
	inch := g.Sends(quantity.Inch)
	if u, _ := inch.Unit(quantity.LengthKind); u != quantity.Inch {
		t.Errorf("it sends %s", u)
	}
	if u, _ := g.Unit(quantity.LengthKind); u != quantity.Millimetre {
		t.Errorf("the one before now sends %s", u)
	}
	if u, told := inch.Without(quantity.TorqueKind).Unit(quantity.TorqueKind); told {
		t.Errorf("it still sends %s", u)
	}
	if u, _ := inch.Unit(quantity.TorqueKind); u != quantity.NewtonMetre {
		t.Errorf("taking a unit away from one took it from another: %s", u)
	}
}

func TestOnlyABareFigureOfAToldKindGetsAUnit(t *testing.T) {
	g, err := Read("N·m", "°")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		text string
		kind quantity.Dimension
		want string
	}{
		{"24.6", quantity.TorqueKind, "24.6 N·m"},
		{"24,6", quantity.TorqueKind, "24,6 N·m"},
		{"-24.6", quantity.TorqueKind, "-24.6 N·m"},
		{"91", quantity.AngleKind, "91°"},
		{"24.6", quantity.LengthKind, "24.6"},
		{"24.6 lbf·ft", quantity.TorqueKind, "24.6 lbf·ft"},
		{"24.6 25.1", quantity.TorqueKind, "24.6 25.1"},
		{"1.2.3", quantity.TorqueKind, "1.2.3"},
		{"24.", quantity.TorqueKind, "24."},
		{"OL", quantity.TorqueKind, "OL"},
		{"", quantity.TorqueKind, ""},
	} {
		if got := g.Complete(tt.text, tt.kind); got != tt.want {
			t.Errorf("%q as a %s: %q, want %q", tt.text, tt.kind, got, tt.want)
		}
		c := g.Reading(walk.Command{Reading: tt.text, Facts: map[string]string{"wrench": "old"}}, tt.kind)
		sent := ""
		if tt.want != tt.text {
			sent = "sent " + tt.text
		}
		if c.Reading != tt.want || c.Facts[fact] != sent || c.Facts["wrench"] != "old" {
			t.Errorf("%q as a %s: %+v", tt.text, tt.kind, c)
		}
	}
}

const sheet = `format = 1
[procedure]
name      = "Close"
direction = "close"
source    = "invented"
[group.a]
thread = "M8x1.25"
[group.a.at]
A1 = [0, 0]
[group.s]
thread = "M8x1"
[group.s.at]
S1 = [70, 0]
[[pass]]
name   = "All"
groups = ["a"]
each   = [{ loosen = "fully" }, { remove = true }, { torque = "20 lbf·ft" }, { loosen = "1/4 turn" }, { torque = "20 N·m" }, { turn = "2 flats" }, { verify = "at least 30 N·m" }]
[[pass]]
name      = "Stretch"
fasteners = ["S1"]
stretch   = "5 thou to 6 thou"
[[check]]
before = "All"
ask    = "Clean?"
[[check]]
after   = "Stretch"
measure = "float"
max     = "0.2 mm"
[[check]]
after   = "Stretch"
measure = "preload"
min     = "2 kN"
`

func TestWhatAnItemTakes(t *testing.T) {
	p, problems := read.Procedure("sheet.toml", []byte(sheet))
	if p == nil {
		t.Fatal(problems)
	}
	want := map[string]string{
		"All/A1/3": "lbf·ft", "All/A1/4": "°", "All/A1/5": "N·m", "All/A1/6": "°", "All/A1/7": "N·m", "Stretch/S1": "thou", "check:float": "mm", "check:preload": "kN",
	}
	seen := 0
	for _, it := range walk.New(plan.Of(p)).Items {
		u, takes := Wanted(&it)
		if got := want[it.Key().String()]; takes != (got != "") || takes && u.Symbol() != got {
			t.Errorf("%s takes %v, %q; want %q", it.Key(), takes, u, got)
		}
		if takes {
			seen++
		}
	}
	if _, takes := Wanted(nil); takes || seen != len(want) {
		t.Errorf("%d items take a figure, want %d; and nothing takes one: %v", seen, len(want), takes)
	}
}
