package plain

import (
	"strings"

	"evenpull/procedures/walk"
)

// refusalText words a refusal with the lines that lead on from it.
func refusalText(r *walk.Refusal) string {
	text := r.Error()
	if ways := waysText(r.Ways); ways != "" {
		text += "; type: " + ways
	}
	return text
}

func waysText(ways []walk.Way) string {
	var lines []string
	for _, way := range ways {
		if line := wayText(way); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "  or: ")
}

// wayText is the line to type; what is to be filled in stands in capitals.
func wayText(w walk.Way) string {
	if w.Mark != "" {
		return "quit, then evenpull mark TAG " + w.Target + " " + w.Mark
	}
	line := map[walk.Verb]string{walk.Confirm: "ok", walk.Lose: "lost", walk.FinishUp: "done"}[w.Do]
	if line == "" {
		line = string(w.Do)
	}
	if w.Do == walk.Confirm && w.Needs != "" {
		return "read " + w.Needs
	}
	if w.Do == walk.Settle {
		return map[string]string{walk.ByRepair: "repaired by WHOM, WHAT", walk.ByNew: "replaced WITH WHAT", walk.ByFound: "answer found WHERE", walk.ByProof: "answer not inside, HOW YOU KNOW"}[w.Needs]
	}
	if w.Target != "" {
		line += " " + w.Target
	}
	switch {
	case w.Needs == "a reason":
		line += " REASON"
	case w.Needs == "a remark":
		line += " TEXT"
	case strings.HasPrefix(w.Needs, "its number"):
		line += ", NUMBER  or: " + line + ", none"
	case w.Do == walk.Repair:
		line += " " + repairBlanks
	case w.Needs != "":
		line += " " + w.Needs
	}
	return line
}

const repairBlanks = "insert WHAT, size SIZE, by WHOM, torque FIGURE, engagement LENGTH, drive SIZE"
