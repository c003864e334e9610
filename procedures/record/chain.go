package record

import (
	"bytes"
	"fmt"
)

// Chain says whether a record is as it was written.
type Chain struct {
	Line    int    // first line that cannot be relied on, from 1; 0: whole
	Problem string // in words; empty when whole
	Torn    bool   // only the last line was cut off while it was being written
}

// Whole reports that every line is as it was written.
func (c Chain) Whole() bool { return c.Line == 0 }

// Word is "whole" or "broken".
func (c Chain) Word() string {
	if c.Whole() {
		return "whole"
	}
	return "broken"
}

// String gives the word and, where broken, the line and why.
func (c Chain) String() string {
	if c.Whole() {
		return c.Word()
	}
	return fmt.Sprintf("%s at line %d: %s", c.Word(), c.Line, c.Problem)
}

// lines is a record taken apart, not yet decoded.
type lines struct {
	header  []byte   // nil when there is no whole first line
	events  [][]byte // whole lines after it
	torn    []byte   // what stands after the last whole line
	trusted int      // how many events stand before the break
	chain   Chain
}

// last is the last whole line.
func (l lines) last() []byte {
	if n := len(l.events); n > 0 {
		return l.events[n-1]
	}
	return l.header
}

// cut gives the whole lines of a record, and what stands after the last.
func cut(data []byte) (whole [][]byte, torn []byte) {
	whole = make([][]byte, 0, bytes.Count(data, []byte("\n")))
	for len(data) > 0 {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			return whole, data
		}
		whole = append(whole, data[:end])
		data = data[end+1:]
	}
	return whole, nil
}

// split takes a record apart and follows its chain. It never fails: what is
// wrong is in chain. Cost: each byte is hashed once, the last line twice.
func split(data []byte) lines {
	var l lines
	all, torn := cut(data)
	l.torn = torn
	if n := len(all); n > 0 && l.torn == nil && cutInside(n, all[n-1]) {
		l.torn = append(all[n-1][:len(all[n-1]):len(all[n-1])], '\n')
		all = all[:n-1]
	}
	if len(all) == 0 {
		l.chain = Chain{Line: 1, Problem: nothing}
		return l
	}
	l.header, l.events = all[0], all[1:]
	var follow links
	for _, line := range all {
		follow.next(line)
	}
	l.chain, l.trusted = follow.end(l.torn != nil), len(l.events)
	if !l.chain.Whole() && !l.chain.Torn {
		l.trusted = max(0, min(l.trusted, l.chain.Line-2))
	}
	return l
}

const (
	nothing = "it has no whole first line: nothing was recorded in it"
	cutOff  = "it was cut off while it was being written, and does not count; going on with the walk puts it aside"
	changed = "it is not as it was written"
)

// blame says which of two lines that don't fit was changed, the i-th or the one after it.
// Where both are as they were written, something between them is gone or out of place.
func blame(this, next []byte, i int) (line int, problem string) {
	before, after := checkSum(this), checkSum(next)
	switch {
	case before == sumBad:
		return i, changed
	case after == sumBad:
		return i + 1, changed
	case before == sumGood && after == sumGood:
		return i, fmt.Sprintf("line %d was not written after it: lines were taken out, put in or moved", i+1)
	}
	return i, fmt.Sprintf("line %d was not written after it as it stands now", i+1)
}
