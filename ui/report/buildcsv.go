package report

import (
	"encoding/csv"
	"io"
	"strconv"
	"time"
)

// buildHead names the columns of a build sheet as CSV. Columns are added at the end.
var buildHead = []string{"engine", "date", "walk", "place", "state", "kind", "thing", "text", "figure", "limit", "record", "closing_hash", "sha256"}

// WriteBuildCSV writes one row a fact, walk by walk (RFC 4180).
func WriteBuildCSV(w io.Writer, b Build) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write(buildHead); err != nil {
		return err
	}
	write := func(s Sheet, at *time.Time, kind, thing, text, figure, limit, sum string) {
		date := ""
		if at != nil {
			date = at.Format("2006-01-02T15:04:05Z07:00")
		}
		row := []string{b.Tag, date, s.Procedure, s.Place, s.State, kind, thing, text, figure, limit, s.ID, s.ClosingHash, sum}
		for i := range row {
			row[i] = CSVCell(row[i])
		}
		_ = out.Write(row) // told by out.Error
	}
	put := func(s Sheet, at *time.Time, kind, thing, text, figure, limit string) {
		write(s, at, kind, thing, text, figure, limit, "")
	}
	photos := func(s Sheet, list []Photo) {
		for _, p := range list {
			write(s, &p.At, "photo", p.Of, p.Text(), "", "", p.SHA256)
		}
	}
	for _, s := range b.Sheets {
		put(s, s.Last, "walk", "", s.Standing(), "", "")
		for _, p := range s.inPlanOrder() {
			if !p.st.Confirmed {
				continue
			}
			figure, limit := p.st.Reading, ""
			if w := p.st.Window; w != nil {
				limit = w.Text
			}
			if figure == "" {
				figure = p.st.figure()
			}
			put(s, p.st.At, "stage", p.f.ID, p.st.Pass+", "+p.st.Action, figure, limit)
		}
		for _, c := range s.Checks {
			if c.Measure != "" {
				put(s, c.At, "measure", c.ID, c.Measure, c.Reading, c.Limits)
			} else {
				put(s, c.At, "question", c.ID, c.Ask, c.Answer, "")
			}
		}
		for _, p := range s.Parts {
			put(s, nil, "part", p.ID, p.Text(), p.Result(), "")
		}
		for _, f := range s.Found {
			put(s, nil, "found", f.Of, f.Text, f.Measured, "")
		}
		for _, f := range s.Faults {
			put(s, f.FoundAt, "finding", f.ID, f.Text(), f.Reading, f.Limits)
		}
		for _, r := range s.Renewals {
			put(s, &r.At, "new", r.Of, r.Piece, r.Number, "")
		}
		for _, d := range s.Deviations {
			put(s, &d.At, "deviation", strconv.Itoa(d.Seq), d.Text, "", "")
		}
		photos(s, s.Photos)
	}
	for _, h := range b.Between {
		put(Sheet{ID: h.Record}, &h.At, "between", "", h.Text, "", "")
	}
	for _, c := range b.Costs {
		put(Sheet{}, &c.At, "cost", c.What, c.Text(), c.Total, "")
	}
	photos(Sheet{}, b.Photos)
	out.Flush()
	return out.Error()
}
