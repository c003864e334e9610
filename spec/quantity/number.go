package quantity

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	maxInput    = 64 // bytes; the longest honest figure is half of it
	maxExponent = 15 // 1e15 of anything here is out of bounds already
)

// tidy checks the length and the characters of an input and makes every kind
// of space a plain one.
func tidy(s string) (string, *fault) {
	if len(s) > maxInput {
		return "", &fault{fmt.Sprintf("it is %d bytes long", len(s)), fmt.Sprintf("write a figure of at most %d bytes", maxInput)}
	}
	if !utf8.ValidString(s) {
		return "", &fault{"it is not valid UTF-8", "write it again by hand"}
	}
	for _, r := range s {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return "", &fault{fmt.Sprintf("it holds the invisible character U+%04X", r), "write it again by hand"}
		}
	}
	return slashes.Replace(strings.Join(strings.Fields(s), " ")), nil
}

// slashes brings every slash to one, with no space about it.
var slashes = strings.NewReplacer(" / ", "/", " /", "/", "/ ", "/", " ⁄ ", "/", "⁄", "/", " ∕ ", "/", "∕", "/")

var vulgar = [...]struct {
	sign        rune
	top, bottom int64
}{
	{'½', 1, 2}, {'¼', 1, 4}, {'¾', 3, 4}, {'⅓', 1, 3}, {'⅔', 2, 3}, {'⅙', 1, 6}, {'⅚', 5, 6},
	{'⅛', 1, 8}, {'⅜', 3, 8}, {'⅝', 5, 8}, {'⅞', 7, 8},
}

// cutVulgar takes a sign such as ½ off the front; a nil value when there is none.
func cutVulgar(s string) (value *big.Rat, rest string) {
	r, size := utf8.DecodeRuneInString(s)
	for _, v := range vulgar {
		if v.sign == r {
			return big.NewRat(v.top, v.bottom), strings.TrimLeft(s[size:], " ")
		}
	}
	return nil, s
}

// worded are the figures that sheets write out, the longer ones first: "half a turn".
var worded = []struct {
	words       string
	top, bottom int64
}{
	{"three quarters of a", 3, 4}, {"three quarter", 3, 4}, {"three-quarter", 3, 4},
	{"half a", 1, 2}, {"a half", 1, 2}, {"half", 1, 2},
	{"a quarter", 1, 4}, {"quarter of a", 1, 4}, {"quarter", 1, 4},
	{"one", 1, 1}, {"two", 2, 1}, {"three", 3, 1},
}

// numeral is a figure before its unit is known.
type numeral struct {
	value     *big.Rat
	low, high string // of "20/25", which is a fraction only in a unit that is counted in parts
}

func plainly(value *big.Rat) numeral { return numeral{value: value} }

// number reads the figure at the start of a tidy text: "22", "24,6", ".5",
// "1/4", "1 1/2", "1-1/2", "1½", "1 234". The rest comes back without leading spaces.
func number(s string) (numeral, string, *fault) {
	if value, rest := cutVulgar(s); value != nil {
		return plainly(value), rest, nil
	}
	for _, w := range worded {
		if rest, ok := cutFold(s, w.words+" "); ok {
			return plainly(big.NewRat(w.top, w.bottom)), strings.TrimLeft(rest, " "), nil
		}
	}
	if f := notFigure(s); f != nil {
		return numeral{}, "", f
	}
	literal, rest := cutDecimal(s)
	if !strings.ContainsAny(literal, ".,eE") {
		if n, after, f := fraction(literal, rest); n.value != nil || f != nil {
			return n, after, f
		}
		literal, rest = joinGroups(literal, rest)
	}
	if strings.HasPrefix(rest, "/") && notFigure(rest[1:]) == nil { // "2.5/3", no fraction in any unit
		high, after := cutDecimal(rest[1:])
		return numeral{low: literal, high: high}, strings.TrimLeft(after, " "), nil
	}
	value, f := decimal(literal)
	return plainly(value), strings.TrimLeft(rest, " "), f
}

// as gives the figure its unit, within the bounds of what is read. A slash is a
// fraction in units that are counted in parts; between two torques, degrees or
// millimetres it may as well be a range, so it is asked back.
func (n numeral) as(u Unit, d Dimension) (amount, *fault) {
	if n.low != "" && (n.value == nil || !u.inParts()) {
		return amount{}, &fault{quote(n.low+"/"+n.high) + " may be a range or a fraction",
			Parts{Figure: rising(n.low, n.high), Unit: symbol(u, n.high)}.Text() + "? Write it so, or the fraction as a decimal"}
	}
	return checked(amount{value: n.value, unit: u}, d)
}

// notFigure explains a text that does not start with a figure.
func notFigure(s string) *fault {
	switch {
	case s == "":
		return &fault{"it is empty", "write a figure and its unit, such as 22 N·m"}
	case strings.HasPrefix(s, "-"), strings.HasPrefix(s, "−"), strings.HasPrefix(s, "+"):
		return &fault{"it starts with a sign", "write it without; no figure on a sheet is negative"}
	case digitAt(s, 0), (s[0] == '.' || s[0] == ',') && digitAt(s, 1):
		return nil
	}
	return &fault{"it does not start with a figure", "write a figure and its unit, such as 22 N·m"}
}

func digitAt(s string, i int) bool { return i < len(s) && s[i] >= '0' && s[i] <= '9' }

// digits is how many ASCII digits s has from i on.
func digits(s string, i int) int {
	n := 0
	for digitAt(s, i+n) {
		n++
	}
	return n
}

// cutDecimal splits off digits, points and commas between digits, and an exponent.
func cutDecimal(s string) (literal, rest string) {
	i := 0
	for digitAt(s, i) || i < len(s) && (s[i] == '.' || s[i] == ',') && digitAt(s, i+1) {
		i++
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '-' || s[j] == '+') {
			j++
		}
		if n := digits(s, j); n > 0 {
			i = j + n
		}
	}
	return s[:i], s[i:]
}

// rising writes two figures as the range they may be: "20/25" and "25/20" both as "20 to 25".
func rising(a, b string) string {
	x, f := decimal(a)
	y, g := decimal(b)
	if f == nil && g == nil && x.Cmp(y) > 0 {
		a, b = b, a
	}
	return a + " to " + b
}

// fraction reads "1/4", "1 1/2", "1-1/2", "1½" or "1-½" once the whole number before it
// is known. No value and a nil fault mean that there is no fraction.
func fraction(whole, rest string) (numeral, string, *fault) {
	spaced := strings.TrimLeft(rest, " ")
	sign := spaced
	if strings.Trim(whole, "0") != "" { // "0-½" is a range
		sign = strings.TrimPrefix(spaced, "-")
	}
	if value, after := cutVulgar(sign); value != nil {
		return plainly(value.Add(value, exactly(whole))), after, nil
	}
	hyphened := mixedAfter(whole, rest)
	if hyphened {
		spaced = rest[1:]
	}
	top, after := whole, rest
	mixed := false
	if n := digits(spaced, 0); n > 0 && len(spaced) < len(rest) {
		top, after, mixed = spaced[:n], spaced[n:], true
	}
	n := 0
	if strings.HasPrefix(after, "/") {
		n = digits(after, 1)
	}
	if n == 0 || digitAt(after, n+2) && (after[n+1] == '.' || after[n+1] == ',') {
		return numeral{}, "", nil
	}
	bottom := after[1 : 1+n]
	after = strings.TrimLeft(after[1+n:], " ")
	if strings.Trim(bottom, "0") == "" {
		return numeral{}, "", &fault{"it divides by zero", "write a fraction such as 1/4"}
	}
	value := new(big.Rat).Quo(exactly(top), exactly(bottom))
	switch {
	case !mixed:
		return numeral{value, top, bottom}, after, nil
	case value.Cmp(big.NewRat(1, 1)) >= 0:
		return numeral{}, "", &fault{quote(whole+" "+top+"/"+bottom) + " is not a mixed number", "write it as 1 1/2"}
	}
	n1 := plainly(value.Add(value, exactly(whole)))
	if hyphened { // "20-22/25 N·m" has too many readings
		n1.low, n1.high = whole+"-"+top, bottom
	}
	return n1, after, nil
}

// mixedAfter reports whether rest goes on from a whole number as "-1/2" does. As a
// range it would go down, so it can only be one and a half.
func mixedAfter(whole, rest string) bool {
	if strings.Trim(whole, "0123456789") != "" || strings.Trim(whole, "0") == "" || !strings.HasPrefix(rest, "-") {
		return false
	}
	n := digits(rest, 1)
	if n == 0 || !strings.HasPrefix(rest[1+n:], "/") {
		return false
	}
	m := digits(rest, 2+n)
	return m > 0 && exactly(rest[1:1+n]).Cmp(exactly(rest[2+n:2+n+m])) < 0
}

// joinGroups takes the thousands spaces out of "12 345" (SI Brochure 5.4.4).
func joinGroups(literal, rest string) (string, string) {
	if len(literal) > 3 || literal[0] == '0' {
		return literal, rest
	}
	for strings.HasPrefix(rest, " ") && digits(rest, 1) == 3 {
		literal, rest = literal+rest[1:4], rest[4:]
	}
	if len(literal) > 3 && len(rest) > 1 && (rest[0] == '.' || rest[0] == ',') {
		tail, after := cutDecimal(rest)
		return literal + tail, after
	}
	return literal, rest
}

// decimal reads digits with at most one point or comma, which mean the same; neither
// ever marks a thousand: this program itself prints 2.243 kgf·m.
func decimal(literal string) (*big.Rat, *fault) {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(literal), "e")
	if len(strings.TrimLeft(exponent, "+-0")) > 2 || small(exponent) > maxExponent {
		return nil, &fault{quote(literal) + " is out of all bounds", "write it without an exponent"}
	}
	marks := strings.Count(mantissa, ".") + strings.Count(mantissa, ",")
	if marks > 1 {
		return nil, &fault{quote(literal) + " has more than one point or comma", "leave thousands marks out: 1234.5"}
	}
	mantissa = strings.Replace(mantissa, ",", ".", 1)
	if exponent != "" {
		mantissa += "e" + exponent
	}
	value, ok := new(big.Rat).SetString(mantissa)
	if !ok {
		return nil, &fault{quote(literal) + " is not a figure", "write it as 24.6"}
	}
	return value, nil
}

// small reads a short exponent; anything longer is told apart by its length.
func small(s string) int {
	n := 0
	for i := range len(s) {
		if digitAt(s, i) && n < 1000 {
			n = n*10 + int(s[i]-'0')
		}
	}
	return n
}

// MayBeThousand reports whether a figure or span that is read with decimals could be taken for
// thousands, and how to write those: "1,250 N·m" and "1.250 N·m" are 1.25 N·m, and a
// thousand is "1250 N·m". Of mm and inches nobody means thousands.
func MayBeThousand(s string) (thousand string, ok bool) {
	read, err := ParseAnySpan(s)
	if u := read.Unit(); err != nil || u == Millimetre || u == Inch {
		return "", false
	}
	var out strings.Builder
	for text, _ := tidy(s); text != ""; {
		if literal, rest := cutDecimal(text); literal != "" {
			whole, part, _ := strings.Cut(strings.Replace(literal, ",", ".", 1), ".")
			if len(part) == 3 && len(whole) <= 3 && strings.Trim(whole, "0") != "" && strings.Trim(part, "0123456789") == "" {
				literal, ok = whole+part, true
			}
			out.WriteString(literal)
			text = rest
			continue
		}
		_, size := utf8.DecodeRuneInString(text)
		out.WriteString(text[:size])
		text = text[size:]
	}
	meant, err := ParseAnySpan(out.String())
	if !ok || err != nil {
		return "", false
	}
	return meant.String(), true
}
