package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
)

// Build is all that is on record of one engine in one document, for its owner
// and for whoever opens it next. Sheets are its walks, oldest first.
type Build struct {
	Tag, Name, Meter string
	At               time.Time // when it was made
	Standing         []Section // how the engine stands now, the pressing first
	Between          []Between // said between the walks, oldest first
	Costs            []Cost
	Totals           []string // of the costs, one for each currency
	Sheets           []Sheet
	Photos           []Photo // taken between the walks

	used int // bytes of pictures
}

// Between is something that was said between two walks.
type Between struct {
	At           time.Time
	Text, Record string // the ledger that has it
}

// Cost is money spent or owed.
type Cost struct {
	At                       time.Time
	What, From, Price, Total string
	Count                    int
}

// Text says what it was for: "2 × head gasket, the parts counter, 14 EUR each".
func (c Cost) Text() string {
	text := fmt.Sprintf("%d × %s", c.Count, c.What)
	for _, more := range []string{c.From, c.Price} {
		if more != "" && more != c.Total {
			text += ", " + more
		}
	}
	return text
}

// Add puts a walk into it, with those of its pictures there is still room for.
func (b *Build) Add(s Sheet) {
	s.Photos = slices.DeleteFunc(slices.Clone(s.Photos), func(p Photo) bool { return p.Told }) // they stand where they were taken
	for i := range s.Photos {
		b.used = s.Photos[i].within(b.used)
	}
	b.Sheets = append(b.Sheets, s)
}

// AddPhoto puts a picture of no walk into it.
func (b *Build) AddPhoto(p Photo) {
	b.used = p.within(b.used)
	b.Photos = append(b.Photos, p)
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
			if strings.HasPrefix(n, "signed ") {
				j.Signed = strings.TrimPrefix(j.Signed+"; "+n, "; ")
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
	blocks = append(blocks, Sheet{Photos: b.Photos}.photoBlock("Photos between the walks"), governsBlock())
	for _, s := range b.Sheets {
		list := s.blocks()
		list[0].title = strings.Repeat("=", 20) + " " + s.ID
		blocks = append(blocks, list[:len(list)-1]...) // what governs has been said
	}
	blocks = slices.DeleteFunc(blocks, func(bl block) bool { return len(bl.rows) == 0 })
	return writeBlocks(w, blocks)
}

// BuildFormats are the ways to write a build sheet, by the name on the command line.
var BuildFormats = map[string]func(io.Writer, Build, Paper) error{
	"html": WriteBuildHTML,
	"text": func(w io.Writer, b Build, _ Paper) error { return WriteBuildText(w, b) },
	"csv":  func(w io.Writer, b Build, _ Paper) error { return WriteBuildCSV(w, b) },
}
