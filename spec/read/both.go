package read

import (
	"strings"

	"evenpull/spec"
)

// A file that goes both ways, direction = "both": its groups and places, orders and parts
// are written once, and it is read twice, each time without what is for the other way.

// ways are the directions a file is read in; one without a name for a file of one.
func (r *reader) ways(top table) []spec.Direction {
	procedure := top.n.table["procedure"]
	if procedure == nil || procedure.kind != tableKind {
		return []spec.Direction{""}
	}
	if d := procedure.table["direction"]; d == nil || d.kind != stringKind || strings.TrimSpace(d.text) != string(spec.Both) {
		return []spec.Direction{""}
	}
	r.waysOfPasses(top)
	return []spec.Direction{spec.Close, spec.Open}
}

// waysOfPasses notes the direction of every pass by its name, so that what names a pass is
// known to be of its direction, and refuses two of one name.
func (r *reader) waysOfPasses(top table) {
	r.passWays = map[string]spec.Direction{}
	list := top.n.table["pass"]
	if list == nil {
		return
	}
	for _, n := range list.items {
		name, way := n.table["name"], n.table["direction"]
		if name == nil || name.kind != stringKind || way == nil {
			continue
		}
		said := spaced(name.text)
		if r.passWays[said] != "" && r.passWays[said] != spec.Direction(way.text) {
			r.wrong(name.at, "give each pass a name of its own, also one that opens and one that closes", "two passes are called %s", spec.Quote(name.text))
		}
		r.passWays[said] = spec.Direction(way.text)
	}
}

// spaced is a name without the spaces that nobody means.
func spaced(name string) string { return strings.Join(strings.Fields(name), " ") }

// names reads what the procedure is called in each direction.
func (b *binder) names(t table) {
	closing, opening := t.str("closing", "Close the crankcase"), t.str("opening", "Open the crankcase")
	switch b.way {
	case "":
		for _, key := range []string{"closing", "opening"} {
			if t.has(key) {
				t.wrong(t.n.table[key].keyAt, `write it as name, or direction = "both"`, "[procedure]: %s is for a file that goes both ways", key)
			}
		}
		return
	case spec.Open:
		b.p.Direction, b.p.Name = spec.Open, nameToward(b.p.Name, opening, ", opening")
	default:
		b.p.Direction, b.p.Name = spec.Close, nameToward(b.p.Name, closing, ", closing")
	}
}

func nameToward(name, own, behind string) string {
	if own != "" {
		return own
	}
	return name + behind
}

// passWay reads the direction of a pass. It is false for a pass of the other way.
func (b *binder) passWay(t table) bool {
	way := spec.Direction(t.choice("direction", []string{"close", "open"}))
	switch {
	case b.way != "" && !t.has("direction"):
		t.wrong(t.n.at, `add direction = "close" or direction = "open"`, "%s does not say its direction, and the file goes both ways", t.name)
	case b.way != "":
		return way == b.way || way == "" // a wrong one is reported once
	case way != "" && b.p.Direction != "" && way != b.p.Direction:
		t.wrong(t.at("direction"), `leave it out, or write direction = "both" in [procedure]`, "%s is to %s, and the file is to %s", t.name, way, b.p.Direction)
	}
	return true
}

// applies reports whether a check, a part or a callout is of the direction that is read: by
// its own word, or by the pass it names.
func (b *binder) applies(t table) bool {
	way := spec.Direction(t.choice("direction", []string{"close", "open"}))
	named := map[spec.Direction]bool{}
	for _, key := range []string{"before", "after"} {
		if v := t.n.table[key]; v != nil && b.passWays[spaced(v.text)] != "" {
			named[b.passWays[spaced(v.text)]] = true
		}
	}
	switch {
	case b.way == "":
		if way != "" && b.p.Direction != "" && way != b.p.Direction {
			t.wrong(t.at("direction"), `leave it out, or write direction = "both" in [procedure]`, "%s is to %s, and the file is to %s", t.name, way, b.p.Direction)
		}
		return true
	case way != "" && len(named) > 0 && !named[way]:
		t.wrong(t.at("direction"), "leave it out: the pass says it", "%s is to %s, and the pass it names is not", t.name, way)
		return way == b.way
	case way != "":
		return way == b.way
	}
	return len(named) == 0 || named[b.way]
}

// elsewhere reports whether a key names a pass of the other direction.
func (b *binder) elsewhere(t table, key string) bool {
	v := t.n.table[key]
	if b.way == "" || v == nil {
		return false
	}
	way := b.passWays[spaced(v.text)]
	return way != "" && way != b.way
}
