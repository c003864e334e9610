package quantity

import (
	"math/big"
	"strings"
)

const (
	shortDigits = 5  // significant digits up to which an exact conversion prints as it is
	fullLength  = 60 // bytes up to which a written decimal prints in full; parsers read 64
)

// text is the whole figure with its unit.
func (a amount) text(u Unit) string {
	if a.unit == 0 {
		return "0"
	}
	if _, ok := a.in(u); !ok {
		u = a.unit
	}
	digits := a.digits(u)
	return digits + suffix(u, digits)
}

// digits is the figure without its unit.
func (a amount) digits(u Unit) string {
	r, _ := a.in(u)
	if u == Turn {
		if s, ok := turns(r); ok {
			return s
		}
	}
	if s, ok := finite(r); ok && (significant(s) <= shortDigits || !a.computed && u == a.unit && len(s) <= fullLength) {
		return s
	}
	return rounded(r, table[u].scale)
}

// suffix is the unit as it follows a figure: "°" close up, plurals for words.
func suffix(u Unit, digits string) string {
	symbol := u.Symbol()
	if u == Degree {
		return symbol
	}
	one := digits == "1" || (strings.Contains(digits, "/") && !strings.Contains(digits, " "))
	if (u == Turn || u == Flat || u == Day) && !one {
		symbol += "s"
	}
	return " " + symbol
}

// turns prints the part turns a person would say: "1/4", "1 1/2".
func turns(r *big.Rat) (string, bool) {
	den := r.Denom()
	if r.Sign() < 0 || r.IsInt() || !den.IsInt64() || den.Int64() > 12 || 24%den.Int64() != 0 {
		return "", false
	}
	whole, part := new(big.Int).QuoRem(r.Num(), den, new(big.Int))
	s := part.String() + "/" + den.String()
	if whole.Sign() > 0 {
		s = whole.String() + " " + s
	}
	return s, true
}

// finite prints a rational in full if its decimal expansion ends.
func finite(r *big.Rat) (string, bool) {
	if r.IsInt() {
		return r.Num().String(), true
	}
	places, exact := r.FloatPrec()
	if !exact || places > fullLength {
		return "", false
	}
	return r.FloatString(places), true
}

// significant counts the digits of a plain decimal from the first to the last that is not 0.
func significant(s string) int {
	return len(strings.Trim(strings.Replace(strings.TrimPrefix(s, "-"), ".", "", 1), "0"))
}

// rounded prints r with at least the given decimals and as many more as bring
// the rounding error under 0.1 % of the value.
func rounded(r *big.Rat, decimals int) string {
	limit := new(big.Rat).Abs(r)
	limit.Mul(limit, big.NewRat(1, 1000))
	for {
		s := r.FloatString(decimals)
		off := exactly(s)
		off.Sub(off, r)
		if off.Abs(off).Cmp(limit) < 0 || r.Sign() == 0 {
			return s
		}
		decimals++
	}
}

// exactText prints the value so that reading it back gives the same one.
func (a amount) exactText() string {
	if a.unit == 0 {
		return "0"
	}
	s, ok := finite(a.rat())
	if !ok || len(s) > fullLength {
		s = a.rat().RatString()
	}
	return s + suffix(a.unit, s)
}
