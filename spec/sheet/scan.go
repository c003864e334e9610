package sheet

import (
	"bytes"
	"errors"
	"slices"
	"strconv"

	"github.com/BurntSushi/toml"
)

// form is how a node is written, which decides how it is changed.
type form int

const (
	value   form = iota // key = "text", 1, true …
	array               // key = [ … ]
	braces              // key = { … }
	headed              // [key]
	implied             // by a longer header: [key.more]
	dotted              // by a longer key: key.more = 1
	listed              // all of [[key]]
	entry               // one [[key]]
)

func (f form) isTable() bool { return f == braces || f >= headed && f != listed }

type span struct{ from, to int }

// node is a value or a table and where it stands, in bytes.
type node struct {
	form  form
	key   span // from the first name of the key to the last's end
	value span // empty for tables without braces
	lines span // of "key = value": all its lines, with the newline
	keys  []string
	table map[string]*node
	items []*node // of arrays and lists
}

func newNode(f form) *node { return &node{form: f, table: map[string]*node{}} }

func (n *node) put(name string, child *node) {
	if n.table[name] == nil {
		n.keys = append(n.keys, name)
	}
	n.table[name] = child
}

// block is a header and the lines up to the next one.
type block struct {
	path   Path // names, and numbers of list entries from 0
	header span // its line, with the newline
	end    int  // of its last line that is not blank or a comment
}

// deepest brackets that are followed; far beyond any sheet.
const deepest = 100

var errCannotFollow = errors.New("this text cannot be followed; check it for mistakes")

type scanner struct {
	text   []byte
	at     int
	root   *node
	now    *node
	blocks []*block
}

// scan finds where everything stands in a text that is known to be TOML.
func scan(text []byte) (*node, []*block, error) {
	s := &scanner{text: text, root: newNode(headed), blocks: []*block{{}}}
	s.now = s.root
	for s.blank(true); s.at < len(text); s.blank(true) {
		var err error
		if text[s.at] == '[' {
			err = s.openTable()
		} else {
			err = s.keyValue(s.now, s.lineStart())
		}
		if err != nil {
			return nil, nil, err
		}
	}
	return s.root, s.blocks, nil
}

func (s *scanner) lineStart() int { return bytes.LastIndexByte(s.text[:s.at], '\n') + 1 }

// lineEnd is after the newline of the line at hand.
func (s *scanner) lineEnd() int {
	if i := bytes.IndexByte(s.text[s.at:], '\n'); i >= 0 {
		return s.at + i + 1
	}
	return len(s.text)
}

// blank skips spaces and comments, and newlines where asked to.
func (s *scanner) blank(lines bool) {
	for s.at < len(s.text) {
		switch c := s.text[s.at]; {
		case c == ' ' || c == '\t' || lines && (c == '\n' || c == '\r'):
			s.at++
		case c == '#':
			s.at = LineEnd(s.text, s.at)
		default:
			return
		}
	}
}

func (s *scanner) is(c byte) bool { return s.at < len(s.text) && s.text[s.at] == c }

// name is one name of a key.
type name struct {
	text string
	span
}

// key reads names with dots between.
func (s *scanner) key() ([]name, error) {
	var names []name
	for {
		s.blank(false)
		from := s.at
		switch {
		case s.is('"') || s.is('\''):
			end, ok := StringEnd(s.text, s.at)
			if !ok {
				return nil, errCannotFollow
			}
			s.at = end
		default:
			for s.at < len(s.text) && isBare(s.text[s.at]) {
				s.at++
			}
		}
		if s.at == from || len(names) == deepest {
			return nil, errCannotFollow
		}
		names = append(names, name{unquoted(s.text[from:s.at]), span{from, s.at}})
		s.blank(false)
		if !s.is('.') {
			return names, nil
		}
		s.at++
	}
}

func isBare(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_'
}

func unquoted(raw []byte) string {
	if raw[0] != '"' && raw[0] != '\'' {
		return string(raw)
	}
	v, _ := decoded(raw)
	text, _ := v.(string)
	return text
}

// decoded is the meaning of a value's text.
func decoded(raw []byte) (any, error) {
	var holds map[string]any
	if _, err := toml.Decode("v = "+string(raw), &holds); err != nil {
		return nil, err
	}
	return holds["v"], nil
}

// openTable reads [a.b] or [[a.b]].
func (s *scanner) openTable() error {
	line := s.lineStart()
	s.at++
	list := s.is('[')
	if list {
		s.at++
	}
	names, err := s.key()
	if err != nil {
		return err
	}
	b := &block{header: span{line, s.lineEnd()}, end: s.lineEnd()}
	at := s.root
	for i, n := range names {
		last, child := i == len(names)-1, at.table[n.text]
		b.path = append(slices.Clone(b.path), n.text)
		switch {
		case last && list && child == nil:
			child = newNode(listed)
			at.put(n.text, child)
		case child == nil:
			child = newNode(implied)
			at.put(n.text, child)
		}
		if child.form == listed {
			if last && list {
				child.items = append(child.items, newNode(entry))
			}
			if len(child.items) == 0 {
				return errCannotFollow
			}
			b.path = append(b.path, strconv.Itoa(len(child.items)-1))
			child = child.items[len(child.items)-1]
		}
		if last && child.form == implied {
			child.form = headed
		}
		if last {
			child.key = span{names[0].from, n.to}
		}
		if !child.form.isTable() {
			return errCannotFollow
		}
		at = child
	}
	s.now, s.blocks = at, append(s.blocks, b)
	s.at = b.header.to
	return nil
}

// inBraces stands for the line of a key that has none of its own.
const inBraces = -1

// keyValue reads "a.b = value" into a table; line is where its lines begin.
func (s *scanner) keyValue(t *node, line int) error {
	names, err := s.key()
	if err != nil {
		return err
	}
	if !s.is('=') {
		return errCannotFollow
	}
	s.at++
	s.blank(false)
	for _, n := range names[:len(names)-1] {
		child := t.table[n.text]
		if child == nil {
			child = newNode(dotted)
			t.put(n.text, child)
		}
		t = child
	}
	v, err := s.value(0)
	if err != nil {
		return err
	}
	last := names[len(names)-1]
	v.key = span{names[0].from, last.to}
	if line != inBraces {
		v.lines = span{line, s.lineEnd()}
		s.blocks[len(s.blocks)-1].end = v.lines.to
	}
	t.put(last.text, v)
	return nil
}

// value reads a value, and leaves off behind it.
func (s *scanner) value(depth int) (*node, error) {
	if s.at >= len(s.text) || depth > deepest {
		return nil, errCannotFollow
	}
	n, from := newNode(value), s.at
	switch c := s.text[s.at]; c {
	case '"', '\'':
		end, ok := StringEnd(s.text, s.at)
		if !ok {
			return nil, errCannotFollow
		}
		s.at = end
	case '[', '{':
		if err := s.inside(n, c, depth); err != nil {
			return nil, err
		}
	default:
		for s.at < len(s.text) && !bytes.ContainsRune([]byte(",]}#\r\n"), rune(s.text[s.at])) {
			s.at++
		}
		s.at = from + len(bytes.TrimRight(s.text[from:s.at], " \t"))
	}
	n.value = span{from, s.at}
	return n, nil
}

func (s *scanner) inside(n *node, open byte, depth int) error {
	shut := map[byte]byte{'[': ']', '{': '}'}[open]
	n.form = map[byte]form{'[': array, '{': braces}[open]
	s.at++
	for s.blank(true); !s.is(shut); s.blank(true) {
		if s.at >= len(s.text) {
			return errCannotFollow
		}
		if n.form == braces {
			if err := s.keyValue(n, inBraces); err != nil {
				return err
			}
		} else {
			item, err := s.value(depth + 1)
			if err != nil {
				return err
			}
			n.items = append(n.items, item)
		}
		if s.blank(true); s.is(',') {
			s.at++
		}
	}
	s.at++
	return nil
}
