package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strings"
)

// most is the largest value read, in the dimension's first unit. Each is far
// past anything on an engine stand; a figure above it is a slip, but for what the
// rounding of its print in another unit may add: 1 km prints as 39370.079 in.
var most = [...]int64{
	TorqueKind: 1_000_000,          // 1 MN·m
	AngleKind:  360_000,            // a thousand turns
	LengthKind: 1_000_000,          // 1 km
	ForceKind:  1_000_000_000,      // 1 GN
	TimeKind:   100 * 366 * 86_400, // a hundred years

	TemperatureKind: 5000,      // °C
	PressureKind:    100_000,   // bar
	MassKind:        1_000_000, // a tonne
	ShareKind:       1000,
}

// ParseTorque reads one torque, such as "22 N·m", "18.4 ft-lb" or "2,5 mkg".
// The error is a *ParseError.
func ParseTorque(s string) (Torque, error) { return parse[Torque](s) }

// ParseAngle reads one angle, such as "90°", "1 1/4 turns" or "1.5 flats".
// The error is a *ParseError.
func ParseAngle(s string) (Angle, error) { return parse[Angle](s) }

// ParseLength reads one length, such as "0.05 mm", `0.005"` or "5 thou".
// The error is a *ParseError.
func ParseLength(s string) (Length, error) { return parse[Length](s) }

// ParseForce reads one force, such as "18 kN" or "4000 lbf".
// The error is a *ParseError.
func ParseForce(s string) (Force, error) { return parse[Force](s) }

// ParseDuration reads one length of time, such as "20m", "4h", "1h30m" or "1 day".
// The error is a *ParseError.
func ParseDuration(s string) (Duration, error) { return parse[Duration](s) }

// Estimate makes a value from a computed float, in u. It prints rounded, never in full.
// The error is a *ParseError for NaN, an infinity or a unit of another dimension.
func Estimate[T Amount[T]](v float64, u Unit) (T, error) {
	var t T
	shown := fmt.Sprintf("%g %s", v, u.Symbol())
	if want := t.Unit().Dimension(); u.Dimension() != want {
		return t, (&fault{u.Symbol() + " is not a unit of " + want.String(), "use one of " + symbols(want)}).of(shown)
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return t, (&fault{"it is not a number", "check the figures it was computed from"}).of(shown)
	}
	return t.with(amount{new(big.Rat).SetFloat64(v), u, true}), nil
}

// maxStored bounds a marshalled figure: computed fractions are longer than what a person types.
const maxStored = 1024 // bytes

// unmarshal reads a marshalled figure, which may be a long fraction or negative;
// failing that, whatever a person may write.
func unmarshal[T Amount[T]](b []byte) (T, error) {
	var t T
	if a, ok := stored(string(b)); ok && a.unit.Dimension() == t.Unit().Dimension() {
		return t.with(a), nil
	}
	return parse[T](string(b))
}

// stored reads what exactText writes.
func stored(s string) (amount, bool) {
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("-0123456789./", r) })
	if end < 0 || len(s) > maxStored {
		return amount{}, false
	}
	value, ok := new(big.Rat).SetString(s[:end])
	u, unknown := unitNamed(s[end:], 0)
	return amount{value: value, unit: u}, ok && unknown == nil
}

func parse[T Amount[T]](s string) (T, error) {
	var t T
	text, f := tidy(s)
	var a amount
	if f == nil {
		a, f = one(text, t.Unit().Dimension())
	}
	if f != nil {
		return t, f.of(s)
	}
	return t.with(a), nil
}

// one reads a single figure with its unit, of dimension d or of any for 0.
func one(text string, d Dimension) (amount, *fault) {
	if size := signed(text); size > 0 {
		a, f := one(strings.TrimLeft(text[size:], " "), d)
		if f != nil || a.unit.Dimension() != TemperatureKind {
			return amount{}, notFigure(text)
		}
		return checked(a.scale(big.NewRat(-1, 1)), d)
	}
	n, rest, f := number(text)
	if f != nil {
		return amount{}, f
	}
	if d == TimeKind || d == 0 && compound(rest) {
		return times(text, d)
	}
	if rest == "" {
		return amount{}, noUnit(d)
	}
	if len(rest) > 1 && rest[0] == '-' && rest[1] != ' ' { // "1/4-turn"
		rest = rest[1:]
	}
	u, f := unitNamed(rest, d)
	if f != nil {
		return amount{}, f
	}
	return n.as(u, d)
}

// compound reports whether a figure goes on as times do: "h30m".
func compound(rest string) bool {
	word, more := word(rest)
	unit, _ := named(fold(word))
	return more != "" && (strings.EqualFold(word, "m") || unit.Dimension() == TimeKind)
}

// signed is how many bytes the minus sign before a figure takes, 0 without one.
func signed(text string) int {
	for _, sign := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(text, sign); ok && notFigure(strings.TrimLeft(rest, " ")) == nil {
			return len(sign)
		}
	}
	return 0
}

// word cuts the text before the next figure.
func word(rest string) (word, more string) {
	i := strings.IndexAny(rest, "0123456789")
	if i < 0 {
		i = len(rest)
	}
	return strings.TrimSpace(rest[:i]), rest[i:]
}

func noUnit(d Dimension) *fault {
	if d == 0 { // of a measurement: all units there are would fill the screen
		return &fault{unitMissing, "write the unit too, such as " + d.example()}
	}
	return &fault{unitMissing, "write the unit too, such as " + d.example() + "; one of " + symbols(d)}
}

// checked refuses a figure of the wrong dimension, or out of all bounds.
func checked(a amount, d Dimension) (amount, *fault) {
	row := table[a.unit]
	if d != 0 && row.dimension != d {
		return amount{}, &fault{fmt.Sprintf("%s is a unit of %s, not of %s", row.symbol, row.dimension, d),
			"write " + d.String() + " as " + symbols(d)}
	}
	r := a.base()
	if row.dimension == TemperatureKind && r.Cmp(Kelvin.offset()) < 0 {
		return amount{}, &fault{"it is below absolute zero", "check the figure and its unit"}
	}
	if r.Cmp(big.NewRat(most[row.dimension]*1001, 1000)) > 0 {
		return amount{}, &fault{fmt.Sprintf("no %s on an engine is that large", row.dimension), "check the figure and its unit"}
	}
	return a, nil
}

// times reads "20m", "1h30m", "1 day 2 h": hours may follow days, and so on down.
// The sum is kept in the smallest unit named.
func times(text string, d Dimension) (amount, *fault) {
	var sum amount
	for text != "" {
		n, rest, f := number(text)
		if f != nil {
			return amount{}, f
		}
		name, more := word(rest)
		text = more
		a, f := timeOf(n, name, d)
		if f != nil {
			return amount{}, f
		}
		if sum.unit != 0 && a.unit >= sum.unit {
			return amount{}, &fault{"its units do not go from long to short", "write it as 1 h 30 min"}
		}
		if sum.unit != 0 {
			a = a.plus(sum)
		}
		sum = a
	}
	return checked(sum, d)
}

func timeOf(n numeral, word string, d Dimension) (amount, *fault) {
	if word == "" {
		return amount{}, noUnit(d)
	}
	if strings.EqualFold(word, "m") {
		return n.as(Minute, TimeKind)
	}
	u, f := unitNamed(word, TimeKind)
	if f != nil {
		return amount{}, f
	}
	return n.as(u, TimeKind)
}
