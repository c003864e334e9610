package report

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/walk"
)

// Governs is said on every page: the program keeps count, the manual decides.
const Governs = "The engine's own service manual governs. Readings are as they were given; computed figures are estimates."

// PaperSays is said in every report of a record that was ticked on paper.
const PaperSays = "Ticked on a work card on paper and entered afterwards: the times of what is marked so are unknown, and no clock watched its waits or its sealant."

// Stamp prints a time with its offset, as it was recorded.
func Stamp(t time.Time) string { return t.Format("2006-01-02 15:04:05 -07:00") }

func stampOr(t *time.Time, otherwise string) string {
	if t == nil {
		return otherwise
	}
	return Stamp(*t)
}

// Standing is the state in one line.
func (s Sheet) Standing() string {
	switch s.State {
	case "done":
		return "DONE " + stampOr(s.Finished, "")
	case "stopped":
		return fmt.Sprintf("STOPPED %s, not done: %s", stampOr(s.Finished, ""), s.progress())
	}
	return "OPEN, not done: " + s.progress()
}

func (s Sheet) progress() string {
	text := walk.StagesText(s.Stages.Confirmed, s.Stages.Of)
	if s.Stages.Of > 0 {
		text += " confirmed"
	}
	return fmt.Sprintf("%s, %d outstanding", text, len(s.Outstanding))
}

// Alarms are what a reader must know before believing anything else.
func (s Sheet) Alarms() []string {
	var list []string
	if s.Chain != "whole" {
		text := "This record's chain is broken: it was changed after it was written, or damaged. What follows the break is not counted."
		if s.ChainNote != "" {
			text += " " + s.ChainNote + "."
		}
		list = append(list, text)
	}
	if s.FromPaper {
		list = append(list, PaperSays)
	}
	for _, f := range s.Findings {
		list = append(list, fmt.Sprintf("Event %d, %s, was not earned and does not count: %s.", f.Seq, f.Kind, f.What))
	}
	return append(list, s.Notes...)
}

// tag names the engine, and which of two of a kind on it.
func (s Sheet) tag() string {
	if s.Place == "" {
		return s.Engine
	}
	return s.Engine + ", " + s.Place
}

// Facts are the head of the page, as pairs of a word and what it is.
func (s Sheet) Facts() [][2]string {
	source := s.FigureSource
	if source == "" {
		source = "none given: the figures are unsourced"
	}
	facts := [][2]string{{"Engine", s.Engine}, {"Place", s.Place}, {"Procedure", s.Procedure + " (" + s.Direction + ")"}, {"Written for", s.BuiltFor}, {"Figures from", source},
		{"Record", s.ID}, {"Started", Stamp(s.Started)}, {"Last event", stampOr(s.Last, "")}, {"Ended", stampOr(s.Finished, "")}}
	if a := s.Sealant; a != nil {
		facts = append(facts, [2]string{"Sealant", fmt.Sprintf("%s, work time %s", a.Name, a.WorkTime)},
			[2]string{"First smear", a.smeared()}, [2]string{"Cured by", a.CuredBy("")})
	}
	facts = append(facts, [2]string{"File", s.Source}, [2]string{"SHA-256", s.SHA256}, [2]string{"Written by", s.Program}, [2]string{"Chain", s.Chain}, [2]string{"Closing hash", s.ClosingHash})
	var given [][2]string
	for _, f := range facts {
		if f[1] != "" {
			given = append(given, f)
		}
	}
	return given
}

func (a Sealant) smeared() string {
	if a.Paper {
		return "on paper, time unknown"
	}
	return stampOr(a.Smeared, "not yet")
}

// CuredBy is when oil may go in, as far as it is known.
func (a Sealant) CuredBy(otherwise string) string {
	text := stampOr(a.Cured, otherwise)
	if a.Paper && a.Cured != nil {
		text += ", counted from when the card was entered"
	}
	return text
}

// Text is the check with its limits: "crank end float, 0.05 mm to 0.2 mm".
func (c Check) Text() string {
	if c.Limits != "" {
		return c.Measure + ", " + c.Limits
	}
	return c.Ask + c.Measure
}

// Result is what came of the check.
func (c Check) Result() string {
	switch {
	case c.Fault != "" && c.Reading != "":
		return c.Reading + ", OUT OF ITS LIMITS"
	case c.Fault != "":
		return "no, " + c.Fault
	case c.Confirmed && c.Reading != "":
		return c.Reading
	case c.Answer != "":
		return c.Answer
	}
	return "open"
}

// Text tells a finding in a line: what, where, the figure with its limits, and
// what was done about it.
func (f Fault) Text() string {
	text := said(f.What, "no: "+f.Found)
	if f.Inside {
		text = walk.Fault{What: f.What, Found: f.Found, Inside: true}.Text()
	} else if f.Limits != "" {
		text = fmt.Sprintf("%s %s (limits %s)", f.What, f.Found, f.Limits)
	}
	if f.Where != "" {
		text += ", " + f.Where
	}
	if f.Answer != "" {
		text += "; " + f.Answer
	}
	return text
}

// Text is the part with its count.
func (p Part) Text() string {
	if p.Count > 1 {
		return fmt.Sprintf("%d × %s", p.Count, p.Name)
	}
	return p.Name
}

// Result is what is known of the part.
func (p Part) Result() string {
	text := "not accounted for"
	if p.Confirmed {
		text = "accounted for"
	}
	switch {
	case p.Renewed && p.Number != "":
		text += ", new, number " + p.Number
	case p.Renewed:
		text += ", new"
	case p.OneUse:
		text += ", to renew"
	}
	if p.OnNoSheet {
		return text + ", on no sheet" // how it was found stands by itself
	}
	return text + facts(p.Facts)
}

// Text tells a renewal in a line, without its time.
func (r Renewal) Text() string {
	text := r.Of
	if r.Piece != r.Of {
		text += ": " + r.Piece
	}
	if r.Number != "" {
		text += ", number " + r.Number
	}
	switch {
	case !r.Stands:
		text += " (taken back or used up since)"
	case r.Late:
		text += " (recorded only after a stage was confirmed)"
	}
	if r.Paper {
		text += " (from paper, time unknown)"
	}
	return text
}

// Said tells an event in a line, without its time.
func (e Entry) Said() string {
	text := e.Text
	if e.Paper {
		text += " [from paper: entered now, time of the work unknown]"
	}
	if !e.Counts {
		text += " [not earned: does not count]"
	}
	return text
}

// said puts what came of something behind its words: "Turns freely? yes".
func said(text, result string) string {
	if strings.HasSuffix(text, "?") {
		return text + " " + result
	}
	return text + ": " + result
}

// shortened keeps a refused done readable on paper; JSON has all of it.
func shortened(list []string) []string {
	const most = 30
	if len(list) <= most {
		return list
	}
	return append(append([]string{}, list[:most-1]...), fmt.Sprintf("and %d more", len(list)-most+1))
}
