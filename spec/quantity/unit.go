// Package quantity holds the figures of a service sheet exactly: torque, angle,
// length, force and time, and what else is measured on an engine, temperature,
// pressure, mass and a share in per cent, each with the unit it was written in.
//
// Values are rational numbers, conversion factors are exact by definition, and
// rounding happens once, at the end: to the nearest binary64 in In, to honest
// decimal digits in Text. Every parser refuses a bare number. All functions are
// pure; values never change once made, so they can be copied and shared freely.
package quantity

import (
	"math/big"
	"strings"
	"sync"
)

// Dimension is the kind of thing a unit measures.
type Dimension uint8

// The dimensions. The zero Dimension belongs to the zero Unit.
const (
	TorqueKind Dimension = iota + 1
	AngleKind
	LengthKind
	ForceKind
	TimeKind
	TemperatureKind
	PressureKind
	MassKind
	ShareKind
)

// String names the dimension: "torque", "angle", "length", "force", "time",
// "temperature", "pressure", "mass" or "share".
func (d Dimension) String() string {
	return [...]string{"nothing", "torque", "angle", "length", "force", "time", "temperature", "pressure", "mass", "share"}[d]
}

// example is a figure for error messages.
func (d Dimension) example() string {
	return [...]string{"0.05 mm or 22 N·m", "22 N·m", "90°", "0.05 mm", "18 kN", "20 min", "120 °C", "7 bar", "412 g", "5 %"}[d]
}

// Unit is a unit of one dimension. It is small and comparable; the zero Unit is none.
type Unit uint8

// The units, dimension by dimension, the first of each being the one that
// zero values and the named float methods (Nm, Degrees, Mm, N) use.
const (
	NewtonMetre Unit = iota + 1
	PoundForceFoot
	KilogramForceMetre
	PoundForceInch
	KilogramForceCentimetre
	MillinewtonMetre
	CentinewtonMetre
	DecinewtonMetre
	DecanewtonMetre
	KilonewtonMetre
	OunceForceInch

	Degree
	Turn
	Flat // a sixth of a turn, the flat of a hexagon

	Millimetre
	Micrometre
	Inch
	Thou // a thousandth of an inch

	Newton
	Kilonewton
	PoundForce
	KilogramForce

	Second
	Minute
	Hour
	Day

	Celsius
	Fahrenheit
	Kelvin

	Bar
	Kilopascal
	Megapascal
	PoundPerSquareInch
	KilogramPerSquareCentimetre

	Gram // kg and lb are taken for a slip in a torque or a force, so they are none here
	Ounce

	Percent
	endOfUnits
)

// unit is what the table knows of a Unit.
type unit struct {
	symbol    string
	dimension Dimension
	factor    string // how many of the dimension's first unit make one of this: decimals or fractions, multiplied
	scale     int    // decimals that a scale in this unit usually shows (common practice, no source)
	offset    string // the first unit's figure at this one's 0; "": 0
}

// Defining values, exact: SI Brochure (prefixes, standard gravity) and
// NIST SP 811 (international inch and avoirdupois pound).
const (
	gravity = "9.80665"         // m/s²
	pound   = "0.45359237"      // kg
	ounce   = pound + "×0.0625" // kg
	inch    = "0.0254"          // m
	foot    = "0.3048"          // m

	perSquareInch = "100000000/64516" // 1/m², of the inch above
)

var table = [endOfUnits]unit{
	NewtonMetre:             {"N·m", TorqueKind, "1", 1, ""},
	PoundForceFoot:          {"lbf·ft", TorqueKind, pound + "×" + gravity + "×" + foot, 1, ""},
	KilogramForceMetre:      {"kgf·m", TorqueKind, gravity, 2, ""},
	PoundForceInch:          {"lbf·in", TorqueKind, pound + "×" + gravity + "×" + inch, 0, ""},
	KilogramForceCentimetre: {"kgf·cm", TorqueKind, gravity + "×0.01", 0, ""},
	MillinewtonMetre:        {"mN·m", TorqueKind, "0.001", 0, ""},
	CentinewtonMetre:        {"cN·m", TorqueKind, "0.01", 0, ""},
	DecinewtonMetre:         {"dN·m", TorqueKind, "0.1", 0, ""},
	DecanewtonMetre:         {"daN·m", TorqueKind, "10", 2, ""},
	KilonewtonMetre:         {"kN·m", TorqueKind, "1000", 3, ""},
	OunceForceInch:          {"ozf·in", TorqueKind, ounce + "×" + gravity + "×" + inch, 0, ""},

	Degree: {"°", AngleKind, "1", 0, ""},
	Turn:   {"turn", AngleKind, "360", 2, ""},
	Flat:   {"flat", AngleKind, "60", 1, ""},

	Millimetre: {"mm", LengthKind, "1", 2, ""},
	Micrometre: {"µm", LengthKind, "0.001", 0, ""},
	Inch:       {"in", LengthKind, "25.4", 3, ""},
	Thou:       {"thou", LengthKind, "0.0254", 1, ""},

	Newton:        {"N", ForceKind, "1", 0, ""},
	Kilonewton:    {"kN", ForceKind, "1000", 1, ""},
	PoundForce:    {"lbf", ForceKind, pound + "×" + gravity, 0, ""},
	KilogramForce: {"kgf", ForceKind, gravity, 0, ""},

	Second: {"s", TimeKind, "1", 0, ""},
	Minute: {"min", TimeKind, "60", 0, ""},
	Hour:   {"h", TimeKind, "3600", 1, ""},
	Day:    {"day", TimeKind, "86400", 1, ""},

	Celsius:    {"°C", TemperatureKind, "1", 0, ""},
	Fahrenheit: {"°F", TemperatureKind, "5/9", 0, "-160/9"},
	Kelvin:     {"K", TemperatureKind, "1", 0, "-273.15"},

	Bar:                         {"bar", PressureKind, "1", 1, ""},
	Kilopascal:                  {"kPa", PressureKind, "0.01", 0, ""},
	Megapascal:                  {"MPa", PressureKind, "10", 2, ""},
	PoundPerSquareInch:          {"psi", PressureKind, pound + "×" + gravity + "×" + perSquareInch + "×0.00001", 0, ""},
	KilogramPerSquareCentimetre: {"kgf/cm²", PressureKind, gravity + "×0.1", 1, ""},

	Gram:  {"g", MassKind, "1", 1, ""},
	Ounce: {"oz", MassKind, ounce + "×1000", 2, ""},

	Percent: {"%", ShareKind, "1", 0, ""},
}

// worked is what the table says of each unit in figures, worked out when it is first asked
// for: a start of the program would pay for all of them otherwise.
var worked [endOfUnits]struct {
	once           sync.Once
	factor, offset *big.Rat
}

func (u Unit) work() {
	worked[u].once.Do(func() {
		factor, row := big.NewRat(1, 1), table[u]
		for decimal := range strings.SplitSeq(row.factor, "×") {
			factor.Mul(factor, exactly(decimal))
		}
		worked[u].factor = factor
		if row.offset != "" {
			worked[u].offset = exactly(row.offset)
		}
	})
}

func (u Unit) factor() *big.Rat { u.work(); return worked[u].factor }

// offset is nil where there is none.
func (u Unit) offset() *big.Rat { u.work(); return worked[u].offset }

// Size is how many of the first unit of its dimension make one of it, rounded once: an
// inch is 25.4, of mm.
func (u Unit) Size() float64 {
	size, _ := u.factor().Float64()
	return size
}

// Symbol is the unit as this program prints it: "N·m", "lbf·ft", "°", "thou".
func (u Unit) Symbol() string { return u.row().symbol }

// String is Symbol.
func (u Unit) String() string { return u.Symbol() }

// MarshalText writes the symbol, for JSON.
func (u Unit) MarshalText() ([]byte, error) { return []byte(u.Symbol()), nil }

// Dimension is what the unit measures; 0 for the zero Unit.
func (u Unit) Dimension() Dimension { return u.row().dimension }

// inParts reports whether figures in this unit are written as fractions: half a turn,
// 3/8 in, 1/2 h, but never half a degree or 3/8 mm.
func (u Unit) inParts() bool {
	switch u {
	case Turn, Flat, Inch, Hour, Day:
		return true
	}
	return false
}

func (u Unit) row() unit {
	if u >= endOfUnits {
		return unit{}
	}
	return table[u]
}

// Units lists the units of a dimension in a stable order, the commonest first.
func Units(d Dimension) []Unit {
	var list []Unit
	for u := Unit(1); u < endOfUnits; u++ {
		if table[u].dimension == d {
			list = append(list, u)
		}
	}
	return list
}

// AllUnits lists every unit there is, dimension by dimension.
func AllUnits() []Unit {
	var list []Unit
	for u := Unit(1); u < endOfUnits; u++ {
		list = append(list, u)
	}
	return list
}

// exactly reads a decimal constant of this file.
func exactly(decimal string) *big.Rat {
	r, ok := new(big.Rat).SetString(decimal)
	if !ok {
		panic("quantity: bad constant " + decimal)
	}
	return r
}

func over(r *big.Rat, n int64) *big.Rat { return new(big.Rat).Mul(r, big.NewRat(1, n)) }
