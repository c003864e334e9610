package engine

import (
	"fmt"
	"math/big"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// MeterFact is the fact of a walk's note that says what the engine had run by then.
const MeterFact = "meter"

// meterUnits are what an engine may be counted in, by how people write it.
var meterUnits = map[string]string{"h": "h", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "km": "km", "mi": "mi", "mile": "mi", "miles": "mi"}

const longestMeter = 12 // digits

// ParseMeter reads hours or a distance run, "1240 h", "18000 km" or "11 200.5 miles",
// and gives it back in one spelling, digit by digit as it was read.
func ParseMeter(text string) (string, error) {
	text = spec.Printable(strings.TrimSpace(text))
	at := strings.LastIndexAny(text, "0123456789") + 1
	figure := strings.Replace(strings.ReplaceAll(text[:at], " ", ""), ",", ".", 1)
	unit, known := meterUnits[strings.ToLower(strings.TrimSpace(text[at:]))]
	whole, part, point := strings.Cut(figure, ".")
	if !known || whole == "" || len(figure) > longestMeter || strings.Trim(whole+part, "0123456789") != "" || point && part == "" {
		return "", fmt.Errorf("%q is neither hours nor a distance; write it like 1240 h, 18000 km or 11200 mi", text)
	}
	if whole = strings.TrimLeft(whole, "0"); whole == "" {
		whole = "0"
	}
	if point {
		whole += "." + part
	}
	return whole + " " + unit, nil
}

// MeterBehind reports whether a figure is less than the one before, in the same unit.
func MeterBehind(now, before string) bool {
	a, unit, _ := strings.Cut(now, " ")
	b, unitBefore, _ := strings.Cut(before, " ")
	x, ok := new(big.Rat).SetString(a)
	y, okBefore := new(big.Rat).SetString(b)
	return ok && okBefore && unit == unitBefore && x.Cmp(y) < 0
}

// metered notes what the engine had run when a walk was worked at.
func (f *folder) metered(w *Walk) {
	for _, ev := range w.State.Events {
		text, err := ParseMeter(ev.Facts[MeterFact])
		if ev.Kind != walk.Noted || err != nil {
			continue
		}
		w.Meter = text
		f.add(f.moments.of(ev.Seq), w.ID, func() { f.e.Meter = text })
	}
}
