package read

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"evenpull/spec"
	"evenpull/spec/near"
	"evenpull/spec/quantity"
)

// reader turns the tree into a procedure and gathers problems on the way.
type reader struct {
	file     string
	given    []byte  // the text as it came
	text     []byte  // the same without a byte order mark
	lines    []int   // offset at which each line begins
	nodes    []*node // by their marks; the first is the document
	root     *spot   // where things stand, once that has been asked
	found    []fault // what was wrong there
	problems Problems
	blamed   map[int]bool // values an error stands at: what follows from it is not said as well
	dropped  int
	passWays map[string]spec.Direction // of the passes of a file that goes both ways, by name
	sound    bool                      // nothing was wrong before the procedure was judged as a whole
	recorded bool                      // the text of a record: what earlier versions read is read as they read it
}

func newReader(file string, text []byte) *reader {
	r := &reader{file: spec.Printable(file), given: text, text: bytes.TrimPrefix(text, byteOrderMark), lines: []int{0}, blamed: map[int]bool{}}
	for i, c := range r.text {
		if c == '\n' {
			r.lines = append(r.lines, i+1)
		}
	}
	return r
}

// byteOrderMark is what some editors begin a file with; nobody sees it.
var byteOrderMark = []byte("\xef\xbb\xbf")

// place gives the line and column of what is marked, both from 1, in characters.
func (r *reader) place(mark int) (line, column int) { return r.lineOf(r.offset(mark)) }

// lineOf turns a byte offset into line and column.
func (r *reader) lineOf(at int) (line, column int) {
	at = min(at, len(r.text))
	i := sort.SearchInts(r.lines, at+1) - 1
	return i + 1, 1 + utf8.RuneCount(r.text[r.lines[i]:at])
}

// add reports a problem at a byte offset; the others take marks.
func (r *reader) add(at int, warning bool, what, remedy string) {
	if r.full() {
		r.dropped++
		return
	}
	line, column := r.lineOf(at)
	r.problems = append(r.problems, Problem{r.file, line, column, what, remedy, warning})
}

// full reports that further problems are only counted: then nothing need be
// spent on their words. A hostile file may hold a hundred thousand.
func (r *reader) full() bool { return len(r.problems) >= maxProblems }

// wrong reports an error. A value has only its first: what else is found in it
// mostly follows from that one.
func (r *reader) wrong(at int, remedy, what string, args ...any) {
	if at > 0 && at%2 == 0 && r.nodes[at/2].kind != tableKind {
		if r.blamed[at] {
			return
		}
		r.blamed[at] = true
	}
	r.say(at, false, remedy, what, args)
}

func (r *reader) warn(at int, remedy, what string, args ...any) { r.say(at, true, remedy, what, args) }

func (r *reader) say(at int, warning bool, remedy, what string, args []any) {
	if r.full() {
		r.dropped++
		return
	}
	r.add(r.offset(at), warning, fmt.Sprintf(what, args...), remedy)
}

// hint names the nearest name, or the ones there are.
func (r *reader) hint(word string, names []string, what string) string {
	if r.full() {
		return ""
	}
	return spec.Hint(word, names, what)
}

// table reads the fields of one table by name. A key nobody asked for is a
// problem in the end, so the code that reads a field is also the list of
// fields there are.
type table struct {
	*reader
	n    *node
	name string // how messages call it: "group main", "pass 2"
}

func (r *reader) tableOf(n *node, name string) table {
	n.asked = make(map[string]bool, 24) // as many as most tables are asked for
	return table{r, n, name}
}

// get finds a field of the wanted kind, or nil after reporting a wrong one.
func (t table) get(key string, want kind, example string) *node {
	t.n.asked[key] = true
	v := t.n.table[key]
	if v == nil {
		return nil
	}
	if v.kind != want {
		remedy := "write " + key + " = " + example
		if want == tableKind && strings.HasPrefix(example, "[") {
			remedy = "write " + example
		} else if strings.HasPrefix(example, "[") && strings.HasSuffix(example, key+"]]") {
			remedy = "start each with a line " + example
		}
		t.wrong(v.at, remedy, "%s: %s must be %s, not %s", t.name, key, want, v.kind)
		return nil
	}
	return v
}

func (t table) has(key string) bool { return t.n.table[key] != nil }

// misspelt reports that a key is most likely meant by one that nobody knows.
func (t table) misspelt(key string) bool {
	return slices.ContainsFunc(t.n.keys, func(k string) bool { return k != key && !t.n.asked[k] && near.Best(k, []string{key}) != "" })
}

// spoilt reports that a field is given and has been found wrong.
func (t table) spoilt(key string) bool {
	v := t.n.table[key]
	return v != nil && (t.blamed[v.at] || slices.ContainsFunc(v.items, func(n *node) bool { return t.blamed[n.at] }))
}

// at is where a field's value stands, or the table itself when it is missing.
func (t table) at(key string) int {
	if v := t.n.table[key]; v != nil {
		return v.at
	}
	return t.n.at
}

func (t table) str(key, example string) string {
	v := t.get(key, stringKind, `"`+example+`"`)
	if v == nil {
		return ""
	}
	return t.clean(v, key)
}

// clean refuses text that could harm a terminal or drown a screen.
func (t table) clean(v *node, key string) string {
	s := strings.TrimSpace(v.text)
	if !utf8.ValidString(s) {
		t.wrong(v.at, "save the file as UTF-8", "%s: %s is not valid UTF-8", t.name, key)
		return ""
	}
	if i := strings.IndexFunc(s, func(r rune) bool { return !spec.Harmless(r) }); i >= 0 {
		r, _ := utf8.DecodeRuneInString(s[i:])
		t.wrong(v.at, "write it on one line, in plain characters", "%s: %s holds the control character %U", t.name, key, r)
		return spec.Printable(s)
	}
	if n := utf8.RuneCountInString(s); n > maxText {
		t.wrong(v.at, fmt.Sprintf("keep it under %d", maxText), "%s: %s is %d characters long", t.name, key, n)
		return string([]rune(s)[:maxText])
	}
	return s
}

func (t table) must(key, example string) string {
	s := t.str(key, example)
	if s == "" && !t.has(key) {
		t.wrong(t.n.at, "add "+key+` = "`+example+`"`, "%s has no %s", t.name, key)
	} else if s == "" && t.n.table[key].kind == stringKind {
		t.wrong(t.at(key), "write "+key+` = "`+example+`"`, "%s: %s is empty", t.name, key)
	}
	return s
}

func (t table) choice(key string, allowed []string) string {
	s := t.str(key, allowed[0])
	if s == "" {
		return ""
	}
	for _, a := range allowed {
		if a == s {
			return s
		}
	}
	remedy := "use one of: " + strings.Join(allowed, ", ")
	if n := near.Best(s, allowed); n != "" {
		remedy = `did you mean "` + n + `"? Allowed: ` + strings.Join(allowed, ", ")
	}
	t.wrong(t.at(key), remedy, "%s: %s cannot be %s", t.name, key, spec.Quote(s))
	return ""
}

func (t table) flag(key string) bool {
	v := t.get(key, boolKind, "true")
	return v != nil && v.truth
}

// count reads a whole number from 1 to most; 1 when it is missing.
func (t table) count(key string, most int) int {
	v := t.get(key, integerKind, "1")
	if v == nil {
		return 1
	}
	if v.number < 1 || v.number > float64(most) {
		t.wrong(v.at, fmt.Sprintf("give a whole number from 1 to %d", most), "%s: %s is %s", t.name, key, v.text)
		return 1
	}
	return int(v.number)
}

func (t table) texts(key, example string) []string {
	v := t.get(key, arrayKind, `["`+example+`"]`)
	if v == nil {
		return nil
	}
	var list []string
	for _, item := range v.items {
		if item.kind != stringKind {
			t.wrong(item.at, `write "`+example+`"`, "%s: %s must hold texts, not %s", t.name, key, item.kind)
			continue
		}
		if s := t.clean(item, key); s != "" {
			list = append(list, s)
		}
	}
	return list
}

// length reads a length of 0 or more; the zero length when it is missing.
func (t table) length(key, example string) quantity.Length {
	v := t.get(key, stringKind, `"`+example+`"`)
	if v == nil {
		return quantity.Length{}
	}
	l, err := figure(t.reader, v.text, quantity.ParseLength)
	if err != nil {
		t.unreadable(v, key, err)
		return quantity.Length{}
	}
	const longest = 10_000 // mm; no bolt or shim on an engine stand is longer
	if mm := l.Mm(); mm < 0 || mm > longest {
		t.wrong(v.at, "give a length from 0 to 10 m", "%s: %s is %s", t.name, key, spec.Quote(v.text))
		return quantity.Length{}
	}
	return l
}

// figure reads a figure; in a record, also as earlier versions did.
func figure[T any](r *reader, text string, read func(string) (T, error)) (T, error) {
	v, err := read(text)
	if err != nil && r.recorded {
		if once, still := read(quantity.AsRecorded(text)); still == nil {
			return once, nil
		}
	}
	return v, err
}

// unreadable reports a quantity that could not be read, with the reader's own remedy.
func (t table) unreadable(v *node, key string, err error) {
	what, remedy := err.Error(), "write a figure with its unit"
	if pe, ok := err.(*quantity.ParseError); ok {
		what, remedy = pe.What, pe.Remedy
	}
	t.wrong(v.at, remedy, "%s: %s %s: %s", t.name, key, spec.Quote(v.text), what)
}

// number reads an item that may be a whole number or a decimal one.
func (t table) numberOf(v *node, what string) (float64, bool) {
	if v.kind != integerKind && v.kind != floatKind {
		t.wrong(v.at, "write a number, such as 35 or 17.5", "%s: %s must be a number, not %s", t.name, what, v.kind)
		return 0, false
	}
	if math.IsNaN(v.number) || math.IsInf(v.number, 0) {
		t.wrong(v.at, "write a number, such as 35 or 17.5", "%s: %s is %s", t.name, what, v.text)
		return 0, false
	}
	return v.number, true
}

// tables gives the entries of [[key]], which must be tables.
func (t table) tables(key, example string) []*node {
	v := t.get(key, arrayKind, example)
	if v == nil {
		return nil
	}
	var list []*node
	for _, item := range v.items {
		if item.kind != tableKind {
			t.wrong(item.at, "write "+key+" = "+example, "%s: %s must hold tables, not %s", t.name, key, item.kind)
			continue
		}
		list = append(list, item)
	}
	return list
}

// meant are keys that people write for others, where no letter tells which.
var meant = map[string]string{
	"angle": "turn", "degrees": "turn", "rotate": "turn", "tighten": "torque", "undo": "loosen", "slacken": "loosen", "elongation": "stretch",
	"bolts": "fasteners", "sequence": "order", "question": "ask", "reuse": "one_use", "single_use": "one_use", "title": "name", "lubricant": "friction",
	"size": "thread", "grade": "class", "socket": "drive", "washers": "with", "hole": "bore", "position": "where", "quantity": "count", "type": "kind",
}

// rest reports every key that nothing asked for.
func (t table) rest() {
	var known []string
	for _, key := range t.n.keys {
		if t.n.asked[key] {
			continue
		}
		if t.full() {
			t.dropped++
			continue
		}
		if known == nil {
			known = slices.Sorted(maps.Keys(t.n.asked))
		}
		remedy := "known here: " + strings.Join(known, ", ")
		if n := meant[key]; n != "" && slices.Contains(known, n) {
			remedy = "did you mean " + n + "?"
		} else if n := near.Best(key, known); n != "" {
			remedy = "did you mean " + n + "?"
		}
		t.wrong(t.n.table[key].keyAt, remedy, "%s: unknown key %s", t.name, spec.Quote(key))
	}
}
