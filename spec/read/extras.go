package read

import (
	"fmt"
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/spec/measure"
	"evenpull/spec/quantity"
)

func (b *binder) passNamed(t table, key string) *spec.Pass {
	name := t.str(key, "Draw down")
	if name == "" {
		return nil
	}
	if b.partsOnly {
		t.wrong(t.n.table[key].keyAt, "leave it out: without passes all goes in the order of the file", "%s: there is no pass here to come %s", t.name, key)
		return nil
	}
	var names []string
	for _, pass := range b.p.Passes {
		if pass.Name == name {
			return pass
		}
		names = append(names, pass.Name)
	}
	if b.nameless {
		return nil
	}
	if b.elsewhere(t, key) {
		t.wrong(t.at(key), "name one that is to "+string(b.way), "%s: pass %s is to %s", t.name, spec.Quote(name), b.passWays[spaced(name)])
		return nil
	}
	t.wrong(t.at(key), t.hint(name, names, "passes"), "%s: there is no pass %s", t.name, spec.Quote(name))
	return nil
}

// when reads before = or after =, exactly one unless it may be left out.
func (b *binder) when(t table, required bool) (before, after *spec.Pass) {
	if !b.elsewhere(t, "before") {
		before = b.passNamed(t, "before")
	}
	if !b.elsewhere(t, "after") {
		after = b.passNamed(t, "after")
	}
	t.n.asked["before"], t.n.asked["after"] = true, true
	switch {
	case b.elsewhere(t, "before") || b.elsewhere(t, "after"): // one for either way
	case t.has("before") && t.has("after"):
		t.wrong(t.n.table["after"].keyAt, "keep one of the two", "%s has before and after", t.name)
	case b.partsOnly && required && b.p.Direction == spec.Open:
		after = b.p.Passes[0]
	case b.partsOnly && required:
		before = b.p.Passes[0]
	case required && !t.has("before") && !t.has("after"):
		t.wrong(t.n.at, `add before = "…" or after = "…" with the name of a pass`, "%s does not say when", t.name)
	}
	return before, after
}

func (b *binder) checks(top table) {
	for i, n := range top.tables("check", "[[check]]") {
		t := b.tableOf(n, fmt.Sprintf("check %d", i+1))
		if !b.applies(t) {
			continue
		}
		for _, one := range t.repeated() {
			b.check(one)
		}
		t.rest()
	}
}

func (b *binder) check(t table) {
	c := &spec.Check{Order: t.n.order}
	c.Before, c.After = b.when(t, true)
	c.Ask = t.str("ask", "Both dowels in place?")
	c.Measure = t.str("measure", "crank end float")
	c.Remedy = t.str("remedy", "fit the next thicker shim")
	c.Caution = t.str("caution", "turn the crank by hand only")
	c.Source = t.str("source", "sheet 12")
	c.Min, c.Max = t.limit("min"), t.limit("max")
	c.ID = b.unique(t, "id", c.Ask+c.Measure)
	c.Shim = b.shimTable(t)
	b.howMeasured(t, c)
	b.oneKindOfCheck(t, c)
	if !t.recorded && yesIsBad(c.Ask) {
		t.warn(t.at("ask"), `ask for what is good, such as "Free of cracks and wear?"`, "%s: a yes to %s would be bad news, and the key that goes on says yes", t.name, spec.Quote(c.Ask))
	}
	b.abouts = append(b.abouts, about{c, t})
	b.at[c] = t.n.at
	t.n.asked["of"], t.n.asked["no_restarts"] = true, true
	b.p.Checks = append(b.p.Checks, c)
}

func (b *binder) oneKindOfCheck(t table, c *spec.Check) {
	switch {
	case t.has("ask") && t.has("measure"):
		t.wrong(t.n.table["measure"].keyAt, "make two checks", "%s asks and measures", t.name)
	case !t.has("ask") && !t.has("measure"):
		t.wrong(t.n.at, `add ask = "…?" or measure = "…" with min and max`, "%s neither asks nor measures", t.name)
	case t.has("measure") && !t.has("min") && !t.has("max"):
		t.wrong(t.at("measure"), `add min = "0.05 mm" or max = "0.20 mm", or both`, "%s has no limits", t.name)
	case t.has("ask") && (t.has("min") || t.has("max")):
		t.wrong(t.at("ask"), "use measure instead of ask", "%s is a question with limits", t.name)
	}
	for key, text := range map[string]string{"ask": c.Ask, "measure": c.Measure} {
		if v := t.n.table[key]; v != nil && v.kind == stringKind && text == "" && !t.recorded {
			t.wrong(v.at, "write what to ask or to measure", "%s: %s is empty", t.name, key)
		}
	}
	if c.Min == nil || c.Max == nil || t.spoilt("min") || t.spoilt("max") {
		return
	}
	order, err := c.Min.Compare(*c.Max)
	if err != nil {
		t.wrong(t.at("max"), "give both in the same kind of unit", "%s: min %s and max %s are not comparable", t.name, c.Min, c.Max)
	} else if order > 0 {
		t.wrong(t.at("min"), "swap them", "%s: min %s is over max %s", t.name, c.Min, c.Max)
	}
}

func (t table) limit(key string) *quantity.Quantity {
	v := t.get(key, stringKind, `"0.05 mm"`)
	if v == nil {
		return nil
	}
	q, err := figure(t.reader, v.text, quantity.ParseAny)
	if err != nil {
		t.unreadable(v, key, err)
		return nil
	}
	return &q
}

// unique takes the file's id for something, or makes one from its words.
func (b *binder) unique(t table, key, words string) string {
	id := t.str(key, "crank-end-float")
	if id != "" {
		b.goodID(t.at(key), "it", id)
	} else {
		id = spec.Slug(words)
	}
	if b.ids == nil {
		b.ids, b.lastOf = map[string]int{}, map[string]int{}
	}
	first, taken := b.ids[id]
	if taken && t.has(key) {
		line, _ := b.place(first)
		t.wrong(t.at(key), "give each an id of its own", "%s: the id %s is already used on line %d", t.name, spec.Quote(id), line)
		return id
	}
	for base := id; taken; _, taken = b.ids[id] {
		b.lastOf[base] = max(2, b.lastOf[base]+1) // where the last search ended: many may share their words
		id = fmt.Sprintf("%s-%d", base, b.lastOf[base])
	}
	b.ids[id] = t.n.at
	return id
}

func (b *binder) parts(top table) {
	names := map[string]int{}
	for i, n := range top.tables("part", "[[part]]") {
		t := b.tableOf(n, fmt.Sprintf("part %d", i+1))
		if !b.applies(t) {
			continue
		}
		p := &spec.Part{Order: n.order, Name: t.must("name", "thrust washer")}
		b.at[p] = n.at
		if first, ok := names[strings.ToLower(p.Name)]; ok && p.Name != "" {
			line, _ := b.place(first)
			t.wrong(t.at("name"), "raise its count, or say where each one sits", "part %s is already on line %d", spec.Quote(p.Name), line)
		}
		names[strings.ToLower(p.Name)] = n.at
		p.Kind = t.choice("kind", spec.PartKinds)
		if p.Kind == "" {
			p.Kind = "other"
		}
		p.Count = t.count("count", 1000)
		p.OneUse = t.flag("one_use")
		p.Before, p.After = b.when(t, false)
		p.Where = t.str("where", "behind the clutch basket, chamfer inwards")
		p.Number = t.str("number", "380-11-204")
		p.Caution = t.str("caution", "cover it: it springs out")
		p.LookFor = t.texts("look_for", "scoring")
		p.Condemn = t.texts("condemn", "scored deeper than a fingernail feels")
		p.Measure = t.str("measure", "thickness")
		p.Work = t.str("work", "balancing")
		p.ID = b.unique(t, "id", p.Name)
		t.rest()
		b.p.Parts = append(b.p.Parts, p)
	}
}

func (b *binder) callouts(top table) {
	for i, n := range top.tables("callout", "[[callout]]") {
		t := b.tableOf(n, fmt.Sprintf("callout %d", i+1))
		if !b.applies(t) {
			continue
		}
		c := &spec.Callout{Order: n.order, Say: t.must("say", "Flywheel holder, and a breaker bar of 600 mm")}
		if c.Before = b.passNamed(t, "before"); b.partsOnly {
			c.Before = b.p.Passes[0]
		} else if !t.has("before") {
			t.wrong(t.n.at, `add before = "…" with the name of a pass`, "%s does not say when", t.name)
		}
		c.Kind = t.choice("kind", spec.CalloutKinds)
		if c.Kind == "" {
			c.Kind = "tool"
		}
		c.Caution = t.str("caution", "hot parts look like cold ones")
		b.heat(t, c)
		c.ID = b.unique(t, "id", "callout "+c.Say)
		t.rest()
		b.p.Callouts = append(b.p.Callouts, c)
	}
}

// shimTable reads shim = { part = "…", stock = […], ends = 1 } of a measured check.
func (b *binder) shimTable(t table) *spec.Shim {
	n := t.get("shim", tableKind, `{ part = "end float shim", stock = ["0.8 mm"] }`)
	if n == nil {
		return nil
	}
	if !t.has("measure") {
		t.wrong(n.at, "measure something first", "%s: a shim needs a measurement", t.name)
	}
	st := b.tableOf(n, t.name+": shim")
	s := &spec.Shim{Ends: st.count("ends", 2)}
	part := st.must("part", "end float shim")
	if list := st.get("stock", arrayKind, `["0.8 mm"]`); list != nil {
		for _, item := range list.items {
			if item.kind != stringKind {
				st.wrong(item.at, `write "0.8 mm"`, "%s: stock must hold texts, not %s", st.name, item.kind)
				continue
			}
			l, err := figure(t.reader, item.text, quantity.ParseLength)
			if err != nil {
				st.unreadable(item, "stock", err)
				continue
			}
			s.Stock = append(s.Stock, l)
		}
	}
	if len(s.Stock) > measure.MaxStock {
		st.wrong(st.at("stock"), fmt.Sprintf("list at most %d", measure.MaxStock), "%s: %d sizes of shim are too many", st.name, len(s.Stock))
	}
	if len(s.Stock) == 0 && !st.spoilt("stock") {
		st.wrong(st.at("stock"), `give stock = ["0.8 mm", "0.9 mm"]`, "%s: there is no stock of shims to choose from", st.name)
	}
	st.rest()
	b.shimParts = append(b.shimParts, shimPart{s, part, st})
	return s
}

type shimPart struct {
	shim *spec.Shim
	name string
	t    table
}

// about is a check whose of and no_restarts are read once all they may name is known.
type about struct {
	check *spec.Check
	t     table
}

// about joins each check to what it names.
func (b *binder) about() {
	for _, a := range b.abouts {
		for _, n := range a.t.list("no_restarts") {
			a.check.NoRestarts = append(a.check.NoRestarts, b.fastenersCalled(a.t, n)...)
		}
		for _, n := range a.t.list("of") {
			if p := b.p.Part(n.text); p != nil {
				a.check.Of = append(a.check.Of, ident.Part(p.ID))
				continue
			}
			for _, f := range b.fastenersCalled(a.t, n) {
				a.check.Of = append(a.check.Of, ident.Fastener(f.ID, f.Group.Thread.Name))
			}
		}
	}
}

// fastenersCalled are the members of a group, or the one fastener, of that name.
func (b *binder) fastenersCalled(t table, n *node) []*spec.Fastener {
	if g := b.groupByID[n.text]; g != nil {
		return g.Members
	}
	if f := b.fastener(t, n); f != nil {
		return []*spec.Fastener{f}
	}
	return nil
}

// list gives the texts of an array, each with its place.
func (t table) list(key string) []*node {
	v := t.get(key, arrayKind, `["M1"]`)
	if v == nil {
		return nil
	}
	var texts []*node
	for _, item := range v.items {
		if item.kind != stringKind {
			t.wrong(item.at, `write it in quotes, such as "M1"`, "%s: %s must hold texts, not %s", t.name, key, item.kind)
			continue
		}
		texts = append(texts, item)
	}
	return texts
}

// shims joins each shim to its part, once the parts are known.
func (b *binder) shims() {
	for _, sp := range b.shimParts {
		if sp.shim.Part = b.p.Part(sp.name); sp.shim.Part != nil || sp.name == "" {
			continue
		}
		var names []string
		for _, p := range b.p.Parts {
			names = append(names, p.Name)
		}
		sp.t.wrong(sp.t.at("part"), sp.t.hint(sp.name, names, "parts"), "%s: there is no part %s", sp.t.name, spec.Quote(sp.name))
	}
}
