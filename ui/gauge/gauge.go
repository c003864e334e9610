// Package gauge is a gauge, a wrench or a calliper that types like a keyboard and
// sends bare figures: the unit of each kind of figure is told once. A figure
// without a unit, of a kind that no unit was told of, stays without one, and is
// refused like any other.
package gauge

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/pattern"
	"evenpull/spec/quantity"
)

// Gauge is which unit figures are sent in, one of a kind. The zero Gauge sends its
// units itself.
type Gauge struct{ units []quantity.Unit }

// Read reads units, each text one or several apart by commas: "N·m, mm".
func Read(texts ...string) (Gauge, error) {
	var g Gauge
	for _, text := range texts {
		for name := range strings.SplitSeq(text, ",") {
			if strings.TrimSpace(name) == "" {
				continue
			}
			u, err := quantity.ParseUnit(name)
			if err != nil {
				return Gauge{}, fmt.Errorf("what the gauge sends: %w", err)
			}
			if have, told := g.Unit(u.Dimension()); told && have != u {
				return Gauge{}, fmt.Errorf("what the gauge sends: %s and %s are both a %s; a figure without a unit can be one of them alone", have, u, u.Dimension())
			}
			g = g.Sends(u)
		}
	}
	return g, nil
}

// Unit is the unit of one kind of figure, if it was told.
func (g Gauge) Unit(kind quantity.Dimension) (quantity.Unit, bool) {
	for _, u := range g.units {
		if u.Dimension() == kind {
			return u, true
		}
	}
	return 0, false
}

// Sends tells it a unit, in place of another of its kind.
func (g Gauge) Sends(u quantity.Unit) Gauge {
	return Gauge{append(g.Without(u.Dimension()).units, u)}
}

// Without forgets the unit of a kind.
func (g Gauge) Without(kind quantity.Dimension) Gauge {
	return Gauge{slices.DeleteFunc(slices.Clone(g.units), func(u quantity.Unit) bool { return u.Dimension() == kind })}
}

// IsZero reports that no unit was told.
func (g Gauge) IsZero() bool { return len(g.units) == 0 }

// Over is another gauge with these units told in place of its own of their kinds;
// with none, it forgets them all.
func (g Gauge) Over(other Gauge) Gauge {
	if g.IsZero() {
		return g
	}
	for _, u := range g.units {
		other = other.Sends(u)
	}
	return other
}

// String says what was told: "gauge sends N·m, mm".
func (g Gauge) String() string {
	if g.IsZero() {
		return "gauge sends its units itself"
	}
	var list []string
	for _, u := range g.units {
		list = append(list, u.Symbol())
	}
	return "gauge sends " + strings.Join(list, ", ")
}

// Notice says what was told of the figures of a kind: "gauge sends N·m"; or "".
func (g Gauge) Notice(kind quantity.Dimension) string {
	if u, told := g.Unit(kind); told {
		return "gauge sends " + u.Symbol()
	}
	return ""
}

var bare = pattern.Of(`^[+-]?[0-9]+([.,][0-9]+)?$`)

// Complete gives a figure of a kind its unit, if it has none and one was told.
func (g Gauge) Complete(text string, kind quantity.Dimension) string {
	u, told := g.Unit(kind)
	if !told || !bare.RE().MatchString(text) {
		return text
	}
	if u == quantity.Degree {
		return text + u.Symbol()
	}
	return text + " " + u.Symbol()
}

// fact is kept with a reading that got its unit here: the figure as it was sent.
const fact = "gauge"

// Reading makes a reading of a kind out of the text of a command, complete, and keeps
// with it what was sent if its unit was added.
func (g Gauge) Reading(c walk.Command, kind quantity.Dimension) walk.Command {
	if full := g.Complete(c.Reading, kind); full != c.Reading {
		c = c.With(map[string]string{fact: "sent " + c.Reading})
		c.Reading = full
	}
	return c
}

// Wanted is the unit of the figure that an item of a walk takes, as the sheet has
// it, and whether it takes one.
func Wanted(it *walk.Item) (quantity.Unit, bool) {
	switch {
	case it == nil:
	case it.Kind == walk.MeasureItem && it.Check.Max != nil:
		return it.Check.Max.Unit(), true
	case it.Kind == walk.MeasureItem:
		return it.Check.Min.Unit(), true
	case it.Kind == walk.StageItem:
		return ofStage(it.Stage.Action, it.Stage.Target)
	}
	return 0, false
}

func ofStage(a spec.Action, t *spec.Target) (quantity.Unit, bool) {
	switch a {
	case spec.Torque, spec.Verify:
		return t.Torque.Unit(), true
	case spec.Stretch:
		return t.Stretch.Unit(), true
	case spec.Turn, spec.Loosen:
		return quantity.Degree, !t.Fully
	}
	return 0, false
}
