package cli

import (
	"fmt"
	"io"
	"os"
	"runtime"

	xterm "github.com/charmbracelet/x/term"

	"evenpull/procedures"
	"evenpull/ui/program"
	"evenpull/ui/stand"
	_ "evenpull/ui/theme" // first of all: its init keeps Bubble Tea from asking the terminal
)

// onTerminal reports whether a screen can be shown and keys be read.
func (a *app) onTerminal() bool { return isTerminal(a.In) && isTerminal(a.screen) }

// dumb reports whether the terminal says that it can do no more than print lines.
func (a *app) dumb() bool { return a.Getenv != nil && a.Getenv("TERM") == "dumb" }

// needScreen says why there can be no screen, if that is so, and what to do instead.
func (a *app) needScreen(what, instead string) error {
	switch {
	case !a.onTerminal():
		return usage("%s needs a terminal on input and output; see: %s", what, instead)
	case a.dumb():
		return usage("%s needs a terminal that moves its cursor, and this one says it does not (TERM=dumb); see: %s", what, instead)
	}
	return nil
}

func isTerminal(v any) bool {
	f, ok := v.(*os.File)
	return ok && xterm.IsTerminal(f.Fd())
}

// answers is where keys and lines come from: standard input, unless the
// procedure does. Then it is the terminal the program was started from.
func (a *app) answers(procedure string) (io.Reader, error) {
	if !procedures.IsPiped(procedure) {
		return a.In, nil
	}
	name := "/dev/tty"
	if runtime.GOOS == "windows" {
		name = "CONIN$"
	}
	tty, err := os.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		return nil, usage("the procedure comes on standard input, and there is no terminal to answer from; keep it in a file: evenpull walk FILE")
	}
	return tty, nil // open until the program ends
}

// show runs a screen, and what it leads to, until the last is left.
func (a *app) show(first program.Layer) error {
	if err := program.Run(first, program.Options{In: a.In, Out: a.screen, Now: a.Now}); err != nil {
		return problem(fmt.Errorf("the screen ended early: %w; what was confirmed is on disk", err))
	}
	return nil
}

// stand is the screen of a walk, which it closes when it is left.
func (a *app) stand(w atWork) program.Layer {
	cfg := stand.Config{Paper: w.paper, State: w.Live.State, Append: w.Live.Append, Now: a.Now, RecordID: w.ID + a.recordsFlag(), Engine: placed(w.Tag, w.Place), Heed: a.pointedAll(w.Heed), Return: w.Return, Notices: a.pointedAll(w.notices()),
		Back: a.goOn(w), Bench: w.bench, Memory: w.Memory(), Wrench: w.advice, Scale: w.scale, FactsOf: w.used, Ear: w.ear, Look: w.Look, Gauge: w.gauge, Leave: program.Back}
	if w.Held != nil {
		cfg.ReadOnly, cfg.Follow = w.Held.Holder.String(), w.Watch.Look
	}
	return program.Layer{Screen: stand.New(cfg), Close: func() {
		w.Close()
		w.quiet(0)
	}}
}

func (a *app) walkAtStand(w atWork) error {
	if err := a.show(a.stand(w)); err != nil {
		return err
	}
	if w.Held != nil {
		return nil
	}
	return a.left(w)
}
