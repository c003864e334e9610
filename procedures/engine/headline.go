package engine

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Headline says in one line what was last done, how long ago, and what comes
// next. A year of silence is nothing out of the ordinary.
func (e Engine) Headline(now time.Time) string {
	if e.Empty() {
		return "nothing is on record; next: take it apart with evenpull walk PROCEDURE --engine " + quoted(e.Tag)
	}
	what, at := e.lastDone()
	return fmt.Sprintf("last: %s, %s (%s); next: %s", what, at.Format(time.DateOnly), ago(at, now), e.next())
}

// lastDone is the newest thing on record.
func (e Engine) lastDone() (string, time.Time) {
	var what string
	var at time.Time
	for _, w := range e.Walks {
		if at.IsZero() || w.Last.After(at) {
			what, at = standing(w.Procedure, string(w.Phase), w.Confirmed, w.Stages), w.Last
		}
	}
	for _, r := range e.events {
		if at.IsZero() || !r.aside && r.At.After(at) {
			what, at = r.Text, r.At
		}
	}
	return what, at
}

func standing(procedure, state string, confirmed, stages int) string {
	if state == string(walk.IsOpen) {
		return fmt.Sprintf("%s left at %d of %d stages", procedure, confirmed, stages)
	}
	return procedure + " " + state
}

// Open gives the walks that can be gone on with, the one left last first.
func (e Engine) Open() []Walk {
	var list []Walk
	for _, w := range e.Walks {
		if w.Phase == walk.IsOpen && w.State != nil {
			list = append(list, w)
		}
	}
	slices.SortStableFunc(list, func(a, b Walk) int { return b.Last.Compare(a.Last) })
	return list
}

func (e Engine) next() string {
	if open := e.Open(); len(open) > 0 {
		return fmt.Sprintf("go on with evenpull walk %s --engine %s", open[0].Source, quoted(e.Tag))
	}
	missing := 0
	for _, b := range e.Buy {
		missing += b.Missing()
	}
	for _, t := range e.Off {
		if t.Work != "" {
			return fmt.Sprintf("%s has to come back from %s", t.Name, t.Work)
		}
	}
	switch {
	case missing > 0:
		return fmt.Sprintf("%d to order, see evenpull parts --engine %s", missing, quoted(e.Tag))
	case len(e.ToClose) > 0:
		return fmt.Sprintf("close it: evenpull walk %s --engine %s", e.ToClose[0], quoted(e.Tag))
	case len(e.Off) > 0:
		return fmt.Sprintf("find a place for what is off and no procedure closes: %d, see evenpull engine %s", len(e.Off), quoted(e.Tag))
	}
	return "nothing is off"
}

func quoted(tag string) string {
	if strings.ContainsFunc(tag, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '.')
	}) || tag == "" {
		return fmt.Sprintf("%q", tag)
	}
	return tag
}

// ago says how long ago a time was, as a person would.
func ago(at, now time.Time) string {
	const day = 24 * time.Hour
	days := int(now.Sub(at) / day)
	switch {
	case now.Before(at.Add(-time.Minute)):
		return "ahead of this clock"
	case days < 1:
		return "within a day"
	case days == 1:
		return "a day ago"
	case days < 60:
		return fmt.Sprintf("%d days ago", days)
	case days < 350:
		return fmt.Sprintf("%d months ago", days/30)
	case days < 550:
		return "a year ago"
	}
	return fmt.Sprintf("%d years ago", (days+182)/365)
}

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
	named  time.Time
	open   record.Summary // left last
	closed record.Summary // ended last
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
	what := standing(s.Procedure, string(s.State), s.Confirmed, s.Stages)
	if s.Last.After(g.Last) || s.Last.Equal(g.Last) && what > g.What {
		g.Last, g.What = s.Last, what
	}
}

func newer(a, b record.Summary) bool {
	return a.Last.After(b.Last) || a.Last.Equal(b.Last) && a.ID > b.ID
}

func (g *group) ledger(l *record.File) {
	for _, ev := range l.Events[:l.Trusted] {
		if ev.Kind == record.Named && !ev.At.Before(g.named) {
			g.Name, g.named = ev.Text, ev.At
		}
		if g.Last.IsZero() || !aside(ev.Kind) && ev.At.After(g.Last) {
			g.Last, g.What = ev.At, brief(ev)
		}
	}
}

// brief words an event of a ledger without what the thing is called.
func brief(ev walk.Event) string {
	thing := strings.TrimPrefix(ev.Item, "part:") + ev.Fastener + ev.Piece
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
		g.Next = fmt.Sprintf("go on with %s", g.open.Procedure)
	case g.closed.Direction == spec.Open:
		g.Next = "it is apart: see evenpull engine " + quoted(g.Tag)
	case g.Records == 0:
		g.Next = "no walk yet"
	default:
		g.Next = "see evenpull engine " + quoted(g.Tag)
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
	text += fmt.Sprintf(": last: %s, %s (%s); next: %s", b.What, b.Last.Format(time.DateOnly), ago(b.Last, now), b.Next)
	if b.Broken > 0 {
		text += fmt.Sprintf("; %d broken", b.Broken)
	}
	return text
}
