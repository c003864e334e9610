package read

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

func (t table) duration(key, example string) time.Duration {
	v := t.get(key, stringKind, `"`+example+`"`)
	if v == nil {
		return 0
	}
	d, err := figure(t.reader, v.text, quantity.ParseDuration)
	if err != nil {
		t.unreadable(v, key, err)
		return 0
	}
	const longest = 366 * 24 * time.Hour
	if std := d.Std(); std > 0 && std <= longest {
		return std
	}
	t.wrong(v.at, "give a time such as 20m, 4h or 2 days", "%s: %s is %s", t.name, key, spec.Quote(v.text))
	return 0
}

func (b *binder) passes(top table) {
	list := top.tables("pass", "[[pass]]")
	if len(list) == 0 {
		if !top.has("pass") && !top.misspelt("pass") {
			b.wrong(0, "add a [[pass]] table", "there are no passes")
		}
		return
	}
	names := map[string]*spec.Pass{}
	for i, n := range list {
		if i == MaxPasses {
			b.wrong(n.at, "split the procedure", "more than %d passes", MaxPasses)
			return
		}
		t := b.tableOf(n, fmt.Sprintf("pass %d", i+1))
		pass := &spec.Pass{Index: len(b.p.Passes), Name: t.must("name", "Draw down")}
		if pass.Name != "" {
			t.name = fmt.Sprintf("pass %s", spec.Quote(pass.Name))
		}
		if !b.passWay(t) {
			continue
		}
		if pass.Name != "" {
			said := strings.ToLower(strings.Join(strings.Fields(pass.Name), " ")) // how it sounds, not how it is spaced
			if first, ok := names[said]; ok {
				line, _ := b.place(b.at[first])
				t.wrong(t.at("name"), "give each pass a name of its own", "pass %s is already on line %d", spec.Quote(pass.Name), line)
			}
			names[said] = pass
		}
		b.nameless = b.nameless || pass.Name == ""
		b.at[pass], b.at[nameOf{pass}] = n.at, t.at("name")
		if !b.pass(t, pass) {
			return
		}
		t.rest()
		b.p.Passes = append(b.p.Passes, pass)
	}
}

// pass reads one pass. It is false when there are too many stages to read on.
func (b *binder) pass(t table, pass *spec.Pass) bool {
	pass.Because = t.str("because", "film spreads before it skins")
	pass.Source = t.str("source", "sheet 12, table 1")
	pass.Caution = t.str("caution", "pull smoothly")
	pass.Prepare = t.str("prepare", "oil threads and under the head")
	pass.First = t.choice("first", []string{"weak", "strong"})
	b.members(t, pass)
	if !b.stagesFit(t, pass) {
		return false
	}
	b.order(t, pass)
	b.steps(t, pass)
	if pass.IsWait() {
		for _, key := range []string{"groups", "fasteners", "order", "by", "first"} {
			if t.has(key) {
				t.wrong(t.n.table[key].keyAt, "leave it out, or make two passes", "%s waits, so it has no %s", t.name, key)
			}
		}
		return true
	}
	if len(pass.Fasteners) == 0 && !t.has("groups") && !t.has("fasteners") {
		t.wrong(t.n.at, `add groups = ["main"] or fasteners = ["M1"]`, "%s does not say which fasteners", t.name)
	}
	b.mixedStrength(t, pass)
	return true
}

// stagesFit counts the stages so far and this pass's, and refuses more than a
// person could walk. It comes before the steps are read: each of them has a
// figure for every group.
func (b *binder) stagesFit(t table, pass *spec.Pass) bool {
	steps := 1
	if each := t.n.table["each"]; each != nil && each.kind == arrayKind {
		steps = max(1, len(each.items))
	}
	b.stages += steps * max(1, len(pass.Fasteners))
	if b.stages <= MaxStages {
		return true
	}
	t.wrong(t.n.at, "split the procedure: fewer fasteners, passes or steps", "with %s there are %d stages, more than %d", t.name, b.stages, MaxStages)
	return false
}

// members reads groups = […] or fasteners = […].
func (b *binder) members(t table, pass *spec.Pass) {
	picked := map[*spec.Fastener]bool{}
	groups := t.get("groups", arrayKind, `["main"]`)
	fasteners := t.get("fasteners", arrayKind, `["M1"]`)
	if groups != nil && fasteners != nil {
		t.wrong(fasteners.keyAt, "keep one of the two", "%s names groups and fasteners", t.name)
		fasteners = nil
	}
	for _, list := range []*node{groups, fasteners} {
		if list == nil {
			continue
		}
		if len(list.items) == 0 {
			t.wrong(list.at, "name at least one", "%s: the list is empty", t.name)
		}
		for _, item := range list.items {
			b.member(t, item, list == groups, picked)
		}
	}
	for _, f := range b.p.Fasteners {
		if picked[f] {
			pass.Fasteners = append(pass.Fasteners, f)
		}
	}
}

// unsureOfMembers reports that the pass's lists of groups or fasteners are wrong.
func (t table) unsureOfMembers() bool {
	return t.spoilt("groups") || t.spoilt("fasteners") || !t.has("groups") && !t.has("fasteners") || t.has("groups") && t.has("fasteners")
}

func (b *binder) member(t table, item *node, group bool, picked map[*spec.Fastener]bool) {
	if item.kind != stringKind {
		t.wrong(item.at, `write it in quotes, such as "M1"`, "%s: the list must hold texts, not %s", t.name, item.kind)
		return
	}
	if !group {
		if f := b.fastener(t, item); f != nil {
			if picked[f] {
				t.wrong(item.at, "name it once", "%s: fastener %s stands in the list twice", t.name, spec.Quote(f.ID))
			}
			picked[f] = true
		}
		return
	}
	g := b.groupNamed(t, item.at, item.text)
	if g == nil {
		return
	}
	if len(g.Members) > 0 && picked[g.Members[0]] {
		t.wrong(item.at, "name it once", "%s: group %s stands in the list twice", t.name, spec.Quote(g.ID))
	}
	for _, f := range g.Members {
		picked[f] = true
	}
}

func (b *binder) groupNamed(t table, at int, id string) *spec.Group {
	if g := b.groupByID[id]; g != nil {
		return g
	}
	var ids []string
	for _, g := range b.p.Groups[:min(enoughNames, len(b.p.Groups))] {
		ids = append(ids, g.ID)
	}
	if b.unread[id] {
		return nil
	}
	t.wrong(at, t.hint(id, ids, "groups"), "%s: there is no group %s", t.name, spec.Quote(id))
	return nil
}

func (b *binder) fastener(t table, item *node) *spec.Fastener {
	if b.byID == nil {
		b.byID = map[string]*spec.Fastener{}
		for _, f := range b.p.Fasteners {
			b.byID[f.ID] = f
		}
	}
	if f := b.byID[item.text]; f != nil {
		return f
	}
	var ids []string
	for _, f := range b.p.Fasteners[:min(enoughNames, len(b.p.Fasteners))] {
		ids = append(ids, f.ID)
	}
	t.wrong(item.at, t.hint(item.text, ids, "fasteners"), "%s: there is no fastener %s", t.name, spec.Quote(item.text))
	return nil
}

// enoughNames is how many names a guess is made from.
const enoughNames = 200

// order reads a named order or the sheet's own list of ids.
func (b *binder) order(t table, pass *spec.Pass) {
	t.n.asked["order"] = true
	v := t.n.table["order"]
	switch {
	case v == nil:
		pass.Order.Kind = "listed"
	case v.kind == arrayKind:
		b.orderList(t, v, pass)
	default:
		name := t.choice("order", append(slices.Clone(spec.Orders), b.orderNames()...))
		if b.named[name] != nil && !slices.Contains(spec.Orders, name) {
			b.useOrder(t, v, pass, name)
			break
		}
		pass.Order.Kind = name
	}
	b.orderBy(t, pass)
}

func (b *binder) orderList(t table, v *node, pass *spec.Pass) {
	seen := map[*spec.Fastener]bool{}
	inPass := map[*spec.Fastener]bool{}
	for _, f := range pass.Fasteners {
		inPass[f] = true
	}
	clean, unsure := true, t.unsureOfMembers()
	for _, item := range v.items {
		if item.kind != stringKind {
			t.wrong(item.at, `write it in quotes, such as "M1"`, "%s: order must hold ids, not %s", t.name, item.kind)
			clean = false
			continue
		}
		f := b.fastener(t, item)
		switch {
		case f == nil:
			clean = false
		case seen[f]:
			t.wrong(item.at, "name it once", "%s: order names %s twice", t.name, spec.Quote(f.ID))
			clean = false
		case !inPass[f] && unsure:
			clean = false // may be the one that was misspelt
		case !inPass[f]:
			t.wrong(item.at, "take it out, or add it to the pass", "%s: order names %s, which is not in this pass", t.name, spec.Quote(f.ID))
			clean = false
		default:
			seen[f] = true
			pass.Order.List = append(pass.Order.List, f)
		}
	}
	for _, f := range pass.Fasteners {
		if clean && !seen[f] && !unsure {
			t.wrong(v.at, "name every fastener of the pass once", "%s: order leaves out %s", t.name, spec.Quote(f.ID))
			return
		}
	}
}

// mixedStrength holds the rule that a pass over unlike fasteners must say which go first.
func (b *binder) mixedStrength(t table, pass *spec.Pass) {
	if t.has("order") && pass.Order.Kind == "" { // a list, or what is no order
		return
	}
	var one *spec.Fastener
	for _, f := range pass.Fasteners {
		if f.Group.Hollow() {
			continue
		}
		if one == nil {
			one = f
			continue
		}
		if spec.SameStrength(one.Group, f.Group) {
			continue
		}
		if b.unsaid[one.Group].strength || b.unsaid[f.Group].strength {
			return
		}
		if (one.Group.ProofLoadN == 0) != (f.Group.ProofLoadN == 0) || one.Group.ProofLoadN == 0 {
			t.wrong(t.n.at, "give every group of the pass a class, or order a list of ids", "%s mixes groups %s and %s, and one has no class to tell which is weaker", t.name, spec.Quote(one.Group.ID), spec.Quote(f.Group.ID))
			return
		}
		if pass.First == "" && !t.has("first") {
			t.wrong(t.n.at, `add first = "weak" or first = "strong", as the sheet says`, "%s mixes strengths: %s (%.1f kN) and %s (%.1f kN)", t.name, spec.Quote(one.Group.ID), one.Group.ProofLoadN/1000, spec.Quote(f.Group.ID), f.Group.ProofLoadN/1000)
		}
		return
	}
}
