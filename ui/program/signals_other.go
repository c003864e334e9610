//go:build !unix

package program

import (
	"os"
	"os/signal"

	tea "github.com/charmbracelet/bubbletea"
)

// job is the program as the system sees it: here it can only be told to end.
type job struct{}

func newJob() *job { return &job{} }

func (*job) canStop() bool { return false }

func (*job) stop(stopMsg) error { return nil }

// interrupted is what shells give for a program that ctrl+c has ended.
const interrupted = 130

// Told calls last when a program without a screen is told to end, and ends it. undo takes
// it back.
func Told(last func()) (undo func()) {
	return told(func() {
		last()
		os.Exit(interrupted)
	})
}

// watch ends the program when it is told to end.
func (*job) watch(_ *tea.Program, end func()) (unwatch func()) { return told(end) }

func told(end func()) (undo func()) {
	told := make(chan os.Signal, 1)
	signal.Notify(told, os.Interrupt)
	done := make(chan struct{})
	go func() {
		select {
		case <-done:
		case <-told:
			end()
		}
	}()
	return func() {
		signal.Stop(told)
		close(done)
	}
}
