package quantity

import (
	"strings"
	"sync"
)

// names finds a unit by the words people write for it, folded by fold.
// Symbols keep one separator, "·", between a force and a length. Gathered when
// the first unit is read, so that no start of the program pays for it.
var names = sync.OnceValue(gatherNames)

func gatherNames() map[string]Unit {
	m := make(map[string]Unit, 800)
	simple := map[Unit]string{
		Degree: "° º ˚ deg degs degree degrees", Turn: "turn turns rev revs revolution revolutions", Flat: "flat flats",
		Millimetre: "mm millimetre millimetres millimeter millimeters", Micrometre: "µm um micron microns micrometre micrometres micrometer micrometers",
		Inch: `in ins inch inches " ″ ” ''`, Thou: "thou thous thousandth thousandths",
		Newton: "n newton newtons", Kilonewton: "kn kilonewton kilonewtons", PoundForce: pounds, KilogramForce: kilograms,
		Second: "s sec secs second seconds", Minute: "min mins minute minutes", Hour: "h hr hrs hour hours", Day: "d day days",
	}
	for u, words := range simple {
		for _, w := range strings.Fields(words) {
			m[w] = u
		}
	}
	const metres, feet, inches = "m metre metres meter meters", "ft foot feet", "in ins inch inches"
	const centimetres = "cm centimetre centimetres centimeter centimeters"
	addPair(m, NewtonMetre, "n newton newtons", metres, false)
	addPair(m, MillinewtonMetre, "mN millinewton", metres, false)
	addPair(m, CentinewtonMetre, "cn centinewton", metres, false)
	addPair(m, DecinewtonMetre, "dn decinewton", metres, false)
	addPair(m, DecanewtonMetre, "dan decanewton", metres, false)
	addPair(m, KilonewtonMetre, "kn kilonewton", metres, false)
	addPair(m, PoundForceFoot, pounds, feet, true)
	addPair(m, PoundForceInch, pounds, inches, true)
	addPair(m, OunceForceInch, "ozf oz ounce ounces", inches, true)
	addPair(m, KilogramForceMetre, kilograms, metres, true)
	addPair(m, KilogramForceCentimetre, kilograms, centimetres, true)
	return m
}

const (
	pounds    = "lbf lb lbs pound pounds"
	kilograms = "kgf kg kgs kp kilogram kilograms kilopond kiloponds"
)

// addPair adds force and length joined or run together. Either may come first
// where that can mean nothing else: "mkg", but never "mN", a millinewton.
func addPair(m map[string]Unit, u Unit, forces, lengths string, eitherFirst bool) {
	for _, f := range strings.Fields(forces) {
		for _, l := range strings.Fields(lengths) {
			m[f+"·"+l], m[f+l] = u, u
			if eitherFirst {
				m[l+"·"+f], m[l+f] = u, u
			}
		}
	}
}

// fold brings a unit's spelling to the form of names: lower case, every run of
// separators one "·". A leading m or M before N keeps its case, since mN·m and
// MN·m differ by a thousand million.
func fold(s string) string {
	s = strings.Trim(s, " .")
	var b strings.Builder
	joint := false
	for _, r := range s {
		if strings.ContainsRune(" .-·⋅∙•‐‑", r) {
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
	if u, ok := names()[folded]; ok {
		return u, nil
	}
	low := strings.ToLower(folded)
	switch {
	case low == "mnm" || low == "mn·m":
		return 0, &fault{quote(text) + " is easily misread, milli or mega", "write mN·m, N·m or kN·m, with the capitals as they are here"}
	case low == "m" || strings.HasPrefix(low, "metre") || strings.HasPrefix(low, "meter"):
		return 0, &fault{quote(text) + " may be metres or minutes", "write mm for a length, min for a time"}
	case strings.ContainsAny(text, "0123456789"):
		return 0, &fault{"after the figure comes " + quote(text), "give one figure and its unit, such as " + wanted.example()}
	}
	return 0, &fault{quote(text) + " is not a unit known here", "write one of " + symbols(wanted)}
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
