package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
)

// Build is all that is on record of one engine in one document, for its owner
// and for whoever opens it next. Sheets are its walks, oldest first.
type Build struct {
	Tag, Name, Meter string
	At               time.Time // when it was made
	Standing         []Section // how the engine stands now, the pressing first
	Sheets           []Sheet
}

// Section is a titled list of lines.
type Section struct {
	Title string
	Lines []string
}

// Kept of a build sheet: what its first page has room for.
const (
	mostJoints = 14
	mostRows   = 10 // of a list of the first page
)

// joint is a walk in one row.
type joint struct {
	When, What, State, Stages, Record, Hash, Signed string
}

func (b Build) joints() []joint {
	var list []joint
	for _, s := range b.Sheets {
		j := joint{What: s.Procedure, State: s.State, Stages: fmt.Sprintf("%d of %d", s.Stages.Confirmed, s.Stages.Of), Record: s.ID, Hash: s.ClosingHash, When: s.Started.Format(time.DateOnly)}
		if s.Place != "" {
			j.What += ", " + s.Place
		}
		if s.Last != nil {
			j.When = s.Last.Format(time.DateOnly)
		}
		if !s.Trusted() {
			j.State = "not to be relied on"
		}
		for _, n := range s.Notes {
			if strings.Contains(n, "signed by") {
				j.Signed = n
			}
		}
		list = append(list, j)
	}
	return list
}

// Verdict counts the walks by how they ended.
func (b Build) Verdict() string {
	done, open := 0, 0
	for _, s := range b.Sheets {
		switch s.State {
		case "done":
			done++
		case "open":
			open++
		}
	}
	return fmt.Sprintf("%d done, %d open", done, open)
}

// title is the engine in one line.
func (b Build) title() string {
	text := "Engine " + b.Tag
	for _, more := range []string{b.Name, b.Meter} {
		if more != "" {
			text += ", " + more
		}
	}
	return text
}

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
			for _, f := range s.Faults {
				found.Rows = append(found.Rows, entry{"", f.Text()})
			}
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
				fitted.Rows = append(fitted.Rows, r)
			}
		}
	}
	list := []panel{orNothing(final, "No joint is closed."), orNothing(measured, "Nothing was measured."), orNothing(fitted, "No new piece is recorded."),
		orNothing(found, "No finding had to be answered.")}
	for _, s := range b.Standing {
		p := panel{Title: s.Title}
		for _, line := range s.Lines {
			p.Rows = append(p.Rows, entry{"", line})
		}
		if len(p.Rows) > 0 {
			list = append(list, p)
		}
	}
	return list
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

// columns sets the lists beside each other on the first page, cut to the room there
// is; what has none stands in full behind it.
func columns(panels []panel, room, width float64) (left, right []panel) {
	panels = short(panels, width)
	for i, p := range panels {
		if over := len(p.Rows) - mostRows; over > 0 {
			panels[i].Rows, panels[i].More = p.Rows[:mostRows], p.More+over
		}
	}
	n := 1
	for n < len(panels) && heightOf(panels[:n], width) < heightOf(panels[n:], width) {
		n++
	}
	return cutTo(panels[:n], room, width), cutTo(panels[n:], room, width)
}

// Room of the fixed parts of the first page of a build sheet, in mm.
const (
	buildHeadRoom = 27
	jointsRoom    = 10 // of their heading
	jointRow      = 4.4
	buildSignRoom = 36
)

// pastWalk is one walk of a build sheet.
type pastWalk struct {
	Sheet
	Map      drawing
	Matrices []Matrix
}

// WriteBuildHTML writes the build sheet as one file without scripts and without
// anything from elsewhere: a page of essentials with a place to sign, then walk by walk.
func WriteBuildHTML(w io.Writer, b Build, p Paper) error {
	joints := b.joints()
	more := max(0, len(joints)-mostJoints)
	room := p.Height - buildHeadRoom - jointsRoom - jointRow*float64(min(mostJoints, len(joints))) - buildSignRoom
	left, right := columns(b.panels(), room, (p.Width-8)/2)
	doc := struct {
		Build
		Title       string
		Paper       Paper
		Margin      int
		Foot        string
		Joints      []joint
		More        int
		Left, Right []panel
		All         []panel
		Declaration string
		Walks       []pastWalk
		FrontHeight float64
	}{Build: b, Title: b.title(), Paper: p, Margin: pageMargin, Foot: footText(b.title() + ", build sheet of " + b.At.Format(time.DateOnly)), Joints: joints[more:], More: more,
		Left: left, Right: right, All: b.panels(), Declaration: Responsible, FrontHeight: p.Height - 2}
	for _, s := range b.Sheets {
		doc.Walks = append(doc.Walks, pastWalk{s, s.draw(p.Width, leastMap+20), s.Matrix().chunks(htmlPasses)})
	}
	return pages().ExecuteTemplate(w, "build", doc)
}

// WriteBuildText writes the build sheet in 80 columns.
func WriteBuildText(w io.Writer, b Build) error {
	head := block{title: "Build sheet: " + b.title()}
	head.item("", fmt.Sprintf("%s, made %s", b.Verdict(), b.At.Format("2006-01-02 15:04 -07:00")))
	list := block{title: "Walks"}
	for _, j := range b.joints() {
		list.item(j.When+"  ", strings.TrimSuffix(fmt.Sprintf("%s: %s, %s stages; record %s, closing hash %s; %s", j.What, j.State, j.Stages, j.Record, j.Hash, j.Signed), "; "))
	}
	blocks := []block{head, list}
	for _, p := range b.panels() {
		bl := block{title: p.Title}
		for _, r := range p.Rows {
			lead := r.Lead
			if lead != "" {
				lead += "  "
			}
			bl.item("", lead+r.Text)
		}
		blocks = append(blocks, bl)
	}
	blocks = append(blocks, governsBlock())
	for _, s := range b.Sheets {
		for _, bl := range s.blocks() {
			if bl.title == "" {
				bl.title = strings.Repeat("=", 20) + " " + s.ID
			}
			blocks = append(blocks, bl)
		}
	}
	return writeBlocks(w, blocks)
}

// buildHead names the columns of a build sheet as CSV. Columns are added at the end.
var buildHead = []string{"engine", "date", "walk", "place", "state", "kind", "thing", "text", "figure", "limit", "record", "closing_hash"}

// WriteBuildCSV writes one row a fact, walk by walk (RFC 4180).
func WriteBuildCSV(w io.Writer, b Build) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write(buildHead); err != nil {
		return err
	}
	put := func(s Sheet, at *time.Time, kind, thing, text, figure, limit string) {
		date := ""
		if at != nil {
			date = at.Format("2006-01-02T15:04:05Z07:00")
		}
		row := []string{b.Tag, date, s.Procedure, s.Place, s.State, kind, thing, text, figure, limit, s.ID, s.ClosingHash}
		for i := range row {
			row[i] = CSVCell(row[i])
		}
		_ = out.Write(row) // told by out.Error
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
		for _, f := range s.Faults {
			put(s, f.FoundAt, "finding", f.ID, f.Text(), f.Reading, f.Limits)
		}
		for _, r := range s.Renewals {
			put(s, &r.At, "new", r.Of, r.Piece, r.Number, "")
		}
		for _, d := range s.Deviations {
			put(s, &d.At, "deviation", strconv.Itoa(d.Seq), d.Text, "", "")
		}
	}
	out.Flush()
	return out.Error()
}

// BuildFormats are the ways to write a build sheet, by the name on the command line.
var BuildFormats = map[string]func(io.Writer, Build, Paper) error{
	"html": WriteBuildHTML,
	"text": func(w io.Writer, b Build, _ Paper) error { return WriteBuildText(w, b) },
	"csv":  func(w io.Writer, b Build, _ Paper) error { return WriteBuildCSV(w, b) },
}
