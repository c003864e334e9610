package engine

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Brief is an engine in a list: what can be said without replaying its walks.
type Brief struct {
	Tag     string    `json:"engine"`
	Name    string    `json:"name,omitempty"`
	Records int       `json:"records"`
	Open    int       `json:"open"` // walks that can be gone on with
	Broken  int       `json:"broken,omitempty"`
	Last    time.Time `json:"last"`
	What    string    `json:"what"` // what was last done
	Next    string    `json:"next"`
}

// Overview lists every engine there are records or ledgers of, the one last
// worked on first. Walks without a tag are nobody's.
func Overview(list []record.Summary, ledgers []*record.File) []Brief {
	by := map[string]*group{}
	of := func(tag string) *group {
		key := record.TagKey(tag)
		if by[key] == nil {
			by[key] = &group{Brief: Brief{Tag: spec.Printable(strings.TrimSpace(tag))}}
		}
		return by[key]
	}
	for _, s := range list {
		if record.TagKey(s.Engine) != "" {
			of(s.Engine).summary(s)
		}
	}
	for _, l := range ledgers {
		of(l.Header.Engine).ledger(l)
	}
	var all []Brief
	for _, g := range by {
		all = append(all, g.finished())
	}
	slices.SortFunc(all, func(a, b Brief) int {
		if c := b.Last.Compare(a.Last); c != 0 {
			return c
		}
		return strings.Compare(a.Tag, b.Tag)
	})
	return all
}

// group gathers what a Brief is made of.
type group struct {
	Brief
	named   time.Time
	touched time.Time      // order of What
	open    record.Summary // left last
	closed  record.Summary // ended last
}

func (g *group) summary(s record.Summary) {
	g.Records++
	switch s.State {
	case record.StateOpen:
		g.Open++
		if newer(s, g.open) {
			g.open = s
		}
	case record.StateBroken:
		g.Broken++
	case record.StateDone, record.StateStopped:
		if newer(s, g.closed) {
			g.closed = s
		}
	}
	what := standing(Closing{s.Procedure, record.PlaceKey(s.Place)}.Text(), string(s.State), s.Confirmed, s.Stages)
	if at := s.Touched(); at.After(g.touched) || at.Equal(g.touched) && what > g.What {
		g.touched, g.Last, g.What = at, s.Last, what
	}
}

func newer(a, b record.Summary) bool {
	return a.Touched().After(b.Touched()) || a.Touched().Equal(b.Touched()) && a.ID > b.ID
}

func (g *group) ledger(l *record.File) {
	events := l.Events[:l.Trusted]
	for i, order := range orderOf(l.Header.After, events) {
		ev := events[i]
		if ev.Kind == record.Named && !order.Before(g.named) {
			g.Name, g.named = ev.Text, order
		}
		if g.touched.IsZero() || !aside(ev.Kind) && order.After(g.touched) {
			g.touched, g.Last, g.What = order, ev.At, brief(ev)
		}
	}
}

// brief words an event of a ledger without what the thing is called.
func brief(ev walk.Event) string {
	thing := label(ledgerThing(ev)) + ev.Piece
	switch ev.Kind {
	case record.Sent:
		return fmt.Sprintf("%s sent for %s", thing, ev.Text)
	case record.Named, record.Also, walk.Noted, record.Metered:
		return fmt.Sprintf("%s %s%s", ev.Kind, ev.Text, ev.Reading)
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s", thing, ev.Kind))
}

func (g *group) finished() Brief {
	switch {
	case g.Open > 0:
		g.Next = "go on with " + Closing{g.open.Procedure, record.PlaceKey(g.open.Place)}.Text()
	case g.closed.Direction == spec.Open:
		g.Next = "it is apart: see " + shell.Line("engine", []string{g.Tag})
	case g.Records == 0:
		g.Next = "no walk yet"
	default:
		g.Next = "see " + shell.Line("engine", []string{g.Tag})
	}
	return g.Brief
}

// Line gives a Brief in one line.
func (b Brief) Line(now time.Time) string {
	text := b.Tag
	if b.Name != "" {
		text += fmt.Sprintf(" (%s)", b.Name)
	}
	if b.What == "" {
		return fmt.Sprintf("%s: nothing done yet; next: %s", text, b.Next)
	}
	text += fmt.Sprintf(": last: %s, %s (%s); next: %s", b.What, b.Last.Format(time.DateOnly), spec.Ago(b.Last, now), b.Next)
	if b.Broken > 0 {
		text += fmt.Sprintf("; %d broken", b.Broken)
	}
	return text
}
