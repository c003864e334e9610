//go:build unix

package program

import (
	"os"
	"os/signal"
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/sys/unix"
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

// canStop reports whether a shell waits to take the terminal: not in one that was
// opened for the program alone, nor when the shell is gone. There nobody could make it
// go on.
func (*job) canStop() bool {
	session, err := unix.Getsid(0)
	shell, err2 := unix.Getsid(os.Getppid())
	return err == nil && err2 == nil && shell == session && unix.Getpgrp() != session
}

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
	if how.group {
		// Its own it must not hear: Go could hand it on after the signal to go on, and
		// the program would stop once more.
		if !signal.Ignored(unix.SIGTSTP) {
			signal.Ignore(unix.SIGTSTP)
			defer signal.Notify(j.signals, unix.SIGTSTP)
		}
		_ = unix.Kill(0, unix.SIGTSTP)
	}
	// A Go program that has asked for SIGTSTP once is not stopped by it any more.
	if err := unix.Kill(os.Getpid(), unix.SIGSTOP); err != nil {
		return err
	}
	<-j.continued
	return nil
}

// Told calls last when a program without a screen is told to end, by ctrl+c or by the
// terminal going away, and then lets it end by that. undo takes it back.
func Told(last func()) (undo func()) {
	told := make(chan os.Signal, 1)
	for _, s := range ends {
		if !signal.Ignored(s) { // as under nohup
			signal.Notify(told, s)
		}
	}
	done := make(chan struct{})
	go func() {
		select {
		case <-done:
		case s := <-told:
			last()
			signal.Reset(s)
			_ = unix.Kill(os.Getpid(), s.(unix.Signal))
		}
	}()
	return func() {
		signal.Stop(told)
		close(done)
	}
}

// ends are the signals that tell a program to end.
var ends = []os.Signal{unix.SIGHUP, unix.SIGTERM, unix.SIGINT}

// watch ends the program when the terminal hangs up or it is told to end, and stops it
// as ctrl+z does when it is told to stop.
func (j *job) watch(p *tea.Program, end func()) (unwatch func()) {
	for _, s := range append([]os.Signal{unix.SIGTSTP, unix.SIGCONT}, ends...) {
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
	case s == unix.SIGTSTP && j.stopping.Load(): // of all that were started with it
	case s == unix.SIGTSTP:
		go p.Send(stopMsg{})
	case s == unix.SIGCONT && j.stopping.Load():
		select {
		case j.continued <- struct{}{}:
		default:
		}
	case s == unix.SIGCONT: // it was stopped without being asked
		go p.Send(stopMsg{refresh: true})
	default:
		go end()
	}
}
