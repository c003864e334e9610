package quantity

import (
	"math/big"
	"strings"

	"evenpull/spec/pattern"
)

var (
	oldFraction = pattern.Of(`(?:(\d+) +)?(\d+)/(\d+)`)
	oldForce    = pattern.Of(`(?i)^(.*\d *)(lbs?|pounds?|kgs?|kilograms?)\.?$`)
)

// AsRecorded spells a figure that is refused now as the version that took it read it:
// "20/25 N·m" was 0.8 N·m, "4 kg" a force. It is for records alone, so that what was
// done is shown as it was done; what a person types now is asked back.
func AsRecorded(refused string) string {
	if len(refused) > maxInput {
		return refused
	}
	if m := oldForce.RE().FindStringSubmatch(refused); m != nil {
		refused = m[1] + "lbf"
		if strings.HasPrefix(strings.ToLower(m[2]), "k") {
			refused = m[1] + "kgf"
		}
	}
	return oldFraction.RE().ReplaceAllStringFunc(refused, decimalOf)
}

// decimalOf writes "1/4" or "2 1/4" as a decimal, to more digits than any scale shows.
func decimalOf(text string) string {
	const places = 12
	m := oldFraction.RE().FindStringSubmatch(text)
	value, ok := new(big.Rat).SetString(m[2] + "/" + m[3])
	if !ok {
		return text // over 0
	}
	if m[1] != "" {
		value.Add(value, exactly(m[1]))
	}
	if s, ok := finite(value); ok && len(s) <= places {
		return s
	}
	return value.FloatString(places)
}
