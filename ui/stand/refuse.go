package stand

import (
	"strings"

	"evenpull/procedures/walk"
)

// refusalText words a refusal with the keys that lead on from it.
func refusalText(r *walk.Refusal) string {
	text := r.Error()
	var ways []string
	for _, w := range r.Ways {
		if way := wayText(w); way != "" {
			ways = append(ways, way)
		}
	}
	if len(ways) > 0 {
		text += ": " + strings.Join(ways, ", or ")
	}
	return text
}

// wayText names the key of a way on. What is asked for with it is asked there.
func wayText(w walk.Way) string {
	if w.Mark != "" {
		return "leave, then evenpull mark TAG " + w.Target + " " + w.Mark
	}
	switch w.Do {
	case walk.Confirm:
		if w.Needs != "" {
			return "r gives the reading"
		}
		return "enter confirms it"
	case walk.Settle:
		if w.Needs == walk.ByRepair {
			return "enter says what was done"
		}
		return ""
	case walk.Later:
		return "b asks at the end"
	case walk.Measure:
		return "r gives the figure"
	case walk.Yes:
		return "y for yes"
	case walk.No:
		return "n for no, and why"
	case walk.Renew:
		return "n shows new pieces"
	case walk.Repair:
		return "enter says how it was repaired"
	case walk.Undo:
		return "u takes it back"
	case walk.Problem:
		if w.Needs != "a reason" {
			return "p, then " + w.Needs
		}
		return "p, then " + w.Target + ": and why"
	case walk.Reseal:
		return "e seals afresh"
	case walk.Account:
		return "a, then x: why it does not go back"
	case walk.Clean:
		return "a, then c: cleaned"
	case walk.Stop:
		return "s stops it for good"
	case walk.FinishUp:
		return "d closes the walk"
	case walk.Note:
		return "m keeps a note"
	}
	return ""
}
