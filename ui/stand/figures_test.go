package stand

import (
	"testing"

	"evenpull/procedures/walk"
	"evenpull/ui/words"
)

// The figures of the stage in hand lie over the walk and go away again; they
// are called an estimate, and closing them confirms nothing.
func TestFiguresLieOverTheStage(t *testing.T) {
	r := newRig(t, caseText(t))
	for r.model.facts.item.Kind != walk.StageItem {
		r.onward()
	}
	events := len(r.events)
	r.press("i").shows("estimate", "service manual governs", "yield")
	r.press("enter").hides("service manual governs")
	r.count(events)
	r.press("i").press("esc").hides("service manual governs")
	r.count(events)
}

func TestLastTimesFigureStandsAtItsMeasurement(t *testing.T) {
	memory := words.Memory{}
	r := newRig(t, caseText(t), func(c *Config) { c.Memory = memory })
	for r.model.facts.item.Kind != walk.MeasureItem {
		if len(r.model.cfg.State.DueNow()) > 0 {
			r.press("n", "a")
			continue
		}
		r.onward()
	}
	r.hides("last time")
	memory[r.model.facts.item.Key().String()] = "last time 0.11 mm (2023-04-02)"
	r.size(80, 24)
	r.shows("last time 0.11 mm (2023-04-02)")
}
