// Package sheet changes a TOML text where it has to be changed and leaves every
// other byte as it is: comments, keys nobody here knows, spaces, line ends. It
// knows nothing of what a sheet means.
//
// A Sheet does not change; each edit gives a new one.
package sheet

import (
	"bytes"
	"slices"
	"sort"
	"strconv"

	"github.com/BurntSushi/toml"
)

// Path names a place in a document: names, and numbers of list entries from 0.
type Path []string

// At makes a path of names and numbers.
func At(parts ...any) Path {
	var p Path
	for _, part := range parts {
		switch part := part.(type) {
		case string:
			p = append(p, part)
		case int:
			p = append(p, strconv.Itoa(part))
		case Path:
			p = append(p, part...)
		}
	}
	return p
}

// Sheet is a TOML text and where things stand in it.
type Sheet struct {
	mark   []byte // byte order mark, if the file has one
	text   []byte
	holds  map[string]any // as decoded
	root   *node
	blocks []*block
	starts []int // of the lines
}

var byteOrderMark = []byte("\xef\xbb\xbf")

// Read finds where things stand. An error says that the text is not TOML.
func Read(text []byte) (*Sheet, error) {
	var holds map[string]any
	plain := bytes.TrimPrefix(text, byteOrderMark)
	if _, err := toml.Decode(string(plain), &holds); err != nil {
		return nil, err
	}
	root, blocks, err := scan(plain)
	if err != nil {
		return nil, err
	}
	starts := []int{0}
	for i, c := range plain {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return &Sheet{text[:len(text)-len(plain)], plain, holds, root, blocks, starts}, nil
}

// Bytes is the text as it stands.
func (s *Sheet) Bytes() []byte { return slices.Concat(s.mark, s.text) }

func (s *Sheet) find(p Path) *node {
	n := s.root
	for _, name := range p {
		if n.form == array || n.form == listed {
			i, err := strconv.Atoi(name)
			if err != nil || i < 0 || i >= len(n.items) {
				return nil
			}
			n = n.items[i]
			continue
		}
		if n = n.table[name]; n == nil {
			return nil
		}
	}
	return n
}

// Has reports whether there is anything at a path.
func (s *Sheet) Has(p Path) bool { return s.find(p) != nil }

// String is the text at a path, if a text stands there.
func (s *Sheet) String(p Path) (string, bool) {
	text, ok := s.Value(p).(string)
	return text, ok
}

// Value is what stands at a path as a value: string, int64, float64, bool, a list or a
// map of them; nil where nothing or a table without braces does.
func (s *Sheet) Value(p Path) any {
	if n := s.find(p); n == nil || n.form > braces {
		return nil
	}
	var v any = s.holds
	for _, name := range p {
		switch in := v.(type) {
		case map[string]any:
			v = in[name]
			continue
		case []any:
			i, _ := strconv.Atoi(name)
			v = in[i]
		case []map[string]any:
			i, _ := strconv.Atoi(name)
			v = in[i]
		}
	}
	return v
}

// Strings are the texts of a list, without what else is in it.
func (s *Sheet) Strings(p Path) []string {
	var list []string
	items, _ := s.Value(p).([]any) // a list of tables is no list of texts
	for _, item := range items {
		if text, ok := item.(string); ok {
			list = append(list, text)
		}
	}
	return list
}

// IsTable reports whether a table stands at a path, however it is written.
func (s *Sheet) IsTable(p Path) bool {
	n := s.find(p)
	return n != nil && n.form.isTable()
}

// Keys are the names in a table, in file order.
func (s *Sheet) Keys(p Path) []string {
	n := s.find(p)
	if n == nil || !n.form.isTable() {
		return nil
	}
	return slices.Clone(n.keys)
}

// Len is the number of entries of a list.
func (s *Sheet) Len(p Path) int {
	n := s.find(p)
	if n == nil {
		return 0
	}
	return len(n.items)
}

// Lines are the first and last line, from 1, of what stands at a path; of a table the
// line of its header. They are 0 where nothing of its own does.
func (s *Sheet) Lines(p Path) (first, last int) {
	n := s.find(p)
	if n == nil || n.key == n.value {
		return 0, 0
	}
	from, to := n.key.from, max(n.key.to, n.value.to)
	if n.key.to == 0 {
		from = n.value.from
	}
	return s.lineOf(from), s.lineOf(to)
}

func (s *Sheet) lineOf(at int) int { return sort.SearchInts(s.starts, at+1) }
