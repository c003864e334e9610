package read

import (
	"fmt"
	"strings"

	"evenpull/spec"
)

// A check that is made once for each of several names: each = ["A", "B"], and
// {each} in its texts stands for the name.

const (
	eachMark = "{each}"
	mostEach = 200 // names in one list
)

// repeated gives the table once for every name of each, with the name where its mark
// stands; the table itself if it has no each.
func (t table) repeated() []table {
	names := t.list("each")
	switch {
	case !t.has("each"):
		if v := t.marked(); v != nil && !t.recorded {
			t.wrong(v.at, `add each = ["A", "B"], the names it stands for`, "%s: %s stands for nothing", t.name, eachMark)
		}
		return []table{t}
	case len(names) == 0:
		if !t.spoilt("each") {
			t.wrong(t.at("each"), "name at least one, or leave it out", "%s: each is empty", t.name)
		}
		return []table{t}
	case len(names) > mostEach:
		t.wrong(t.at("each"), "make several checks", "%s: each names %d, more than %d", t.name, len(names), mostEach)
		names = names[:mostEach]
	case t.marked() == nil && (t.has("ask") || t.has("measure")):
		t.wrong(t.at("each"), fmt.Sprintf("write %s where the name goes: ask = \"Rod %s swings freely?\"", eachMark, eachMark), "%s: each of its names asks the same", t.name)
	}
	var list []table
	seen := map[string]bool{}
	for _, n := range names {
		name := t.clean(n, "each")
		switch key := spec.Slug(name); {
		case name == "" && !t.blamed[n.at]:
			t.wrong(n.at, "write a name", "%s: a name in each is empty", t.name)
			continue
		case seen[key]:
			t.wrong(n.at, "name it once", "%s: %s stands in each twice", t.name, spec.Quote(name))
			continue
		default:
			seen[key] = true
		}
		one := t.n.filled(name)
		one.asked = t.n.asked
		if id := one.table["id"]; id != nil && id.kind == stringKind {
			id.text = t.n.table["id"].text
			if !strings.Contains(id.text, eachMark) {
				id.text += "-" + eachMark
			}
			id.text = strings.ReplaceAll(id.text, eachMark, spec.Slug(name))
		}
		list = append(list, table{t.reader, one, t.name})
	}
	return list
}

// marked is the question or measurement with the mark in it, or nil.
func (t table) marked() *node {
	for _, key := range []string{"ask", "measure"} {
		if v := t.n.table[key]; v != nil && strings.Contains(v.text, eachMark) {
			return v
		}
	}
	return nil
}

// filled is a copy in which a name stands for its mark in every text.
func (n *node) filled(name string) *node {
	c := *n
	c.text = strings.ReplaceAll(n.text, eachMark, name)
	c.items, c.table = nil, nil
	for _, item := range n.items {
		c.items = append(c.items, item.filled(name))
	}
	if n.table != nil {
		c.table = make(map[string]*node, len(n.table))
		for key, child := range n.table {
			c.table[key] = child.filled(name)
		}
	}
	return &c
}
