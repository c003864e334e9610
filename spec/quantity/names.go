package quantity

import "strings"

// simple lists the words people write for a unit, folded by fold.
var simple = [...]struct {
	unit  Unit
	words string
}{
	{Degree, "° º ˚ deg degs degree degrees"}, {Turn, "turn turns rev revs revolution revolutions"}, {Flat, "flat flats"},
	{Millimetre, "mm millimetre millimetres millimeter millimeters"}, {Micrometre, "µm um micron microns micrometre micrometres micrometer micrometers"},
	{Inch, `in ins inch inches " ″ ” ''`}, {Thou, "thou thous thousandth thousandths mil mils"},
	{Newton, "n newton newtons"}, {Kilonewton, "kn kilonewton kilonewtons"}, {PoundForce, "lbf"}, {KilogramForce, "kgf kp kilopond kiloponds"},
	{Second, "s sec secs second seconds"}, {Minute, "min mins minute minutes"}, {Hour, "h hr hrs hour hours"}, {Day, "d day days"},
	{Celsius, "°c ℃ c celsius deg·c degree·c degrees·c degrees·celsius °·c"}, {Fahrenheit, "°f ℉ f fahrenheit deg·f degree·f degrees·f degrees·fahrenheit °·f"}, {Kelvin, "k kelvin kelvins"},
	{Bar, "bar bars"}, {Kilopascal, "kpa kilopascal kilopascals"}, {Megapascal, "mpa megapascal megapascals"},
	{PoundPerSquareInch, "psi lbf/in² lbf/in2 lb/in² lb/in2"}, {KilogramPerSquareCentimetre, "kgf/cm² kgf/cm2 kg/cm² kg/cm2"},
	{Gram, "g gram grams gramme grammes"}, {Ounce, "oz ounce ounces"},
	{Percent, "% percent per·cent pct"},
}

const (
	pounds      = "lbf lb lbs pound pounds"
	kilograms   = "kgf kg kgs kp kilogram kilograms kilopond kiloponds"
	metres      = "m metre metres meter meters"
	centimetres = "cm centimetre centimetres centimeter centimeters"
	feet        = "ft foot feet"
	inches      = "in ins inch inches"
)

// pairs are a force and a length, joined by "·" or run together. Either may
// come first where that can mean nothing else: "mkg", but never "mN", a millinewton.
var pairs = [...]struct {
	unit            Unit
	forces, lengths string
	eitherFirst     bool
}{
	{NewtonMetre, "n newton newtons", metres, false},
	{MillinewtonMetre, "mN millinewton", metres, false},
	{CentinewtonMetre, "cn centinewton", metres, false},
	{CentinewtonMetre, "n newton newtons", centimetres, false}, // N·cm, the same
	{DecinewtonMetre, "dn decinewton", metres, false},
	{DecanewtonMetre, "dan decanewton", metres, false},
	{KilonewtonMetre, "kn kilonewton", metres, false},
	{PoundForceFoot, pounds, feet, true},
	{PoundForceInch, pounds, inches, true},
	{OunceForceInch, "ozf oz ounce ounces", inches, true},
	{KilogramForceMetre, kilograms, metres, true},
	{KilogramForceCentimetre, kilograms, centimetres, true},
}

// named finds a unit by a word folded by fold. It searches the lists as they
// stand: a map of the hundreds of ways to write a torque would have to be
// filled at every start of the program, for the sake of one unit.
func named(folded string) (Unit, bool) {
	for _, s := range simple {
		if listed(s.words, folded) {
			return s.unit, true
		}
	}
	for _, p := range pairs {
		if together(folded, p.forces, p.lengths) || p.eitherFirst && together(folded, p.lengths, p.forces) {
			return p.unit, true
		}
	}
	return 0, false
}

func listed(words, word string) bool {
	for w := range strings.FieldsSeq(words) {
		if w == word {
			return true
		}
	}
	return false
}

// together reports whether text is one of the first words and one of the second,
// with "·" between them or nothing.
func together(text, first, second string) bool {
	for w := range strings.FieldsSeq(first) {
		if rest, ok := strings.CutPrefix(text, w); ok && rest != "" && listed(second, strings.TrimPrefix(rest, "·")) {
			return true
		}
	}
	return false
}

// fold brings a unit's spelling to the form of names: lower case, every run of
// separators one "·". A leading m or M before N keeps its case, since mN·m and
// MN·m differ by a thousand million.
func fold(s string) string {
	s = strings.Trim(s, " .")
	var b strings.Builder
	joint := false
	for _, r := range s {
		if strings.ContainsRune(" .-*·⋅∙•‐‑", r) {
			joint = true
			continue
		}
		if joint {
			b.WriteString("·")
			joint = false
		}
		if r == 'μ' { // the Greek letter for the micro sign
			r = 'µ'
		}
		b.WriteRune(r)
	}
	text := b.String()
	low := strings.ToLower(text)
	if strings.HasPrefix(low, "mn") {
		return text
	}
	return low
}

// unitNamed finds the unit of a text already cleaned by tidy; the remedy names
// the units of the dimension wanted, or all for 0.
func unitNamed(text string, wanted Dimension) (Unit, *fault) {
	folded := fold(text)
	if u, ok := named(folded); ok {
		return u, nil
	}
	low := strings.ToLower(folded)
	switch {
	case listed(pounds, low):
		return 0, &fault{quote(text) + " may be a torque or a force", "lbf·ft (or lbf·in), or a force: lbf? A mass: oz or g"}
	case listed(kilograms, low):
		return 0, &fault{quote(text) + " may be a torque or a force", "kgf·m (or kgf·cm), or a force: kgf? A mass: g"}
	case overLength(low) != 0:
		return 0, &fault{quote(text) + " is a force over a length", "a torque is force times length: " + overLength(low).Symbol() + "?"}
	case low == "mnm" || low == "mn·m":
		return 0, &fault{quote(text) + " is easily misread, milli or mega", "write mN·m, N·m or kN·m, with the capitals as they are here"}
	case low == "m" || strings.HasPrefix(low, "metre") || strings.HasPrefix(low, "meter"):
		return 0, &fault{quote(text) + " may be metres or minutes", "write mm for a length, min for a time"}
	case strings.ContainsAny(text, "0123456789"):
		return 0, &fault{"after the figure comes " + quote(text), "give one figure and its unit, such as " + wanted.example()}
	}
	return 0, &fault{quote(text) + " is not a unit known here", "write one of " + symbols(wanted)}
}

// overLength finds the torque somebody writes as a quotient: "lb/ft", "in/lb". 0: none.
func overLength(folded string) Unit {
	top, bottom, _ := strings.Cut(folded, "/")
	if u, ok := named(strings.Trim(top, "·") + "·" + strings.Trim(bottom, "·")); ok && bottom != "" && u.Dimension() == TorqueKind {
		return u
	}
	return 0
}

// symbols lists the accepted units of a dimension, or of all of them for 0.
func symbols(d Dimension) string {
	var list []string
	for u := Unit(1); u < endOfUnits; u++ {
		if d == 0 || table[u].dimension == d {
			list = append(list, table[u].symbol)
		}
	}
	return strings.Join(list, ", ")
}

// ParseUnit reads a unit alone, as leniently as after a figure: "ft-lb", "Nm", "deg".
// The error is a *ParseError with the units accepted.
func ParseUnit(s string) (Unit, error) {
	text, f := tidy(s)
	if f == nil && text == "" {
		f = &fault{"it is empty", "write one of " + symbols(0)}
	}
	if f != nil {
		return 0, f.of(s)
	}
	u, f := unitNamed(text, 0)
	if f != nil {
		return 0, f.of(s)
	}
	return u, nil
}
