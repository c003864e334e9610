//go:build unix

package term

import (
	"bytes"
	"errors"

	xterm "github.com/charmbracelet/x/termios"
	"golang.org/x/sys/unix"
)

// Left is what a program has not given back of the terminal: a hidden cursor, the
// alternate screen, pasting in brackets, raw mode; nothing if all is as it was.
func (term *Term) Left() (list []string) {
	term.t.Helper()
	raw := term.Raw()
	for _, set := range []struct{ on, off, what string }{
		{"\x1b[?25l", "\x1b[?25h", "the cursor is hidden"},
		{"\x1b[?1049h", "\x1b[?1049l", "the alternate screen is shown"},
		{"\x1b[?2004h", "\x1b[?2004l", "pastes come in brackets"},
	} {
		if bytes.LastIndex(raw, []byte(set.on)) > bytes.LastIndex(raw, []byte(set.off)) {
			list = append(list, set.what)
		}
	}
	var modes *unix.Termios
	err := term.control(func(fd int) (err error) { modes, err = xterm.GetTermios(fd); return err })
	if err != nil {
		term.t.Fatalf("look at the terminal: %v", err)
	}
	if modes.Lflag&unix.ECHO == 0 || modes.Lflag&unix.ICANON == 0 {
		list = append(list, "the terminal is raw")
	}
	return list
}

// HangUp takes the terminal away from the program, as a dropped connection does.
func (term *Term) HangUp() {
	term.t.Helper()
	if err := errors.Join(term.tty.Close(), term.output.Close()); err != nil {
		term.t.Fatalf("hang up: %v", err)
	}
}

// PID is the number of the program's process.
func (term *Term) PID() int { return term.cmd.Process.Pid }
