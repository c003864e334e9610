package sheet

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Entry is a key to write, with its value as TOML text and what stands beside it.
type Entry struct {
	Key     string
	Value   string
	Comment string // without its mark; may be empty
	Column  int    // of the =, at least, where no neighbour says
}

// Block is what stands below a new header, and the comment above it.
type Block struct {
	Comment string // lines without their marks; may be empty
	Entries []Entry
	Column  int // of the =, at least; keys that come later keep to it
}

// with gives the sheet with a piece of its text exchanged.
func (s *Sheet) with(at span, by string) (*Sheet, error) {
	if by == string(s.text[at.from:at.to]) {
		return s, nil
	}
	changed, err := Read(slices.Concat(s.mark, s.text[:at.from], []byte(by), s.text[at.to:]))
	if err != nil {
		return nil, fmt.Errorf("this cannot be written here: %w", err)
	}
	return changed, nil
}

// newline is how the text ends its lines.
func (s *Sheet) newline() string {
	if i := bytes.IndexByte(s.text, '\n'); i > 0 && s.text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// ended is what has to stand before a new line at an offset: a newline where the last
// line has none.
func (s *Sheet) ended(at int) string {
	if at > 0 && s.text[at-1] != '\n' {
		return s.newline()
	}
	return ""
}

// Set gives a key a value, written as TOML. A key that is not there is added at the end of
// its table, which is made if need be; what stands after a value stays beside it.
func (s *Sheet) Set(p Path, e Entry) (*Sheet, error) {
	p = append(slices.Clone(p), e.Key)
	n := s.find(p)
	if n != nil && n.form <= braces {
		return s.with(n.value, e.Value)
	}
	if n != nil {
		without, err := s.Remove(p)
		if err != nil {
			return nil, err
		}
		s = without
	}
	return s.add(p[:len(p)-1], e)
}

func (s *Sheet) add(p Path, e Entry) (*Sheet, error) {
	t := s.find(p)
	switch {
	case t == nil && len(p) > 0:
		return s.AddTable(p, Block{Entries: []Entry{e}})
	case t == nil || !t.form.isTable():
		return nil, fmt.Errorf("%s is no table", strings.Join(p, "."))
	case t.form == braces:
		return s.addInBraces(t, e)
	case t.form == implied:
		b := s.blocksBelow(p)[0]
		return s.with(span{b.header.from, b.header.from}, s.header(p)+s.line(e, 0)+s.newline())
	case t.form == dotted:
		return s.addDotted(t, e)
	}
	at, column := s.endOf(p, t)
	if column == 0 {
		column = e.Column
	}
	return s.with(span{at, at}, s.ended(at)+s.line(e, column))
}

// addInBraces adds a key behind the last of { … }.
func (s *Sheet) addInBraces(t *node, e Entry) (*Sheet, error) {
	text := Key(e.Key) + " = " + e.Value
	if len(t.keys) == 0 {
		return s.with(t.value, "{ "+text+" }")
	}
	at := 0
	for _, child := range t.table {
		at = max(at, furthest(child))
	}
	return s.with(span{at, at}, ", "+text)
}

// addDotted adds a key beside one that was made by a dotted key, with the same names before it.
func (s *Sheet) addDotted(t *node, e Entry) (*Sheet, error) {
	last, below := t, 0
	for last.form == dotted {
		last, below = last.table[last.keys[len(last.keys)-1]], below+1
	}
	look := scanner{text: s.text, at: last.key.from}
	names, err := look.key()
	if err != nil {
		return nil, err
	}
	e.Key = string(s.text[names[0].from:names[len(names)-below].from]) + Key(e.Key)
	if last.lines.to == 0 {
		return s.with(span{last.value.to, last.value.to}, ", "+e.Key+" = "+e.Value)
	}
	return s.with(span{last.lines.to, last.lines.to}, s.ended(last.lines.to)+s.rawLine(e, 0))
}

// furthest is where a value, or the last of what a dotted key made, ends.
func furthest(n *node) int {
	at := n.value.to
	if n.form == dotted {
		for _, child := range n.table {
			at = max(at, furthest(child))
		}
	}
	return at
}

// lastLine is the last key on a line of its own in a table, not counting other headers.
func (s *Sheet) lastLine(t *node) *node {
	var last *node
	for _, name := range t.keys {
		n := t.table[name]
		if n.form == dotted {
			n = s.lastLine(n)
		}
		if n != nil && n.lines.to > 0 && (last == nil || n.lines.to > last.lines.to) {
			last = n
		}
	}
	return last
}

// endOf is where a new key of a table goes, and the column of the = of its neighbour.
func (s *Sheet) endOf(p Path, t *node) (at, column int) {
	if last := s.lastLine(t); last != nil {
		equals := last.key.to + bytes.IndexByte(s.text[last.key.to:], '=')
		return last.lines.to, utf8.RuneCount(s.text[last.key.from:equals])
	}
	for _, b := range s.blocks {
		if slices.Equal(b.path, p) {
			return b.header.to, 0
		}
	}
	return 0, 0
}

// line writes "key = value  # comment", with the = in a column where the key allows it.
func (s *Sheet) line(e Entry, column int) string {
	e.Key = Key(e.Key)
	return s.rawLine(e, column)
}

func (s *Sheet) rawLine(e Entry, column int) string {
	text := e.Key + strings.Repeat(" ", max(1, column-utf8.RuneCountInString(e.Key))) + "= " + e.Value
	if e.Comment != "" {
		text += strings.Repeat(" ", max(1, commentColumn-utf8.RuneCountInString(text))) + "# " + e.Comment
	}
	return text + s.newline()
}

// commentColumn is where comments beside new keys begin.
const commentColumn = 37

// header writes [a.b], or [[a.b]] where the path ends in a number.
func (s *Sheet) header(p Path) string {
	open, shut := "[", "]"
	if _, err := strconv.Atoi(p[len(p)-1]); err == nil && s.listAbove(p) {
		open, shut = "[[", "]]"
	}
	var names []string
	for i, name := range p {
		if _, err := strconv.Atoi(name); err == nil && s.listAbove(p[:i+1]) {
			continue
		}
		names = append(names, Key(name))
	}
	return open + strings.Join(names, ".") + shut + s.newline()
}

// listAbove reports whether the last name of a path is a number in a list.
func (s *Sheet) listAbove(p Path) bool {
	n := s.find(p[:len(p)-1])
	return n != nil && n.form == listed
}

// block writes a header and its entries below each other, their = in one column.
func (s *Sheet) block(header string, of Block) string {
	column := of.Column
	for _, e := range of.Entries {
		column = max(column, utf8.RuneCountInString(Key(e.Key))+1)
	}
	var b strings.Builder
	if of.Comment != "" {
		for line := range strings.Lines(of.Comment) {
			b.WriteString("# " + strings.TrimSuffix(line, "\n") + s.newline())
		}
	}
	b.WriteString(header)
	for _, e := range of.Entries {
		b.WriteString(s.line(e, column))
	}
	return b.String()
}

// AddTable adds [a.b] with its keys, behind the last table of the same first name, or at
// the end of the file.
func (s *Sheet) AddTable(p Path, b Block) (*Sheet, error) {
	return s.addBlock(s.behind(p[:1]), s.block(s.header(p), b))
}

// AddTableBehind adds [a.b] behind what there is of another table.
func (s *Sheet) AddTableBehind(other, p Path, b Block) (*Sheet, error) {
	below := s.blocksBelow(other)
	if len(below) == 0 {
		return s.AddTable(p, b)
	}
	at := below[len(below)-1].end
	if own := s.find(other); own != nil && own.form == braces {
		return nil, fmt.Errorf("%s is written in braces", strings.Join(other, "."))
	}
	return s.with(span{at, at}, s.ended(at)+s.block(s.header(p), b))
}

// AddEntry adds an entry to a list: [[name]] before the entry of that number, or behind the
// last; in a list in brackets, in braces behind the last.
func (s *Sheet) AddEntry(list string, at int, b Block) (*Sheet, error) {
	n := s.find(Path{list})
	if n != nil && n.form == array {
		return s.addInBrackets(n, b.Entries)
	}
	text := s.block("[["+Key(list)+"]]"+s.newline(), b)
	if n != nil && at < len(n.items) {
		from := s.withComment(s.blocksBelow(At(list, at))[0].header.from)
		return s.with(span{from, from}, text+s.newline())
	}
	return s.addBlock(s.behind(Path{list}), text)
}

func (s *Sheet) addInBrackets(list *node, entries []Entry) (*Sheet, error) {
	fields := make([]string, len(entries))
	for i, e := range entries {
		fields[i] = Key(e.Key) + " = " + e.Value
	}
	text := "{ " + strings.Join(fields, ", ") + " }"
	if len(list.items) == 0 {
		return s.with(list.value, "["+text+"]")
	}
	at := list.items[len(list.items)-1].value.to
	return s.with(span{at, at}, ", "+text)
}

// addBlock sets lines in, with a blank line before them and, where more follows, one behind.
func (s *Sheet) addBlock(at int, text string) (*Sheet, error) {
	before := s.ended(at)
	if at > 0 {
		before += s.newline()
	}
	if rest := s.text[at:]; len(rest) > 0 && rest[0] != '\n' && rest[0] != '\r' {
		text += s.newline()
	}
	return s.with(span{at, at}, before+text)
}

// behind is the end of the last block below a path, or of the file.
func (s *Sheet) behind(p Path) int {
	below := s.blocksBelow(p)
	if len(below) == 0 {
		return len(s.text)
	}
	return below[len(below)-1].end
}

func (s *Sheet) blocksBelow(p Path) []*block {
	var list []*block
	for _, b := range s.blocks {
		if len(b.path) >= len(p) && slices.Equal(b.path[:len(p)], p) {
			list = append(list, b)
		}
	}
	return list
}

// withComment goes up from a header over the comment that stands right above it.
func (s *Sheet) withComment(at int) int {
	for at > 0 {
		line := bytes.LastIndexByte(s.text[:at-1], '\n') + 1
		if s.text[line] != '#' {
			break
		}
		at = line
	}
	return at
}

// AddItem adds a value, written as TOML, to the end of a list in brackets, on a line of its
// own where the last one has one. A list that is not there is made.
func (s *Sheet) AddItem(p Path, item string) (*Sheet, error) {
	n := s.find(p)
	if n == nil || len(n.items) == 0 || n.form != array {
		return s.Set(p[:len(p)-1], Entry{Key: p[len(p)-1], Value: "[" + item + "]"})
	}
	last := n.items[len(n.items)-1].value
	line := bytes.LastIndexByte(s.text[:last.from], '\n') + 1
	indent := string(s.text[line:last.from])
	if strings.TrimSpace(indent) != "" || line < n.value.from {
		return s.with(span{last.to, last.to}, ", "+item)
	}
	return s.with(span{last.to, last.to}, ","+s.newline()+indent+item)
}

// children are what is in a table, what dotted keys made opened up.
func children(n *node) []*node {
	var list []*node
	for _, name := range n.keys {
		if child := n.table[name]; child.form == dotted {
			list = append(list, children(child)...)
		} else {
			list = append(list, child)
		}
	}
	return list
}

// Swap exchanges an entry of a list of [[name]] with the next, each with the comment
// right above it.
func (s *Sheet) Swap(list string, i int) (*Sheet, error) {
	n := s.find(Path{list})
	if n == nil || n.form != listed || i < 0 || i+1 >= len(n.items) {
		return nil, fmt.Errorf("%s %d has no next one to change places with", list, i+1)
	}
	first, second := s.blocksBelow(At(list, i)), s.blocksBelow(At(list, i+1))
	a := span{s.withComment(first[0].header.from), first[len(first)-1].end}
	b := span{s.withComment(second[0].header.from), second[len(second)-1].end}
	if b.from < a.to {
		return nil, fmt.Errorf("%s %d and %d are mixed in the file; change their places in an editor", list, i+1, i+2)
	}
	return s.with(span{a.from, b.to}, string(slices.Concat(s.text[b.from:b.to], []byte(s.ended(b.to)), s.text[a.to:b.from], bytes.TrimSuffix(s.text[a.from:a.to], []byte(s.ended(b.to))))))
}
