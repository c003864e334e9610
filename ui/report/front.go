package report

import (
	"fmt"
	"strings"

	"evenpull/procedures/walk"
)

// front is the first page: all that decides, measured out so that it is one
// page whatever the record holds. What has no room is counted, and stands in
// full in the appendix.
type front struct {
	Sheet
	Tag, Name       string  // cut to their room
	TagSize         float64 // mm
	HeadWidth       float64
	Verdict, When   string
	Alarm           string
	Map             drawing
	Blocks          []Matrix // the matrix beside itself; none: Summary has it
	Summary         *panel
	Beside          bool // map and matrix stand beside each other
	Left, Right     []panel
	MatrixElsewhere bool
}

// panel is a titled list of the first page.
type panel struct {
	Title string
	Rows  []entry
	More  int // rows that have no room
}

// entry is a line: a bold lead, and text.
type entry struct{ Lead, Text string }

func (e entry) all() string { return e.Lead + " " + e.Text }

// Room of the fixed parts of the first page, in mm.
const (
	headRoom    = 28 // with a name of one line
	nameLine    = 6
	alarmRoom   = 15
	footRoom    = 49
	gap         = 4
	leastMap    = 52 // with its caption
	captionRoom = 8
	mostMap     = 112
	mostLists   = 0.45 // of what is left between head and foot
)

// onFirstPage lays the first page out.
func (s Sheet) onFirstPage(p Paper) front {
	f := front{Sheet: s, When: s.whenEnded()}
	f.HeadWidth = p.Width - 62
	f.Tag, f.TagSize = sized(s.tag(), f.HeadWidth)
	f.Name = within(s.Procedure, 2, f.HeadWidth, 5)
	f.Verdict = "NOT DONE"
	if s.State == "done" {
		f.Verdict = "DONE"
	}
	room := p.Height - headRoom - footRoom - 2*gap - nameLine*float64(linesOf(f.Name, f.HeadWidth, 5)-1)
	if alarms := s.Alarms(); len(alarms) > 0 {
		f.Alarm = within(strings.Join(alarms, " "), 3, p.Width-8, textSize)
		room -= alarmRoom
	}
	column := (p.Width - 8) / 2
	left, right := short(s.leftPanels(), column), short(s.rightPanels(), column)
	lists := min(mostLists*room, max(heightOf(left, column), heightOf(right, column)))
	if !f.drawing(room-lists-gap, p) { // the fasteners are worth more than the lists' last lines
		lists = min(lists, 0.3*room)
		if !f.drawing(room-lists-gap, p) {
			f.inSum(room-lists-gap, p)
		}
	}
	f.Left, f.Right = cutTo(left, lists, column), cutTo(right, lists, column)
	return f
}

// sized gives a tag the largest letters it has room for.
func sized(text string, width float64) (string, float64) {
	for _, size := range []float64{11, 8, 6} {
		if linesOf(text, width, size) == 1 {
			return text, size
		}
	}
	return within(text, 2, width, 4.2), 4.2
}

func (s Sheet) whenEnded() string {
	switch {
	case s.State == "done" && s.Finished != nil:
		return s.Finished.Format("2006-01-02 15:04 -07:00")
	case s.State == "stopped":
		return "stopped " + stampOr(s.Finished, "")
	}
	return "open: " + walk.StagesText(s.Stages.Confirmed, s.Stages.Of)
}

// drawing shares the room between the map and the matrix: beside each other,
// or else one above the other. It reports whether there is room for both.
func (f *front) drawing(room float64, p Paper) bool {
	m := f.Matrix()
	wide, high := m.size(len(m.Rows))
	if wide <= p.Width-80 && high <= room {
		f.Beside, f.Blocks = true, []Matrix{m}
		f.Map = f.draw(p.Width-wide-6, min(room-captionRoom, mostMap))
		return true
	}
	blocks := int((p.Width + 6) / (wide + 6))
	if blocks == 0 {
		return false
	}
	rows := (len(m.Rows) + blocks - 1) / blocks
	if _, high = m.size(rows); high+leastMap+gap > room {
		return false
	}
	f.Blocks = m.columns(rows)
	f.Map = f.draw(p.Width, min(room-high-gap-captionRoom, mostMap))
	return true
}

// inSum puts the sum by pass and group in the matrix's place.
func (f *front) inSum(room float64, p Paper) {
	f.MatrixElsewhere = true
	sum := cutTo(short([]panel{f.summary()}, p.Width), max(room-leastMap-gap, 0.4*room), p.Width)
	if len(sum) > 0 {
		f.Summary = &sum[0]
	}
	f.Map = f.draw(p.Width, min(room-heightOf(sum, p.Width)-gap-captionRoom, mostMap))
}

// size is the room a matrix with so many rows takes, in mm.
func (m Matrix) size(rows int) (wide, high float64) {
	letters := func(text string, n int) int { return max(n, len([]rune(text))) }
	id, notes, cells := 3, 0, make([]int, len(m.Passes))
	for _, r := range m.Rows {
		id, notes = letters(r.ID, id), letters(r.Notes, notes)
		for i, c := range r.Cells {
			cells[i] = letters(c.Figures()+" !", cells[i])
		}
	}
	for i, p := range m.Passes {
		for _, word := range strings.Fields(p) {
			cells[i] = letters(word, cells[i])
		}
	}
	all := id + notes
	for _, n := range cells {
		all += n
	}
	const letter = 0.64 * textSize
	return 8 + float64(all)*letter + float64(len(cells)+2)*2.4, float64(rows+2)*rowHeight + lineHeight + titleRoom
}

// columns cuts a matrix into pieces of so many rows.
func (m Matrix) columns(rows int) []Matrix {
	var list []Matrix
	for from := 0; from < len(m.Rows); from += rows {
		list = append(list, Matrix{m.Passes, m.Rows[from:min(from+rows, len(m.Rows))]})
	}
	return list
}

// summary says by pass and group what the matrix says by fastener.
func (s Sheet) summary() panel {
	p := panel{Title: "By pass"}
	type place struct{ pass, group string }
	counts, reads := map[place]Count{}, map[place]int{}
	for _, f := range s.Fasteners {
		for _, st := range f.Stages {
			at := place{st.Pass, f.Group}
			c := counts[at]
			c.Of++
			if st.Confirmed {
				c.Confirmed++
			}
			if st.Reading != "" {
				reads[at]++
			}
			counts[at] = c
		}
	}
	for _, pass := range s.Passes {
		for _, fig := range pass.Figures {
			c := counts[place{pass.Name, fig.Group}]
			p.Rows = append(p.Rows, entry{pass.Name, fmt.Sprintf("%s: %s: %d of %d confirmed, %d of them read", s.groupName(fig.Group), fig.Text, c.Confirmed, c.Of, reads[place{pass.Name, fig.Group}])})
		}
	}
	return p
}

func (s Sheet) groupName(id string) string {
	for _, g := range s.Groups {
		if g.ID == id {
			return g.Name()
		}
	}
	return id
}

// heightOf is the room that panels take one above the other, in mm.
func heightOf(panels []panel, width float64) float64 {
	h := 0.0
	for _, p := range panels {
		h += titleRoom
		for _, e := range p.Rows {
			h += float64(linesOf(e.all(), width, textSize))*lineHeight + 0.5
		}
		if p.More > 0 {
			h += lineHeight
		}
	}
	return h
}

// short cuts every row to a few lines.
func short(panels []panel, width float64) []panel {
	for _, p := range panels {
		for i, e := range p.Rows {
			p.Rows[i].Lead = within(e.Lead, 1, width, textSize)
			p.Rows[i].Text = within(e.Text, mostLines, width-letterWide*textSize*float64(len([]rune(p.Rows[i].Lead))), textSize)
		}
	}
	return panels
}

// mostLines of one row on the first page.
const mostLines = 4

// cutTo leaves out rows from the longest panel until all fit.
func cutTo(panels []panel, room, width float64) []panel {
	for i := range panels {
		p := &panels[i]
		if most := int(room/lineHeight) + 1; len(p.Rows) > most {
			p.Rows, p.More = p.Rows[:most], p.More+len(p.Rows)-most
		}
	}
	for heightOf(panels, width) > room+0.01 {
		longest := -1
		for i, p := range panels {
			if len(p.Rows) > 0 && (longest < 0 || len(p.Rows) > len(panels[longest].Rows)) {
				longest = i
			}
		}
		if longest < 0 {
			return nil
		}
		p := &panels[longest]
		p.Rows, p.More = p.Rows[:len(p.Rows)-1], p.More+1
	}
	return panels
}
