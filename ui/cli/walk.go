package cli

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"evenpull/procedures/plan"
	"evenpull/procedures/session"
	"evenpull/spec"
	"evenpull/spec/read"
	"evenpull/ui/estimate"
	"evenpull/ui/gauge"
	"evenpull/ui/plain"
	"evenpull/ui/program"
	"evenpull/ui/voice"
	"evenpull/ui/words"
)

func (a *app) walkCommand() *cobra.Command {
	var r session.Request
	var way string
	var asPlain, fromPaper, watch bool
	var e editing
	var t tools
	var h hearing
	var sent []string
	cmd := &cobra.Command{
		Use:   "walk PROCEDURE | walk --resume RECORD | walk --resheet",
		Short: "Walk a procedure at the stand, going on with an open walk if there is one",
		Long: `Walk a procedure at the stand, going on with an open walk if there is one.

PROCEDURE is a bundled name, a file, or - for standard input; keys and answers
then come from the terminal itself.

A sheet that was edited while its walk is open is gone over to with --resheet: what
differs is shown, a reason is asked, what means the same by both stays confirmed
and the rest is open again. Without PROCEDURE it is the file the walk was begun from.`,
		Example: `  evenpull walk crankcase-close --engine "stand 2"
  evenpull walk my-sheet.toml --plain
  evenpull walk crankcase-close --engine 7 --from-paper
  evenpull walk crankcase-close --engine 7 --speak espeak-ng --bell
  evenpull walk crankcase-close --engine 7 --gauge N·m --gauge mm
  evenpull walk crankcase-close --engine 7 --watch
  evenpull walk my-sheet.toml --engine 7 --resheet --because "M2 was misread"`,
		Args: func(cmd *cobra.Command, args []string) error {
			if err := e.usage(r, watch); err != nil {
				return err
			}
			if e.names(r, args, way) {
				return nil
			}
			if r.Record == "" {
				return exactly(1, "one procedure: a bundled name or a file")(cmd, args)
			}
			if way != "" {
				return usage("--resume names the walk and with it the direction; leave out --direction")
			}
			if len(args) > 0 || r.Engine != "" || r.Place != "" || r.Fresh {
				return usage("--resume names the walk; leave out the procedure, --engine, --place and --new")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			var err error
			if r.Procedure, err = toward(strings.Join(args, ""), way); err != nil {
				return err
			}
			answers, err := a.answers(r.Procedure)
			if err != nil {
				return err
			}
			if watch {
				if err := watchUsage(cmd.Flags().Changed); err != nil {
					return err
				}
			}
			switch {
			case asPlain:
			case !isTerminal(answers) || !isTerminal(a.screen):
				if watch {
					return usage("--watch needs a terminal on input and output")
				}
				return usage("the stand screen needs a terminal on input and output; add --plain for the walk as lines")
			case watch:
				a.In = answers
				return a.watch(r, h.set(a, cmd.Flags().Changed))
			case a.dumb():
				fmt.Fprintln(a.Err, "notice: this terminal says that it cannot move its cursor (TERM=dumb): the walk goes as lines, as with --plain")
				asPlain = true
			}
			b, err := a.walkBench(t)
			if err != nil {
				return err
			}
			ear, quiet, err := a.ear(h.set(a, cmd.Flags().Changed))
			if err != nil {
				return err
			}
			g, err := a.gaugeOf(sent, cmd.Flags().Changed("gauge"))
			if err != nil {
				return err
			}
			r.Resheet = e.asking(a, answers)
			s, err := a.openWalk(r)
			if err != nil {
				return a.asked(err, again{Request: r, asPlain: asPlain, fromPaper: fromPaper, tools: t})
			}
			defer s.Close()
			a.In = answers
			w := atWork{Session: s, bench: b, paper: fromPaper, ear: ear, quiet: quiet, gauge: g}
			if asPlain {
				return a.walkPlain(w)
			}
			return a.walkAtStand(w)
		},
	}
	cmd.Flags().StringVar(&r.Engine, "engine", "", "`TAG` of the engine: a number on masking tape is fine")
	cmd.Flags().StringVar(&r.Place, "place", "", "`WHICH` of two of a kind on the engine: \"front head\"")
	cmd.Flags().StringVar(&r.At, "at", "", "hours or distance the engine has run, kept with this job: `METER`, such as \"1240 h\" or \"18000 km\"")
	cmd.Flags().BoolVar(&asPlain, "plain", false, "as lines of text, for screen readers, pipes and serial consoles")
	cmd.Flags().BoolVar(&r.Fresh, "new", false, "start a new walk even if one is open")
	cmd.Flags().BoolVar(&fromPaper, "from-paper", false, "enter the ticks of a work card: marked as such, times unknown")
	directionFlag(cmd, &way)
	cmd.Flags().StringVar(&r.Record, "resume", "", "go on with this very walk, by the id of its `RECORD`")
	cmd.Flags().BoolVar(&watch, "watch", false, "only look on at the walk somebody has open, live and big; waits for it to begin")
	cmd.Flags().BoolVar(&e.resheet, "resheet", false, "go over to the sheet as it is now, edited while the walk is open; says what differs")
	cmd.Flags().StringVar(&e.because, "because", "", "`REASON` the sheet was edited for; asked on a terminal")
	cmd.Flags().StringVar(&r.Despite, "despite", "", "`REASON` the walk can go on without what damaged records may have held")
	cmd.Flags().StringArrayVar(&t.wrench, "wrench", nil, "wrench in use, by `NAME`, kept in the record; may be given again")
	cmd.Flags().StringVar(&t.adapter, "adapter", "", "adapter on its drive, by `NAME`")
	cmd.Flags().StringVar(&t.file, "wrenches", "", "`FILE` of wrenches (default: wrenches.toml in your settings folder)")
	h.flags(cmd)
	gaugeFlag(cmd, &sent)
	cmd.ValidArgsFunction = arguments(false, a.procedureNames)
	a.completeTools(cmd, &t)
	completeFlags(cmd, map[string]offer{"engine": a.tags, "resume": a.recordNames})
	return cmd
}

// atWork is a walk that has been opened, with the tools in hand.
type atWork struct {
	*session.Session
	bench estimate.Bench
	paper bool // what is entered was ticked on a work card
	ear   voice.Ear
	gauge gauge.Gauge
	quiet func(within time.Duration) // ends what is heard
}

// enteringCard is said before a card is entered.
const enteringCard = "entering a work card: every tick is marked as coming from paper, its time unknown; waits still have to be waited for"

// advice is the line on the wrench for a stage.
func (w atWork) advice(st *plan.Stage) string {
	line, _ := estimate.WrenchLine(w.bench, st)
	return line
}

// scale is what an adapter on the drive makes of the figure of a stage.
func (w atWork) scale(st *plan.Stage) words.Setting {
	mark, unit, with := estimate.Scale(w.bench, st)
	return words.Setting{Mark: mark, Unit: unit, With: with}
}

// used is what the record keeps of the wrench: only of one that was named, for
// advice is no evidence.
func (w atWork) used(st *plan.Stage) map[string]string {
	if len(w.bench.Named) == 0 {
		return nil
	}
	_, facts := estimate.WrenchLine(w.bench, st)
	return facts
}

// openWalk opens the walk that is asked for, and says the problems of its file.
func (a *app) openWalk(r session.Request) (*session.Session, error) {
	d, err := a.desk()
	if err != nil {
		return nil, err
	}
	s, err := d.Open(r)
	if err != nil {
		return nil, a.unopened(err)
	}
	a.printProblems(s.Problems)
	return s, nil
}

// unopened is why a walk could be neither opened nor watched, with the problems of its
// file said already.
func (a *app) unopened(err error) error {
	var bad *session.FileError
	var words *session.RequestError
	switch {
	case errors.As(err, &words):
		return &exit{ExitUsage, err}
	case errors.As(err, &bad):
		a.printProblems(bad.Problems)
	}
	return problem(err)
}

func (a *app) printProblems(problems read.Problems) {
	for _, p := range problems {
		fmt.Fprintln(a.Err, p.Error())
	}
}

// notices are what there is to say of the walk as it is opened, the first at once.
func (w atWork) notices() []string {
	var list []string
	if w.paper {
		list = append(list, enteringCard)
	}
	if w.Notice != "" {
		list = append(list, w.Notice)
	}
	return append(list, w.More...)
}

// goOn is the command line that goes on with this walk in the way it was begun.
func (a *app) goOn(w atWork) string {
	if w.paper {
		return a.pointed(w.Line()) + " --from-paper"
	}
	return a.pointed(w.Line())
}

// walkLine is the command line that walks a procedure on an engine.
func (a *app) walkLine(source, tag, place string) string {
	return a.pointed(session.Line(source, tag, place))
}

func (a *app) walkPlain(w atWork) error {
	if w.Held != nil {
		return problem(w.Held)
	}
	fmt.Fprintf(a.Err, "record: %s\n", w.ID)
	if w.Place != "" {
		fmt.Fprintf(a.Err, "place: %s\n", spec.Printable(w.Place))
	}
	for _, line := range w.Heed {
		fmt.Fprintf(a.Err, "attention: %s\n", a.pointed(line))
	}
	for _, line := range w.notices() {
		fmt.Fprintf(a.Err, "notice: %s\n", a.pointed(line))
	}
	defer program.Told(func() { w.quiet(0) })() // what speaks is apart, and ctrl-c does not reach it
	ended, err := plain.Walk(w.Live, a.In, a.Out, plain.Options{Paper: w.paper, Return: w.Return, Wrench: w.advice, Scale: w.scale, Facts: w.used, Memory: w.Memory(), Look: w.Look, Keyboard: isTerminal(a.In), Ear: w.ear, Gauge: w.gauge})
	if ended == plain.Left {
		w.quiet(0)
	} else {
		w.quiet(lastWords)
	}
	if err != nil {
		return problem(err)
	}
	return a.left(w)
}

// left says how a walk was left and how to come back.
func (a *app) left(w atWork) error {
	if text := w.Left(a.goOn(w)); text != "" {
		return &exit{ExitOutstanding, errors.New(text)}
	}
	return nil
}
