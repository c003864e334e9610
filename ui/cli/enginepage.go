package cli

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/engine"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// printEngine gives the page of an engine, what matters most first.
func (a *app) printEngine(e engine.Engine) {
	fmt.Fprintln(a.Out, e.Headline(a.Now()))
	title := "engine " + e.Tag
	if e.Name != "" {
		title += ", " + e.Name
	}
	if e.Meter != "" {
		title += ", " + e.Meter
	}
	fmt.Fprintln(a.Out, title)
	var open, off, condemned, away, clean, buy, closed, notes []string
	for _, w := range e.Open() {
		open = append(open, fmt.Sprintf("%s, %d of %d stages, since %s: evenpull walk %s --engine %q", w.Procedure, w.Confirmed, w.Stages, w.Started.Format(time.DateOnly), w.Source, e.Tag))
	}
	for _, t := range e.Off {
		if t.Condemned() {
			condemned = append(condemned, t.Text())
		}
	}
	off = offLines(e.Off)
	away, clean = workLines(e)
	for _, b := range e.Buy {
		if b.Missing() > 0 {
			buy = append(buy, buyLine(b))
		}
	}
	for _, w := range e.Walks {
		if w.Direction == spec.Close && w.Phase == walk.IsDone {
			closed = append(closed, fmt.Sprintf("%s, %s (%s)", w.Last.Format(time.DateOnly), w.Procedure, w.ID))
		}
	}
	for _, n := range e.Notes {
		notes = append(notes, n.At.Format(time.DateOnly)+": "+n.Text)
	}
	a.section("to sort out", e.Problems)
	a.section("open walks", open)
	a.section("condemned or missing", condemned)
	a.section("away for work", away)
	a.section("to clean before anything closes over it", clean)
	a.section("to buy", buy)
	a.section("off", off)
	a.section("still to close", e.ToClose)
	a.section("where the sheets for closing differ from those it was taken apart by", e.AllDifferences())
	a.section("closed", closed)
	a.section("notes", notes)
}

// offLines lists what is off; fasteners of which nothing was noted share a line
// with their like.
func offLines(things []engine.Thing) []string {
	var lines []string
	like := map[string]int{} // line by name
	ids := map[string][]string{}
	for _, t := range things {
		if !t.Fastener() || t.Facts.Text() != "" {
			lines = append(lines, t.Text())
			continue
		}
		if _, ok := like[t.Name]; !ok {
			like[t.Name] = len(lines)
			lines = append(lines, "")
		}
		ids[t.Name] = append(ids[t.Name], t.ID)
	}
	for name, i := range like {
		lines[i] = fmt.Sprintf("%d × %s: %s", len(ids[name]), name, strings.Join(ids[name], " "))
	}
	return lines
}

// section prints a list under its heading with its length; an empty one not at all.
func (a *app) section(heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(a.Out, "\n%s: %d\n", heading, len(lines))
	for _, line := range lines {
		fmt.Fprintf(a.Out, "  %s\n", spec.Printable(line))
	}
}
