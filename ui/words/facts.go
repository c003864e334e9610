package words

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/procedures/walk"
)

// FactsIn reads how a thing was found: "scored, box 2, measured 0.8 mm,
// because REASON". The parts are set apart by commas; one of walk.Conditions
// stands alone, the others begin with their key.
func FactsIn(text string) (facts map[string]string, reason string, err error) {
	facts = map[string]string{}
	for part := range strings.SplitSeq(text, ",") {
		part = strings.TrimSpace(part)
		key, value, _ := strings.Cut(part, " ")
		value = strings.TrimSpace(value)
		switch low := strings.ToLower(key); {
		case part == "":
		case value == "" && slices.Contains(walk.Conditions, low):
			facts[walk.Condition] = low
		case low == "because" && value != "":
			reason = value
		case value != "" && slices.Contains(walk.FactKeys, low):
			facts[low] = value
		default:
			return nil, "", fmt.Errorf("%q is neither a condition (%s) nor one of %s with a value", part, strings.Join(walk.Conditions, ", "), strings.Join(walk.FactKeys, ", "))
		}
	}
	return facts, reason, nil
}
