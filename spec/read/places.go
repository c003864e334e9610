package read

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"

	"github.com/pelletier/go-toml/v2/unstable"

	"evenpull/spec"
)

// Where things stand in a document. The decoder has said what is in it, but not
// where; this is asked only once there is a problem to be placed, by the path of
// what it is about. The parser is go-toml's, which keeps positions. TOML's rules
// on defining a table twice are here as well, with both places named, since the
// decoder lets some of them pass.

// how a table came to be; decides whether it may be opened or extended again.
type origin int

const (
	implied  origin = iota // by a longer header, [a.b] implies a
	headed                 // by its own header
	dotted                 // by a dotted key
	inlined                // { … }: closed
	listItem               // an entry of [[a]]
)

// spot is where a key and its value stand, byte offsets both, and the spots of
// what is inside. A table of a header stands where the header's key does.
type spot struct {
	at, keyAt int
	items     []*spot // of an array
	listed    bool    // an array made by [[header]]s
	table     map[string]*spot
	origin    origin
}

func newTable(at int, o origin) *spot {
	return &spot{at: at, keyAt: at, origin: o, table: map[string]*spot{}}
}

// fault is a problem at a byte offset, before lines are counted.
type fault struct {
	at           int
	what, remedy string
	twice        bool // a key or a table is defined twice
}

type surveyor struct {
	parser unstable.Parser
	text   []byte
	faults []fault
}

// survey finds where everything stands, and what is wrong with the document. On
// a syntax error the spots are of what came before.
func survey(text []byte) (*spot, []fault) {
	b := &surveyor{text: text}
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

func (b *surveyor) syntaxFault(err error) fault {
	at := len(b.text)
	var pe *unstable.ParserError
	if errors.As(err, &pe) && len(pe.Highlight) > 0 {
		at = int(b.parser.Range(pe.Highlight).Offset)
	}
	return badSyntax(b.text, at, err.Error())
}

type keyPart struct {
	name string
	at   int
}

// keyParts splits a dotted key. Names past the deepest allowed are a fault and left out.
func (b *surveyor) keyParts(e *unstable.Node) []keyPart {
	var parts []keyPart
	for it := e.Key(); it.Next(); {
		n := it.Node()
		if len(parts) == maxDepth {
			b.faults = append(b.faults, fault{at: int(n.Raw.Offset), what: fmt.Sprintf("more than %d names in one key", maxDepth), remedy: "no key of this format has more than four"})
			break
		}
		parts = append(parts, keyPart{string(n.Data), int(n.Raw.Offset)})
	}
	return parts
}

func (b *surveyor) twice(key keyPart, first *spot) {
	if len(b.faults) >= maxProblems { // it will only be counted
		b.faults = append(b.faults, fault{at: key.at, twice: true})
		return
	}
	b.faults = append(b.faults, fault{key.at, spec.Quote(key.name) + " is already given on line " + strconv.Itoa(b.line(first.keyAt)), "keep one of them", true})
}

func (b *surveyor) line(at int) int { return 1 + bytes.Count(b.text[:at], []byte("\n")) }

// descend walks to the table that holds the last part of a header.
func (b *surveyor) descend(at *spot, parts []keyPart) *spot {
	for _, part := range parts {
		next, ok := at.table[part.name]
		switch {
		case !ok:
			next = newTable(part.at, implied)
			at.table[part.name] = next
		case next.listed:
			next = next.items[len(next.items)-1]
		case next.table == nil || next.origin == inlined:
			b.twice(part, next)
			return newTable(part.at, headed) // read on, so that later problems are found too
		}
		at = next
	}
	return at
}

func (b *surveyor) openTable(root *spot, parts []keyPart) *spot {
	last := parts[len(parts)-1]
	parent := b.descend(root, parts[:len(parts)-1])
	old, ok := parent.table[last.name]
	if !ok {
		t := newTable(last.at, headed)
		parent.table[last.name] = t
		return t
	}
	if old.table != nil && old.origin == implied {
		old.origin, old.at, old.keyAt = headed, last.at, last.at
		return old
	}
	b.twice(last, old)
	return newTable(last.at, headed)
}

func (b *surveyor) openListItem(root *spot, parts []keyPart) *spot {
	last := parts[len(parts)-1]
	parent := b.descend(root, parts[:len(parts)-1])
	item := newTable(last.at, listItem)
	old, ok := parent.table[last.name]
	switch {
	case !ok:
		old = &spot{at: last.at, keyAt: last.at, listed: true}
		parent.table[last.name] = old
	case !old.listed:
		b.twice(last, old)
		return item
	}
	old.items = append(old.items, item)
	return item
}

// keyValue adds "a.b = value" below t.
func (b *surveyor) keyValue(t *spot, e *unstable.Node) {
	parts := b.keyParts(e)
	for _, part := range parts[:len(parts)-1] {
		next, ok := t.table[part.name]
		if !ok {
			next = newTable(part.at, dotted)
			t.table[part.name] = next
		} else if next.table == nil || next.origin != dotted && next.origin != implied {
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
	t.table[last.name] = value
}

// valueOffset finds the value of "key = value" from the key's offset: arrays
// carry no position of their own. A quoted key may hold '=', so quotes are skipped.
func (b *surveyor) valueOffset(at int) int {
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

func (b *surveyor) value(v *unstable.Node, at int) *spot {
	if v.Raw.Length > 0 {
		at = int(v.Raw.Offset)
	}
	s := &spot{at: at, keyAt: at}
	switch v.Kind {
	case unstable.Array:
		for it := v.Children(); it.Next(); {
			s.items = append(s.items, b.value(it.Node(), at))
		}
	case unstable.InlineTable:
		s.origin, s.table = inlined, map[string]*spot{}
		for it := v.Children(); it.Next(); {
			b.keyValue(s, it.Node())
		}
		closeDotted(s)
	}
	return s
}

// closeDotted marks tables made by dotted keys inside { … } as closed too.
func closeDotted(s *spot) {
	for _, child := range s.table {
		if child.table != nil && child.origin == dotted {
			child.origin = inlined
			closeDotted(child)
		}
	}
}
