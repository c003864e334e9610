package engine

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"

	"evenpull/spec"
)

// Price is an amount of money as it was written: an exact decimal and a currency,
// which is any short text. Amounts of one currency add up; nothing is converted.
type Price struct {
	amount   *big.Int // in units of the last decimal
	decimals int
	currency string
}

const (
	mostDigits   = 12
	mostDecimals = 4
	longestMoney = 8 // letters of a currency
)

// ParsePrice reads "12.50 EUR", "EUR 12,50" or "€12.50". A figure without a currency
// is refused, and so is "1,250 EUR", which may be a thousand or one and a quarter.
func ParsePrice(text string) (Price, error) {
	text = strings.TrimSpace(spec.Printable(text))
	bad := func(why string) (Price, error) {
		return Price{}, fmt.Errorf("%q is no price: %s; write it like 12.50 EUR", text, why)
	}
	const digits = "0123456789"
	from, to := strings.IndexAny(text, digits), strings.LastIndexAny(text, digits)+1
	if from < 0 {
		return bad("it has no figure")
	}
	before, figure, behind := strings.TrimSpace(text[:from]), text[from:to], strings.TrimSpace(text[to:])
	currency := before + behind
	switch {
	case strings.ContainsAny(currency, "-−+"):
		return bad("it has a sign")
	case before != "" && behind != "":
		return bad("it has something before the figure and behind it")
	case currency == "":
		return bad("it has no currency")
	case len([]rune(currency)) > longestMoney || strings.IndexFunc(currency, notMoney) >= 0:
		return bad(fmt.Sprintf("%q is no currency", currency))
	}
	whole, part, point := strings.Cut(strings.Replace(figure, ",", ".", 1), ".")
	switch {
	case strings.Trim(whole+part, digits) != "" || point && part == "":
		return bad("the figure is not in digits with one point")
	case len(part) == 3:
		return bad("the figure may be in thousands or in thousandths")
	case len(whole) > mostDigits || len(part) > mostDecimals:
		return bad("the figure is too long")
	}
	amount, _ := new(big.Int).SetString(whole+part, 10)
	return Price{amount, len(part), currencyOf(currency)}, nil
}

func notMoney(r rune) bool {
	return !unicode.IsLetter(r) && !unicode.Is(unicode.Sc, r) && r != '.'
}

// currencyOf writes one currency one way.
func currencyOf(text string) string {
	if text == "€" {
		return "EUR"
	}
	if len(text) == 3 && strings.IndexFunc(text, unicode.IsPunct) < 0 {
		return strings.ToUpper(text)
	}
	return text
}

// Text gives a price as "12.50 EUR".
func (p Price) Text() string { return p.Amount() + " " + p.currency }

// Amount is the figure alone, with a decimal point.
func (p Price) Amount() string {
	digits := fmt.Sprintf("%0*s", p.decimals+1, p.amount)
	if p.decimals == 0 {
		return digits
	}
	at := len(digits) - p.decimals
	return digits[:at] + "." + digits[at:]
}

// Currency is what the figure counts.
func (p Price) Currency() string { return p.currency }

func (p Price) times(n int) Price {
	return Price{new(big.Int).Mul(p.amount, big.NewInt(int64(n))), p.decimals, p.currency}
}

// plus adds an amount of the same currency; the decimals are those of the finer one.
func (p Price) plus(q Price) Price {
	decimals := max(p.decimals, q.decimals)
	return Price{new(big.Int).Add(p.at(decimals), q.at(decimals)), decimals, p.currency}
}

func (p Price) at(decimals int) *big.Int {
	ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals-p.decimals)), nil)
	return ten.Mul(ten, p.amount)
}
