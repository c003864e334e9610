package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"github.com/spf13/cobra"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// The demo is an invented engine: its tag, name, readings and all that was
// found on it are made up.
const (
	demoTag  = "osier-1"
	demoName = "Osier 380, the demo engine (invented)"
	demoDir  = "evenpull-demo"
)

func (a *app) demoCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "Make a throw-away folder of records to explore: an engine left half apart a year ago",
		Example: `  evenpull demo
  evenpull demo try-it-here`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := demoDir
			if len(args) == 1 {
				dir = args[0]
			}
			if err := emptyFolder(dir); err != nil {
				return problem(err)
			}
			if err := writeDemo(dir, a.Now()); err != nil {
				return problem(err)
			}
			a.printDemo(dir)
			return nil
		},
	}
}

// emptyFolder refuses a folder that holds anything, so that no real record is
// ever mixed with invented ones.
func emptyFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("%s cannot be used as a folder: %w; name another: evenpull demo DIR", spec.Printable(dir), err)
	case len(entries) > 0:
		return fmt.Errorf("%s is not empty and is left as it is; name a new folder: evenpull demo DIR", spec.Printable(dir))
	}
	return nil
}

func (a *app) printDemo(dir string) {
	fmt.Fprintf(a.Out, "made %s: an invented engine, taken half apart a year ago and left.\n\n", spec.Printable(dir))
	for _, line := range []string{
		"engine " + demoTag + "|what was last done, what is off, condemned, away",
		"parts --engine " + demoTag + "|what to order, what is out for work",
		"mark " + demoTag + " crankshaft back|the crankshaft is back from balancing …",
		"mark " + demoTag + " crankshaft cleaned|… and cleaned",
		"walk crankcase-open --engine " + demoTag + "|go on taking it apart",
		"walk crankcase-close --engine " + demoTag + "|or close it: what came off is asked for",
		"records|every walk",
	} {
		words, why := line, ""
		for i := range line {
			if line[i] == '|' {
				words, why = line[:i], line[i+1:]
			}
		}
		fmt.Fprintf(a.Out, "  %s\n      evenpull --records %s %s\n", why, shell.Word(dir), words)
	}
	fmt.Fprintf(a.Out, "\nDelete the folder when you are done with it. Nothing in it is a real figure.\n")
}

// demo writes walks as a person would have walked them, by a clock of its own.
type demo struct {
	store *record.Store
	now   time.Time
	live  *walk.Live
	err   error // the first thing that went wrong; nothing is done after it
}

// clock moves on with every step, slowly enough for any sealant.
func (d *demo) clock() time.Time {
	d.now = d.now.Add(4 * time.Second)
	return d.now
}

// writeDemo: closed three years ago, taken apart a year ago, left half way.
func writeDemo(dir string, now time.Time) error {
	d := &demo{now: now.AddDate(-3, 0, 0)}
	if d.store, d.err = record.Open(dir, d.clock); d.err != nil {
		return d.err
	}
	d.enter(walk.Event{Kind: record.Named, Text: demoName}, walk.Event{Kind: record.Metered, Reading: "1180 h"})
	d.walk("crankcase-close", nil, ident.Thing{})
	d.now = now.AddDate(-1, 0, -2)
	d.walk("flywheel-off", nil, ident.Thing{})
	d.now = now.AddDate(-1, 0, -1)
	d.walk("top-end-open", nil, ident.Thing{})
	d.now = now.AddDate(-1, 0, 0)
	d.walk("crankcase-open", demoFindings(), ident.Part("main-shells"))
	d.enter(
		walk.Event{Kind: record.Metered, Reading: "1422 h"},
		walk.Event{Kind: record.Sent, Item: ident.Part("crankshaft").Text(), Text: "balancing", Facts: map[string]string{"to": "the balancer (invented)"}},
		walk.Event{Kind: walk.Noted, Text: "boxes 1 to 4 are on the top shelf"},
	)
	return d.err
}

// demoFindings: two condemned, one lost, one to send out. All invented.
func demoFindings() map[ident.Thing]walk.Facts {
	return map[ident.Thing]walk.Facts{
		ident.Fastener("B3", "M8x1.25"):    {walk.Condition: "stretched", walk.Box: "1", walk.Bag: "3"},
		ident.Part("crank-shim"):           {walk.Condition: "scored", walk.Size: "0.90 mm", walk.Box: "2", walk.Bag: "7"},
		ident.Part("clutch-thrust-washer"): {walk.Condition: "missing"},
		ident.Part("selector-drum-shim"):   {walk.Condition: "good", walk.Size: "0.8 mm", walk.Box: "2", walk.Bag: "8"},
		ident.Part("output-shaft-shims"):   {walk.Condition: "good", walk.Size: "0.6 mm left, 0.5 mm right", walk.Box: "2", walk.Bag: "9"},
		ident.Part("primary-key"):          {walk.Condition: "good", walk.Box: "2", walk.Bag: "10"},
		ident.Part("crankshaft"):           {walk.Condition: "worn", walk.Where: "on the bench, chain side left", walk.Goes: "balancing"},
	}
}

// walk goes through a bundled procedure up to the item called stop, or to done.
func (d *demo) walk(name string, found map[ident.Thing]walk.Facts, stop ident.Thing) {
	if d.err != nil {
		return
	}
	p, _, err := procedures.Library{}.Load(name)
	if d.err = err; err != nil {
		return
	}
	w, err := d.store.Create(record.NewHeader(p, name, demoTag, version(), d.now))
	if d.err = err; err != nil {
		return
	}
	defer w.Close()
	d.live = &walk.Live{State: walk.New(plan.Of(p)), Now: d.clock, Append: w.Append}
	for it := d.live.State.CurrentItem(); it != nil && (stop.IsZero() || it.Thing() != stop) && d.err == nil; it = d.live.State.CurrentItem() {
		d.step(it, found)
	}
	if stop.IsZero() {
		d.do(walk.Command{Do: walk.FinishUp})
	}
}

func (d *demo) step(it *walk.Item, found map[ident.Thing]walk.Facts) {
	if facts := found[it.Thing()]; facts != nil && (it.Kind == walk.PartItem || it.Stage.Action == spec.Remove) {
		d.do(walk.Command{Do: walk.Find, Facts: facts})
	}
	switch {
	case len(d.live.State.DueNow()) > 0:
		d.do(walk.Command{Do: walk.Renew, Number: "lot 19 (invented)"})
		d.do(walk.Command{Do: walk.Confirm})
	case it.Kind == walk.AskItem:
		d.do(walk.Command{Do: walk.Yes})
	case it.Kind == walk.MeasureItem:
		d.do(walk.Command{Do: walk.Measure, Reading: demoReading(it.Check)})
	case it.Kind == walk.WaitItem:
		d.now = d.now.Add(it.Pass.Wait)
		d.do(walk.Command{Do: walk.Confirm})
	case it.Kind == walk.StageItem && it.Stage.Action == spec.Stretch:
		d.do(walk.Command{Do: walk.Confirm, Reading: walk.WindowOf(it.Stage).Example()})
	default:
		d.do(walk.Command{Do: walk.Confirm})
	}
}

// demoReading gives an invented figure for a check.
func demoReading(c *spec.Check) string {
	if c.ID == "crank-float" {
		return "0.11 mm"
	}
	return c.How.Example()
}

func (d *demo) do(c walk.Command) {
	if d.err != nil {
		return
	}
	refusal, err := d.live.Do(c)
	if d.err = err; err == nil && refusal != nil {
		d.err = refusal
	}
}

// enter writes into the engine's ledger.
func (d *demo) enter(events ...walk.Event) {
	if d.err != nil {
		return
	}
	w, before, err := d.store.OpenLedger(demoTag, version(), d.now)
	if d.err = err; err != nil {
		return
	}
	defer w.Close()
	for i, ev := range events {
		ev.Seq, ev.At = len(before)+i+1, d.clock()
		if d.err = w.Append(ev); d.err != nil {
			return
		}
	}
}
