package cli

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"evenpull/procedures/engine"
	"evenpull/spec"
	"evenpull/ui/report"
)

func (a *app) partsCommand() *cobra.Command {
	var tag string
	var asJSON, asCSV, mark bool
	var to destination
	cmd := &cobra.Command{
		Use:   "parts",
		Short: "What is still to order, what is out for work, what was renewed",
		Example: `  evenpull parts --engine 380-1
  evenpull parts --csv
  evenpull parts -o parts.csv`,
		Args: exactly(0, "no words; name an engine with --engine TAG"),
		RunE: func(cmd *cobra.Command, args []string) error {
			kind, err := to.kind("csv", "json")
			if err != nil {
				return err
			}
			asJSON, asCSV = asJSON || kind == "json", asCSV || kind == "csv"
			if asJSON && asCSV {
				return usage("JSON and CSV are both asked for; keep one")
			}
			if mark && !asCSV {
				return usage("--bom goes with --csv; add it")
			}
			list, err := a.partsOf(tag)
			if err != nil {
				return err
			}
			return a.deliver(to, func(out io.Writer) error {
				switch {
				case asJSON:
					return writeJSON(out, list)
				case asCSV && mark:
					io.WriteString(out, byteOrderMark)
					fallthrough
				case asCSV:
					return partsCSV(out, list)
				}
				a.onto(out).printParts(list)
				return nil
			})
		},
	}
	cmd.Flags().StringVar(&tag, "engine", "", "only of the engine with this `TAG`")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flags().BoolVar(&asCSV, "csv", false, "as CSV")
	cmd.Flags().BoolVar(&mark, "bom", false, "with --csv: begin with a byte order mark, for spreadsheets that take UTF-8 for something else without")
	to.flags(cmd)
	completeFlags(cmd, map[string]offer{"engine": a.tags})
	return cmd
}

// byteOrderMark makes a spreadsheet read a file as UTF-8. It is left out unless it
// is asked for: to scripts it is part of the name of the first column.
const byteOrderMark = "\ufeff"

// engineParts is the list of one engine.
type engineParts struct {
	Engine  string           `json:"engine"`
	Order   []engine.Buy     `json:"order"`
	Work    []engine.Thing   `json:"work"`  // out for work, or to go out
	Clean   []engine.Thing   `json:"clean"` // back, and not cleaned yet
	Renewed []engine.Renewal `json:"renewed"`
	Costs   []engine.Cost    `json:"costs"`  // of what was ordered, bought and done outside
	Totals  []string         `json:"totals"` // of the costs, one for each currency
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
	p := engineParts{Engine: e.Tag, Order: e.Buy, Work: []engine.Thing{}, Clean: []engine.Thing{}, Renewed: append([]engine.Renewal{}, e.Renewals...),
		Costs: append([]engine.Cost{}, e.Costs...), Totals: append([]string{}, e.Totals...)}
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
		var renewed, costs []string
		order, coming, shelf := buyLines(p.Order)
		for _, r := range p.Renewed {
			line := r.At.Format(time.DateOnly) + ": " + r.Piece
			if r.Place != "" {
				line += " (" + r.Place + ")"
			}
			if r.Number != "" {
				line += ", " + r.Number
			}
			renewed = append(renewed, line)
		}
		for _, c := range p.Costs {
			costs = append(costs, costLine(c))
		}
		a.section("to order", order)
		a.section("on order", coming)
		a.section("arrived", shelf)
		a.section("out for work", textsOf(p.Work, workLine))
		a.section("to clean before anything closes over it", textsOf(p.Clean, cleanLine))
		a.section("renewed", renewed)
		a.section("costs", costs)
		for _, total := range p.Totals {
			fmt.Fprintf(a.Out, "  in all %s\n", spec.Printable(total))
		}
		if len(order)+len(coming)+len(shelf)+len(costs)+len(p.Work)+len(p.Clean)+len(renewed) == 0 {
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
		return fmt.Sprintf("%s: to go out for %s", t.Called(), t.Work)
	}
	text := fmt.Sprintf("%s: out for %s since %s", t.Called(), t.Work, t.Sent.Format(time.DateOnly))
	if t.To != "" {
		text += ", at " + t.To
	}
	return text
}

func cleanLine(t engine.Thing) string {
	return fmt.Sprintf("%s: back from %s", t.Called(), t.Unclean)
}

// partsCSV writes one row for each piece to order, thing out, piece renewed and cost
// (RFC 4180). Columns are added at the end. Amounts stand in the rows of costs
// alone, so that a column of them adds up to what was spent.
func partsCSV(out io.Writer, list []engineParts) error {
	w := csv.NewWriter(out)
	w.UseCRLF = true
	head := []string{"engine", "state", "name", "number", "count", "arrived", "for", "why", "since", "ordered", "from", "price", "amount", "currency", "place"}
	rows := [][]string{head}
	at := func(place string, row ...string) {
		row = append(row, make([]string, len(head)-len(row))...)
		row[len(head)-1] = place
		rows = append(rows, row)
	}
	for _, p := range list {
		for _, b := range p.Order {
			rows = append(rows, buyRow(p.Engine, b))
		}
		for _, t := range p.Work {
			state, since := "to go out", ""
			if t.Sent != nil {
				state, since = "out for work", t.Sent.Format(time.RFC3339)
			}
			at(t.Place, p.Engine, state, t.Name, t.Number, strconv.Itoa(t.Count), "", t.ID, t.Work, since)
		}
		for _, t := range p.Clean {
			at(t.Place, p.Engine, "to clean", t.Name, t.Number, strconv.Itoa(t.Count), "", t.ID, t.Unclean)
		}
		for _, r := range p.Renewed {
			at(r.Place, p.Engine, "renewed", r.Piece, r.Number, "", "", "", r.Record, r.At.Format(time.RFC3339))
		}
		for _, c := range p.Costs {
			rows = append(rows, []string{p.Engine, "cost", c.What, "", strconv.Itoa(c.Count), "", "", "", c.At.Format(time.RFC3339), "", c.From, c.Price, c.Amount().Amount(), c.Amount().Currency()})
		}
	}
	for _, row := range rows {
		row = append(row, make([]string, len(head)-len(row))...)
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

// buyRow is a row of the list to order. Since when is that of its newest order or
// arrival; from whom and the price are those of all its orders.
func buyRow(tag string, b engine.Buy) []string {
	var from, prices []string
	var since time.Time
	for _, o := range b.Orders {
		if since = o.At; o.From != "" && !slices.Contains(from, o.From) {
			from = append(from, o.From)
		}
		if o.Price != "" {
			prices = append(prices, o.Price)
		}
	}
	if b.Came != nil && b.Came.After(since) {
		since = *b.Came
	}
	at := ""
	if !since.IsZero() {
		at = since.Format(time.RFC3339)
	}
	return []string{tag, buyState(b), b.Name, b.Number, strconv.Itoa(b.Count), strconv.Itoa(b.Arrived), strings.Join(b.Things, " "), strings.Join(b.Why, "; "), at,
		strconv.Itoa(b.Ordered), strings.Join(from, "; "), strings.Join(prices, "; ")}
}
