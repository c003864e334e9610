package cli

import (
	"io"
	"maps"
	"slices"
	"strings"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/report"
)

func buildFormats() []string { return slices.Sorted(maps.Keys(report.BuildFormats)) }

// buildSheet writes all that is on record of an engine as one document.
func (a *app) buildSheet(store *record.Store, tag, format, paper string, to destination) error {
	name, err := formatOf(format, to.file)
	if err != nil {
		return err
	}
	write := report.BuildFormats[name]
	if write == nil {
		return usage("a build sheet is no %s; use one of: %s", spec.Printable(name), strings.Join(buildFormats(), ", "))
	}
	on, err := paperOf(paper)
	if err != nil {
		return err
	}
	e, err := a.known(store, tag)
	if err != nil {
		return err
	}
	b := report.Build{Tag: e.Tag, Name: spec.Printable(e.Name), Meter: spec.Printable(e.Meter), At: a.Now()}
	b.Standing = append(b.Standing, report.Section{Title: "Now", Lines: []string{spec.Printable(e.Headline(a.Now()))}})
	for _, s := range a.engineSections(e) {
		if s.Heading == closedHeading || s.Heading == photosHeading {
			continue // the list of walks has them, and the pictures stand below
		}
		lines := make([]string, len(s.Lines))
		for i, line := range s.Lines {
			lines[i] = spec.Printable(line)
		}
		b.Standing = append(b.Standing, report.Section{Title: strings.ToUpper(s.Heading[:1]) + s.Heading[1:], Lines: lines})
	}
	for _, w := range e.Walks {
		s, err := a.sheet(w.ID)
		if err != nil {
			return err
		}
		b.Add(s)
	}
	for _, h := range e.Between() {
		b.Between = append(b.Between, report.Between{At: h.At, Text: spec.Printable(h.Text), Record: h.Record})
	}
	for _, c := range e.Costs {
		b.Costs = append(b.Costs, report.Cost{At: c.At, What: spec.Printable(c.What), From: spec.Printable(c.From), Price: c.Price, Total: c.Total, Count: c.Count})
	}
	b.Totals = e.Totals
	for _, p := range e.Photos {
		if slices.ContainsFunc(e.Walks, func(w engine.Walk) bool { return w.ID == p.Record }) {
			continue // on its sheet
		}
		photo, _ := report.LookAt(p.Photo, func(p walk.Photo) ([]byte, error) { return record.Picture(store.Dir, p) })
		photo.At, photo.Caption, photo.Of = p.At, spec.Printable(p.Caption), spec.Printable(p.Of)
		b.AddPhoto(photo)
	}
	return a.deliver(to, func(out io.Writer) error { return write(out, b, on) })
}
