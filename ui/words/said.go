package words

import (
	"fmt"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// What a person types after a command is read the same way at the stand and in
// the plain walk.

// TroubleIn reads "stripped, case": where a thread stripped is a fact of its own.
func TroubleIn(text string) (what string, facts map[string]string) {
	head, where, ok := cutLast(text, ",")
	if where = strings.ToLower(where); ok && (where == walk.InBolt || where == walk.InCase) {
		return head + ", " + where, map[string]string{walk.StrippedAt: where}
	}
	return text, nil
}

// LooseIn reads "M3, M4: it rattles": fasteners before the colon came loose. What
// stands before a colon and is no fastener is part of the reason.
func LooseIn(text string, p *spec.Procedure) (loose []string, reason string) {
	head, rest, ok := strings.Cut(text, ":")
	if !ok {
		return nil, text
	}
	for _, id := range strings.FieldsFunc(head, func(r rune) bool { return r == ',' || r == ' ' }) {
		f := p.Fastener(id)
		if f == nil {
			return nil, text
		}
		loose = append(loose, f.ID)
	}
	if len(loose) == 0 {
		return nil, text
	}
	return loose, strings.TrimSpace(rest)
}

// RepairIn reads how a thread was repaired: "insert wire coil, size M8x1.25, by
// the machine shop, torque as the sheet, engagement 14 mm, drive as the sheet".
func RepairIn(text string) (map[string]string, error) {
	facts := map[string]string{}
	last := ""
	for _, part := range factParts(text) {
		key, value, _ := strings.Cut(part, " ")
		key, value = strings.ToLower(key), strings.TrimSpace(value)
		switch {
		case part == "":
		case isRepairFact(key) && value != "":
			last = key
			if err := saidOnce(facts, key, value); err != nil {
				return nil, err
			}
		case last != "":
			facts[last] += ", " + part
		default:
			return nil, fmt.Errorf("%q is none of: %s; write it like: %s", part, strings.Join(walk.RepairFacts, ", "), RepairExample)
		}
	}
	return facts, nil
}

// RepairExample shows how a repair is said.
const RepairExample = "insert wire coil, size M8x1.25, by the machine shop, torque as the sheet, engagement 14 mm, drive as the sheet"

func isRepairFact(key string) bool {
	for _, k := range walk.RepairFacts {
		if k == key {
			return true
		}
	}
	return false
}

func cutLast(text, sep string) (before, after string, ok bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return text, "", false
	}
	return strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+len(sep):]), true
}
