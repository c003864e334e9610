package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"evenpull/ui/fit"
)

// paperWidth is the width of a printed line in characters.
const paperWidth = 80

// block is a part of the page: a title, headings that come again when it runs
// over to the next page, and rows that are not torn apart.
type block struct {
	title string
	head  []string
	rows  [][]string
}

func (b *block) add(lines ...string) { b.rows = append(b.rows, lines) }

// item adds text behind a lead, wrapped with a hanging indent.
func (b *block) item(lead, text string) {
	indent := min(fit.Width(lead), paperWidth/2)
	lines := fit.Wrap(text, paperWidth-indent)
	if len(lines) == 0 {
		lines = []string{""}
	}
	for i := range lines {
		if i == 0 {
			lines[i] = strings.TrimRight(lead+lines[i], " ")
			continue
		}
		lines[i] = strings.Repeat(" ", indent) + lines[i]
	}
	b.rows = append(b.rows, lines)
}

// WriteText writes the sheet in 80 columns, without pages: for a terminal.
func WriteText(w io.Writer, s Sheet) error {
	return writeBlocks(w, s.blocks())
}

func writeBlocks(w io.Writer, blocks []block) error {
	var b strings.Builder
	for i, bl := range blocks {
		if i > 0 {
			b.WriteByte('\n')
		}
		for _, line := range bl.opening() {
			b.WriteString(line + "\n")
		}
		for _, row := range bl.rows {
			b.WriteString(strings.Join(row, "\n") + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (b block) opening() []string {
	if b.title == "" {
		return b.head
	}
	return append([]string{strings.ToUpper(b.title)}, b.head...)
}

func (s Sheet) blocks() []block {
	list := []block{s.headBlock(), s.alarmBlock(), s.outstandingBlock(), s.cautionBlock(), s.passBlock()}
	list = append(list, s.matrixBlocks()...)
	list = append(list, s.foundBlock(), s.faultBlock(), s.checkBlock(), s.partBlock(), s.renewalBlock(), s.deviationBlock(), s.refusedBlock(), s.wrenchBlock(), s.photoBlock("Photos"), s.timelineBlock(), s.closingBlock(), governsBlock())
	var full []block
	for _, b := range list {
		if len(b.rows) > 0 {
			full = append(full, b)
		}
	}
	return full
}

func (s Sheet) headBlock() block {
	var b block
	b.item("", s.Procedure)
	b.item("", s.Standing())
	b.add("")
	for _, f := range s.Facts() {
		b.item(fit.Pad(f[0], 14), f[1])
	}
	return b
}

func (s Sheet) alarmBlock() block {
	b := block{title: "Do not rely on this record"}
	if s.Chain == "whole" && len(s.Findings) == 0 {
		b.title = "Notes on the file"
	}
	for _, a := range s.Alarms() {
		b.item("! ", a)
	}
	return b
}

func (s Sheet) outstandingBlock() block {
	b := block{title: fmt.Sprintf("Outstanding: %d", len(s.Outstanding))}
	for _, o := range s.Outstanding {
		b.item("[ ] ", o)
	}
	return b
}

func (s Sheet) cautionBlock() block {
	b := block{title: "Cautions"}
	for _, c := range s.Cautions {
		b.item("! ", c)
	}
	for _, g := range s.Groups {
		if g.Caution != "" {
			b.item("! ", g.Name()+": "+g.Caution)
		}
	}
	for _, p := range s.Passes {
		if p.Caution != "" {
			b.item("! ", p.Name+": "+p.Caution)
		}
	}
	return b
}

func (s Sheet) passBlock() block {
	b := block{title: "Passes"}
	for i, p := range s.Passes {
		if p.Wait != "" {
			b.item(fmt.Sprintf("%2d  ", i+1), fmt.Sprintf("%s: wait %s", p.Name, p.Wait))
			continue
		}
		if len(s.Fasteners) == 0 {
			continue // parts only
		}
		b.item(fmt.Sprintf("%2d  ", i+1), fmt.Sprintf("%s: %d of %d stages", p.Name, p.Stages.Confirmed, p.Stages.Of))
		for _, f := range p.Figures {
			b.item("      ", s.figureLine(f))
		}
	}
	return b
}

func (s Sheet) figureLine(f Figure) string {
	text := fmt.Sprintf("%s: %s", s.groupTitle(f.Group), f.Text)
	if f.Source == "" {
		return text + " (unsourced)"
	}
	return text
}

func (s Sheet) groupTitle(id string) string {
	for _, g := range s.Groups {
		if g.ID == id {
			return g.Label()
		}
	}
	return id
}

// Name is the group's title, or its id when it has none.
func (g Group) Name() string {
	if g.Title == "" {
		return g.ID
	}
	return g.Title
}

// Label is the group's name and what it is made of.
func (g Group) Label() string { return g.Name() + " (" + g.Text + ")" }

func (s Sheet) checkBlock() block {
	b := block{title: "Checks and measurements"}
	for _, c := range s.Checks {
		box := tick(c.Confirmed)
		if c.Fault != "" {
			box = "[!] "
		}
		b.item(box, fmt.Sprintf("%s (%s%s)", said(c.Text(), c.Result()), c.When, onPaper(c.FromPaper, at(c.At))))
		for _, r := range c.Refused {
			b.item("      ! ", fmt.Sprintf("%s refused: %s", r.Reading, r.Why))
		}
	}
	for _, c := range s.Callouts {
		b.item(tick(c.Confirmed), "ready: "+c.Text)
	}
	for _, c := range s.Waits {
		b.item(tick(c.Confirmed), c.Text)
	}
	return b
}

func (s Sheet) faultBlock() block {
	b := block{title: s.FaultTitle()}
	for _, f := range s.Faults {
		b.item("! ", fmt.Sprintf("%s (found %s)", f.Text(), Stamp(*f.FoundAt)))
	}
	return b
}

// FaultTitle says which end of a finding this walk is.
func (s Sheet) FaultTitle() string {
	if s.Direction == "open" {
		return "Found wrong"
	}
	return "Found wrong at strip-down, and what was done"
}

func (s Sheet) partBlock() block {
	b := block{title: "Parts"}
	for _, p := range s.Parts {
		b.item(tick(p.Confirmed), p.Text()+": "+p.Result())
	}
	return b
}

func tick(confirmed bool) string {
	if confirmed {
		return "[x] "
	}
	return "[ ] "
}

func onPaper(paper bool, at string) string {
	if paper {
		return ", from paper, time unknown"
	}
	return at
}

func at(t *time.Time) string {
	if t == nil {
		return ""
	}
	return ", " + Stamp(*t)
}

func (s Sheet) renewalBlock() block {
	b := block{title: "Renewed"}
	for _, r := range s.Renewals {
		b.item(r.At.Format("2006-01-02 15:04  "), r.Text())
	}
	return b
}

func (s Sheet) deviationBlock() block {
	b := block{title: "Deviations"}
	for _, d := range s.Deviations {
		b.item(d.At.Format("2006-01-02 15:04  "), d.Text)
	}
	return b
}

func (s Sheet) refusedBlock() block {
	b := block{title: "Done was refused"}
	for _, r := range s.Refused {
		b.item(r.At.Format("2006-01-02 15:04  "), fmt.Sprintf("%d outstanding:", len(r.Outstanding)))
		for _, o := range shortened(r.Outstanding) {
			b.item("      - ", o)
		}
	}
	return b
}

// wrenchBlock names the wrenches used, and on how many stages.
func (s Sheet) wrenchBlock() block {
	b := block{title: "Wrenches"}
	for _, w := range s.Wrenches() {
		b.item("", fmt.Sprintf("%s: %d stages", w.Name, w.Stages))
	}
	return b
}

func (s Sheet) timelineBlock() block {
	b := block{title: "Timeline"}
	day := ""
	for _, e := range s.Timeline {
		if d := e.At.Format("2006-01-02, UTC-07:00"); d != day {
			day = d
			b.add(d)
		}
		b.item(e.At.Format("15:04:05  "), e.Said())
	}
	return b
}

func (s Sheet) closingBlock() block {
	b := block{title: "Closing hash"}
	if s.ClosingHash != "" {
		b.item("", s.ClosingHash)
		b.item("", s.ClosingNote)
	}
	return b
}

// signBlock is for paper: who answers for the work.
func (s Sheet) signBlock() block {
	b := block{title: "Signed"}
	b.item("", s.Declaration())
	for _, what := range []string{"Mechanic", "Signature", "Date"} {
		b.add("", "", fit.Pad(what, 12)+strings.Repeat("_", 50))
	}
	return b
}

func governsBlock() block {
	var b block
	b.item("", Governs)
	return b
}
