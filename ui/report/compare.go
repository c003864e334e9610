package report

import (
	"fmt"
	"io"
	"slices"
)

// WriteComparison writes a comparison in 80 columns.
func WriteComparison(w io.Writer, c Comparison) error {
	list := []block{c.heads()}
	if len(c.Records) > 1 {
		list = append(list, c.stages(), pairs("Time from first to last stage of a pass", c.Times, "none"), pairs("Checks that differ", c.Checks, "none"), pairs("Parts that differ", c.Parts, "none"),
			c.Renewed.block("Renewed"), c.Deviations.block("Deviations"))
	}
	for i, t := range c.Today {
		list = append(list, t.block("AB"[i:i+1]))
	}
	list = append(list, governsBlock())
	return writeBlocks(w, slices.DeleteFunc(list, func(b block) bool { return len(b.rows) == 0 }))
}

// pair adds what two sides say under a name.
func (b *block) pair(name, leadA, first, leadB, second string) {
	b.item("", name)
	b.item("    "+leadA+"  ", first)
	b.item("    "+leadB+"  ", second)
}

func (c Comparison) heads() block {
	bl := block{title: "Two records"}
	if len(c.Records) == 1 {
		bl.title = "A record and its procedure"
	}
	for i, r := range c.Records {
		bl.item("AB"[i:i+1]+"  ", fmt.Sprintf("%s: %s, engine %s", r.ID, r.Procedure, r.Engine))
		bl.item("   ", r.Standing)
		bl.item("   ", fmt.Sprintf("started %s, %s from first to last event", Stamp(r.Started), r.Took))
		for _, alarm := range r.Alarms {
			bl.item("   ! ", alarm)
		}
	}
	switch c.Procedures {
	case "same":
		bl.item("", "The same procedure, word for word.")
	case "versions":
		bl.item("", "Two versions of one procedure: fasteners are matched by id and pass.")
	case "different":
		bl.item("", "Two procedures: fasteners are matched by id and pass, which may mean nothing.")
	}
	return bl
}

func (c Comparison) stages() block {
	bl := block{title: "Stages that differ"}
	for _, d := range c.Stages {
		bl.pair(d.name(), "A", orElse(d.A, notIn), "B", orElse(d.B, notIn))
	}
	if len(bl.rows) == 0 {
		bl.item("", fmt.Sprintf("None: all %d have the same figure, are confirmed alike and read the same.", c.Matched))
	}
	return bl
}

const notIn = "not in this record's procedure"

func (d StageDifference) name() string {
	text := fmt.Sprintf("%s, %s", d.Fastener, d.Pass)
	if d.Step > 1 {
		text += fmt.Sprintf(", step %d", d.Step)
	}
	return text
}

func pairs(title string, list []Difference, none string) block {
	bl := block{title: title}
	for _, d := range list {
		bl.pair(d.Name, "A", orElse(d.A, none), "B", orElse(d.B, none))
	}
	return bl
}

// block gives both lists where they are not the same.
func (s Sides) block(title string) block {
	bl := block{title: title}
	if slices.Equal(s.A, s.B) {
		return bl
	}
	for i, list := range [][]string{s.A, s.B} {
		lead := "AB"[i:i+1] + "  "
		if len(list) == 0 {
			bl.item(lead, "none")
		}
		for _, text := range list {
			bl.item(lead, text)
		}
	}
	return bl
}

// block says what has changed in a record's procedure since it was walked.
func (t Today) block(which string) block {
	bl := block{title: which + " and its procedure as it is today"}
	switch {
	case t.State == "unknown":
		bl.item("", fmt.Sprintf("%s cannot be held against it: %s.", t.Source, t.Note))
	case t.State == "same":
		bl.item("", t.Source+": the same, word for word.")
	case len(t.Stages)+len(t.Checks)+len(t.Parts) == 0 && !t.Reordered:
		bl.item("", t.Source+": changed in its words; figures, order, checks and parts are the same.")
	default:
		bl.item("", t.Source+": changed since.")
	}
	for _, d := range t.Stages {
		bl.pair(d.name(), "then", orElse(d.A, "not in it"), "now ", orElse(d.B, "not in it"))
	}
	if t.Reordered {
		bl.item("", "The same stages now come in another order.")
	}
	for _, list := range [][]Difference{t.Checks, t.Parts} {
		for _, d := range list {
			bl.pair(d.Name, "then", orElse(d.A, "not in it"), "now ", orElse(d.B, "not in it"))
		}
	}
	return bl
}
