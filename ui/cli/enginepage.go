package cli

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/page"
)

// printEngine gives the page of an engine, what matters most first.
func (a *app) printEngine(e engine.Engine) {
	fmt.Fprintln(a.Out, a.pointed(e.Headline(a.Now())))
	fmt.Fprintln(a.Out, engineTitle(e))
	for _, s := range a.engineSections(e) {
		a.section(s.Heading, s.Lines)
	}
}

func engineTitle(e engine.Engine) string {
	title := "engine " + e.Tag
	if e.Name != "" {
		title += ", " + e.Name
	}
	if e.Meter != "" {
		title += ", " + e.Meter
	}
	return title
}

func (a *app) engineSections(e engine.Engine) []page.Section {
	var pointed, open, faults, off, condemned, away, clean, closed, notes, due []string
	for _, p := range e.Problems {
		pointed = append(pointed, a.pointed(p))
	}
	pointed = append(pointed, a.missingPictures(e)...)
	for _, w := range e.Open() {
		open = append(open, fmt.Sprintf("%s, %s, since %s: %s", jobText(w), walk.StagesText(w.Confirmed, w.Stages), w.Started.Format(time.DateOnly), a.walkLine(w.Source, e.Tag, w.Place)))
	}
	for _, f := range e.Faults {
		faults = append(faults, faultLine(f))
	}
	for _, t := range e.Off {
		if t.AnyCondemned() {
			condemned = append(condemned, t.Text())
		}
	}
	off = offLines(e.Off)
	away, clean = workLines(e)
	buy, coming, _ := buyLines(e.Buy)
	for _, w := range e.Walks {
		if w.Direction == spec.Close && w.Phase == walk.IsDone {
			closed = append(closed, fmt.Sprintf("%s, %s (%s)", w.Last.Format(time.DateOnly), jobText(w), w.ID))
		}
	}
	for _, d := range e.Due(a.Now()) {
		due = append(due, d.Text())
	}
	for _, n := range e.Notes {
		notes = append(notes, n.At.Format(time.DateOnly)+": "+n.Text)
	}
	return []page.Section{
		{Heading: "to sort out", Lines: pointed},
		{Heading: "open walks", Lines: open},
		{Heading: "cures and waits", Lines: due},
		{Heading: "found wrong and not answered; the close-up asks", Lines: faults},
		{Heading: "condemned or missing", Lines: condemned},
		{Heading: "away for work", Lines: away},
		{Heading: "to clean before anything closes over it", Lines: clean},
		{Heading: "to buy", Lines: buy},
		{Heading: "on order", Lines: coming},
		{Heading: "off", Lines: off},
		{Heading: "said of what is off", Lines: saidLines(e.Off)},
		{Heading: "still to close", Lines: closings(e)},
		{Heading: "where the sheets for closing differ from those it was taken apart by", Lines: e.AllDifferences()},
		{Heading: closedHeading, Lines: closed},
		{Heading: "notes", Lines: notes},
		{Heading: photosHeading, Lines: photoLines(e.Photos)},
	}
}

// Headings of what stands elsewhere on a build sheet.
const closedHeading, photosHeading = "closed", "photos"

// jobText names a walk with what the engine had run by then: "Close the crankcase, at 1240 h".
func jobText(w engine.Walk) string {
	text := placed(w.Procedure, w.Place)
	if w.Meter != "" {
		text += ", at " + w.Meter
	}
	return text
}

// faultLine tells what, where, when and in which record.
func faultLine(f engine.Fault) string {
	text := f.Text()
	if f.Measured() {
		text += " (limits " + f.Limits() + ")"
	}
	return fmt.Sprintf("%s; %s, %s, %s", text, f.Where, f.At.Format(time.DateOnly), placed(f.Procedure, f.Place))
}

// placed puts behind a procedure or a tag which of two of a kind is meant.
func placed(what, place string) string { return engine.Closing{Procedure: what, Place: place}.Text() }

// closings lists what is still to close, and where there are two of a kind.
func closings(e engine.Engine) []string {
	if len(e.Closings) == 0 {
		return e.ToClose
	}
	var list []string
	for _, c := range e.Closings {
		list = append(list, c.Text())
	}
	return list
}

// saidLines is everything said of what is off, thing by thing.
func saidLines(things []engine.Thing) (lines []string) {
	for _, t := range things {
		for _, said := range t.Said {
			lines = append(lines, t.Called()+", "+said.Line())
		}
	}
	return lines
}

// missingPictures names the photos whose files are not there any more. What is in
// the others is looked at by verify.
func (a *app) missingPictures(e engine.Engine) (lines []string) {
	store, err := a.store()
	if err != nil {
		return nil
	}
	for _, p := range e.Photos {
		if !record.HasPicture(store.Dir, p.Photo) {
			lines = append(lines, fmt.Sprintf("%s is missing: %s; the record that names it holds; put it back from a backup", p.Text(), record.PicturePath(store.Dir, p.Photo)))
		}
	}
	return lines
}

// photoLines names each photo with its day and where it is kept.
func photoLines(photos []engine.Picture) (lines []string) {
	for _, p := range photos {
		lines = append(lines, fmt.Sprintf("%s: %s (pictures/%s)", p.At.Format(time.DateOnly), p.Text(), p.File()))
	}
	return lines
}

// offLines lists what is off; fasteners of which nothing was noted share a line
// with their like.
func offLines(things []engine.Thing) []string {
	var lines []string
	like := map[string]int{} // line by name
	ids := map[string][]string{}
	for _, t := range things {
		if !t.IsFastener() || t.Facts.Text() != "" || len(t.Pieces) > 0 {
			lines = append(lines, t.Text())
			continue
		}
		name := t.Name
		if t.Place != "" {
			name += ", " + t.Place
		}
		if _, ok := like[name]; !ok {
			like[name] = len(lines)
			lines = append(lines, "")
		}
		ids[name] = append(ids[name], t.ID)
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
