package stand

import (
	"fmt"
	"slices"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/keys"
)

// clean makes every text that came from outside safe to print.
func clean(cfg Config) Config {
	for _, text := range []*string{&cfg.RecordID, &cfg.Engine, &cfg.Back, &cfg.ReadOnly} {
		*text = printable(*text)
	}
	for _, texts := range []*[]string{&cfg.Heed, &cfg.Notices} {
		*texts = slices.Clone(*texts)
		for i, text := range *texts {
			(*texts)[i] = printable(text)
		}
	}
	return cfg
}

func printable(s string) string { return spec.Printable(s) }

// allConfirmed is after the last item and before done.
func (m Model) allConfirmed() ask {
	p := m.facts.pieces
	if due := p.total - p.done; due > 0 {
		return ask{
			action: "EVERY STAGE IS CONFIRMED, BUT", figure: "NOT YET",
			headline: fmt.Sprintf("%d of %d pieces that must be new are not recorded.", due, p.total),
			detail:   []string{keys.That(m.keymapOf().Confirm, "shows them.")},
		}
	}
	if n := len(m.facts.left); n > 0 {
		return ask{
			action: "EVERY STAGE IS CONFIRMED, BUT", figure: "NOT YET",
			headline: fmt.Sprintf("Left over from taking it apart: %d.", n),
			detail:   []string{keys.That(m.keymapOf().Confirm, "shows them.")},
		}
	}
	if m.cfg.ReadOnly != "" {
		return ask{action: "EVERY STAGE IS CONFIRMED", figure: "READY", headline: "Whoever walks it can close it."}
	}
	return ask{
		action: "EVERY STAGE IS CONFIRMED", figure: "READY",
		headline: keys.That(m.keymapOf().Done, "closes the walk as done."),
		detail:   []string{"After that it can't be undone; the record stays."},
	}
}

// endedDone is the quiet screen after an earned done.
func (m Model) endedDone() ask {
	s := m.cfg.State
	a := ask{quiet: true, action: "CLOSED", figure: "DONE", headline: fmt.Sprintf("All %d %s confirmed.", m.facts.inWalk.total, m.facts.counted)}
	if n := m.facts.pieces.total; n > 0 {
		a.detail = append(a.detail, fmt.Sprintf("Pieces fitted new: %d", n))
	}
	if n := len(s.Deviations); n > 0 {
		a.detail = append(a.detail, fmt.Sprintf("Noted on the way: %d (they are in the record)", n))
	}
	if at, ok := s.CuredAt(); ok {
		a.cautions = append(a.cautions, "no oil before "+at.Format("2006-01-02 15:04")+": the sealant has to cure")
	}
	return m.howToRead(a)
}

// endedStopped is the screen after a stop.
func (m Model) endedStopped() ask {
	s := m.cfg.State
	a := ask{quiet: true, action: "ENDED UNFINISHED", figure: "STOPPED", headline: fmt.Sprintf("%d of %d %s confirmed; this is not done.", m.facts.inWalk.done, m.facts.inWalk.total, m.facts.counted)}
	if n := len(s.Events); n > 0 && s.Events[n-1].Kind == walk.Stopped {
		a.detail = append(a.detail, "Because: "+printable(s.Events[n-1].Text))
	}
	return m.howToRead(a)
}

// howToRead names the commands that show and print the record.
func (m Model) howToRead(a ask) ask {
	if m.cfg.RecordID == "" {
		return a
	}
	a.detail = append(a.detail, "Look at it:  evenpull show "+m.cfg.RecordID, "Print it:    evenpull export "+m.cfg.RecordID+" --format html")
	return a
}
