package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// said is what a person tells of an engine on the command line.
type said struct{ name, also, note, hours, distance, because string }

func (w said) anything() bool { return w.name+w.also+w.note+w.hours+w.distance != "" }

func (a *app) engineCommand() *cobra.Command {
	var w said
	var asJSON bool
	var format, paper string
	var to destination
	cmd := &cobra.Command{
		Use:   "engine [TAG]",
		Short: "Where an engine stands: open walks, what is off, what to buy; without TAG all of them",
		Example: `  evenpull engine 380-1
  evenpull engine 380-1 -o build-sheet.html
  evenpull engine 380-1 --name "Blue Osier" --hours 412`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			store, err := a.store()
			if err != nil {
				return err
			}
			if len(args) == 0 {
				if w.anything() {
					return usage("which engine? write its tag: evenpull engine TAG --name …")
				}
				return a.allEngines(store, asJSON)
			}
			if w.anything() {
				return a.tell(store, args[0], w)
			}
			if format != "" || to.file != "" {
				return a.buildSheet(store, args[0], format, paper, to)
			}
			return a.oneEngine(store, args[0], asJSON)
		},
	}
	cmd.Flags().StringVar(&w.name, "name", "", "give the engine a `NAME`")
	cmd.Flags().StringVar(&w.also, "also", "", "another `NAME` that sheets have for the same engine")
	cmd.Flags().StringVar(&w.note, "note", "", "keep a remark: `TEXT`")
	cmd.Flags().StringVar(&w.hours, "hours", "", "`HOURS` run")
	cmd.Flags().StringVar(&w.distance, "distance", "", "`DISTANCE` run, with its unit: \"18000 km\"")
	cmd.Flags().StringVar(&w.because, "because", "", "`REASON` an engine is renamed for")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flags().StringVar(&format, "format", "", "its build sheet, every walk in one document, as `FORMAT`: text, html, csv (default: by the name of the file)")
	paperFlag(cmd, &paper)
	to.flags(cmd)
	cmd.ValidArgsFunction = arguments(false, a.tags)
	completeFlags(cmd, map[string]offer{"format": buildFormats, "paper": paperNames})
	return cmd
}

func (a *app) allEngines(store *record.Store, asJSON bool) error {
	list, err := store.List()
	if err != nil {
		return problem(err)
	}
	ledgers, damaged, err := store.Ledgers()
	if err != nil {
		return problem(err)
	}
	for _, d := range damaged {
		fmt.Fprintf(a.Err, "evenpull: %s\n", spec.Printable(d.Error()))
	}
	all := engine.Overview(list, ledgers)
	if asJSON {
		if all == nil {
			all = []engine.Brief{}
		}
		return problem(writeJSON(a.Out, all))
	}
	if len(all) == 0 {
		fmt.Fprintln(a.Err, a.pointed("no engines yet; walk with a tag: evenpull walk crankcase-open --engine TAG; or look around with: evenpull demo"))
	}
	for _, b := range all {
		fmt.Fprintln(a.Out, a.pointed(b.Line(a.Now())))
	}
	return nil
}

// known folds an engine there is something on record of.
func (a *app) known(store *record.Store, tag string) (engine.Engine, error) {
	e, err := a.deskAt(store).Engine(tag)
	if err == nil {
		err = notEmpty(e)
	}
	return e, problem(err)
}

func notEmpty(e engine.Engine) error {
	if e.Empty() {
		return fmt.Errorf("nothing is on record of an engine %q; list them with: evenpull engine", e.Tag)
	}
	return nil
}

// jsonEngine is the page of an engine.
type jsonEngine struct {
	Headline string `json:"headline"` // what was last done, and what comes next
	engine.Engine
	Due []engine.Due `json:"due"` // cure times, waits and work times, and when they are over
}

func (a *app) oneEngine(store *record.Store, tag string, asJSON bool) error {
	e, err := a.known(store, tag)
	if err != nil {
		return err
	}
	if asJSON {
		return problem(writeJSON(a.Out, jsonEngine{e.Headline(a.Now()), e, e.Due(a.Now())}))
	}
	a.printEngine(e)
	return nil
}

// tell writes what is said of an engine into its ledger. Everything is checked
// before anything is written.
func (a *app) tell(store *record.Store, tag string, w said) error {
	err := a.enter(store, tag, func(e engine.Engine) ([]walk.Event, error) { return w.events(e) })
	if err == nil {
		fmt.Fprintf(a.Err, "recorded in the ledger of engine %s\n", spec.Printable(tag))
	}
	return err
}

// events are what is said, for a ledger.
func (w said) events(e engine.Engine) ([]walk.Event, error) {
	var events []walk.Event
	if w.name != "" {
		if err := e.CheckName(w.name, w.because); err != nil {
			return nil, err
		}
		ev := walk.Event{Kind: record.Named, Text: strings.TrimSpace(w.name)}
		if w.because != "" {
			ev.Facts = map[string]string{"because": w.because}
		}
		events = append(events, ev)
	}
	if w.also != "" {
		events = append(events, engine.AlsoCalled(w.also))
	}
	meter, err := meterText(w)
	if err != nil {
		return nil, err
	}
	if meter != "" {
		events = append(events, walk.Event{Kind: record.Metered, Reading: meter})
	}
	if w.note != "" {
		events = append(events, walk.Event{Kind: walk.Noted, Text: w.note})
	}
	return events, nil
}

// meterText reads the hours or the distance an engine has run.
func meterText(w said) (string, error) {
	switch {
	case w.hours != "" && w.distance != "":
		return "", errors.New("hours and distance are both given; an engine is counted by one of them")
	case w.hours != "":
		text, err := engine.ParseMeter(strings.TrimSuffix(strings.TrimSpace(w.hours), "h") + " h")
		if err != nil {
			return "", fmt.Errorf("%q is no number of hours; write --hours 412", spec.Printable(w.hours))
		}
		return text, nil
	case w.distance != "":
		text, err := engine.ParseMeter(w.distance)
		if err != nil || strings.HasSuffix(text, " h") {
			return "", fmt.Errorf("%q is no distance; write it with km or mi: --distance \"18000 km\"", spec.Printable(w.distance))
		}
		return text, nil
	}
	return "", nil
}

// enter writes into the ledger of an engine what is decided of it as it stands.
func (a *app) enter(store *record.Store, tag string, decide func(engine.Engine) ([]walk.Event, error)) error {
	return a.enterWith(store, tag, store.Pictures(), decide)
}

// enterWith is enter with the pictures that what is decided may name.
func (a *app) enterWith(store *record.Store, tag string, pictures *record.Pictures, decide func(engine.Engine) ([]walk.Event, error)) error {
	said, err := a.deskAt(store).Enter(tag, pictures, decide)
	for _, line := range said.Heed {
		fmt.Fprintf(a.Err, "attention: %s\n", spec.Printable(line))
	}
	if said.Notice != "" {
		fmt.Fprintf(a.Err, "notice: %s\n", spec.Printable(said.Notice))
	}
	return problem(err)
}
