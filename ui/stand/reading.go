package stand

import (
	"errors"
	"fmt"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec/quantity"
	"evenpull/ui/entry"
	"evenpull/ui/gauge"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/words"
)

// openReading asks for the figure read off the tool, or of a measure. One begun so soon
// after a confirmation that it may be of the fastener before is looked at first.
func (m Model) openReading(first string) Model {
	it := m.facts.item
	unit, _ := m.wanted()
	do, title, units := walk.Confirm, "", []quantity.Unit(nil)
	if it.Kind == walk.MeasureItem {
		do, title, units = walk.Measure, "Measured; wanted: "+words.Limits(it.Check), entry.Like(unit)
		if example := it.Check.How.Example(); strings.Contains(example, ";") {
			title = "Measured, such as " + example
		}
	} else {
		title, units = "Reading; it has to be "+walk.WindowOf(it.Stage).Text(), entry.Like(unit)
	}
	take := func(c *walk.Command, text string) error {
		if c.Reading = text; text == "" {
			return errors.New("type the figure, or " + entry.Back())
		}
		*c = m.gauge.Reading(*c, unit.Dimension())
		return figureProblem(readable(it, c.Reading), unit)
	}
	if sends := m.gaugeSends(); sends != "" {
		title += "; " + sends
	}
	field := asking(do, title, "figure and unit; "+entry.Adds(unit), take).In(units).Begun(first)
	if m.confirmed.IsZero() || m.arrived.Sub(m.confirmed) >= keys.DoublePress {
		field = field.FromTool()
	}
	return m.lay(field)
}

// wanted is the unit of the figure that can be given for what is in hand, if one can.
func (m Model) wanted() (quantity.Unit, bool) {
	if m.changing() {
		return 0, false
	}
	return gauge.Wanted(m.facts.item)
}

// takesReading reports whether a figure can be given for what is in hand.
func (m Model) takesReading() bool {
	_, takes := m.wanted()
	return takes
}

// gaugeSends says which unit a bare figure gets here, or "".
func (m Model) gaugeSends() string {
	unit, takes := m.wanted()
	if !takes || m.cfg.ReadOnly != "" {
		return ""
	}
	return m.gauge.Notice(unit.Dimension())
}

// how many units are offered for a gauge by number keys; any other can be typed.
const gaugeOffers = 4

// askGauge asks which unit a gauge sends figures of the kind in hand in.
func (m Model) askGauge() entry.Field {
	unit, _ := m.wanted()
	itself := "none: it sends the unit itself"
	var offers []string
	for _, u := range entry.Like(unit)[:gaugeOffers-1] {
		offers = append(offers, u.Symbol())
	}
	take := func(text string) (overlay.Model, overlay.Answer, error) {
		set := m.gauge.Without(unit.Dimension())
		if text != itself {
			u, err := quantity.ParseUnit(text)
			switch {
			case err != nil:
				return nil, overlay.Answer{}, figureProblem(err, unit)
			case u.Dimension() != unit.Dimension():
				return nil, overlay.Answer{}, fmt.Errorf("%s is a %s, and what is read here is a %s", u, u.Dimension(), unit.Dimension())
			}
			set = set.Sends(u)
		}
		return nil, overlay.Answer{Close: true, Gauge: &set, Say: set.String()}, nil
	}
	return entry.New("A "+unit.Dimension().String()+" that the gauge sends without a unit is in", "a unit", take).With(append(offers, itself)...)
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
	case pe.NoUnit:
		return errors.New(pe.What + "; " + entry.Adds(unit) + ", " + entry.Again())
	}
	return errors.New(pe.What + "; " + pe.Remedy)
}
