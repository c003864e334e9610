package plain

import (
	"bufio"
	"errors"
	"io"
	"strings"
	"time"

	"evenpull/ui/keys"
)

// longest line read; a mechanic types a sentence, not a book.
const maxLine = 4096

var errTooLong = errors.New("line too long")

// lines reads lines that end in LF, CR or CR LF: a serial console or a gauge sends
// any of them. The LF of a CR LF may come later than its CR.
type lines struct {
	in *bufio.Reader
	cr bool // the last line ended in CR
}

// read gives the next line; a last one without an end counts too.
func (l *lines) read() (string, error) {
	var b strings.Builder
	long := false
	for {
		c, err := l.in.ReadByte()
		if err != nil && (!errors.Is(err, io.EOF) || b.Len() == 0) {
			return "", err
		}
		after := l.cr
		l.cr = c == '\r'
		if c == '\n' && after && b.Len() == 0 && err == nil {
			continue
		}
		if err != nil || c == '\n' || c == '\r' {
			break
		}
		if long = long || b.Len() == maxLine; !long {
			b.WriteByte(c)
		}
	}
	if long {
		return "", errTooLong
	}
	return b.String(), nil
}

// tooSoon reports whether a line from a keyboard cannot be the answer to what has
// just been asked: an empty one or a bare figure that was there before the question
// could be read, or the Enter that only dismisses a refusal.
func (w *walker) tooSoon(line string, now time.Time) bool {
	empty := strings.TrimSpace(line) == ""
	if !w.Keyboard || !empty && !isFigure(line) {
		return false
	}
	since := now.Sub(w.asked)
	return since >= 0 && since < keys.DoublePress || empty && w.refused
}

// isFigure reports whether a line is a figure as a gauge or a wrench types it.
func isFigure(line string) bool {
	line = strings.TrimSpace(line)
	return line != "" && line[0] >= '0' && line[0] <= '9'
}
