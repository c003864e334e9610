// Package speech says a walk in sentences for the ear: what is in hand, what was
// just recorded, why something was refused, which clock runs out. A sentence is
// short, its figures are as exact as on the screen, and no sign or unit is left
// for a speech program to guess at. Everything here is a pure function.
package speech

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"evenpull/spec/quantity"
)

// spoken is a unit as one says it, of one and of several.
type spoken struct{ one, many string }

var units = map[quantity.Unit]spoken{
	quantity.NewtonMetre:                 {"newton metre", "newton metres"},
	quantity.PoundForceFoot:              {"pound foot", "pound feet"},
	quantity.KilogramForceMetre:          {"kilogram metre", "kilogram metres"},
	quantity.PoundForceInch:              {"pound inch", "pound inches"},
	quantity.KilogramForceCentimetre:     {"kilogram centimetre", "kilogram centimetres"},
	quantity.MillinewtonMetre:            {"millinewton metre", "millinewton metres"},
	quantity.CentinewtonMetre:            {"centinewton metre", "centinewton metres"},
	quantity.DecinewtonMetre:             {"decinewton metre", "decinewton metres"},
	quantity.DecanewtonMetre:             {"decanewton metre", "decanewton metres"},
	quantity.KilonewtonMetre:             {"kilonewton metre", "kilonewton metres"},
	quantity.OunceForceInch:              {"ounce inch", "ounce inches"},
	quantity.Degree:                      {"degree", "degrees"},
	quantity.Turn:                        {"turn", "turns"},
	quantity.Flat:                        {"flat", "flats"},
	quantity.Millimetre:                  {"millimetre", "millimetres"},
	quantity.Micrometre:                  {"micron", "microns"},
	quantity.Inch:                        {"inch", "inches"},
	quantity.Thou:                        {"thou", "thou"},
	quantity.Newton:                      {"newton", "newtons"},
	quantity.Kilonewton:                  {"kilonewton", "kilonewtons"},
	quantity.PoundForce:                  {"pound of force", "pounds of force"},
	quantity.KilogramForce:               {"kilogram of force", "kilograms of force"},
	quantity.Second:                      {"second", "seconds"},
	quantity.Minute:                      {"minute", "minutes"},
	quantity.Hour:                        {"hour", "hours"},
	quantity.Day:                         {"day", "days"},
	quantity.Celsius:                     {"degree Celsius", "degrees Celsius"},
	quantity.Fahrenheit:                  {"degree Fahrenheit", "degrees Fahrenheit"},
	quantity.Kelvin:                      {"kelvin", "kelvins"},
	quantity.Bar:                         {"bar", "bar"},
	quantity.Kilopascal:                  {"kilopascal", "kilopascals"},
	quantity.Megapascal:                  {"megapascal", "megapascals"},
	quantity.PoundPerSquareInch:          {"pound per square inch", "pounds per square inch"},
	quantity.KilogramPerSquareCentimetre: {"kilogram per square centimetre", "kilograms per square centimetre"},
	quantity.Gram:                        {"gram", "grams"},
	quantity.Ounce:                       {"ounce", "ounces"},
	quantity.Percent:                     {"percent", "percent"},
}

// symbols are the units by what is written behind a figure.
var symbols = sync.OnceValue(func() map[string]spoken {
	list := map[string]spoken{"d": units[quantity.Day], "turns": {"turns", "turns"}, "flats": {"flats", "flats"}, "days": {"days", "days"}}
	for u, said := range units {
		list[u.Symbol()] = said
	}
	return list
})

// signs are what a speech program would leave out or spell.
var signs = map[rune]string{'±': " plus or minus ", '×': " times ", '%': " percent", '°': " degrees", '→': " to ", '=': " equals ", '+': " plus ", '<': " less than ", '>': " more than ", '&': " and "}

// longest is the most characters of a sentence: some twenty seconds of speech.
const longest = 300

// Aloud turns a text of the screen into one line for a speech program: units and
// signs in words, figures as they stand, and nothing in it that a speech program
// or a command line could take for an instruction.
func Aloud(text string) string { return cut(uncut(text)) }

// uncut is a text in words, however long.
func uncut(text string) string {
	var b strings.Builder
	for rest := text; rest != ""; {
		said, n := next(rest, b.String())
		b.WriteString(said)
		rest = rest[n:]
	}
	return tidy(b.String())
}

// next says the beginning of a text and how many bytes that was.
func next(text, before string) (said string, n int) {
	r, size := utf8.DecodeRuneInString(text)
	last, _ := utf8.DecodeLastRuneInString(before)
	inWord := unicode.IsLetter(last) || unicode.IsDigit(last)
	switch {
	case r >= '0' && r <= '9' && !inWord:
		return figure(text)
	case r == '–' && unicode.IsDigit(last):
		return " to ", size
	case signs[r] != "":
		return signs[r], size
	case unicode.IsLetter(r) && !inWord:
		if sym := symbolAt(text); strings.Contains(sym, "·") { // a unit without a figure
			return symbols()[sym].many, len(sym)
		}
	}
	if unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) || strings.ContainsRune(" .,:;?!'-/", r) {
		return string(r), size
	}
	return " ", size
}

// figure says a figure at the beginning of a text with the unit behind it.
func figure(text string) (said string, n int) {
	for n < len(text) && strings.IndexByte("0123456789.,/", text[n]) >= 0 {
		n++
	}
	for n > 0 && strings.IndexByte(".,/", text[n-1]) >= 0 {
		n-- // the end of a sentence, not of a figure
	}
	digits := text[:n]
	rest := strings.TrimPrefix(text[n:], " ")
	if sym := symbolAt(rest); sym != "" {
		unit := symbols()[sym].many
		if digits == "1" || strings.Contains(digits, "/") {
			unit = symbols()[sym].one
		}
		return digits + " " + unit, len(text) - len(rest) + len(sym)
	}
	return digits, n
}

// symbolAt is the longest unit a text begins with, or "".
func symbolAt(text string) string {
	longest := ""
	for sym := range symbols() {
		rest, ok := strings.CutPrefix(text, sym)
		if ok && len(sym) > len(longest) && !letterAt(rest) && !strings.HasPrefix(rest, "·") && (sym != "in" || ends(rest)) {
			longest = sym
		}
	}
	return longest
}

func letterAt(text string) bool {
	r, _ := utf8.DecodeRuneInString(text)
	return text != "" && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// ends tells inches from the word: what comes behind a figure's unit.
func ends(rest string) bool {
	if rest == "" || strings.ContainsAny(rest[:1], ".,:;?!)") {
		return true
	}
	for _, word := range []string{" to ", " is ", " ±", " or "} {
		if strings.HasPrefix(rest, word) {
			return true
		}
	}
	return false
}

// stops takes away what stands before one. It is made once: a sentence comes with each key.
var stops = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer(" ,", ",", " .", ".", " ;", ";", " :", ":", " ?", "?")
})

// tidy leaves one space between words, none before a stop and no dash in front.
func tidy(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	text = stops().Replace(text)
	return strings.TrimLeft(text, " -/.,")
}

// cut ends a long text, at a word unless that takes away half of it.
func cut(text string) string {
	if utf8.RuneCountInString(text) <= longest {
		return text
	}
	text = string([]rune(text)[:longest])
	if i := strings.LastIndexByte(text, ' '); i > len(text)/2 {
		text = text[:i]
	}
	return strings.TrimRight(text, " ,;:")
}
