package cli

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"runtime"

	tea "github.com/charmbracelet/bubbletea"
	xterm "github.com/charmbracelet/x/term"

	"evenpull/procedures"
	"evenpull/procedures/walk"
	"evenpull/ui/keys"
	"evenpull/ui/stand"
	_ "evenpull/ui/theme" // first of all: its init keeps Bubble Tea from asking the terminal
)

// onTerminal reports whether a screen can be shown and keys be read.
func (a *app) onTerminal() bool { return isTerminal(a.In) && isTerminal(a.screen) }

func isTerminal(v any) bool {
	f, ok := v.(*os.File)
	return ok && xterm.IsTerminal(f.Fd())
}

// answers is where keys and lines come from: standard input, unless the
// procedure does. Then it is the terminal the program was started from.
func (a *app) answers(procedure string) (io.Reader, error) {
	if procedure != procedures.Piped {
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

// frames a second at the most: Bubble Tea's own 60 would by itself add up to
// 17 ms between a key and its frame.
const frames = 120

// show runs one screen until it ends.
func (a *app) show(m tea.Model) (tea.Model, error) {
	last, err := tea.NewProgram(m, tea.WithAltScreen(), tea.WithFPS(frames), tea.WithInput(keysOf(a.In)), tea.WithOutput(a.screen)).Run()
	if err != nil {
		return nil, problem(fmt.Errorf("the screen ended early: %w; what was confirmed is on disk", err))
	}
	return last, nil
}

// keysOf tells several keys at once from one: what a tool sends, or a paste holds,
// must not confirm anything.
func keysOf(in io.Reader) io.Reader {
	if f, ok := in.(*os.File); ok {
		return &keys.Terminal{File: f}
	}
	return in
}

func (a *app) walkAtStand(w atWork) error {
	cfg := stand.Config{Paper: w.paper, State: w.Live.State, Append: w.Live.Append, Now: a.Now, RecordID: w.ID + a.recordsFlag(), Engine: w.Tag, Heed: a.pointedAll(w.Heed), Notice: a.pointed(cmp.Or(w.cardNotice(), w.Notice)),
		Back: a.goOn(w), Bench: w.bench, Memory: memoryOf(w.Engine), Wrench: w.advice, FactsOf: w.used}
	if w.Held != nil {
		cfg.ReadOnly = w.Held.Holder.String()
	}
	if _, err := a.show(stand.New(cfg)); err != nil {
		return err
	}
	if w.Held != nil {
		return nil
	}
	return a.left(w, w.Live.State.Phase == walk.IsDone)
}
