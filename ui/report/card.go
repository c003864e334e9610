package report

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"io"
	"slices"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/markup"
	"evenpull/ui/words"
)

// card is a sheet not walked yet, for paper at the stand: a box to tick for
// every step, in the order of the walk.
type card struct {
	Sheet
	Paper  Paper
	Map    drawing
	Enter  string // the command that enters the ticks
	Passes []cardPass
}

// cardPass is a pass with what comes before and after its stages.
type cardPass struct {
	Name, Because, Caution, Prepare string
	Unsourced                       []string // groups whose figures have no source
	Before, After                   []cardLine
	Rows                            []cardRow
	Wide                            bool // the rows need the width of the paper

	first []string // to be made ready before the next row
}

// cardLine is a step that is no stage.
type cardLine struct {
	Kind  string // tick, ask, measure, wait
	Text  string
	Extra string // limits, where it goes
	New   bool   // a one-use piece: its number is written down

	Caution string
}

// cardRow is a fastener in a pass, with a box for each of its steps.
type cardRow struct {
	Number  int
	ID      string
	First   []string // to be made ready before it
	Mind    []string // what makes a wrong pull of the usual one
	Figures []string
	New     []string // what of it must be new
	Read    bool     // a reading can be taken
}

// cardSigned is what the signature on a work card stands under.
const cardSigned = "The engine's own service manual governs. Computed figures are estimates. A tick says that the step was done as the figure asks; " +
	"the person who signs has done or seen what is ticked, and is responsible for it."

// WriteCard writes a procedure as a work card: one HTML file to print, tick and
// write on. enter is the command that enters the ticks afterwards.
func WriteCard(w io.Writer, s *walk.State, enter string, p Paper) error {
	sum := New(Input{State: s, Whole: true, SHA256: fmt.Sprintf("%x", sha256.Sum256(s.Plan.Procedure.Text))})
	c := card{Sheet: sum, Paper: p, Enter: clean(enter), Map: sum.draw(82, 78)}
	at := map[*spec.Pass]int{}
	for _, pass := range s.Plan.Procedure.Passes {
		at[pass] = len(c.Passes)
		c.Passes = append(c.Passes, cardPass{Name: clean(pass.Name), Because: clean(pass.Because), Caution: clean(pass.Caution), Prepare: clean(pass.Prepare)})
	}
	due := map[string][]string{}
	for _, piece := range s.Pieces() {
		due[piece.Fastener] = append(due[piece.Fastener], clean(piece.Text()))
	}
	for _, it := range s.Items {
		if pass, known := at[it.Pass]; known && !it.Later {
			c.Passes[pass].add(s, it, due)
		}
	}
	for i := range c.Passes {
		c.Passes[i].measure(p)
	}
	page := markup.New(w)
	c.write(page)
	return page.Close()
}

// add puts an item of the agenda where it is done.
func (c *cardPass) add(s *walk.State, it walk.Item, due map[string][]string) {
	switch {
	case it.Kind == walk.StageItem:
		c.stage(s, it, due)
	case it.Kind == walk.PrepItem && (it.Fastener != nil || len(c.Rows) > 0):
		c.first = append(c.first, clean(it.Text()))
	case len(c.Rows) == 0:
		c.Before = append(c.Before, lineOf(it))
	default:
		c.After = append(c.After, lineOf(it))
	}
}

func lineOf(it walk.Item) cardLine {
	switch it.Kind {
	case walk.AskItem:
		return cardLine{Kind: "ask", Text: clean(it.Check.Ask), Caution: clean(it.Check.Caution)}
	case walk.MeasureItem:
		return cardLine{Kind: "measure", Text: clean(it.Check.Measure), Extra: words.Limits(it.Check), Caution: clean(it.Check.Caution)}
	case walk.CalloutItem:
		return cardLine{Kind: "tick", Text: clean(it.Text()), Caution: clean(it.Callout.Caution)}
	case walk.WaitItem:
		return cardLine{Kind: "wait", Text: "wait " + spec.Span(it.Pass.Wait)}
	case walk.PartItem:
		return cardLine{Kind: "tick", Text: clean(walk.PartText(it.Part)), Extra: clean(it.Part.Where), New: it.Part.OneUse, Caution: clean(it.Part.Caution)}
	case walk.SealItem:
		return cardLine{Kind: "wait", Text: clean(it.Text())}
	}
	return cardLine{Kind: "tick", Text: clean(it.Text())}
}

// stage adds a step to the row of its fastener, which it begins where needed.
func (c *cardPass) stage(s *walk.State, it walk.Item, due map[string][]string) {
	id, g := clean(it.Stage.Fastener.ID), it.Stage.Fastener.Group
	if name := clean(cmp.Or(g.Title, g.ID)); s.Plan.Procedure.SourceOf(it.Pass, g) == "" && !slices.Contains(c.Unsourced, name) {
		c.Unsourced = append(c.Unsourced, name)
	}
	if n := len(c.Rows); n == 0 || c.Rows[n-1].ID != id {
		c.Rows = append(c.Rows, cardRow{Number: n + 1, ID: id, First: c.first, Mind: mind(s, it), New: due[it.Stage.Fastener.ID]})
		c.first = nil
		delete(due, it.Stage.Fastener.ID)
	}
	row := &c.Rows[len(c.Rows)-1]
	row.Figures = append(row.Figures, clean(shortFigure(it.Stage)))
	row.Read = row.Read || windowOf(it.Stage) != nil
	if top := it.Stage.Target.Ceiling; top != nil {
		row.Mind = append(row.Mind, "never over "+top.String())
	}
}

// mind is what is told of a fastener before it is touched.
func mind(s *walk.State, it walk.Item) (list []string) {
	if g := it.Stage.Fastener.Group; g.LeftHand {
		list = append(list, fmt.Sprintf("left-hand thread: tighten %s, loosen %s", words.Way(g, false), words.Way(g, true)))
	}
	if c, brought := s.CarriedOf(it.Thing()); brought {
		if not := words.NotReady(c); not != "" {
			list = append(list, clean(not))
		}
	}
	return list
}

// measure finds out whether two rows stand beside each other.
func (c *cardPass) measure(p Paper) {
	const size, boxes, reading = 3.6, 7, 24
	for _, r := range c.Rows {
		wide := 12 + float64(len(r.ID))*0.64*size + reading
		for _, f := range r.Figures {
			wide += boxes + float64(len([]rune(f)))*0.6*size
		}
		if wide > (p.Width-8)/2 {
			c.Wide = true
		}
	}
}
