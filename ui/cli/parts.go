package cli

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"evenpull/procedures/engine"
	"evenpull/ui/report"
)

func (a *app) partsCommand() *cobra.Command {
	var tag string
	var asJSON, asCSV bool
	cmd := &cobra.Command{
		Use:   "parts",
		Short: "What is still to order, what is out for work, what was renewed",
		Example: `  evenpull parts --engine 380-1
  evenpull parts --csv`,
		Args: exactly(0, "no words; name an engine with --engine TAG"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if asJSON && asCSV {
				return usage("--json and --csv are both given; keep one")
			}
			list, err := a.partsOf(tag)
			switch {
			case err != nil:
				return err
			case asJSON:
				return problem(writeJSON(a.Out, list))
			case asCSV:
				return problem(partsCSV(a.Out, list))
			}
			a.printParts(list)
			return nil
		},
	}
	cmd.Flags().StringVar(&tag, "engine", "", "only of the engine with this `TAG`")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flags().BoolVar(&asCSV, "csv", false, "as CSV")
	completeFlags(cmd, map[string]offer{"engine": a.tags})
	return cmd
}

// engineParts is the list of one engine.
type engineParts struct {
	Engine  string           `json:"engine"`
	Order   []engine.Buy     `json:"order"`
	Work    []engine.Thing   `json:"work"`  // out for work, or to go out
	Clean   []engine.Thing   `json:"clean"` // back, and not cleaned yet
	Renewed []engine.Renewal `json:"renewed"`
}

// partsOf folds one engine, or all of them.
func (a *app) partsOf(tag string) ([]engineParts, error) {
	store, err := a.store()
	if err != nil {
		return nil, err
	}
	if tag != "" {
		e, err := a.known(store, tag)
		if err != nil {
			return nil, err
		}
		return []engineParts{partsOfEngine(e)}, nil
	}
	engines, err := a.deskAt(store).Engines()
	if err != nil {
		return nil, problem(err)
	}
	list := []engineParts{}
	for _, e := range engines {
		list = append(list, partsOfEngine(e))
	}
	return list, nil
}

func partsOfEngine(e engine.Engine) engineParts {
	p := engineParts{Engine: e.Tag, Order: e.Buy, Work: []engine.Thing{}, Clean: []engine.Thing{}, Renewed: e.Renewals}
	if p.Renewed == nil {
		p.Renewed = []engine.Renewal{}
	}
	for _, t := range e.Off {
		switch {
		case t.Work != "":
			p.Work = append(p.Work, t)
		case t.Unclean != "":
			p.Clean = append(p.Clean, t)
		}
	}
	return p
}

func (a *app) printParts(list []engineParts) {
	if len(list) == 0 {
		fmt.Fprintln(a.Err, a.pointed("no engines yet; walk with a tag: evenpull walk crankcase-open --engine TAG"))
	}
	for i, p := range list {
		if i > 0 {
			fmt.Fprintln(a.Out)
		}
		fmt.Fprintf(a.Out, "engine %s\n", p.Engine)
		var order, shelf, renewed []string
		for _, b := range p.Order {
			if b.Missing() > 0 {
				order = append(order, buyLine(b))
			} else {
				shelf = append(shelf, buyLine(b))
			}
		}
		for _, r := range p.Renewed {
			line := r.At.Format(time.DateOnly) + ": " + r.Piece
			if r.Number != "" {
				line += ", " + r.Number
			}
			renewed = append(renewed, line)
		}
		a.section("to order", order)
		a.section("arrived", shelf)
		a.section("out for work", textsOf(p.Work, workLine))
		a.section("to clean before anything closes over it", textsOf(p.Clean, cleanLine))
		a.section("renewed", renewed)
		if len(order)+len(shelf)+len(p.Work)+len(p.Clean)+len(renewed) == 0 {
			fmt.Fprintln(a.Out, "  nothing to order, nothing out")
		}
	}
}

func textsOf(things []engine.Thing, text func(engine.Thing) string) []string {
	var list []string
	for _, t := range things {
		list = append(list, text(t))
	}
	return list
}

func workLines(e engine.Engine) (away, clean []string) {
	p := partsOfEngine(e)
	return textsOf(p.Work, workLine), textsOf(p.Clean, cleanLine)
}

func workLine(t engine.Thing) string {
	if t.Sent == nil {
		return fmt.Sprintf("%s: to go out for %s", nameOf(t), t.Work)
	}
	text := fmt.Sprintf("%s: out for %s since %s", nameOf(t), t.Work, t.Sent.Format(time.DateOnly))
	if t.To != "" {
		text += ", at " + t.To
	}
	return text
}

func cleanLine(t engine.Thing) string {
	return fmt.Sprintf("%s: back from %s", nameOf(t), t.Unclean)
}

// nameOf is what a thing is called, behind which of two of a kind it came off.
func nameOf(t engine.Thing) string {
	if t.Place == "" {
		return t.Name
	}
	return t.Place + ": " + t.Name
}

// buyLine gives a row of the list to order: "2 × sealing washer, 380-11-112, for F1: one-use".
func buyLine(b engine.Buy) string {
	text := fmt.Sprintf("%d × %s", b.Count, b.Name)
	if b.Number != "" {
		text += ", " + b.Number
	}
	const few = 6
	if things := b.Things; len(things) > few {
		text += fmt.Sprintf(", for %s and %d more", strings.Join(things[:few], " "), len(things)-few)
	} else {
		text += ", for " + strings.Join(things, " ")
	}
	if b.Arrived > 0 {
		text += fmt.Sprintf(", %d arrived", b.Arrived)
		if len(b.Batches) > 0 {
			text += " (" + strings.Join(b.Batches, ", ") + ")"
		}
	}
	return text + ": " + strings.Join(b.Why, "; ")
}

// partsCSV writes one row for each piece to order, thing out and piece renewed.
func partsCSV(out io.Writer, list []engineParts) error {
	w := csv.NewWriter(out)
	rows := [][]string{{"engine", "state", "name", "number", "count", "arrived", "for", "why", "since"}}
	for _, p := range list {
		for _, b := range p.Order {
			state := "to order"
			if b.Missing() == 0 {
				state = "arrived"
			}
			rows = append(rows, []string{p.Engine, state, b.Name, b.Number, strconv.Itoa(b.Count), strconv.Itoa(b.Arrived), strings.Join(b.Things, " "), strings.Join(b.Why, "; "), ""})
		}
		for _, t := range p.Work {
			state, since := "to go out", ""
			if t.Sent != nil {
				state, since = "out for work", t.Sent.Format(time.RFC3339)
			}
			rows = append(rows, []string{p.Engine, state, t.Name, t.Number, strconv.Itoa(t.Count), "", t.ID, t.Work, since})
		}
		for _, t := range p.Clean {
			rows = append(rows, []string{p.Engine, "to clean", t.Name, t.Number, strconv.Itoa(t.Count), "", t.ID, t.Unclean, ""})
		}
		for _, r := range p.Renewed {
			rows = append(rows, []string{p.Engine, "renewed", r.Piece, r.Number, "", "", "", r.Record, r.At.Format(time.RFC3339)})
		}
	}
	for _, row := range rows {
		for i := range row {
			row[i] = report.CSVCell(row[i])
		}
		if err := w.Write(row); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}
