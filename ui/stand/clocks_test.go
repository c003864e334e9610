package stand

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
)

func TestSealantPastItsTimeAsksToSealAfresh(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1").shows("sealant", "20:00 of 20 min left")
	r.now = r.now.Add(16 * time.Minute)
	r.send(tickMsg{})
	r.shows("4:00 of 20 min left, hurry")
	r.now = r.now.Add(5 * time.Minute)
	r.press("enter").shows("SEALANT PAST ITS WORK TIME", "REFUSED", "e seals afresh")
	r.press("e", "1", "enter").wrote(walk.Resealed).press("y").shows("FIRST SMEAR STARTS THE CLOCK").hides("PAST ITS WORK")
}

// At a pace that comes to an end after the sealant's, it says so while there is time.
func TestAPaceTooSlowForTheSealantIsToldInTime(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	slowly := func(bolts int) *rig {
		for range bolts {
			r.now = r.now.Add(150 * time.Second)
			r.onward()
		}
		return r
	}
	slowly(3).shows("12:27 of 20 min left").hides("hurry")
	slowly(1).shows("9:56 of 20 min left, hurry; at your pace 18 min more")
	r.size(40, 15)
	r.shows("sealant 9:56 left, hurry")
}

// Who only looks on has no key to seal it afresh with, and is told of none.
func TestWhoLooksOnIsToldOfNoKeyForLateSealant(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	state, later := r.model.cfg.State, r.now.Add(25*time.Minute)
	on := newRig(t, caseText(t), func(c *Config) {
		c.State, c.ReadOnly, c.Now = state, "somebody has it", func() time.Time { return later }
	})
	on.shows("SEALANT PAST ITS WORK TIME by 5 min", "open, clean, seal afresh").hides("e seals")
	on.size(40, 15)
	on.shows("SEALANT 5 min", "seal afresh").hides("e seals")
}

func TestAWaitCountsDownAndThenLetsOn(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Settle").shows("4 h in all", "enter when it is over")
	n := len(r.events)
	r.press("enter").count(n).shows("REFUSED", "not over")
	r.now = r.now.Add(4 * time.Hour)
	r.send(tickMsg{})
	r.shows("THE WAIT IS OVER", "enter dismiss").press("enter").count(n).shows("enter go on").press("enter").count(n + 1)
}

func TestOneTickRunsWhileAClockDoes(t *testing.T) {
	r := newRig(t, caseText(t))
	ticks := 0
	r.model.every = func(time.Duration, func(time.Time) tea.Msg) tea.Cmd {
		ticks++
		return func() tea.Msg { return nil }
	}
	r.press("c", "esc")
	if ticks != 0 {
		t.Errorf("%d ticks without a clock on screen", ticks)
	}
	r.toStage("Draw down/M1").press("w", "esc", "o", "esc")
	if ticks != 1 {
		t.Errorf("%d ticks are under way, want 1", ticks)
	}
	r.send(tickMsg{})
	if ticks != 2 {
		t.Errorf("%d ticks were asked for after one came, want 2", ticks)
	}
}
