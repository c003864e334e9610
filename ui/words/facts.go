package words

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/procedures/walk"
)

// FactsIn reads how a thing was found: "scored, box 2, bag 7, measured 0.8 mm,
// where TEXT, face TEXT, goes back, because REASON". The parts are set apart by
// commas; one of walk.Conditions stands alone, the others begin with their key.
// A comma between digits is a decimal comma; where, face and because may hold
// commas themselves.
func FactsIn(text string) (facts map[string]string, reason string, err error) {
	facts = map[string]string{}
	last := ""
	for _, part := range factParts(text) {
		key, value, _ := strings.Cut(part, " ")
		value = strings.TrimSpace(value)
		switch low := strings.ToLower(key); {
		case part == "":
		case reason != "":
			reason += ", " + part
		case low == "because" && value != "":
			reason = value
		case value == "" && slices.Contains(walk.Conditions, low):
			key, value = walk.Condition, low
			err = saidOnce(facts, key, value)
		case value != "" && slices.Contains(walk.FactKeys, low):
			last = low
			err = saidOnce(facts, low, value)
		case last == walk.Where || last == walk.Face:
			facts[last] += ", " + part
		default:
			err = fmt.Errorf("%q is neither a condition (%s) nor one of %s with a value", part, strings.Join(walk.Conditions, ", "), strings.Join(walk.FactKeys, ", "))
		}
		if err != nil {
			return nil, "", err
		}
	}
	return facts, reason, nil
}

func saidOnce(facts map[string]string, key, value string) error {
	if facts[key] != "" {
		return fmt.Errorf("%s is said twice, %s and %s; say it once", key, facts[key], value)
	}
	facts[key] = value
	return nil
}

// factParts splits at commas that don't stand between two digits.
func factParts(text string) []string {
	digit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	var parts []string
	from := 0
	for i := range len(text) {
		if text[i] == ',' && !(digit(i-1) && digit(i+1)) {
			parts = append(parts, strings.TrimSpace(text[from:i]))
			from = i + 1
		}
	}
	return append(parts, strings.TrimSpace(text[from:]))
}

// Inspection says what to look for on a piece, what condemns it and what to
// measure on it, a line each; nothing for what the sheet does not say.
func Inspection(look, condemn []string, measure string) (lines []string) {
	if len(look) > 0 {
		lines = append(lines, "look for: "+strings.Join(look, ", "))
	}
	if len(condemn) > 0 {
		lines = append(lines, "condemned by: "+strings.Join(condemn, ", "))
	}
	if measure != "" {
		lines = append(lines, "measure: "+measure)
	}
	return lines
}
