//go:build unix

package program

import (
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// job is the program as the shell sees it: it is told by signals to end, to stop and
// to go on.
type job struct {
	signals   chan os.Signal
	stopping  atomic.Bool
	continued chan struct{} // it went on after it was stopped
}

func newJob() *job {
	return &job{signals: make(chan os.Signal, 8), continued: make(chan struct{}, 1)}
}

// shellPatience is how long a stop may take to come about. Where no shell waits for the
// program, as in a terminal that was opened for it alone, the system does not stop it.
const shellPatience = time.Second

// stop stops the process, or all that were started with it, and returns when it goes on.
func (j *job) stop(how stopMsg) error {
	if how.refresh {
		return nil
	}
	j.stopping.Store(true)
	defer j.stopping.Store(false)
	select {
	case <-j.continued: // of an earlier stop, late
	default:
	}
	pid := os.Getpid()
	if how.group {
		pid = 0
	}
	signal.Reset(syscall.SIGTSTP)
	defer signal.Notify(j.signals, syscall.SIGTSTP)
	if err := syscall.Kill(pid, syscall.SIGTSTP); err != nil {
		return err
	}
	select {
	case <-j.continued:
	case <-time.After(shellPatience):
	}
	return nil
}

// watch ends the program when the terminal hangs up or it is told to end, and stops it
// as ctrl+z does when it is told to stop.
func (j *job) watch(p *tea.Program, end func()) (unwatch func()) {
	for _, s := range []os.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT, syscall.SIGTSTP, syscall.SIGCONT} {
		if !signal.Ignored(s) { // as under nohup
			signal.Notify(j.signals, s)
		}
	}
	done := make(chan struct{})
	go func() {
		for {
			select {
			case <-done:
				return
			case s := <-j.signals:
				j.told(s, p, end)
			}
		}
	}()
	return func() {
		signal.Stop(j.signals)
		close(done)
	}
}

func (j *job) told(s os.Signal, p *tea.Program, end func()) {
	switch {
	case s == syscall.SIGTSTP:
		go p.Send(stopMsg{})
	case s == syscall.SIGCONT && j.stopping.Load():
		select {
		case j.continued <- struct{}{}:
		default:
		}
	case s == syscall.SIGCONT: // it was stopped without being asked
		go p.Send(stopMsg{refresh: true})
	default:
		go end()
	}
}
