package read

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/BurntSushi/toml"
)

// A TOML document as a tree of named values, decoded by BurntSushi/toml. A node
// does not know where it stands in the text: it has a mark, by which the place
// is found if there is a problem with it.

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

type node struct {
	kind   kind
	at     int // mark of the value
	keyAt  int // mark of the key that names it
	order  int // of an entry of a list at the top: grows through the file, over all lists
	text   string
	number float64
	truth  bool
	items  []*node // arrays
	keys   []string
	table  map[string]*node
	asked  map[string]bool // keys the reader knows of

	up    *node // what it is in, and there
	name  string
	index int
}

// decode reads the text as TOML, or gives what is wrong with it.
func (r *reader) decode() (*node, []fault) {
	if at, deep := tooDeep(r.text); deep { // before anybody builds it up in memory
		return nil, r.faults(fault{at: at, what: fmt.Sprintf("more than %d brackets inside one another", maxDepth), remedy: "no value of this format has more than three"})
	}
	var values map[string]any
	known, err := toml.Decode(string(r.text), &values)
	if err != nil {
		return nil, r.faults(r.syntaxFault(err))
	}
	g := grower{reader: r, keys: map[string][]string{}, starts: map[string][]int{}}
	g.note(known.Keys(), values)
	if g.dotted || hasInlineTable(r.text) {
		// The decoder lets a table that a dotted key or { } has made be opened again.
		_, faults := r.surveyed()
		if twice := slices.DeleteFunc(slices.Clone(faults), func(f fault) bool { return !f.twice }); len(twice) > 0 {
			return nil, twice
		}
	}
	root := g.table(&node{}, values, "", true)
	root.at, root.keyAt = 0, 0
	return root, nil
}

// faults are those of a text that is known to have one: with their places if
// they can be found, else the one that is known.
func (r *reader) faults(known fault) []fault {
	if _, found := r.surveyed(); len(found) > 0 {
		return found
	}
	return []fault{known}
}

func (r *reader) syntaxFault(err error) fault {
	at := 0
	var pe toml.ParseError
	if errors.As(err, &pe) {
		at = min(max(pe.Position.Start, 0), len(r.text))
		if line := pe.Position.Line; line >= 1 && line <= len(r.lines) {
			if found, _ := r.lineOf(at); found != line { // the line can be relied on, the offset not always
				at = r.lines[line-1]
			}
		}
		err = errors.New(pe.Message)
	}
	return badSyntax(r.text, at, err.Error())
}

// surveyed finds the places, once.
func (r *reader) surveyed() (*spot, []fault) {
	if r.root == nil {
		r.root, r.found = survey(r.text)
	}
	return r.root, r.found
}

// offset is where a marked node stands, in bytes. The place of what cannot be
// found is that of what it is in.
func (r *reader) offset(mark int) int {
	if mark == 0 {
		return 0
	}
	n := r.nodes[mark/2]
	s, exact := r.spotOf(n)
	if exact && mark%2 == 1 {
		return s.keyAt
	}
	return s.at
}

func (r *reader) spotOf(n *node) (s *spot, exact bool) {
	if n.up == nil {
		root, _ := r.surveyed()
		return root, true
	}
	s, exact = r.spotOf(n.up)
	switch {
	case !exact:
		return s, false
	case n.up.kind == tableKind && s.table[n.name] != nil:
		return s.table[n.name], true
	case n.up.kind == arrayKind && n.index < len(s.items):
		return s.items[n.index], true
	}
	return s, false
}

// grower makes the tree of what has been decoded. Maps have lost the order of
// their keys; the decoder's own list of keys has it, for all but what is inside
// arrays, where nothing depends on it.
type grower struct {
	*reader
	keys   map[string][]string // path of a table → its keys in order
	starts map[string][]int    // key at the top → where it stands in the list of keys, each time it does
	dotted bool                // a dotted key may have made a table
}

// pathMark goes before each name of a path; no name has it in it.
const pathMark = "\x00"

func (g *grower) note(all []toml.Key, values map[string]any) {
	seen := map[string]bool{"": true}
	header := ""
	for i, key := range all {
		if len(key) == 1 {
			g.starts[key[0]] = append(g.starts[key[0]], i)
		}
		path, above := "", ""
		for _, name := range key {
			above = path
			if path += pathMark + name; !seen[path] {
				seen[path] = true
				g.keys[above] = append(g.keys[above], name)
			}
		}
		switch what(values, key) {
		case aTable:
			header = path
		case aValue:
			g.dotted = g.dotted || above != header
		}
	}
}

// what a key of the decoder's list names: a table or a list of them, anything
// else, or something in an array in which it may stand several times.
type named int

const (
	aTable named = iota
	aValue
	inArray
)

// what tells them apart as far as can be told: what is in a list of tables is
// taken for a value.
func what(values map[string]any, key toml.Key) named {
	var v any = values
	for _, name := range key {
		switch in := v.(type) {
		case map[string]any:
			v = in[name]
		case []any:
			return inArray
		default:
			return aValue
		}
	}
	switch v.(type) {
	case map[string]any, []map[string]any:
		return aTable
	}
	return aValue
}

// mark gives a node its marks.
func (g *grower) mark(n *node) *node {
	n.at = 2 * len(g.nodes)
	n.keyAt = n.at + 1
	g.nodes = append(g.nodes, n)
	return n
}

func (g *grower) table(n *node, values map[string]any, path string, ordered bool) *node {
	g.mark(n)
	n.kind, n.table = tableKind, make(map[string]*node, len(values))
	if n.keys = g.keys[path]; !ordered {
		n.keys = slices.Sorted(maps.Keys(values))
	}
	for _, key := range n.keys {
		n.table[key] = g.value(&node{up: n, name: key}, values[key], path+pathMark+key, ordered)
	}
	return n
}

func (g *grower) array(n *node, length int, item func(i int) any) *node {
	g.mark(n)
	n.kind = arrayKind
	for i := range length {
		child := &node{up: n, index: i}
		if starts := g.starts[n.name]; n.up.up == nil && len(starts) > 0 {
			child.order = starts[0] + i // in one array each entry has a key of its own to move on by
			if len(starts) == length {
				child.order = starts[i]
			}
		}
		n.items = append(n.items, g.value(child, item(i), "", false))
	}
	return n
}

func (g *grower) value(n *node, v any, path string, ordered bool) *node {
	switch v := v.(type) {
	case map[string]any:
		return g.table(n, v, path, ordered)
	case []map[string]any:
		return g.array(n, len(v), func(i int) any { return v[i] })
	case []any:
		return g.array(n, len(v), func(i int) any { return v[i] })
	case string:
		n.kind, n.text = stringKind, v
	case int64:
		n.kind, n.number, n.text = integerKind, float64(v), strconv.FormatInt(v, 10)
	case float64:
		n.kind, n.number, n.text = floatKind, v, decimal(v)
	case bool:
		n.kind, n.truth = boolKind, v
	case time.Time:
		n.kind = dateKind
	}
	return g.mark(n)
}

// decimal writes a number as TOML does.
func decimal(v float64) string {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return strings.TrimPrefix(strings.ToLower(strconv.FormatFloat(v, 'g', -1, 64)), "+")
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}
