package spec

import (
	"fmt"
	"math/big"
	"strings"
	"time"

	"evenpull/spec/near"
	"evenpull/spec/quantity"
)

func (t table) duration(key, example string) time.Duration {
	v := t.get(key, stringKind, `"`+example+`"`)
	if v == nil {
		return 0
	}
	d, err := quantity.ParseDuration(v.text)
	if err != nil {
		t.unreadable(v, key, err)
		return 0
	}
	const longest = 366 * 24 * time.Hour
	if std := d.Std(); std > 0 && std <= longest {
		return std
	}
	t.wrong(v.at, "give a time such as 20m, 4h or 2 days", "%s: %s is %s", t.name, key, quote(v.text))
	return 0
}

func (b *binder) passes(top table) {
	list := top.tables("pass", "[[pass]]")
	if len(list) == 0 {
		if !top.has("pass") {
			b.wrong(0, "add a [[pass]] table", "there are no passes")
		}
		return
	}
	names := map[string]*Pass{}
	for i, n := range list {
		if i == MaxPasses {
			b.wrong(n.at, "split the procedure", "more than %d passes", MaxPasses)
			return
		}
		t := b.tableOf(n, fmt.Sprintf("pass %d", i+1))
		pass := &Pass{Index: i, Name: t.must("name", "Draw down")}
		if pass.Name != "" {
			t.name = fmt.Sprintf("pass %s", quote(pass.Name))
			if first, ok := names[strings.ToLower(pass.Name)]; ok {
				line, _ := b.place(b.at[first])
				t.wrong(t.at("name"), "give each pass a name of its own", "pass %s is already on line %d", quote(pass.Name), line)
			}
			names[strings.ToLower(pass.Name)] = pass
		}
		b.at[pass] = n.at
		b.pass(t, pass)
		t.rest()
		b.p.Passes = append(b.p.Passes, pass)
	}
}

func (b *binder) pass(t table, pass *Pass) {
	pass.Because = t.str("because", "film spreads before it skins")
	pass.Source = t.str("source", "sheet 12, table 1")
	pass.Caution = t.str("caution", "pull smoothly")
	pass.Prepare = t.str("prepare", "oil threads and under the head")
	pass.First = t.choice("first", []string{"weak", "strong"})
	b.members(t, pass)
	b.order(t, pass)
	b.steps(t, pass)
	if pass.IsWait() {
		for _, key := range []string{"groups", "fasteners", "order", "first"} {
			if t.has(key) {
				t.wrong(t.n.table[key].keyAt, "leave it out, or make two passes", "%s waits, so it has no %s", t.name, key)
			}
		}
		return
	}
	if len(pass.Fasteners) == 0 && !t.has("groups") && !t.has("fasteners") {
		t.wrong(t.n.at, `add groups = ["main"] or fasteners = ["M1"]`, "%s does not say which fasteners", t.name)
	}
	b.mixedStrength(t, pass)
}

// members reads groups = […] or fasteners = […].
func (b *binder) members(t table, pass *Pass) {
	picked := map[*Fastener]bool{}
	groups := t.get("groups", arrayKind, `["main"]`)
	fasteners := t.get("fasteners", arrayKind, `["M1"]`)
	if groups != nil && fasteners != nil {
		t.wrong(fasteners.keyAt, "keep one of the two", "%s names groups and fasteners", t.name)
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

func (b *binder) member(t table, item *node, group bool, picked map[*Fastener]bool) {
	if item.kind != stringKind {
		t.wrong(item.at, `write it in quotes, such as "M1"`, "%s: the list must hold texts, not %s", t.name, item.kind)
		return
	}
	if !group {
		if f := b.fastener(t, item); f != nil {
			if picked[f] {
				t.wrong(item.at, "name it once", "%s: fastener %s stands in the list twice", t.name, quote(f.ID))
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
		t.wrong(item.at, "name it once", "%s: group %s stands in the list twice", t.name, quote(g.ID))
	}
	for _, f := range g.Members {
		picked[f] = true
	}
}

func (b *binder) groupNamed(t table, at int, id string) *Group {
	if g := b.p.Group(id); g != nil {
		return g
	}
	var ids []string
	for _, g := range b.p.Groups {
		ids = append(ids, g.ID)
	}
	t.wrong(at, hint(id, ids, "groups"), "%s: there is no group %s", t.name, quote(id))
	return nil
}

func (b *binder) fastener(t table, item *node) *Fastener {
	if b.byID == nil {
		b.byID = map[string]*Fastener{}
		for _, f := range b.p.Fasteners {
			b.byID[f.ID] = f
		}
	}
	if f := b.byID[item.text]; f != nil {
		return f
	}
	var ids []string
	for _, f := range b.p.Fasteners {
		if ids = append(ids, f.ID); len(ids) == 200 {
			break // enough to guess from
		}
	}
	t.wrong(item.at, hint(item.text, ids, "fasteners"), "%s: there is no fastener %s", t.name, quote(item.text))
	return nil
}

// hint names the nearest name, or the ones there are.
func hint(word string, names []string, what string) string {
	if n := near.Best(word, names); n != "" {
		return "did you mean " + quote(n) + "?"
	}
	if len(names) == 0 {
		return "define it first"
	}
	list := names
	if len(list) > 8 {
		list = append(append([]string{}, list[:8]...), "…")
	}
	return what + " in this file: " + Printable(strings.Join(list, ", "))
}

// order reads a named order or the sheet's own list of ids.
func (b *binder) order(t table, pass *Pass) {
	t.n.asked["order"] = true
	v := t.n.table["order"]
	switch {
	case v == nil:
		pass.Order.Kind = "listed"
	case v.kind == arrayKind:
		b.orderList(t, v, pass)
	default:
		pass.Order.Kind = t.choice("order", Orders)
	}
}

func (b *binder) orderList(t table, v *node, pass *Pass) {
	seen := map[*Fastener]bool{}
	inPass := map[*Fastener]bool{}
	for _, f := range pass.Fasteners {
		inPass[f] = true
	}
	clean := true
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
			t.wrong(item.at, "name it once", "%s: order names %s twice", t.name, quote(f.ID))
			clean = false
		case !inPass[f]:
			t.wrong(item.at, "take it out, or add it to the pass", "%s: order names %s, which is not in this pass", t.name, quote(f.ID))
			clean = false
		default:
			seen[f] = true
			pass.Order.List = append(pass.Order.List, f)
		}
	}
	for _, f := range pass.Fasteners {
		if clean && !seen[f] {
			t.wrong(v.at, "name every fastener of the pass once", "%s: order leaves out %s", t.name, quote(f.ID))
			return
		}
	}
}

// mixedStrength holds the rule that a pass over unlike fasteners must say which go first.
func (b *binder) mixedStrength(t table, pass *Pass) {
	if pass.Order.List != nil || t.has("order") && pass.Order.Kind == "" {
		return
	}
	var one *Fastener
	for _, f := range pass.Fasteners {
		if f.Group.Hollow() {
			continue
		}
		if one == nil {
			one = f
			continue
		}
		if SameStrength(one.Group, f.Group) {
			continue
		}
		if (one.Group.StrengthN == 0) != (f.Group.StrengthN == 0) || one.Group.StrengthN == 0 {
			t.wrong(t.n.at, "give every group of the pass a class, or order a list of ids", "%s mixes groups %s and %s, and one has no class to tell which is weaker", t.name, quote(one.Group.ID), quote(f.Group.ID))
			return
		}
		if pass.First == "" && !t.has("first") {
			t.wrong(t.n.at, `add first = "weak" or first = "strong", as the sheet says`, "%s mixes strengths: %s (%.1f kN) and %s (%.1f kN)", t.name, quote(one.Group.ID), one.Group.StrengthN/1000, quote(f.Group.ID), f.Group.StrengthN/1000)
		}
		return
	}
}

// SameStrength reports whether two groups belong in one block: strengths equal
// to within a newton, or, where no class is given, the same thread and bore.
func SameStrength(a, b *Group) bool {
	if a == b {
		return true
	}
	if a.StrengthN == 0 || b.StrengthN == 0 {
		return a.StrengthN == b.StrengthN && a.Thread.DiameterMM == b.Thread.DiameterMM && a.Thread.PitchMM == b.Thread.PitchMM && a.Bore.Cmp(b.Bore) == 0
	}
	d := a.StrengthN - b.StrengthN
	return d < 1 && d > -1
}

// steps reads the one thing a pass does, or the several of each = […].
func (b *binder) steps(t table, pass *Pass) {
	list := t.tables("each", `[{ loosen = "90°" }, { torque = "20 N·m" }]`)
	for i, n := range list {
		st := b.tableOf(n, fmt.Sprintf("%s, step %d", t.name, i+1))
		step := b.step(st, pass, false)
		st.rest()
		pass.Steps = append(pass.Steps, step)
	}
	if t.has("each") {
		for _, a := range Actions {
			if t.has(string(a)) {
				t.wrong(t.n.table[string(a)].keyAt, "put it inside each, or make two passes", "%s has both each and %s", t.name, a)
				t.n.asked[string(a)] = true
			}
		}
		if len(list) == 0 {
			t.wrong(t.at("each"), `write each = [{ loosen = "90°" }, { torque = "20 N·m" }]`, "%s: each is empty", t.name)
			pass.Steps = []Step{{Action: Torque}}
		}
		return
	}
	pass.Steps = []Step{b.step(t, pass, true)}
}

// step reads exactly one action.
func (b *binder) step(t table, pass *Pass, canWait bool) Step {
	var found []string
	for _, a := range Actions {
		if t.has(string(a)) {
			found = append(found, string(a))
		}
	}
	if len(found) != 1 {
		for _, f := range found {
			t.n.asked[f] = true
		}
		at, what := t.n.at, "says nothing to do"
		for _, a := range Actions {
			t.n.asked[string(a)] = t.n.asked[string(a)] // known, for the nearest name of a misspelt one
		}
		if len(found) > 1 {
			at, what = t.n.table[found[1]].keyAt, "does several things: "+strings.Join(found, ", ")
		}
		t.wrong(at, "give exactly one of torque, turn, loosen, remove, verify, stretch, wait", "%s %s", t.name, what)
		return Step{Action: Torque}
	}
	action := Action(found[0])
	step := Step{Action: action, Targets: map[*Group]Target{}}
	switch action {
	case Wait:
		if !canWait {
			t.wrong(t.at("wait"), "make it a pass of its own", "%s cannot wait", t.name)
		}
		pass.Wait = t.duration("wait", "4h")
		return step
	case Turn:
		b.at[stepAt{pass, len(pass.Steps)}] = t.at("turn")
	case Remove:
		if v := t.get("remove", boolKind, "true"); v != nil && !v.truth {
			t.wrong(v.at, "write remove = true, or leave it out", "%s: remove is false", t.name)
		}
	}
	b.targets(t, pass, &step)
	return step
}

// targets gives every group in the pass its figure.
func (b *binder) targets(t table, pass *Pass, step *Step) {
	key := string(step.Action)
	t.n.asked[key] = true
	v := t.n.table[key]
	var ceiling *quantity.Torque
	if step.Action == Stretch && t.has("ceiling") {
		ceiling = t.ceiling()
	}
	perGroup := map[*Group]*node{}
	if v.kind == tableKind && step.Action != Remove {
		for _, id := range v.keys {
			if g := b.groupNamed(t, v.table[id].keyAt, id); g != nil {
				perGroup[g] = v.table[id]
			}
		}
	}
	for _, g := range groupsOf(pass.Fasteners) {
		figure := v
		if v.kind == tableKind {
			if figure = perGroup[g]; figure == nil {
				t.wrong(v.at, "give every group of the pass a figure", "%s: %s has no figure for group %s", t.name, key, quote(g.ID))
				continue
			}
			delete(perGroup, g)
		}
		b.at[figureAt{pass, g}] = figure.at
		target, ok := b.target(t, step.Action, figure, g)
		target.Ceiling = ceiling
		step.Targets[g] = target
		if !ok && v.kind != tableKind {
			break // one report is enough for a figure shared by all
		}
	}
	for g, n := range perGroup {
		t.wrong(n.keyAt, "take it out, or add the group to the pass", "%s: group %s is not in this pass", t.name, quote(g.ID))
	}
}

func (t table) ceiling() *quantity.Torque {
	v := t.get("ceiling", stringKind, `"45 N·m"`)
	if v == nil {
		return nil
	}
	c, err := quantity.ParseTorque(v.text)
	if err != nil {
		t.unreadable(v, "ceiling", err)
		return nil
	}
	t.plausible(v, "ceiling", c.Nm())
	return &c
}

func groupsOf(fasteners []*Fastener) []*Group {
	var list []*Group
	seen := map[*Group]bool{}
	for _, f := range fasteners {
		if !seen[f.Group] {
			seen[f.Group] = true
			list = append(list, f.Group)
		}
	}
	return list
}

var examples = map[Action]string{Torque: "22 N·m", Turn: "90°", Loosen: "fully", Verify: "at least 122 N·m", Stretch: "0.12 mm to 0.15 mm"}

// target reads one figure for one group.
func (b *binder) target(t table, action Action, v *node, g *Group) (Target, bool) {
	if action == Remove {
		return Target{}, true
	}
	if v.kind != stringKind {
		t.wrong(v.at, "write "+string(action)+` = "`+examples[action]+`"`, "%s: %s must be text with a unit, not %s", t.name, action, v.kind)
		return Target{}, false
	}
	switch action {
	case Torque, Verify:
		if share, ok := percentOf(v.text); ok {
			return b.share(t, v, g, share)
		}
		span, ok := t.torqueSpan(v, string(action))
		if ok {
			t.spanPlausible(v, string(action), span)
		}
		return Target{Torque: span}, ok
	case Turn, Loosen:
		if action == Loosen && strings.EqualFold(strings.TrimSpace(v.text), "fully") {
			return Target{Fully: true}, true
		}
		span, err := quantity.ParseAngleSpan(v.text)
		if err != nil {
			t.unreadable(v, string(action), err)
			return Target{}, false
		}
		return Target{Turn: span}, t.anglePlausible(v, action, span)
	default:
		span, err := quantity.ParseLengthSpan(v.text)
		if err != nil {
			t.unreadable(v, string(action), err)
			return Target{}, false
		}
		return Target{Stretch: span}, true
	}
}

// percentOf reads "40 %", exactly.
func percentOf(s string) (*big.Rat, bool) {
	body, ok := strings.CutSuffix(strings.TrimSpace(s), "%")
	if !ok || strings.ContainsAny(body, "±eE/") || len(body) > 12 {
		return nil, false
	}
	body = strings.ReplaceAll(strings.TrimSpace(body), ",", ".")
	r, ok := new(big.Rat).SetString(body)
	if !ok {
		return nil, false
	}
	return r.Quo(r, big.NewRat(100, 1)), true
}

func (b *binder) share(t table, v *node, g *Group, share *big.Rat) (Target, bool) {
	if share.Sign() <= 0 || share.Cmp(big.NewRat(3, 2)) > 0 {
		t.wrong(v.at, "give a share over 0 % and up to 150 %", "%s: %s of the final figure", t.name, quote(v.text))
		return Target{}, false
	}
	if g.Torque == nil {
		t.wrong(v.at, "give group "+Printable(g.ID)+" a torque, or write the figure here", "%s: %s of nothing: group %s has no final torque", t.name, quote(v.text), quote(g.ID))
		return Target{}, false
	}
	return Target{Torque: g.Torque.Scale(share), Percent: Printable(strings.TrimSpace(v.text))}, true
}
