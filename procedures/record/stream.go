package record

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
)

// stream gives the whole lines of a record one after the other, as cut does, and holds no
// more of it than two of them.
type stream struct {
	in    *bufio.Reader
	lines int
	room  [2][]byte // of the last two lines, turn and turn about
	torn  bool      // something stands after the last whole line
}

func newStream(in io.Reader) *stream {
	return &stream{in: bufio.NewReaderSize(in, 64<<10)}
}

// next is nil at the end. A line is good until the one after the next is asked for.
func (s *stream) next() ([]byte, error) {
	room := &s.room[s.lines%2]
	*room = (*room)[:0]
	for {
		part, err := s.in.ReadSlice('\n')
		*room = append(*room, part...)
		switch {
		case err == nil:
			return s.whole((*room)[:len(*room)-1])
		case err == io.EOF:
			s.torn = s.torn || len(*room) > 0
			return nil, nil
		case err != bufio.ErrBufferFull:
			return nil, err
		}
	}
}

// whole gives a line, unless it is the last and cut off inside.
func (s *stream) whole(line []byte) ([]byte, error) {
	s.lines++
	if _, err := s.in.Peek(1); err == io.EOF && cutInside(s.lines, line) {
		s.torn = true
		return nil, nil
	} else if err != nil && err != io.EOF {
		return nil, err
	}
	return line, nil
}

// cutInside: the last of so many lines has its end, and yet is not all there.
func cutInside(lines int, last []byte) bool { return lines > 1 && !json.Valid(last) }

// links follows a chain from line to line, and stays with the first that is wrong.
type links struct {
	lines   int    // so far
	before  []byte // the last of them
	line    int    // first not to be relied on, or 0
	problem string
}

// next holds a line against the one before it.
func (l *links) next(line []byte) {
	if l.lines > 0 && l.line == 0 {
		prev, found := prevOf(line)
		if !found {
			l.line, l.problem = l.lines+1, "it does not name the line before it"
		} else if want := lineHash(l.before); !bytes.Equal(prev, want[:]) {
			l.line, l.problem = blame(l.before, line, l.lines)
		}
	}
	l.lines, l.before = l.lines+1, line
}

// end holds the last line against its own sum, and says how the chain is.
func (l *links) end(torn bool) Chain {
	if l.line == 0 && checkSum(l.before) == sumBad {
		l.line, l.problem = l.lines, changed
	}
	switch {
	case l.line > 0:
		return Chain{Line: l.line, Problem: l.problem}
	case torn:
		return Chain{Line: l.lines + 1, Torn: true, Problem: cutOff}
	}
	return Chain{}
}

// holds reports that a line stands before any break, once the next has been held against
// it, or the end has.
func (l *links) holds(line int) bool { return l.line == 0 || line < l.line }
