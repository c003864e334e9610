package report

import (
	"fmt"
	"strings"
)

// leftPanels are what is still open, and what was measured, asked and fitted.
func (s Sheet) leftPanels() []panel {
	var list []panel
	if len(s.Outstanding) > 0 {
		p := panel{Title: fmt.Sprintf("Still to do: %d", len(s.Outstanding))}
		for _, o := range s.Outstanding {
			p.Rows = append(p.Rows, entry{"", o})
		}
		list = append(list, p)
	}
	if len(s.Faults) > 0 {
		p := panel{Title: s.FaultTitle()}
		for _, f := range s.Faults {
			p.Rows = append(p.Rows, entry{"", f.Text()})
		}
		list = append(list, p)
	}
	return append(list, s.measured(), s.asked())
}

// measured holds every measurement against its limits.
func (s Sheet) measured() panel {
	p := panel{Title: "Measured, and the limits"}
	for _, c := range s.Checks {
		if c.Measure == "" {
			continue
		}
		text := c.Measure
		if c.Limits != "" {
			text += ", limits " + c.Limits
		}
		if n := len(c.Refused); n > 0 {
			text += fmt.Sprintf("; refused before: %s", c.Refused[n-1].Reading)
		}
		p.Rows = append(p.Rows, entry{c.Result(), text})
	}
	return orNothing(p, "The procedure asks for no measurement.")
}

// asked sums up questions, parts and the sealant; what is not as it should be
// is told one by one.
func (s Sheet) asked() panel {
	p := panel{Title: "Checks, parts, sealant"}
	asked, yes := 0, 0
	var not []entry
	for _, c := range s.Checks {
		if c.Measure != "" {
			continue
		}
		asked++
		if c.Confirmed && c.Fault == "" {
			yes++
		} else if c.Answer != "" {
			not = append(not, entry{c.Answer + ":", c.Ask})
		}
	}
	if asked > 0 {
		p.Rows = append(p.Rows, entry{fmt.Sprintf("%d of %d", yes, asked), "questions answered yes"})
	}
	p.Rows = append(p.Rows, not...)
	if n := len(s.Parts); n > 0 {
		back := 0
		for _, part := range s.Parts {
			if part.Confirmed {
				back++
			}
		}
		p.Rows = append(p.Rows, entry{fmt.Sprintf("%d of %d", back, n), "kinds of part accounted for"})
	}
	if a := s.Sealant; a != nil {
		p.Rows = append(p.Rows, entry{"Cured by", a.CuredBy("not known: the last stage is open") + " (" + a.Name + ")"})
	}
	return orNothing(p, "None in this procedure.")
}

// rightPanels are what is new in the joint, and what went other than straight.
func (s Sheet) rightPanels() []panel {
	return []panel{s.renewedPanel(), s.deviationPanel()}
}

// renewedPanel gathers like pieces with one number into one row.
func (s Sheet) renewedPanel() panel {
	p := panel{Title: "New, with numbers"}
	type like struct{ piece, number string }
	of, order, gone := map[like][]string{}, []like{}, 0
	for _, r := range s.Renewals {
		if !r.Stands {
			gone++
			continue
		}
		k := like{r.Piece, r.Number}
		if r.Piece == r.Of {
			k.piece = ""
		}
		if of[k] == nil {
			order = append(order, k)
		}
		of[k] = append(of[k], r.Of)
	}
	for _, k := range order {
		text := strings.TrimSuffix(strings.Join(of[k], "; ")+": "+k.piece, ": ")
		number := k.number
		if number == "" {
			number = "no number"
		}
		p.Rows = append(p.Rows, entry{number, text})
	}
	if gone > 0 {
		p.Rows = append(p.Rows, entry{"", fmt.Sprintf("%d more taken back or used up since: appendix", gone)})
	}
	return orNothing(p, "No new piece is recorded.")
}

func (s Sheet) deviationPanel() panel {
	p := panel{Title: "Deviations"}
	days := map[string]bool{s.Started.Format("2006-01-02"): true}
	for _, d := range s.Deviations {
		days[d.At.Format("2006-01-02")] = true
	}
	stamp := "15:04"
	if len(days) > 1 {
		stamp = "01-02 15:04"
	}
	for _, d := range s.Deviations {
		p.Rows = append(p.Rows, entry{d.At.Format(stamp), d.Text})
	}
	return orNothing(p, "None: it went straight through.")
}

func orNothing(p panel, text string) panel {
	if len(p.Rows) == 0 {
		p.Rows = []entry{{"", text}}
	}
	return p
}

// day is a day of the timeline.
type day struct {
	Day     string
	Entries []Entry
}

// Days groups the timeline by day and offset.
func (s Sheet) Days() []day {
	var list []day
	for _, e := range s.Timeline {
		d := e.At.Format("2006-01-02, UTC-07:00")
		if n := len(list); n == 0 || list[n-1].Day != d {
			list = append(list, day{Day: d})
		}
		last := &list[len(list)-1]
		last.Entries = append(last.Entries, e)
	}
	return list
}
