package review

import (
	"fmt"
	"strings"
	"time"

	"evenpull/ui/fit"
	"evenpull/ui/report"
	"evenpull/ui/theme"
)

// The pages, in the order of their number keys.
const (
	matrixPage = iota
	outstandingPage
	checksPage
	renewalsPage
	deviationsPage
	timelinePage
	replayPage
	filePage
	pageCount
)

// pageNames are what the pages are called at the bench.
var pageNames = [pageCount]string{"Bolts", "To do", "Checks", "New parts", "Snags", "Log", "Replay", "Record"}

// page is running text laid out for the width: rows, and how many things they
// tell of. The matrix is drawn on its own.
type page struct {
	rows  []string
	count int
}

// writer fills a page.
type writer struct {
	width int
	rows  []string
}

// item adds text behind a lead, wrapped with a hanging indent.
func (w *writer) item(role theme.Role, lead, text string) {
	indent := fit.Width(lead)
	if indent > w.width/2 {
		w.rows = append(w.rows, fit.Cut(strings.TrimRight(lead, " "), w.width))
		lead, indent = "  ", 2
	}
	for i, line := range fit.Wrap(theme.Text(text), max(1, w.width-indent)) {
		if i > 0 {
			lead = strings.Repeat(" ", indent)
		}
		w.rows = append(w.rows, lead+theme.Render(role, line))
	}
}

func (w *writer) title(text string) {
	if len(w.rows) > 0 {
		w.rows = append(w.rows, "")
	}
	w.rows = append(w.rows, theme.Render(theme.Title, fit.Cut(text, w.width)))
}

// nothing says that a page is empty, and why that is well or not.
func (w *writer) nothing(text string) { w.item(theme.Quiet, "", text) }

func (m Model) layPages() []page {
	pages := make([]page, pageCount)
	for i, lay := range []func(*writer) int{nil, m.layOutstanding, m.layChecks, m.layRenewals, m.layDeviations, m.layTimeline, nil, m.layFile} {
		if lay == nil {
			continue // drawn on its own
		}
		w := &writer{width: m.width}
		pages[i].count = lay(w)
		pages[i].rows = w.rows
	}
	return pages
}

func (m Model) layOutstanding(w *writer) int {
	for _, o := range m.sheet.Outstanding {
		w.item(theme.Outstanding, theme.Mark(theme.Outstanding)+" ", o)
	}
	if len(m.sheet.Outstanding) == 0 {
		w.nothing("Nothing: every stage, check, part and new piece is accounted for.")
	}
	return len(m.sheet.Outstanding)
}

func (m Model) layChecks(w *writer) int {
	s := m.sheet
	if len(s.Checks) > 0 {
		w.title("Checks and measurements")
	}
	for _, c := range s.Checks {
		text := c.Text()
		if !strings.HasSuffix(text, "?") {
			text += ":"
		}
		w.state(c.Confirmed, fmt.Sprintf("%s %s (%s)", text, c.Result(), c.When))
		for _, r := range c.Refused {
			w.item(theme.Caution, "    "+theme.Mark(theme.Caution)+" ", r.Reading+" refused: "+r.Why)
		}
	}
	if len(s.Parts) > 0 {
		w.title("Parts")
	}
	for _, p := range s.Parts {
		w.state(p.Confirmed, p.Text()+": "+p.Result())
	}
	if len(s.Waits)+len(s.Callouts) > 0 {
		w.title("Ready, and waited for")
	}
	for _, c := range append(append([]report.Step{}, s.Callouts...), s.Waits...) {
		w.state(c.Confirmed, c.Text)
	}
	if len(w.rows) == 0 {
		w.nothing("The procedure asks for no checks, parts or waits.")
	}
	return len(s.Checks) + len(s.Parts) + len(s.Waits) + len(s.Callouts)
}

func (w *writer) state(confirmed bool, text string) {
	if confirmed {
		w.item(theme.Plain, theme.Mark(theme.Done)+" ", text)
		return
	}
	w.item(theme.Outstanding, theme.Mark(theme.Outstanding)+" ", text)
}

func (m Model) layRenewals(w *writer) int {
	for _, r := range m.sheet.Renewals {
		w.item(theme.Plain, w.when(r.At)+theme.Mark(theme.Renew)+" ", r.Text())
	}
	if len(m.sheet.Renewals) == 0 {
		w.nothing("No new piece is recorded.")
	}
	return len(m.sheet.Renewals)
}

// when is a time before a text: without the date where the screen is narrow.
func (w *writer) when(t time.Time) string {
	if w.width < 60 {
		return t.Format("15:04 ")
	}
	return t.Format("2006-01-02 15:04  ")
}

func (m Model) layDeviations(w *writer) int {
	s := m.sheet
	for _, d := range s.Deviations {
		w.item(theme.Plain, w.when(d.At), d.Text)
	}
	if len(s.Deviations) == 0 {
		w.nothing("None: it went straight through.")
	}
	for _, r := range s.Refused {
		w.title(fmt.Sprintf("%sdone refused, %d outstanding:", w.when(r.At), len(r.Outstanding)))
		for _, o := range r.Outstanding {
			w.item(theme.Quiet, "  "+theme.Mark(theme.Outstanding)+" ", o)
		}
	}
	return len(s.Deviations)
}

func (m Model) layTimeline(w *writer) int {
	day := ""
	for _, e := range m.sheet.Timeline {
		if d := e.At.Format("2006-01-02, UTC-07:00"); d != day {
			day = d
			w.title(d)
		}
		role := theme.Plain
		if !e.Counts {
			role = theme.Warning
		}
		w.item(role, e.At.Format("15:04:05  "), e.Said())
	}
	if len(m.sheet.Timeline) == 0 {
		w.nothing("Nothing has happened yet.")
	}
	return len(m.sheet.Timeline)
}

func (m Model) layFile(w *writer) int {
	if alarms := m.sheet.Alarms(); len(alarms) > 0 {
		w.title(m.alarmTitle())
		for _, a := range alarms {
			w.item(theme.Caution, theme.Mark(theme.Caution)+" ", a)
		}
		w.rows = append(w.rows, "")
	}
	lead := 14
	if m.width < 60 {
		lead = 2
	}
	for _, f := range m.sheet.Facts() {
		if lead == 2 {
			w.item(theme.Quiet, "", f[0])
			w.item(theme.Plain, "  ", f[1])
			continue
		}
		w.item(theme.Plain, fit.Pad(f[0], lead), f[1])
	}
	w.rows = append(w.rows, "")
	w.item(theme.Quiet, "", report.Governs)
	return 0
}

func (m Model) alarmTitle() string {
	if m.sheet.Trusted() {
		return "Notes on the file"
	}
	return "Do not rely on this record"
}
