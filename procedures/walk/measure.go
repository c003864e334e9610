package walk

import (
	"fmt"
	"maps"

	"evenpull/spec"
	"evenpull/spec/measure"
)

// judgeMeasure holds what a reading comes to against the check's limits. A
// choice of shim does not close the check: it is measured again with the shim in.
func (s *State) judgeMeasure(c *spec.Check, e Event) *Refusal {
	if e.Reading == "" {
		return needFigure(c)
	}
	r, known := s.measured.get(c, e.Reading)
	if !known {
		r = judgeFigure(c, e.Reading)
		s.measured.keep(c, e.Reading, r)
	}
	return r
}

func judgeFigure(c *spec.Check, reading string) *Refusal {
	res, err := c.How.Judge(reading)
	if err != nil {
		r := unreadableReading(err)
		r.What = fmt.Sprintf("%s: %s", c.Measure, r.What)
		return r
	}
	if res.Verdict == measure.InRange {
		return nil
	}
	r := &Refusal{What: c.Measure + " " + c.How.Fault(res), Remedy: remedyOf(c, res), misses: true}
	if res.Verdict == measure.Under || res.Verdict == measure.Over { // readings that settle nothing are no finding
		r.fault = c.How.Fault(res)
	}
	return r
}

func needFigure(c *spec.Check) *Refusal {
	return &Refusal{What: c.Measure + " needs a figure", Remedy: "measure it and give the figure, like " + c.How.Example(), Ways: []Way{{Do: Measure, Needs: c.How.Example()}}}
}

// remedyOf puts what was worked out before the sheet's own words. Readings that
// settle nothing are only taken again.
func remedyOf(c *spec.Check, res measure.Result) string {
	text := res.Advice
	if res.Verdict == measure.Under || res.Verdict == measure.Over {
		text = joined(text, c.Remedy)
	}
	if text == "" {
		return "put it right and measure again"
	}
	return text
}

func joined(a, b string) string {
	if a != "" && b != "" {
		return a + "; " + b
	}
	return a + b
}

// measuredFacts adds what a reading comes to to the facts a person gave. A
// single figure as read says it all itself. The words are those of the day it
// was measured; Judge works from the reading, never from them.
func measuredFacts(c *spec.Check, reading string, given map[string]string) map[string]string {
	res, err := c.How.Judge(reading)
	if err != nil || res.AsRead() {
		return given
	}
	facts := maps.Clone(given)
	if facts == nil {
		facts = map[string]string{}
	}
	facts["result"] = res.Text()
	if res.Spread != nil {
		facts["spread"] = res.Spread.String()
	}
	if res.Choice != nil {
		facts["choice"] = res.ChoiceText()
		facts["resulting"] = res.Resulting.String() + " (estimate)"
	}
	facts["why"] = res.Why
	return facts
}
