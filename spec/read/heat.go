package read

import (
	"slices"
	"time"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Bounds on what a sheet may ask for, common sense and no source: below the first there is
// no bath of it in a workshop, above the second light alloy runs, and after the third
// nothing that was heated is hot.
const (
	coldest     = -200 // °C, liquid nitrogen
	hottest     = 650  // °C
	longestWarm = 24 * time.Hour
)

// heat reads to what temperature, and within what time of it the next thing is done.
func (b *binder) heat(t table, c *spec.Callout) {
	for _, key := range []string{"to", "within"} {
		if t.has(key) && c.Kind != "heat" && !t.spoilt("kind") {
			t.wrong(t.n.table[key].keyAt, `add kind = "heat", or take it out`, "%s: %s is of heat, and this is a %s", t.name, key, c.Kind)
		}
	}
	if v := t.get("to", stringKind, `"120 °C"`); v != nil {
		q, err := figure(t.reader, v.text, quantity.ParseAny)
		switch {
		case err != nil:
			t.unreadable(v, "to", err)
		case q.Dimension() != quantity.TemperatureKind:
			t.wrong(v.at, `write a temperature such as "120 °C"`, "%s: to %s is no temperature", t.name, spec.Quote(v.text))
		case q.In(quantity.Celsius) < coldest || q.In(quantity.Celsius) > hottest:
			t.wrong(v.at, "give one from −200 °C to 650 °C", "%s: to is %s", t.name, spec.Quote(v.text))
		default:
			c.To = &q
		}
	}
	if c.Within = t.duration("within", "30s"); c.Within > longestWarm {
		t.wrong(t.at("within"), `give a time such as "30s" or "2m"`, "%s: within is %s, and nothing stays hot for that long", t.name, spec.Quote(t.n.table["within"].text))
	}
	if c.Within > 0 {
		b.heated = append(b.heated, heated{c, t})
	}
}

// heated is a callout whose time needs something to run to.
type heated struct {
	callout *spec.Callout
	t       table
}

// heats asks that something follows each heat with a time, once all is known: a part of
// its pass further down in the file, a bolt of it, or the smear.
func (b *binder) heats() {
	for _, h := range b.heated {
		pass := h.callout.Before
		if pass == nil || len(pass.Fasteners) > 0 || b.p.Sealant != nil && b.p.Sealant.Before == pass {
			continue
		}
		if !slices.ContainsFunc(b.p.Parts, func(p *spec.Part) bool { return b.comesAfter(p, h.callout, pass) }) {
			h.t.wrong(h.t.at("within"), "put it before the part that goes in hot", "%s: nothing follows that could be done within %s", h.t.name, spec.Span(h.callout.Within))
		}
	}
}

// comesAfter reports whether a part is fitted, or comes off, after a callout of a pass and
// because of that pass.
func (b *binder) comesAfter(p *spec.Part, c *spec.Callout, pass *spec.Pass) bool {
	switch floats := p.Before == nil && p.After == nil; {
	case p.After == pass, floats && b.p.Direction == spec.Open && pass.Index == len(b.p.Passes)-1:
		return true
	case p.Before == pass, floats && b.p.Direction == spec.Close && pass.Index == 0:
		return p.Order > c.Order
	}
	return false
}
