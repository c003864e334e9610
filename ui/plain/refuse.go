package plain

import (
	"strings"

	"evenpull/procedures/walk"
)

// refusalText words a refusal with the lines that lead on from it.
func refusalText(r *walk.Refusal) string {
	text := r.Error()
	var lines []string
	for _, way := range r.Ways {
		if line := wayText(way); line != "" {
			lines = append(lines, line)
		}
	}
	if len(lines) > 0 {
		text += "; type: " + strings.Join(lines, "  or: ")
	}
	return text
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
