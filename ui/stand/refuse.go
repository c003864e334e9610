package stand

import (
	"strings"

	"evenpull/procedures/walk"
	"evenpull/ui/keys"
	"evenpull/ui/things"
)

// refusalText words a refusal with the keys that lead on from it.
func (m Model) refusalText(r *walk.Refusal) string {
	text := r.Error()
	var ways []string
	for _, w := range r.Ways {
		if way := m.keymapOf().way(w); way != "" {
			ways = append(ways, way)
		}
	}
	if len(ways) > 0 {
		text += ": " + strings.Join(ways, ", or ")
	}
	return text
}

// way names the key of a way on. What is asked for with it is asked there.
func (k keymap) way(w walk.Way) string {
	if w.Mark != "" {
		return "leave, then evenpull mark TAG " + w.Target + " " + w.Mark
	}
	switch w.Do {
	case walk.Confirm:
		if w.Needs != "" {
			return keys.That(k.Reading, "gives the reading")
		}
		return keys.That(k.Confirm, "confirms it")
	case walk.Settle:
		if w.Needs == walk.ByRepair || w.Needs == walk.ByFound {
			return keys.That(k.Confirm, "says what was done")
		}
		return ""
	case walk.Problem:
		if w.Needs != "a reason" {
			return keys.Called(k.Problem) + ", then " + w.Needs
		}
		return keys.Called(k.Problem) + ", then " + w.Target + ": and why"
	case walk.Later:
		return keys.That(k.Later, "asks at the end")
	case walk.Measure:
		return keys.That(k.Reading, "gives the figure")
	case walk.Yes:
		return keys.That(k.Yes, "for yes")
	case walk.No:
		return keys.That(k.No, "for no, and why")
	case walk.Renew:
		return keys.That(k.New, "shows new pieces")
	case walk.Repair:
		return keys.That(k.Confirm, "says how it was repaired")
	case walk.Undo:
		return keys.That(k.Undo, "takes it back")
	case walk.Reseal:
		return keys.That(k.Reseal, "seals afresh")
	case walk.Account:
		return keys.Called(k.Things) + ", then " + keys.Called(things.Bindings().Account) + ": why it does not go back"
	case walk.Clean:
		return keys.Called(k.Things) + ", then " + keys.Called(things.Bindings().Clean) + ": cleaned"
	case walk.Stop:
		return keys.That(k.Stop, "stops it for good")
	case walk.FinishUp:
		return keys.That(k.Done, "closes the walk")
	case walk.Note:
		return keys.That(k.Note, "keeps a note")
	}
	return ""
}
