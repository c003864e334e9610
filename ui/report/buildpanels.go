package report

import (
	"fmt"
	"slices"
	"time"

	"evenpull/procedures/walk"
)

// panels are the essentials: what it ended at, what was measured last, what is
// new in it, what was found and answered, and how it stands.
func (b Build) panels() []panel {
	found := panel{Title: "Found, and what was done"}
	final, measured, fitted := panel{Title: "Final figures"}, panel{Title: "Measured last, and the limits"}, panel{Title: "New, with numbers"}
	lastOf := map[string]int{}
	for _, s := range b.Sheets {
		what := s.Procedure
		if s.Place != "" {
			what += ", " + s.Place
		}
		if s.Direction == "close" {
			found.Rows = append(found.Rows, s.foundAndDone()...)
		}
		for _, c := range s.Checks {
			if c.Measure == "" || c.Reading == "" {
				continue
			}
			row := entry{c.Result(), c.Text() + " (" + what + ")"}
			if i, ok := lastOf[c.ID+"\x00"+s.Place]; ok {
				measured.Rows[i] = row
				continue
			}
			lastOf[c.ID+"\x00"+s.Place] = len(measured.Rows)
			measured.Rows = append(measured.Rows, row)
		}
		if s.Direction != "close" || s.State != "done" || !s.Trusted() {
			continue
		}
		final.Rows = append(final.Rows, s.finals(what)...)
		for _, r := range s.renewedPanel().Rows {
			if r.Lead != "" {
				r.Text += " (" + what + ")"
				fitted.Rows = append(fitted.Rows, r)
			}
		}
	}
	list := []panel{orNothing(final, "No joint is closed."), orNothing(measured, "Nothing was measured."), orNothing(fitted, "No new piece is recorded."),
		orNothing(found, b.nothingFound())}
	for _, s := range b.Standing {
		p := panel{Title: s.Title}
		for _, line := range s.Lines {
			p.Rows = append(p.Rows, entry{"", line})
		}
		if len(p.Rows) > 0 {
			list = append(list, p)
		}
	}
	for _, p := range []panel{b.money(), b.between()} {
		if len(p.Rows) > 0 {
			list = append(list, p)
		}
	}
	return list
}

// nothingFound is said where no walk has answered a finding.
func (b Build) nothingFound() string {
	if slices.ContainsFunc(b.Sheets, func(s Sheet) bool { return s.Direction == "open" && len(s.Faults) > 0 }) {
		return "What was found wrong has not been answered yet."
	}
	return "No finding had to be answered."
}

// foundAndDone are the findings this walk answered, what was replaced because of how it
// was found, and what no sheet has.
func (s Sheet) foundAndDone() (rows []entry) {
	at := ""
	if s.Place != "" {
		at = " (" + s.Place + ")"
	}
	for _, f := range s.Faults {
		text := f.Text() + at
		if f.Answer == "" {
			text += "; not answered yet"
		}
		rows = append(rows, entry{"", text})
	}
	replaced := map[string]bool{}
	for _, r := range s.Renewals {
		if r.Why == "" || r.Why == walk.OneUse || !r.Stands {
			continue
		}
		replaced[r.Of] = true
		rows = append(rows, entry{"", fmt.Sprintf("%s: %s; new since %s%s", r.Text(), r.Why, r.At.Format(time.DateOnly), at)})
	}
	for i, p := range s.Parts {
		if p.OnNoSheet && p.Confirmed && !replaced[p.Name] {
			text := p.Text() + ", on no sheet"
			if n := slices.IndexFunc(s.Found, func(f Found) bool { return f.OnNoSheet && f.Of == s.Parts[i].Text() }); n >= 0 {
				text = s.Found[n].Line()
			}
			rows = append(rows, entry{"", text + "; back in its place" + at})
		}
	}
	return rows
}

// money are the totals, and what they are made up of.
func (b Build) money() panel {
	p := panel{Title: "Costs"}
	for _, t := range b.Totals {
		p.Rows = append(p.Rows, entry{t, "in all"})
	}
	for _, c := range b.Costs {
		p.Rows = append(p.Rows, entry{c.Total, c.Text() + ", " + c.At.Format(time.DateOnly)})
	}
	return p
}

// between are what was said between the walks.
func (b Build) between() panel {
	p := panel{Title: "Between the walks"}
	for _, h := range b.Between {
		p.Rows = append(p.Rows, entry{h.At.Format(time.DateOnly), h.Text})
	}
	return p
}

// finals are what each group of a closed joint ended at; bolts that ended alike share a row.
func (s Sheet) finals(what string) []entry {
	var rows []entry
	for _, g := range s.Groups {
		by, order := map[string][]string{}, []string{}
		for _, f := range s.Fasteners {
			final := f.Final()
			if f.Group != g.ID || final == "" {
				continue
			}
			if by[final] == nil {
				order = append(order, final)
			}
			by[final] = append(by[final], f.ID)
		}
		for _, final := range order {
			rows = append(rows, entry{final, fmt.Sprintf("%s, %d × (%s)", g.Name(), len(by[final]), what)})
		}
	}
	return rows
}
