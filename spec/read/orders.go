package read

import (
	"slices"
	"strings"

	"evenpull/spec"
)

// Orders that several passes use, [order.NAME], and the caps that bolts hold together.

// namedOrder is an [order.NAME].
type namedOrder struct {
	rule      string
	list      []*spec.Fastener // of a list
	by        string
	because   string
	backwards bool
	used      bool
	at        int
}

var orderKeys = []string{"list", "rule", "reverse_of"}

// orders reads the [order.NAME] tables.
func (b *binder) orders(top table) {
	all := top.get("order", tableKind, "[order.caps]")
	if all == nil {
		return
	}
	b.named = map[string]*namedOrder{}
	later := map[string]table{} // those that turn another round
	for _, name := range all.keys {
		n := all.table[name]
		if n.kind != tableKind {
			b.wrong(n.keyAt, "write [order."+spec.Printable(name)+"]", "order %s must be a table, not %s", spec.Quote(name), n.kind)
			b.named[name] = &namedOrder{rule: "listed"} // what uses it is not wrong as well
			continue
		}
		t := b.tableOf(n, "order "+spec.Printable(name))
		b.goodID(n.keyAt, "order", name)
		if slices.Contains(spec.Orders, name) {
			t.wrong(n.keyAt, "choose another name", "an order cannot be called %s: that is a rule", spec.Quote(name))
		}
		o := &namedOrder{at: n.keyAt}
		b.named[name] = o
		o.because = t.str("because", "from the middle outwards")
		o.by = t.choice("by", []string{spec.ByCap})
		o.rule = t.choice("rule", spec.Orders)
		o.list = b.listOf(t, "list")
		if t.has("reverse_of") {
			later[name] = t
		}
		t.str("reverse_of", "caps")
		b.oneKindOfOrder(t)
		t.rest()
	}
	b.turnRound(later)
}

func (b *binder) oneKindOfOrder(t table) {
	var found []string
	for _, key := range orderKeys {
		if t.has(key) {
			found = append(found, key)
		}
	}
	switch {
	case len(found) == 0:
		t.wrong(t.n.at, `give it rule = "spiral", list = ["M1", "M2"] or reverse_of = "…"`, "%s says no order", t.name)
	case len(found) > 1:
		t.wrong(t.n.table[found[1]].keyAt, "keep one of them", "%s has %s", t.name, strings.Join(found, " and "))
	case t.has("by") && !t.has("rule"):
		t.wrong(t.n.table["by"].keyAt, "leave it out, or give a rule", "%s: by belongs to a rule", t.name)
	}
}

// turnRound fills in the orders that are another one backwards.
func (b *binder) turnRound(later map[string]table) {
	names := b.orderNames()
	for _, name := range names {
		t, ok := later[name]
		if !ok {
			continue
		}
		of := t.n.table["reverse_of"].text
		_, chained := later[of]
		switch other := b.named[of]; {
		case chained:
			t.wrong(t.at("reverse_of"), "name one with a rule or a list", "%s: %s is itself another one backwards", t.name, spec.Quote(of))
		case other == nil:
			t.wrong(t.at("reverse_of"), t.hint(of, names, "orders"), "%s: there is no order %s", t.name, spec.Quote(of))
		default:
			o := b.named[name]
			o.rule, o.by, o.backwards = other.rule, other.by, true
			o.list = slices.Clone(other.list)
			slices.Reverse(o.list)
			other.used = true
		}
	}
}

func (b *binder) orderNames() []string {
	var names []string
	for name := range b.named {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// listOf reads a list of ids, each of them once.
func (b *binder) listOf(t table, key string) []*spec.Fastener {
	v := t.get(key, arrayKind, `["M1", "M2"]`)
	if v == nil {
		return nil
	}
	if len(v.items) == 0 {
		t.wrong(v.at, "name at least one", "%s: the list is empty", t.name)
	}
	var list []*spec.Fastener
	seen := map[*spec.Fastener]bool{}
	for _, item := range v.items {
		if item.kind != stringKind {
			t.wrong(item.at, `write it in quotes, such as "M1"`, "%s: %s must hold ids, not %s", t.name, key, item.kind)
			continue
		}
		switch f := b.fastener(t, item); {
		case f == nil:
		case seen[f]:
			t.wrong(item.at, "name it once", "%s: %s names %s twice", t.name, key, spec.Quote(f.ID))
		default:
			seen[f] = true
			list = append(list, f)
		}
	}
	return list
}

// useOrder gives a pass the order of a name: of a list, those that are in the pass.
func (b *binder) useOrder(t table, v *node, pass *spec.Pass, name string) {
	o := b.named[name]
	o.used = true
	pass.Order = spec.Order{Kind: o.rule, By: o.by, Name: name, Backwards: o.backwards}
	if pass.Because == "" {
		pass.Because = o.because
	}
	if o.list == nil {
		return
	}
	pass.Order.Backwards = false // the list is turned round already
	in := map[*spec.Fastener]bool{}
	for _, f := range pass.Fasteners {
		in[f] = true
	}
	for _, f := range o.list {
		if in[f] {
			pass.Order.List = append(pass.Order.List, f)
			delete(in, f)
		}
	}
	for _, f := range pass.Fasteners {
		if in[f] && !t.unsureOfMembers() {
			t.wrong(v.at, "name it in the order, or take it out of the pass", "%s: order %s leaves out %s", t.name, spec.Quote(name), spec.Quote(f.ID))
			return
		}
	}
}

// unusedOrders warns of those that no pass uses, in either direction.
func unusedOrders(binders []*binder) {
	b := binders[0]
	for _, name := range b.orderNames() {
		used := slices.ContainsFunc(binders, func(b *binder) bool { return b.named[name].used })
		if !used {
			b.warn(b.named[name].at, "use it in a pass: order = "+spec.Quote(name)+", or take it out", "no pass uses order %s", spec.Quote(name))
		}
	}
}

// orderBy reads by = "cap", which needs a rule to go by and caps to order.
func (b *binder) orderBy(t table, pass *spec.Pass) {
	by := t.choice("by", []string{spec.ByCap})
	switch {
	case by == "":
	case pass.Order.List != nil:
		t.wrong(t.n.table["by"].keyAt, "leave it out: the list is the order", "%s: by belongs to a rule", t.name)
	default:
		pass.Order.By = by
	}
	if pass.Order.By == "" || t.unsureOfMembers() || len(pass.Fasteners) == 0 {
		return
	}
	if !slices.ContainsFunc(pass.Fasteners, func(f *spec.Fastener) bool { return f.Cap != nil }) {
		g := pass.Fasteners[0].Group
		if !b.capless[g] {
			t.wrong(t.at("by"), "say which bolts hold one cap: [group."+spec.Printable(g.ID)+`.caps] with lines such as 1 = ["M1", "M2"]`, "%s: no bolt of it holds a cap", t.name)
		}
	}
}

// caps reads [group.ID.caps], the bolts that hold one cap together.
func (b *binder) caps(t table, g *spec.Group) {
	n := t.get("caps", tableKind, `{ 1 = ["M1", "M2"] }`)
	if n == nil {
		b.capless[g] = t.has("caps") // and that is reported
		return
	}
	inner := b.tableOf(n, t.name+": caps")
	for _, name := range n.keys {
		b.goodID(n.table[name].keyAt, "cap", name)
		c := &spec.Cap{Name: name}
		for _, f := range b.listOf(inner, name) {
			item := n.table[name].at
			switch {
			case f.Group != g:
				inner.wrong(item, "name bolts of this group", "cap %s: %s is of group %s", spec.Quote(name), f.ID, spec.Quote(f.Group.ID))
			case f.Cap != nil:
				inner.wrong(item, "name it in one cap", "cap %s: %s holds cap %s already", spec.Quote(name), f.ID, spec.Quote(f.Cap.Name))
			default:
				f.Cap = c
				c.Members = append(c.Members, f)
			}
		}
		b.capless[g] = b.capless[g] || len(c.Members) == 0
		g.Caps = append(g.Caps, c)
	}
}
