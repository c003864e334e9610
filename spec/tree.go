package spec

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

// A TOML document as a tree in which every key and every value knows where it
// stands. The grammar is go-toml's; what is added here is the position of each
// value and TOML's rules on defining a table twice, with both places named.
// tree_test.go holds it against a second TOML library.

type kind int

const (
	tableKind kind = iota
	arrayKind
	stringKind
	integerKind
	floatKind
	boolKind
	dateKind
)

func (k kind) String() string {
	return [...]string{"a table", "an array", "text", "a whole number", "a number", "true or false", "a date"}[k]
}

// how a table came to be; decides whether it may be opened or extended again.
type origin int

const (
	implied  origin = iota // by a longer header, [a.b] implies a
	headed                 // by its own header
	dotted                 // by a dotted key
	inlined                // { … }: closed
	listItem               // an entry of [[a]]
)

type node struct {
	kind   kind
	at     int // byte offset of the value (of the header's key for tables)
	keyAt  int // byte offset of the key that names it
	text   string
	number float64
	truth  bool
	items  []*node // arrays
	listed bool    // an array made by [[header]]s
	keys   []string
	table  map[string]*node
	origin origin
	asked  map[string]bool // keys the reader knows of
}

func newTable(at int, o origin) *node {
	return &node{kind: tableKind, at: at, keyAt: at, origin: o, table: map[string]*node{}}
}

func (n *node) put(key string, child *node) {
	n.keys = append(n.keys, key)
	n.table[key] = child
}

// fault is a problem at a byte offset, before lines are counted.
type fault struct {
	at           int
	what, remedy string
}

type builder struct {
	parser unstable.Parser
	text   []byte
	faults []fault
}

// parseTree reads a document. On a syntax error the tree holds what came before.
func parseTree(text []byte) (*node, []fault) {
	b := &builder{text: text}
	b.parser.Reset(text)
	root := newTable(0, headed)
	current := root
	for b.parser.NextExpression() {
		e := b.parser.Expression()
		switch e.Kind {
		case unstable.Table:
			current = b.openTable(root, b.keyParts(e))
		case unstable.ArrayTable:
			current = b.openListItem(root, b.keyParts(e))
		case unstable.KeyValue:
			b.keyValue(current, e)
		}
	}
	if err := b.parser.Error(); err != nil {
		b.faults = append(b.faults, b.syntaxFault(err))
	}
	return root, b.faults
}

func (b *builder) syntaxFault(err error) fault {
	at := len(b.text)
	var pe *unstable.ParserError
	if errors.As(err, &pe) && len(pe.Highlight) > 0 {
		at = int(b.parser.Range(pe.Highlight).Offset)
	}
	return fault{at, "not valid TOML: " + Printable(err.Error()), "see https://toml.io for the syntax"}
}

type keyPart struct {
	name string
	at   int
}

// keyParts splits a dotted key. Names past the deepest allowed are a fault and left out.
func (b *builder) keyParts(e *unstable.Node) []keyPart {
	var parts []keyPart
	for it := e.Key(); it.Next(); {
		n := it.Node()
		if len(parts) == maxDepth {
			b.faults = append(b.faults, fault{int(n.Raw.Offset), fmt.Sprintf("more than %d names in one key", maxDepth), "no key of this format has more than four"})
			break
		}
		parts = append(parts, keyPart{string(n.Data), int(n.Raw.Offset)})
	}
	return parts
}

func (b *builder) twice(key keyPart, first *node) {
	if len(b.faults) >= maxProblems { // it will only be counted
		b.faults = append(b.faults, fault{at: key.at})
		return
	}
	b.faults = append(b.faults, fault{key.at, quote(key.name) + " is already given on line " + strconv.Itoa(b.line(first.keyAt)), "keep one of them"})
}

func (b *builder) line(at int) int { return 1 + bytes.Count(b.text[:at], []byte("\n")) }

// descend walks to the table that holds the last part of a header.
func (b *builder) descend(at *node, parts []keyPart) *node {
	for _, part := range parts {
		next, ok := at.table[part.name]
		switch {
		case !ok:
			next = newTable(part.at, implied)
			at.put(part.name, next)
		case next.kind == arrayKind && next.listed:
			next = next.items[len(next.items)-1]
		case next.kind != tableKind || next.origin == inlined:
			b.twice(part, next)
			return newTable(part.at, headed) // read on, so that later problems are found too
		}
		at = next
	}
	return at
}

func (b *builder) openTable(root *node, parts []keyPart) *node {
	last := parts[len(parts)-1]
	parent := b.descend(root, parts[:len(parts)-1])
	old, ok := parent.table[last.name]
	if !ok {
		t := newTable(last.at, headed)
		parent.put(last.name, t)
		return t
	}
	if old.kind == tableKind && old.origin == implied {
		old.origin, old.at, old.keyAt = headed, last.at, last.at
		return old
	}
	b.twice(last, old)
	return newTable(last.at, headed)
}

func (b *builder) openListItem(root *node, parts []keyPart) *node {
	last := parts[len(parts)-1]
	parent := b.descend(root, parts[:len(parts)-1])
	item := newTable(last.at, listItem)
	old, ok := parent.table[last.name]
	switch {
	case !ok:
		old = &node{kind: arrayKind, at: last.at, keyAt: last.at, listed: true}
		parent.put(last.name, old)
	case !old.listed:
		b.twice(last, old)
		return item
	}
	old.items = append(old.items, item)
	return item
}

// keyValue adds "a.b = value" below t.
func (b *builder) keyValue(t *node, e *unstable.Node) {
	parts := b.keyParts(e)
	for _, part := range parts[:len(parts)-1] {
		next, ok := t.table[part.name]
		if !ok {
			next = newTable(part.at, dotted)
			t.put(part.name, next)
		} else if next.kind != tableKind || next.origin != dotted && next.origin != implied {
			b.twice(part, next)
			return
		}
		t = next
	}
	last := parts[len(parts)-1]
	if old, ok := t.table[last.name]; ok {
		b.twice(last, old)
		return
	}
	value := b.value(e.Value(), b.valueOffset(last.at))
	value.keyAt = last.at
	t.put(last.name, value)
}

// valueOffset finds the value of "key = value" from the key's offset: arrays
// carry no position of their own. A quoted key may hold '=', so quotes are skipped.
func (b *builder) valueOffset(at int) int {
	var quote byte
	for ; at < len(b.text); at++ {
		c := b.text[at]
		switch {
		case quote != 0 && c == '\\' && quote == '"':
			at++
		case quote != 0 && c == quote:
			quote = 0
		case quote != 0:
		case c == '"' || c == '\'':
			quote = c
		case c == '=':
			for at++; at < len(b.text) && (b.text[at] == ' ' || b.text[at] == '\t'); at++ {
			}
			return at
		}
	}
	return len(b.text)
}

func (b *builder) value(v *unstable.Node, at int) *node {
	if v.Raw.Length > 0 {
		at = int(v.Raw.Offset)
	}
	n := &node{at: at, keyAt: at}
	switch v.Kind {
	case unstable.String:
		n.kind, n.text = stringKind, string(v.Data)
	case unstable.Bool:
		n.kind, n.truth = boolKind, v.Data[0] == 't'
	case unstable.Integer, unstable.Float:
		b.number(n, v)
	case unstable.Array:
		n.kind = arrayKind
		for it := v.Children(); it.Next(); {
			n.items = append(n.items, b.value(it.Node(), at))
		}
	case unstable.InlineTable:
		n.kind, n.origin, n.table = tableKind, inlined, map[string]*node{}
		for it := v.Children(); it.Next(); {
			b.keyValue(n, it.Node())
		}
		closeDotted(n)
	default:
		n.kind = dateKind
	}
	return n
}

// closeDotted marks tables made by dotted keys inside { … } as closed too.
func closeDotted(n *node) {
	for _, child := range n.table {
		if child.kind == tableKind && child.origin == dotted {
			child.origin = inlined
			closeDotted(child)
		}
	}
}

var (
	decimalInteger = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[+-]?(0|[1-9](_?[0-9])*)$`) })
	radixInteger   = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^0(x[0-9a-fA-F](_?[0-9a-fA-F])*|o[0-7](_?[0-7])*|b[01](_?[01])*)$`)
	})
	decimalFloat = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^[+-]?(0|[1-9](_?[0-9])*)(\.[0-9](_?[0-9])*)?([eE][+-]?[0-9](_?[0-9])*)?$`)
	})
	specialFloat = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[+-]?(inf|nan)$`) })
)

func (b *builder) number(n *node, v *unstable.Node) {
	n.text = string(v.Data)
	digits := strings.ReplaceAll(n.text, "_", "")
	bad := func() {
		b.faults = append(b.faults, fault{n.at, "not valid TOML: " + quote(n.text) + " is not a number", "write it plainly, such as 12 or 0.5"})
	}
	if v.Kind == unstable.Integer {
		n.kind = integerKind
		value, err := strconv.ParseInt(digits, 0, 64)
		if decimalInteger().MatchString(n.text) {
			value, err = strconv.ParseInt(digits, 10, 64)
		} else if !radixInteger().MatchString(n.text) {
			bad()
		}
		if err != nil {
			bad()
		}
		n.number = float64(value)
		return
	}
	n.kind = floatKind
	if !decimalFloat().MatchString(n.text) && !specialFloat().MatchString(n.text) {
		bad()
	}
	value, err := strconv.ParseFloat(strings.TrimPrefix(digits, "-"), 64)
	if err != nil {
		bad()
	}
	if strings.HasPrefix(digits, "-") {
		value = -value
	}
	n.number = value
}

// quote shows a piece of the file inside a message: bounded, and harmless on a terminal.
func quote(s string) string {
	const longest = 60
	if utf8.RuneCountInString(s) > longest {
		s = string([]rune(s)[:longest]) + "…"
	}
	return `"` + Printable(strings.ReplaceAll(s, "\n", " ")) + `"`
}

// allowedRune reports whether a character may come from a file to a screen:
// no control characters, no formatting ones (they reverse or hide text).
func allowedRune(r rune) bool {
	return r != utf8.RuneError && !unicode.IsControl(r) && !unicode.Is(unicode.Cf, r) && r != '\u2028' && r != '\u2029'
}
