package words

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec/near"
)

// FactsIn reads how a thing was found: "scored, box 2, bag 7, measured 0.8 mm,
// where TEXT, face TEXT, goes back, piece 2, not to be used again, because REASON". The
// parts are set apart by commas; the others than the condition begin with their
// key. The condition is one of walk.Conditions, or any words. A comma between
// digits is a decimal comma; where, face and because may hold commas themselves.
// What could be a fact or part of other words is asked back: words in quotes are
// taken as they are.
func FactsIn(text string) (facts map[string]string, reason string, err error) {
	r := factReader{facts: map[string]string{}}
	for _, part := range factParts(text) {
		if err := r.take(part); err != nil {
			return nil, "", err
		}
	}
	return r.facts, r.reason, nil
}

type factReader struct {
	facts  map[string]string
	reason string
	last   string // key whose words may go on behind a comma
	quote  bool   // the reason was in quotes
}

var used = map[string]string{"not to be used again": "no", "not used again": "no", "to be used again": "yes", "used again": "yes"}

// inside are the ways to say that something may be in the engine, or is not after all.
var inside = map[string]string{"may be in the engine": "yes", "may be inside": "yes", "perhaps in the engine": "yes", "not in the engine": "no", "not inside": "no"}

// SaysInside reports whether words say that something may be in the engine, or is not.
func SaysInside(text string) bool { return inside[strings.ToLower(strings.TrimSpace(text))] != "" }

func (r *factReader) take(part string) error {
	key, value, _ := strings.Cut(part, " ")
	key, value = strings.ToLower(key), strings.TrimSpace(value)
	words, quoted := unquoted(part)
	switch {
	case part == "", quoted && strings.TrimSpace(words) == "":
	case r.reason != "":
		if !r.quote && startsFact(part) {
			return inReason(part)
		}
		r.reason += ", " + part
	case key == "because" && value != "":
		if r.reason, r.quote = unquoted(value); !r.quote && startsFact(value) {
			return inReason(value)
		}
	case quoted:
		r.describe(words)
	case used[strings.ToLower(part)] != "":
		return saidOnce(r.facts, walk.Again, used[strings.ToLower(part)])
	case inside[strings.ToLower(part)] != "":
		return saidOnce(r.facts, walk.Inside, inside[strings.ToLower(part)])
	case value == "" && slices.Contains(walk.Conditions, key):
		if was := r.facts[walk.Condition]; slices.Contains(walk.Conditions, was) {
			return saidOnce(r.facts, walk.Condition, key)
		}
		r.describe(key)
	case value != "" && (slices.Contains(walk.FactKeys, key) || key == walk.OfPiece) && key != walk.Condition:
		r.last = key
		return saidOnce(r.facts, key, value)
	case r.last == walk.Where || r.last == walk.Face:
		r.facts[r.last] += ", " + part
	default:
		return r.free(part)
	}
	return nil
}

// free takes words on the condition, unless they hold what may be a fact.
func (r *factReader) free(part string) error {
	said := strings.Fields(part)
	if low := strings.ToLower(part); slices.Contains(walk.FactKeys, low) || low == "because" {
		return fmt.Errorf("%s what? Write it with its words, such as: box 2", part)
	}
	if len(said) == 2 && said[1][0] >= '0' && said[1][0] <= '9' {
		if n := near.Best(strings.ToLower(said[0]), walk.FactKeys); n != "" {
			return fmt.Errorf("%q: did you mean %s %s? If these are words on its condition, put them in quotes", part, n, said[1])
		}
	}
	for i, word := range said {
		switch low := strings.ToLower(word); {
		case i > 0 && low == "because" && i+1 < len(said):
			if err := r.take(strings.Join(said[:i], " ")); err != nil {
				return err
			}
			return r.take(strings.Join(said[i:], " "))
		case i > 0 && i+1 < len(said) && (low == walk.Box || low == walk.Bag || low == walk.Size):
			return fmt.Errorf("%q: is %q a fact of its own? Then a comma goes before it; if it belongs to the words, put them in quotes", part, strings.Join(said[i:], " "))
		}
	}
	r.describe(part)
	return nil
}

func (r *factReader) describe(words string) {
	r.facts[walk.Condition] = strings.TrimPrefix(r.facts[walk.Condition]+", "+words, ", ")
	r.last = ""
}

// startsFact reports whether words begin as a fact does: "box 3", "good".
func startsFact(text string) bool {
	key, value, _ := strings.Cut(strings.ToLower(text), " ")
	return value == "" && slices.Contains(walk.Conditions, key) || value != "" && slices.Contains(walk.FactKeys, key) || key == "renew" || used[strings.ToLower(text)] != ""
}

func inReason(part string) error {
	return fmt.Errorf("%q stands in the reason: is it a fact of its own? Then it goes before because; if it is part of the reason, put the reason in quotes: because \"…\"", part)
}

// Reason takes the words of a reason. Those that begin like a fact or a command
// are asked back; in quotes they are taken as they are.
func Reason(text string) (string, error) {
	if words, quoted := unquoted(text); quoted {
		return words, nil
	}
	for _, part := range factParts(text) {
		key, value, _ := strings.Cut(strings.ToLower(part), " ")
		fact := value != "" && value[0] >= '0' && value[0] <= '9' && slices.Contains([]string{walk.Box, walk.Bag, walk.Size}, key)
		if fact || value != "" && (key == "renew" || key == "found") {
			return "", fmt.Errorf("%q stands in the reason: is it a thing of its own? Then say it by itself; if it is the reason, put the reason in quotes", part)
		}
	}
	return text, nil
}

// unquoted takes the quotes off a text that stands in quotes whole.
func unquoted(text string) (words string, was bool) {
	open, shut, ok := quoted(text)
	if !ok || len(text) <= len(open)+len(shut) || !strings.HasSuffix(text, shut) {
		return text, false
	}
	return strings.TrimSpace(text[len(open) : len(text)-len(shut)]), true
}

func saidOnce(facts map[string]string, key, value string) error {
	if facts[key] != "" {
		return fmt.Errorf("%s is said twice, %s and %s; say it once", key, facts[key], value)
	}
	facts[key] = value
	return nil
}

// factParts splits at commas that stand neither between two digits nor in quotes.
func factParts(text string) []string {
	digit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	var parts []string
	from, shut, past := 0, "", 0
	for i := range len(text) {
		if i < past {
			continue
		}
		if open, end, ok := quoted(text[i:]); shut == "" && ok && open != "'" && strings.Contains(text[i+len(open):], end) {
			shut, past = end, i+len(open)
			continue
		}
		if shut != "" {
			if strings.HasPrefix(text[i:], shut) {
				shut = ""
			}
			continue
		}
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
