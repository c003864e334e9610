package quantity

import (
	"math/big"
	"strings"
)

const (
	shortDigits = 5  // significant digits up to which an exact conversion prints as it is
	fullLength  = 60 // bytes up to which a written decimal prints in full; parsers read 64
)

// Parts is a printed figure or span piece by piece, for what draws its digits large
// and its unit apart.
type Parts struct {
	Lead   string // "at least", "at most"
	Figure string // the digits of the one figure, the lower one, or the one to aim for
	To     string // the digits of the upper figure
	Give   string // the digits of a tolerance in the same unit
	Share  string // the digits of a tolerance in percent
	Unit   string // its symbol
}

// Text is the whole of it: "37 to 43 N·m", "90° ± 2°", "at least 122 N·m".
func (p Parts) Text() string {
	text := p.Figure
	switch second := p.To + p.Give; {
	case second == "":
		text += p.closed()
	case p.Give != "":
		text += p.sign() + " ± " + second + p.closed()
	default:
		text += p.sign() + " to " + second + p.closed()
	}
	if p.Share != "" {
		text += " ± " + p.Share + " %"
	}
	if p.Lead != "" {
		text = p.Lead + " " + text
	}
	return text
}

// sign is the unit where it stands at each of two figures: that of degrees does.
func (p Parts) sign() string {
	if p.Unit == Degree.Symbol() {
		return p.Unit
	}
	return ""
}

// closed is the unit as it follows the last figure.
func (p Parts) closed() string {
	if p.Unit == "" || p.sign() != "" {
		return p.Unit
	}
	return " " + p.Unit
}

func (a amount) parts(u Unit) Parts {
	if a.unit == 0 {
		return Parts{Figure: "0"}
	}
	if u.Dimension() != a.unit.Dimension() {
		u = a.unit
	}
	digits := a.digits(u, nil)
	return Parts{Figure: digits, Unit: symbol(u, digits)}
}

// text is the whole figure with its unit.
func (a amount) text(u Unit) string { return a.parts(u).Text() }

// digits is the figure without its unit. Its rounding error stays under 0.1 %,
// and under finest as well unless that is nil.
func (a amount) digits(u Unit, finest *big.Rat) string {
	r, _ := a.in(u)
	if u == Turn {
		if s, ok := turns(r); ok {
			return s
		}
	}
	if s, ok := finite(r); ok && (significant(s) <= shortDigits || !a.computed && u == a.unit && len(s) <= fullLength) {
		return s
	}
	return rounded(r, table[u].scale, finest)
}

// symbol is the unit as it follows a figure: plurals for words.
func symbol(u Unit, digits string) string {
	symbol := u.Symbol()
	one := digits == "1" || (strings.Contains(digits, "/") && !strings.Contains(digits, " "))
	if (u == Turn || u == Flat || u == Day) && !one {
		symbol += "s"
	}
	return symbol
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
// the rounding error under 0.1 % of the value, and under finest unless that is nil or 0.
func rounded(r *big.Rat, decimals int, finest *big.Rat) string {
	limit := new(big.Rat).Abs(r)
	limit.Mul(limit, big.NewRat(1, 1000))
	if finest != nil && finest.Sign() > 0 && finest.Cmp(limit) < 0 {
		limit = finest
	}
	for r.Sign() != 0 && !near(r, decimals, limit) {
		decimals++
	}
	return r.FloatString(decimals)
}

// near reports whether r rounded to that many decimals is off by less than limit.
// With r·10^decimals = q + m/den, it is off by min(m, den-m) / (den·10^decimals).
func near(r *big.Rat, decimals int, limit *big.Rat) bool {
	den := r.Denom()
	power := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil)
	m := new(big.Int).Mul(new(big.Int).Abs(r.Num()), power)
	m.Rem(m, den)
	if rest := new(big.Int).Sub(den, m); rest.Cmp(m) < 0 {
		m = rest
	}
	m.Mul(m, limit.Denom())
	return m.Cmp(power.Mul(power, den).Mul(power, limit.Num())) < 0
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
	return Parts{Figure: s, Unit: symbol(a.unit, s)}.Text()
}
