package read

import (
	"fmt"
	"strings"
	"unicode"

	"evenpull/spec"
	"evenpull/spec/measure"
	"evenpull/spec/quantity"
)

// howMeasured reads kind, readings, spread, inputs and the figures that a kind
// of measurement works with.
func (b *binder) howMeasured(t table, c *spec.Check) {
	how := measure.Setup{Kind: t.choice("kind", measure.Names()), Min: c.Min, Max: c.Max}
	how.Readings = t.count("readings", measure.MaxReadings)
	how.Spread = t.limit("spread")
	how.Labels = t.labels()
	sound := len(t.problems)
	if w := t.length("wanted", "0.12 mm"); t.has("wanted") && len(t.problems) == sound {
		how.Wanted = &w
	}
	how.PitchRadius, how.DialRadius = t.radius("pitch_radius"), t.radius("dial_radius")
	if !t.has("measure") {
		t.refuseOnQuestion()
		return
	}
	if c.Shim != nil {
		how.Stock, how.Ends = c.Shim.Stock, c.Shim.Ends
		if !t.has("kind") && how.Dimension() == quantity.LengthKind {
			how.Kind = measure.Float // a shim says as much
		}
	}
	if t.has("kind") && how.Kind == "" {
		return // reported; what belongs to it is anyone's guess
	}
	kind := how.Of()
	how.Kind = kind.Name
	c.How = how
	t.kindFits(c, kind)
	t.readingsFit(how)
	t.wantedFits(how)
}

func (t table) radius(key string) quantity.Length {
	sound := len(t.problems)
	l := t.length(key, "32 mm")
	if t.has(key) && l.IsZero() && len(t.problems) == sound {
		t.wrong(t.at(key), "give a radius over 0", "%s: %s is 0", t.name, key)
	}
	return l
}

var measureKeys = []string{"inputs", "wanted", "pitch_radius", "dial_radius", "shim"}

func (t table) refuseOnQuestion() {
	for _, key := range append([]string{"kind", "readings", "spread"}, measureKeys[:4]...) {
		if t.has(key) {
			t.wrong(t.n.table[key].keyAt, "leave it out, or measure instead of ask", "%s: %s belongs to a measurement", t.name, key)
		}
	}
}

// kindFits holds what is given against what the kind takes and needs.
func (t table) kindFits(c *spec.Check, kind measure.Kind) {
	for _, key := range measureKeys {
		if t.has(key) && !kind.MayTake(key) && (key != "shim" || t.has("kind")) {
			t.wrong(t.n.table[key].keyAt, "leave it out; it belongs to kind "+kindsTaking(key), "%s: kind %s has no use for %s", t.name, kind.Name, key)
		}
	}
	for _, key := range kind.Needs {
		if !t.has(key) {
			t.wrong(t.at("kind"), "add "+key+` = "32 mm"`, "%s: kind %s needs %s", t.name, kind.Name, key)
		}
	}
	for _, limit := range []struct {
		key string
		at  *quantity.Quantity
	}{{"min", c.Min}, {"max", c.Max}} {
		if kind.Length && limit.at != nil && limit.at.Dimension() != quantity.LengthKind {
			t.wrong(t.at(limit.key), "give a length, such as 0.20 mm", "%s: kind %s measures a length, and %s is %s", t.name, kind.Name, limit.key, limit.at)
		}
	}
	if c.How.Dimension() == quantity.TemperatureKind && (kind.Name != measure.Direct || t.has("spread")) {
		at := "spread"
		if kind.Name != measure.Direct {
			at = "kind"
		}
		t.wrong(t.at(at), "measure it directly, with min and max", "%s: a difference of temperatures is not worked out here", t.name)
	}
	if want := len(measuredInputs(kind)); t.has("inputs") && kind.MayTake("inputs") && len(c.How.Labels) != want {
		t.wrong(t.at("inputs"), fmt.Sprintf("name %d, such as %s", want, strings.Join(measuredInputs(kind), ", ")), "%s: inputs names %d", t.name, len(c.How.Labels))
	}
}

func kindsTaking(key string) string {
	var names []string
	for _, k := range measure.Kinds() {
		if k.MayTake(key) {
			names = append(names, k.Name)
		}
	}
	return strings.Join(names, ", ")
}

func measuredInputs(kind measure.Kind) []string {
	var names []string
	for _, in := range kind.Inputs {
		if !in.Optional && in.Instead == "" {
			names = append(names, in.Label)
		}
	}
	return names
}

// readingsFit: a spread needs readings to lie apart, and the limits' dimension.
func (t table) readingsFit(how measure.Setup) {
	one := how.Readings < 2
	switch {
	case how.Kind == measure.Spread && one:
		t.wrong(t.at("kind"), "add readings = 3, or as many as there are places", "%s: kind spread needs several readings", t.name)
	case how.Kind == measure.Spread && t.has("spread"):
		t.wrong(t.n.table["spread"].keyAt, "write it as max", "%s: the spread is what kind spread measures", t.name)
	case how.Spread != nil && one && how.Kind != measure.Squish:
		t.wrong(t.at("spread"), "add readings = 3", "%s: a single reading has no spread", t.name)
	}
	if how.Spread != nil && (how.Min != nil || how.Max != nil) && how.Spread.Dimension() != how.Dimension() {
		t.wrong(t.at("spread"), "give it in the same kind of unit as the limits", "%s: the spread %s is %s, the limits are %s", t.name, how.Spread, how.Spread.Dimension(), how.Dimension())
	}
}

// wantedFits: what a shim aims at lies between the limits.
func (t table) wantedFits(how measure.Setup) {
	if how.Wanted == nil {
		return
	}
	wanted := quantity.AnyOf(*how.Wanted)
	for _, limit := range []struct {
		at   *quantity.Quantity
		sign int
		word string
	}{{how.Min, -1, "under min"}, {how.Max, 1, "over max"}} {
		if limit.at == nil {
			continue
		}
		if order, err := wanted.Compare(*limit.at); err == nil && order == limit.sign {
			t.wrong(t.at("wanted"), "aim between the limits", "%s: wanted %s is %s %s", t.name, wanted, limit.word, limit.at)
		}
	}
}

// labels reads inputs = ["case depth", "gear width"], the words a reading may use.
func (t table) labels() []string {
	list := t.texts("inputs", "case depth")
	seen := map[string]bool{}
	for i, l := range list {
		at := t.at("inputs")
		if items := t.n.table["inputs"].items; len(items) == len(list) {
			at = items[i].at
		}
		bad := strings.ContainsFunc(l, func(r rune) bool { return !unicode.IsLetter(r) && r != ' ' && r != '-' })
		switch low := strings.ToLower(l); {
		case bad || !unicode.IsLetter([]rune(l)[0]):
			t.wrong(at, "use letters, spaces and hyphens", "%s: %s cannot name an input", t.name, spec.Quote(l))
		case seen[low]:
			t.wrong(at, "give each a word of its own", "%s: two inputs are called %s", t.name, spec.Quote(l))
		default:
			seen[low] = true
		}
	}
	return list
}
