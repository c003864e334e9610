package program

import (
	"io"
	"os"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/keys"
)

// frames a second at the most: Bubble Tea's own 60 would by itself add up to
// 17 ms between a key and its frame.
const frames = 120

// Options is the terminal, and the clock that tells keys that come together.
type Options struct {
	In  io.Reader
	Out io.Writer
	Now func() time.Time
}

// Run shows a screen and what it leads to until the last is left, the terminal goes
// away or a signal ends it. An error means that the screen could not go on.
func Run(first Layer, o Options) error {
	in := &keys.Terminal{Now: o.Now}
	r := newRoot(first, in.Arrived)
	defer r.open.all()
	p := tea.NewProgram(r, tea.WithAltScreen(), tea.WithFPS(frames), tea.WithInput(inputOf(o.In, in)), tea.WithOutput(o.Out),
		tea.WithoutSignalHandler(), tea.WithFilter(filter(in)))
	end := func() {
		r.open.all() // at once: others may wait for it
		p.Quit()
	}
	in.Ended = func() { go end() }
	unwatch := r.job.watch(p, end)
	defer unwatch()
	_, err := p.Run()
	return err
}

// inputOf tells several keys at once from one: what a tool sends, or a paste holds,
// must not confirm anything.
func inputOf(in io.Reader, terminal *keys.Terminal) io.Reader {
	if f, ok := in.(*os.File); ok {
		terminal.File = f
		return terminal
	}
	return in
}

// stopMsg asks for the program to be stopped, as ctrl+z does a plain one: it alone, or
// with all that were started with it. refresh only takes the terminal anew.
type stopMsg struct{ group, refresh bool }

// filter takes the terminal's stamps out, and a wish to be stopped out of Bubble Tea's
// hands: it would wait for ever where there is no shell to come back from.
func filter(in *keys.Terminal) func(tea.Model, tea.Msg) tea.Msg {
	return func(_ tea.Model, msg tea.Msg) tea.Msg {
		if in.Stamp(msg) {
			return nil
		}
		if _, ok := msg.(tea.SuspendMsg); ok {
			return stopMsg{group: true}
		}
		return msg
	}
}

// stopped gives the terminal back, stops, and takes it again.
func (r root) stopped(how stopMsg) tea.Cmd {
	if !how.refresh && !r.job.canStop() {
		return nil
	}
	return tea.Exec(stopper{r.job, how}, func(error) tea.Msg { return tea.ResumeMsg{} })
}

// stopper is the stop as a command that has the terminal meanwhile.
type stopper struct {
	job *job
	how stopMsg
}

func (s stopper) Run() error { return s.job.stop(s.how) }

func (stopper) SetStdin(io.Reader)  {}
func (stopper) SetStdout(io.Writer) {}
func (stopper) SetStderr(io.Writer) {}
