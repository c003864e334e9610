package report

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// csvHead names the columns of a CSV export. Columns are added at the end.
var csvHead = []string{"record", "engine", "procedure", "number", "pass", "step", "fastener", "group", "action", "target", "confirmed", "at", "reading", "low", "high", "unit", "wrench", "refused", "source", "closing_hash", "from_paper", "photos"}

// WriteCSV writes one row a stage, in the order of the plan (RFC 4180); of a sheet
// with parts only one row, if there are photos to name. Text that a spreadsheet
// would run as a formula gets a quote before it.
func WriteCSV(w io.Writer, s Sheet) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write(csvHead); err != nil {
		return err
	}
	list := s.inPlanOrder()
	for i, p := range list {
		if err := out.Write(s.csvRow(p, i == 0)); err != nil {
			return err
		}
	}
	if len(list) == 0 && len(s.Photos) > 0 {
		row := make([]string, len(csvHead))
		row[0], row[1], row[2], row[19], row[21] = s.ID, s.Engine, s.Procedure, s.ClosingHash, s.photosOn("", true)
		if err := out.Write(safe(row)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// placed is a stage with its fastener.
type placed struct {
	f  *Fastener
	st *Stage
}

// inPlanOrder lists the stages by their number in the plan.
func (s Sheet) inPlanOrder() []placed {
	last := 0
	for _, f := range s.Fasteners {
		for _, st := range f.Stages {
			last = max(last, st.Number)
		}
	}
	byNumber := make([]placed, last+1)
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		for j := range f.Stages {
			byNumber[f.Stages[j].Number] = placed{f, &f.Stages[j]}
		}
	}
	list := byNumber[:0]
	for _, p := range byNumber {
		if p.st != nil {
			list = append(list, p)
		}
	}
	return list
}

func (s Sheet) csvRow(p placed, first bool) []string {
	st := p.st
	row := []string{s.ID, s.Engine, s.Procedure, strconv.Itoa(st.Number), st.Pass, strconv.Itoa(st.Step), p.f.ID, p.f.Group, st.Action, st.Target,
		yesNo(st.Confirmed), "", st.Reading, "", "", "", st.Wrench, strconv.Itoa(len(st.Refused)), st.Source, s.ClosingHash, yesNo(st.FromPaper), s.photosOn(p.f.ID, first)}
	if st.At != nil {
		row[11] = st.At.Format("2006-01-02T15:04:05Z07:00")
	}
	if w := st.Window; w != nil {
		row[13], row[15] = number(w.Low), w.Unit
		if w.High != nil {
			row[14] = number(*w.High)
		}
	}
	return safe(row)
}

func safe(row []string) []string {
	for i := range row {
		row[i] = CSVCell(row[i])
	}
	return row
}

func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// CSVCell is what stands in a cell of any CSV the program writes: a text that a
// spreadsheet would take for a formula gets a quote before it. Full-width signs
// and leading blanks count too, since some programs fold them.
func CSVCell(text string) string {
	lead := strings.TrimLeft(text, " \t\r\n\u00a0\u3000")
	if strings.HasPrefix(text, "\t") || strings.HasPrefix(text, "\r") || lead != "" && strings.ContainsAny(firstRune(lead), "=+-@＝＋－−＠") {
		return "'" + text
	}
	return text
}

func firstRune(s string) string {
	for _, r := range s {
		return string(r)
	}
	return ""
}
