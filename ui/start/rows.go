package start

import (
	"fmt"
	"strings"
	"time"

	"evenpull/spec"
)

// rowKind is what a row of the list is.
type rowKind int

const (
	heading rowKind = iota
	hint            // says what to do where a list is empty
	openRow
	procedureRow
	toolRow
	engineRow
	recordRow
)

// item is one row: what it says in its columns, what it says at length, and
// what choosing it gives.
type item struct {
	kind                rowKind
	text                string // headings and hints
	left, middle, right string
	detail              string
	problem             string // why it can't be chosen
	warned              bool   // detail says what is wrong with it
	choice              Choice
	procedure           Procedure
}

func (it item) selectable() bool { return it.kind > hint }

// clean makes text from files safe to show on one line.
func clean(text string) string {
	return strings.ReplaceAll(spec.Printable(strings.ReplaceAll(text, "\n", " ")), "\t", " ")
}

// layOut builds the rows from the lists and keeps the hand on the row it was on, or
// else near it.
func (m *Model) layOut() {
	var hand item
	if it := m.current(); it != nil {
		hand = *it
	}
	m.items = nil
	m.openRows()
	m.procedureRows()
	m.engineRows()
	m.add(item{kind: heading, text: "Tools"}, item{kind: toolRow, left: "Converter", middle: "torque, angle, length, force, time", choice: Choice{Do: Convert},
		detail: "Type a figure with its unit and read it in every other."},
		item{kind: toolRow, left: "A sheet of your own", middle: "answer what is asked, and walk it", choice: Choice{Do: Write},
			detail: "Engine, bolts, figures, passes: each is asked for, the order is drawn, and the file is written for you."})
	m.recordRows()
	m.search()
	for i, n := range m.shown {
		if m.items[n].same(hand) {
			m.list.At = i
		}
	}
}

// same reports whether two rows are of the same thing.
func (it item) same(other item) bool {
	return it.selectable() && it.kind == other.kind && it.choice == other.choice && it.procedure.Ref == other.procedure.Ref
}

func (m *Model) add(items ...item) { m.items = append(m.items, items...) }

func (m *Model) openRows() {
	if len(m.lists.Open) == 0 {
		return
	}
	m.add(item{kind: heading, text: "Left open"})
	for _, w := range m.lists.Open {
		it := item{
			kind: openRow, left: clean(w.Engine), middle: clean(w.Procedure), right: fmt.Sprintf("%d/%d  %s", w.Confirmed, w.Of, ago(m.now, w.Last)),
			choice: Choice{Do: Resume, ID: w.ID},
			detail: fmt.Sprintf("Stands at %s. Last touched %s.", orElse(clean(w.Next), "its end: done closes it"), w.Last.Format("2006-01-02 15:04")),
		}
		if w.HeldBy != "" {
			it.detail = "Open elsewhere, by " + clean(w.HeldBy) + ": it can be looked at. " + it.detail
		}
		m.add(it)
	}
}

// engineRows lists the engines, if there are any: where each stands.
func (m *Model) engineRows() {
	if len(m.lists.Engines) == 0 {
		return
	}
	m.add(item{kind: heading, text: "Engines"})
	for _, e := range m.lists.Engines {
		m.add(item{kind: engineRow, left: clean(e.Tag), middle: clean(e.Name), choice: Choice{Do: Stands, Engine: e.Tag}, detail: clean(e.Headline)})
	}
}

// size is how much there is to do.
func (p Procedure) size() string {
	if p.Stages == 0 {
		return fmt.Sprintf("%d parts", p.Parts)
	}
	return fmt.Sprintf("%d stages", p.Stages)
}

func (m *Model) procedureRows() {
	m.add(item{kind: heading, text: "Procedures"})
	for _, p := range m.lists.Procedures {
		it := item{kind: procedureRow, left: clean(p.Name), middle: clean(p.Engine), right: clean(p.Direction) + ", " + p.size(), procedure: p,
			detail: fmt.Sprintf("Start it here, or: %s", clean(p.Command))}
		if p.Problem != "" {
			it.problem, it.right = clean(p.Problem), "cannot be read"
			it.detail = it.problem
		}
		if it.left == "" {
			it.left = clean(p.Ref)
		}
		m.add(it)
	}
}

func (m *Model) recordRows() {
	m.add(item{kind: heading, text: "Records"})
	for _, r := range m.lists.Records {
		it := item{
			kind: recordRow, left: clean(r.Engine), middle: clean(r.Procedure), right: fmt.Sprintf("%s  %s", clean(r.State), r.Last.Format("2006-01-02")),
			choice: Choice{Do: Review, ID: r.ID},
			detail: fmt.Sprintf("%s, started %s, last event %s.", clean(r.ID), r.Started.Format("2006-01-02 15:04"), ago(m.now, r.Last)),
		}
		if r.Problem != "" {
			it.warned, it.right, it.detail = true, "broken", clean(r.ID)+": "+clean(r.Problem)
			it.left = orElse(it.left, clean(r.ID)) // the review says what of it can be believed
		}
		m.add(it)
	}
	if len(m.lists.Records) == 0 {
		m.add(item{kind: hint, text: "None yet: a finished walk leaves one."})
	}
}

func orElse(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// ago says how long back a time lies, as roughly as a person would.
func ago(now, then time.Time) string {
	const day = 24 * time.Hour
	d := now.Sub(then)
	switch {
	case then.IsZero():
		return "never"
	case d < 0:
		return then.Format("2006-01-02") // the clock was set back
	case d < time.Minute:
		return "just now"
	case d < time.Hour:
		return fmt.Sprintf("%d min ago", d/time.Minute)
	case d < day:
		return fmt.Sprintf("%d h ago", d/time.Hour)
	case d < 60*day:
		return fmt.Sprintf("%d d ago", d/day)
	case d < 730*day:
		return fmt.Sprintf("%d months ago", d/(365*day/12))
	}
	return fmt.Sprintf("%d years ago", d/(365*day))
}
