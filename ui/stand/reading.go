package stand

import (
	"errors"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/quantity"
	"evenpull/ui/entry"
	"evenpull/ui/keys"
	"evenpull/ui/words"
)

// openReading asks for the figure read off the tool, or of a measure. One begun so soon
// after a confirmation that it may be of the fastener before is looked at first.
func (m Model) openReading(first string) Model {
	it := m.facts.item
	do, title, units := walk.Confirm, "", []quantity.Unit(nil)
	if it.Kind == walk.MeasureItem {
		do, title, units = walk.Measure, "Measured; wanted: "+words.Limits(it.Check), entry.Like(limitUnit(it.Check))
		if example := it.Check.How.Example(); strings.Contains(example, ";") {
			title = "Measured, such as " + example
		}
	} else {
		title, units = "Reading; it has to be "+walk.WindowOf(it.Stage).Text(), entry.Like(stageUnit(it))
	}
	take := func(c *walk.Command, text string) error {
		if c.Reading = text; text == "" {
			return errors.New("type the figure, or esc")
		}
		return figureProblem(readable(it, text), units[0])
	}
	field := asking(do, title, "figure and unit; tab adds "+units[0].Symbol(), take).In(units).Begun(first)
	if since := m.now.Sub(m.confirmed); m.confirmed.IsZero() || since < 0 || since >= keys.DoublePress {
		field = field.FromTool()
	}
	return m.lay(field)
}

func limitUnit(c *spec.Check) quantity.Unit {
	if c.Max != nil {
		return c.Max.Unit()
	}
	return c.Min.Unit()
}

func stageUnit(it *walk.Item) quantity.Unit {
	t := it.Stage.Target
	switch it.Stage.Action {
	case spec.Torque, spec.Verify:
		return t.Torque.Unit()
	case spec.Stretch:
		return t.Stretch.Unit()
	}
	return quantity.Degree
}

// takesReading reports whether a figure can be given for the item at hand.
func (m Model) takesReading() bool {
	it := m.facts.item
	if it == nil || it.Kind == walk.MeasureItem {
		return it != nil
	}
	if it.Kind != walk.StageItem || m.changing() {
		return false
	}
	switch a := it.Stage.Action; a {
	case spec.Torque, spec.Verify, spec.Turn, spec.Stretch:
		return true
	case spec.Loosen:
		return !it.Stage.Target.Fully
	}
	return false
}

// readable reports why a figure, or the figures of a measurement, can't be read.
func readable(it *walk.Item, text string) error {
	if it.Kind == walk.MeasureItem {
		_, err := it.Check.How.Read(text)
		return err
	}
	return walk.WindowOf(it.Stage).Readable(text)
}

// figureProblem says what is wrong with a figure; a missing unit is one key away.
func figureProblem(err error, unit quantity.Unit) error {
	var pe *quantity.ParseError
	switch {
	case !errors.As(err, &pe):
		return err
	case strings.Contains(pe.Problem, "no unit"):
		return errors.New(pe.Problem + "; tab adds " + unit.Symbol() + ", tab again the next unit")
	}
	return errors.New(pe.Problem + "; " + pe.Remedy)
}
