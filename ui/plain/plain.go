// Package plain is the walk as lines of text: for screen readers, pipes and
// serial consoles. It takes one command a line and answers in a few lines; the
// same Decide and Judge as at the stand screen say what counts.
package plain

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/gauge"
	"evenpull/ui/speech"
	"evenpull/ui/voice"
	"evenpull/ui/words"
)

// Ended says how a plain walk ended.
type Ended int

const (
	Left    Ended = iota // left open; it can be gone on with
	Done                 // closed as done
	Stopped              // ended unfinished
)

// Options are what a walk can do without. The zero Options has none of it.
type Options struct {
	Wrench func(*plan.Stage) string            // a line of advice on the wrench for a stage
	Scale  func(*plan.Stage) words.Setting     // what an adapter makes of its figure
	Facts  func(*plan.Stage) map[string]string // kept with the confirmation of a stage
	Paper  bool                                // what is said was ticked on a work card
	Return *walk.Return                        // where the walk was left, when it is opened again
	Memory words.Memory                        // what the engine knows from last time
	// Look reads a picture and gives what an event keeps of it.
	Look func(path string) (map[string]string, error)
	// Keyboard says that a person types the lines, not a file or a pipe: then an empty
	// one that comes too soon, or right after a refusal, confirms nothing.
	Keyboard bool
	Ear      voice.Ear   // what it is heard by
	Gauge    gauge.Gauge // what a gauge sends that types the figures

	after func(time.Duration) <-chan time.Time // nil: time.After
}

// Walk runs until done, stop, quit or the end of input. An error means that
// the record could not be written or the output not be shown.
func Walk(live *walk.Live, in io.Reader, out io.Writer, o Options) (Ended, error) {
	w := &walker{live: live, out: bufio.NewWriter(out), Options: o}
	w.opening()
	lines := lines{in: bufio.NewReader(in)}
	w.hear(0, speech.Clock(live.State, live.Now()), w.step())
	for w.err == nil {
		w.ask()
		stop := w.hearClocks()
		line, err := lines.read()
		stop()
		if errors.Is(err, errTooLong) {
			w.refused = true
			w.printf("refused: that line is longer than %d characters; say it shorter\n", maxLine)
			w.hearRefused("that line is too long")
			continue
		}
		if err != nil {
			break // end of input is quit
		}
		if w.tooSoon(line, live.Now()) {
			w.refused = false
			w.printf("nothing confirmed; once more, if it is meant\n")
			w.hear(0, speech.Problem("nothing confirmed"), w.step())
			continue
		}
		w.refused = false
		if w.obey(line) {
			break
		}
	}
	w.leaving()
	w.out.Flush()
	switch live.State.Phase {
	case walk.IsDone:
		return Done, w.err
	case walk.IsStopped:
		return Stopped, w.err
	}
	return Left, w.err
}

type walker struct {
	Options
	live *walk.Live
	out  *bufio.Writer
	err  error
	pass *spec.Pass  // last one announced
	over *plan.Stage // last one a change of wrench or socket was said before

	places []string // where each fastener sits, once it was asked

	asked   time.Time // when the last question stood on the screen
	refused bool      // the last line was refused

	asking *walk.Refusal // a question with a yes and a no, not answered yet
}

// where says where the fastener in hand sits; nothing when none is.
func (w *walker) where() string {
	f := words.InHand(w.live.State.CurrentItem())
	if f == nil {
		return ""
	}
	if w.places == nil {
		w.places = words.Places(w.live.State.Plan.Procedure)
	}
	return w.places[f.Index]
}

func (w *walker) printf(format string, args ...any) {
	if _, err := fmt.Fprintf(w.out, format, args...); err != nil && w.err == nil {
		w.err = fmt.Errorf("cannot write the walk's text: %w", err)
	}
}

func (w *walker) opening() {
	p := w.live.State.Plan.Procedure
	w.printf("%s\n", p.Name)
	if p.Engine != "" {
		w.printf("engine: %s\n", p.Engine)
	}
	if p.Source != "" {
		w.printf("source: %s\n", p.Source)
	} else {
		w.printf("source: none given; the figures are unsourced\n")
	}
	for _, c := range p.Cautions {
		w.printf("caution: %s\n", c)
	}
	w.printf("The engine's own service manual governs. Type help for the commands.\n")
	if w.Return != nil {
		w.printf("\ncoming back:\n")
		for _, line := range words.ComingBack(*w.Return, w.live.Now()) {
			w.printf("  %s: %s\n", line.Of, line.Text)
		}
	}
}

// ask says what comes now.
func (w *walker) ask() {
	s := w.live.State
	w.trouble()
	w.announcePass()
	w.changeOver()
	for _, line := range Prompt(s, w.where(), w.Memory, w.live.Now()) {
		w.printf("%s\n", line)
	}
	if st := w.stage(); st != nil && w.Wrench != nil {
		w.wrenchLine(st)
	}
	if unit, takes := gauge.Wanted(s.CurrentItem()); takes && w.Gauge.Notice(unit.Dimension()) != "" {
		w.printf("  %s\n", w.Gauge.Notice(unit.Dimension()))
	}
	w.printf("> ")
	w.asked = w.live.Now() // before it is shown: no answer can come sooner
	if err := w.out.Flush(); err != nil && w.err == nil {
		w.err = fmt.Errorf("cannot write the walk's text: %w", err)
	}
}

// changeOver says once before a stage what it takes on the wrench that the last did
// not. A work card was ticked long after.
func (w *walker) changeOver() {
	c, needed := w.live.State.Changeover()
	if !needed || w.Paper || w.over == c.Stage {
		return
	}
	w.over = c.Stage
	set := w.scale()
	if c.Again {
		w.printf("  mind: %s\n", words.Changeover(c, set))
		return
	}
	w.printf("change over: %s\n", words.Changeover(c, set))
	if c.Pull != nil && c.Pull != w.stage() && w.Wrench != nil {
		w.wrenchLine(c.Pull)
	}
}

// scale is what an adapter makes of the figure the wrench is to be set for.
func (w *walker) scale() words.Setting {
	if c, needed := w.live.State.Changeover(); needed && c.Pull != nil && w.Scale != nil {
		set := w.Scale(c.Pull)
		return words.Setting{Mark: spec.Printable(set.Mark), Unit: spec.Printable(set.Unit), With: spec.Printable(set.With)}
	}
	return words.Setting{}
}

// wrenchLine is the advice on the wrench for a stage.
func (w *walker) wrenchLine(st *plan.Stage) {
	if line := w.Wrench(st); line != "" {
		w.printf("  wrench: %s\n", spec.Printable(line))
	}
}

// stage is the stage at hand, nil when something else is.
func (w *walker) stage() *plan.Stage {
	if it := w.live.State.CurrentItem(); it != nil && it.Kind == walk.StageItem {
		return it.Stage
	}
	return nil
}

func (w *walker) announcePass() {
	it := w.live.State.CurrentItem()
	if it == nil || it.Pass == w.pass {
		return
	}
	w.pass = it.Pass
	w.printf("\n== %s ==\n", it.Pass.Name)
	if it.Pass.Caution != "" {
		w.printf("caution: %s\n", it.Pass.Caution)
	}
}

// obey carries out one line and reports whether the walk has ended.
func (w *walker) obey(line string) bool {
	s := w.live.State
	req, err := w.understood(line)
	if err != nil {
		w.refused = true
		w.printf("refused: %s\n", err)
		w.hearRefused(err.Error())
		return false
	}
	if req.local != "" {
		return w.local(req.local)
	}
	if req.gauge != nil {
		w.setGauge(req.gauge)
		return false
	}
	if req.photo != "" {
		if req.command.Facts, err = w.look(req.photo); err != nil {
			w.refused = true
			w.printf("refused: %s\n", err)
			return false
		}
	}
	item := s.CurrentItem()
	if unit, takes := gauge.Wanted(item); takes {
		req.command = w.Gauge.Reading(req.command, unit.Dimension())
	}
	if st := w.used(req.command.Do); st != nil && w.Facts != nil {
		req.command = req.command.With(w.Facts(st))
	}
	if w.Paper {
		req.command = walk.OnPaper(req.command)
	}
	before := len(s.Events)
	refusal, err := w.live.Do(req.command)
	if err != nil {
		w.err = err
		return true
	}
	if refusal != nil && refusal.Yes != nil {
		w.asking = refusal
		w.printf("question: %s yes or no\n", refusal.What)
		return false
	}
	if refusal != nil {
		w.refused = true
		w.printf("refused: %s\n", refusalText(refusal))
		w.hear(voice.Refused, speech.Refusal(refusal))
		for _, o := range refusal.Outstanding {
			w.printf("  - %s\n", o)
		}
		return false
	}
	w.accepted(req.command, item, s.Events[before:])
	w.hearRecorded()
	return s.Phase != walk.IsOpen
}

// look reads a picture.
func (w *walker) look(path string) (map[string]string, error) {
	if w.Look == nil {
		return nil, errors.New("no pictures can be kept here")
	}
	return w.Look(path)
}

// used is the stage a command uses the wrench for, or nil.
func (w *walker) used(do walk.Verb) *plan.Stage {
	switch do {
	case walk.Confirm:
		return w.stage()
	case walk.Change:
		if c, needed := w.live.State.Changeover(); needed {
			return c.Pull
		}
		return w.stage()
	}
	return nil
}

// understood reads a line: the answer to a question, if one was asked, or else a
// command, which leaves the question alone. An empty line answers nothing.
func (w *walker) understood(line string) (request, error) {
	asked := w.asking
	if asked == nil {
		return parse(line, w.live.State)
	}
	w.asking = nil
	switch strings.ToLower(strings.TrimSpace(line)) {
	case "":
		w.asking = asked
		return request{}, errors.New(asked.What + " yes or no")
	case "yes", "y":
		return request{command: *asked.Yes}, nil
	case "no", "n":
		return request{command: *asked.No}, nil
	}
	w.printf("not answered: nothing was recorded of that\n")
	return parse(line, w.live.State)
}

// setGauge takes up which unit a gauge sends, of one kind or of none.
func (w *walker) setGauge(units *gauge.Gauge) {
	w.Gauge = units.Over(w.Gauge)
	said := w.Gauge.String()
	w.printf("%s\n", said)
	w.hear(0, speech.Problem(said))
}

// local answers what changes nothing.
func (w *walker) local(word string) bool {
	s := w.live.State
	switch word {
	case "quit":
		return true
	case "why":
		if it := s.CurrentItem(); it != nil && it.Stage != nil {
			w.printf("%s\n", it.Stage.Why())
			if it.Pass.Because != "" {
				w.printf("this pass: %s\n", it.Pass.Because)
			}
		}
	case "list":
		open := s.Outstanding(w.live.Now())
		w.printf("%d outstanding\n", len(open))
		for _, o := range open {
			w.printf("  - %s\n", o)
		}
	default:
		w.printf("%s\n", Help)
	}
	return false
}
