package engine

import (
	"fmt"
	"slices"
	"time"

	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Headline says in one line what was last done, how long ago, and what comes
// next. A year of silence is nothing out of the ordinary.
func (e Engine) Headline(now time.Time) string {
	if e.Empty() {
		return "nothing is on record; next: take it apart with " + shell.Line("walk", []string{"PROCEDURE"}, "--engine", e.Tag)
	}
	what, at := e.lastDone()
	return fmt.Sprintf("last: %s, %s (%s); next: %s", what, at.Format(time.DateOnly), spec.Ago(at, now), e.next())
}

// lastDone is the newest thing on record.
func (e Engine) lastDone() (string, time.Time) {
	var what string
	var at, order time.Time
	for _, w := range e.Walks {
		if at.IsZero() || w.order.After(order) {
			what, at, order = standing(Closing{w.Procedure, w.Place}.Text(), string(w.Phase), w.Confirmed, w.Stages), w.Last, w.order
		}
	}
	for _, r := range e.events {
		if at.IsZero() || !r.aside && r.order.After(order) {
			what, at, order = r.Text, r.At, r.order
		}
	}
	return what, at
}

func standing(procedure, state string, confirmed, stages int) string {
	switch {
	case state == string(walk.IsOpen) && stages == 0:
		return procedure + " left open"
	case state == string(walk.IsOpen):
		return procedure + " left at " + walk.StagesText(confirmed, stages)
	}
	return procedure + " " + state
}

// Open gives the walks that can be gone on with, the one left last first.
func (e Engine) Open() []Walk {
	var list []Walk
	for _, w := range e.Walks {
		if w.Phase == walk.IsOpen && w.State != nil && !w.Broken {
			list = append(list, w)
		}
	}
	slices.SortStableFunc(list, func(a, b Walk) int { return b.order.Compare(a.order) })
	return list
}

func (e Engine) next() string {
	if open := e.Open(); len(open) > 0 {
		return "go on with " + shell.Line("walk", []string{open[0].Source}, "--engine", e.Tag, "--place", open[0].Place)
	}
	missing, coming := 0, 0
	for _, b := range e.Buy {
		missing, coming = missing+b.ToOrder(), coming+b.Ordered
	}
	for _, t := range e.Off {
		if t.Work != "" {
			return fmt.Sprintf("%s has to come back from %s", t.Name, t.Work)
		}
	}
	switch {
	case missing > 0:
		return fmt.Sprintf("%d to order, see %s", missing, shell.Line("parts", nil, "--engine", e.Tag))
	case coming > 0:
		return fmt.Sprintf("%d still to come, see %s", coming, shell.Line("parts", nil, "--engine", e.Tag))
	case len(e.closings) > 0:
		c := e.closings[0]
		return "close it: " + shell.Line("walk", []string{c.Procedure}, "--engine", e.Tag, "--place", c.Place)
	case len(e.Faults) > 0:
		return fmt.Sprintf("say what was done about what was found wrong: %d, see %s", len(e.Faults), shell.Line("engine", []string{e.Tag}))
	case len(e.Off) > 0:
		return fmt.Sprintf("find a place for what is off and no procedure closes: %d, see %s", len(e.Off), shell.Line("engine", []string{e.Tag}))
	}
	return "nothing is off"
}
