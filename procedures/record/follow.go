package record

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"evenpull/procedures/walk"
)

// Follower reads a record as somebody else writes it. It takes no lock and
// changes nothing. It is for one goroutine.
type Follower struct {
	path string
	size int64  // bytes up to the end of the last line taken
	line int    // its number
	last []byte // that line, without its newline
	dead error  // why nothing more can be taken, or nil
}

// Follow reads a record, and stands ready to read what comes after. A line that
// is just being written is no part of it yet; a broken record fails with a
// BrokenError.
func Follow(path string) (*File, *Follower, error) {
	data, err := readWhole(path, nil)
	if err != nil {
		return nil, nil, err
	}
	f, err := parse(path, data)
	if err != nil {
		return nil, nil, err
	}
	if !f.Chain.Whole() && !f.Chain.Torn {
		return nil, nil, &BrokenError{path, f.Chain}
	}
	size := len(data) - len(f.Torn)
	return f, &Follower{path: path, size: int64(size), line: 1 + len(f.Events), last: bytes.Clone(lastLine(data[:size]))}, nil
}

// More gives the events that have come since, as far as their lines are whole.
// After an error it can be asked again, but once what is on disk no longer goes
// on from what was read it stays with that.
func (f *Follower) More() ([]walk.Event, error) {
	if f.dead != nil {
		return nil, f.dead
	}
	tail, err := f.tail()
	if err != nil {
		return nil, err
	}
	var events []walk.Event
	for end := bytes.IndexByte(tail, '\n'); end >= 0; end = bytes.IndexByte(tail, '\n') {
		line := tail[:end]
		tail = tail[end+1:]
		e, problem := f.next(line)
		switch {
		case problem != "" && len(tail) == 0 && checkSum(line) != sumGood:
			return events, nil // it may not be all there yet
		case problem != "":
			return events, f.end(f.line+1, problem)
		}
		events = append(events, e)
		f.size, f.line, f.last = f.size+int64(end)+1, f.line+1, bytes.Clone(line)
	}
	return events, nil
}

// next reads the line after the last one taken, and says what is wrong with it.
func (f *Follower) next(line []byte) (walk.Event, string) {
	want := lineHash(f.last)
	prev, found := prevOf(line)
	switch {
	case !found || checkSum(line) == sumBad:
		return walk.Event{}, changed
	case !bytes.Equal(prev, want[:]):
		return walk.Event{}, "it does not follow the line before it"
	}
	e, err := decodeEvent(line)
	if err != nil {
		return e, notAnEvent
	}
	return e, ""
}

// end is what is wrong for good.
func (f *Follower) end(line int, problem string) error {
	f.dead = &Error{Path: f.path, What: fmt.Sprintf("line %d does not go on from what was read: %s", line, problem), Remedy: "open it again to see what is there now"}
	return f.dead
}

// tail is what stands behind the last line taken.
func (f *Follower) tail() ([]byte, error) {
	file, err := openFile(f.path, os.O_RDONLY|openAtOnce, 0)
	if err != nil {
		return nil, explain(f.path, "read the record", err)
	}
	defer file.Close()
	info, err := file.Stat()
	switch {
	case err != nil:
		return nil, explain(f.path, "read the record", err)
	case info.Size() < f.size:
		return nil, f.end(f.line, "it has been taken away")
	case info.Size() > maxFileBytes:
		return nil, notARecord(f.path, "this is larger than a record can be (1 GiB)")
	}
	tail := make([]byte, info.Size()-f.size)
	n, err := file.ReadAt(tail, f.size)
	if err != nil && err != io.EOF {
		return nil, explain(f.path, "read the record", err)
	}
	return tail[:n], nil
}
