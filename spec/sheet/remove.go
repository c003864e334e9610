package sheet

import (
	"bytes"
	"strings"
)

// Remove takes a key, a table or an entry of a list out. A comment above it stays.
func (s *Sheet) Remove(p Path) (*Sheet, error) {
	n, up := s.find(p), s.find(p[:max(0, len(p)-1)])
	switch {
	case n == nil || len(p) == 0:
		return s, nil
	case n.lines.to > 0:
		return s.with(n.lines, "")
	case n.form == dotted:
		return s.removeEach(p, n)
	case n.form <= braces:
		for i := len(p) - 1; up.form == dotted; i-- {
			up = s.find(p[:i])
		}
		return s.removeInside(n, up)
	}
	below := s.blocksBelow(p)
	for i := len(below) - 1; i >= 0; i-- { // from behind: what is before stays where it is
		from := below[i].header.from
		if nl := s.newline(); below[i].end < len(s.text) && bytes.HasSuffix(s.text[:from], []byte(nl+nl)) {
			from -= len(nl) // the blank line before it
		}
		var err error
		if s, err = s.with(span{from, below[i].end}, ""); err != nil {
			return nil, err
		}
	}
	if left := s.find(p); left != nil && left.form == dotted {
		return s.Remove(p)
	}
	return s, nil
}

func (s *Sheet) removeEach(p Path, n *node) (*Sheet, error) {
	var err error
	for _, name := range n.keys {
		if s, err = s.Remove(At(p, name)); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// removeInside takes something out of brackets or braces, with its comma.
func (s *Sheet) removeInside(n, up *node) (*Sheet, error) {
	from, to := n.key.from, n.value.to
	if up.form == array {
		from = n.value.from
	}
	var before, after int
	for _, other := range append(children(up), up.items...) {
		if at := furthest(other); at <= from {
			before = max(before, at)
		} else if at > to {
			start := other.value.from
			if other.key.to > 0 {
				start = other.key.from
			}
			if after == 0 || start < after {
				after = start
			}
		}
	}
	switch {
	case after > 0:
		return s.with(span{from, after}, "")
	case before > 0:
		return s.with(s.lastOf(before, from, to))
	case up.form == array:
		return s.with(up.value, "[]")
	}
	return s.with(up.value, "{}")
}

// lastOf is what is cut to take the last item of several out, and what stays of it: the
// comma before it goes where none is behind it, a comment between them does not.
func (s *Sheet) lastOf(before, from, to int) (span, string) {
	look := scanner{text: s.text, at: to}
	if look.blank(true); look.is(',') {
		return span{from, look.at + 1}, ""
	}
	look.at = before
	look.blank(true)
	kept := string(s.text[look.at+1 : from])
	if strings.TrimSpace(kept) == "" {
		kept = ""
	}
	return span{look.at, to}, kept
}
