package quantity

import (
	"math/big"
	"strings"
)

// ParseTorqueSpan reads what a sheet allows: "22 N·m", "37 to 43 N·m",
// "27 ± 2 N·m", "27 N·m ± 5 %", "at least 122 N·m". The error is a *ParseError.
func ParseTorqueSpan(s string) (Span[Torque], error) { return parseSpan[Torque](s) }

// ParseAngleSpan reads "90°", "90° to 94°", "1/4 turn", "90 ± 2°".
// The error is a *ParseError.
func ParseAngleSpan(s string) (Span[Angle], error) { return parseSpan[Angle](s) }

// ParseLengthSpan reads "0.12 mm to 0.15 mm", "0.002 to 0.004 in", "at most 5 thou".
// The error is a *ParseError.
func ParseLengthSpan(s string) (Span[Length], error) { return parseSpan[Length](s) }

func parseSpan[T Amount[T]](s string) (Span[T], error) {
	text, f := tidy(s)
	var raw rawSpan
	var t T
	if f == nil {
		raw, f = spanOf(text, t.Unit().Dimension())
	}
	if f != nil {
		return Span[T]{}, f.of(s)
	}
	held := func(a *amount) *T {
		if a == nil {
			return nil
		}
		v := t.with(*a)
		return &v
	}
	return Span[T]{Low: held(raw.low), High: held(raw.high), Nominal: held(raw.nominal), form: raw.form, give: raw.give}, nil
}

// limits are the words for a limit on one side, the longer ones first.
var limits = []struct {
	word string
	form form
}{
	{"at least", atLeast}, {"not less than", atLeast}, {"minimum", atLeast}, {"min", atLeast}, {"≥", atLeast}, {">=", atLeast},
	{"at most", atMost}, {"not more than", atMost}, {"maximum", atMost}, {"max", atMost}, {"up to", atMost}, {"≤", atMost}, {"<=", atMost},
}

func spanOf(text string, d Dimension) (rawSpan, *fault) {
	for _, l := range limits {
		if rest, ok := cutFold(text, l.word); ok {
			a, f := one(strings.TrimLeft(rest, " ."), d)
			if l.form == atLeast {
				return rawSpan{low: &a, form: atLeast}, f
			}
			return rawSpan{high: &a, form: atMost}, f
		}
	}
	for _, sign := range []string{"±", "+/-", "+-"} {
		if left, right, ok := strings.Cut(text, sign); ok {
			return tolerance(strings.TrimSpace(left), strings.TrimSpace(right), d)
		}
	}
	if nominal, over, under, ok := cutOneSided(text); ok {
		return lopsided(nominal, over, under, d)
	}
	left, right, ok := cutRange(text)
	if !ok {
		a, f := one(text, d)
		return rawSpan{low: &a, high: &a, nominal: &a}, f
	}
	low, high, f := pair(left, right, d)
	if f == nil && low.compare(high) >= 0 {
		f = &fault{"the range does not go up", "write the smaller figure first"}
	}
	return rawSpan{low: &low, high: &high, form: between}, f
}

// cutFold cuts a leading word in any case.
func cutFold(s, word string) (string, bool) {
	if len(s) < len(word) || !strings.EqualFold(s[:len(word)], word) {
		return s, false
	}
	return s[len(word):], true
}

// cutRange splits "37 N·m to 43 N·m" and "37–43 N·m" where a figure follows the
// word or dash; the dash of "ft-lb" has none after it.
func cutRange(text string) (left, right string, ok bool) {
	for i := range text {
		for _, mark := range []string{" to ", "to ", "–", "—", "−", "-"} {
			rest, found := cutFold(text[i:], mark)
			rest = strings.TrimLeft(rest, " ")
			if found && i > 0 && opensFigure(rest, mark, wholeBefore(text[:i])) && !exponentSign(text, i) && !mixedAfter(wholeBefore(text[:i]), text[i:]) {
				return strings.TrimSpace(text[:i]), rest, true
			}
		}
	}
	return "", "", false
}

// opensFigure reports whether a figure follows the word or dash of a range; before it
// stands a whole number or "". The half of "1-½" is no end of a range, and only words
// stand between figures that are written out.
func opensFigure(rest, mark, whole string) bool {
	if notFigure(rest) == nil {
		return true
	}
	if vulgar, _ := cutVulgar(rest); vulgar != nil && strings.Trim(whole, "0") == "" {
		return true
	}
	_, _, f := number(rest)
	return f == nil && strings.Contains(mark, "to")
}

// wholeBefore is the whole number a text ends in; "" if it ends in another figure, such as 1/4.
func wholeBefore(text string) string {
	i := len(text)
	for i > 0 && digitAt(text, i-1) {
		i--
	}
	if i > 0 && strings.IndexByte("/.,", text[i-1]) >= 0 {
		return ""
	}
	return text[i:]
}

// exponentSign reports whether the dash at i belongs to a figure such as 1e-3.
func exponentSign(text string, i int) bool {
	return i >= 2 && (text[i-1] == 'e' || text[i-1] == 'E') && digitAt(text, i-2)
}

// pair reads two figures in one unit, which may be written once, at the end.
func pair(left, right string, d Dimension) (a, b amount, f *fault) {
	if b, f = one(right, d); f != nil {
		return a, b, f
	}
	n, rest, f := number(left)
	if f != nil {
		return a, b, f
	}
	if rest == "" {
		a, f = n.as(b.unit, d)
		return a, b, f
	}
	if a, f = one(left, d); f == nil && a.unit != b.unit {
		f = &fault{"its two figures are in different units", "write both in " + a.unit.Symbol()}
	}
	return a, b, f
}

// tolerance reads the two sides of "27 ± 2 N·m" or "27 N·m ± 5 %".
func tolerance(left, right string, d Dimension) (rawSpan, *fault) {
	share, isPercent := strings.CutSuffix(right, "%")
	if isPercent {
		return percentOf(left, strings.TrimSpace(share), d)
	}
	nominal, give, f := pair(left, right, d)
	if f != nil {
		return rawSpan{}, f
	}
	return spread(nominal, give.rat(), offset, give.rat())
}

// cutOneSided splits "90° +5/-0" and "27 +2 −1 N·m".
func cutOneSided(text string) (nominal, over, under string, ok bool) {
	nominal, rest, ok := strings.Cut(text, "+")
	if !ok || strings.HasSuffix(nominal, "e") || strings.HasSuffix(nominal, "E") {
		return "", "", "", false
	}
	for _, dash := range []string{"-", "−", "–"} {
		if over, under, ok = strings.Cut(rest, dash); ok {
			return strings.TrimSpace(nominal), strings.Trim(over, " /"), strings.TrimSpace(under), true
		}
	}
	return "", "", "", false
}

// lopsided makes the range of a figure with a tolerance that differs by side.
// The unit may stand at the figure or at the end.
func lopsided(nominal, over, under string, d Dimension) (rawSpan, *fault) {
	if _, rest, f := number(under); f == nil && rest == "" {
		_, unit, _ := number(nominal)
		under += " " + unit
	}
	mid, less, f := pair(nominal, under, d)
	if f != nil {
		return rawSpan{}, f
	}
	n, rest, f := number(over)
	if f != nil {
		return rawSpan{}, f
	}
	more, f := n.as(mid.unit, d)
	if f != nil {
		return rawSpan{}, f
	}
	if rest != "" {
		a, f := one(over, d)
		if f != nil || a.unit != mid.unit {
			return rawSpan{}, &fault{"its tolerance is in another unit than its figure", "write both in " + mid.unit.Symbol()}
		}
	}
	low := mid.minus(less)
	high := mid.plus(more)
	if low.rat().Sign() <= 0 || low.compare(high) >= 0 {
		return rawSpan{}, &fault{"its tolerance leaves no range", "write it as 27 +2/-1 N·m"}
	}
	return rawSpan{low: &low, high: &high, nominal: &mid, form: between}, nil
}

func percentOf(left, share string, d Dimension) (rawSpan, *fault) {
	nominal, f := one(left, d)
	if f != nil {
		return rawSpan{}, f
	}
	n, rest, f := number(share)
	if f != nil {
		return rawSpan{}, f
	}
	if rest != "" || n.low != "" {
		return rawSpan{}, &fault{"after ± comes " + quote(share+" %"), "write the tolerance as ± 5 %"}
	}
	by := new(big.Rat).Mul(nominal.rat(), over(n.value, 100))
	return spread(nominal, by, percent, n.value)
}

// spread makes the span of a figure and what it may be off by, in its unit.
func spread(nominal amount, by *big.Rat, form form, give *big.Rat) (rawSpan, *fault) {
	low := amount{new(big.Rat).Sub(nominal.rat(), by), nominal.unit, false}
	high := amount{new(big.Rat).Add(nominal.rat(), by), nominal.unit, false}
	switch {
	case by.Sign() == 0:
		return rawSpan{}, &fault{"its tolerance is 0", "leave the ± out, or write how far it may be off"}
	case low.rat().Sign() <= 0:
		return rawSpan{}, &fault{"its tolerance leaves nothing of the figure", "write the figure first: 27 ± 2 N·m"}
	}
	return rawSpan{low: &low, high: &high, nominal: &nominal, form: form, give: give}, nil
}
