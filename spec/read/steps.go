package read

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// steps reads the one thing a pass does, or the several of each = […].
func (b *binder) steps(t table, pass *spec.Pass) {
	list := t.tables("each", `[{ loosen = "90°" }, { torque = "20 N·m" }]`)
	for i, n := range list {
		st := b.tableOf(n, fmt.Sprintf("%s, step %d", t.name, i+1))
		step := b.step(st, pass, false)
		st.rest()
		pass.Steps = append(pass.Steps, step)
	}
	if t.has("each") {
		for _, a := range spec.Actions {
			if t.has(string(a)) {
				t.wrong(t.n.table[string(a)].keyAt, "put it inside each, or make two passes", "%s has both each and %s", t.name, a)
				t.n.asked[string(a)] = true
			}
		}
		if len(list) == 0 {
			t.wrong(t.at("each"), `write each = [{ loosen = "90°" }, { torque = "20 N·m" }]`, "%s: each is empty", t.name)
			pass.Steps = []spec.Step{{Action: spec.Torque}}
		}
		return
	}
	pass.Steps = []spec.Step{b.step(t, pass, true)}
}

// step reads exactly one action.
func (b *binder) step(t table, pass *spec.Pass, canWait bool) spec.Step {
	var found []string
	for _, a := range spec.Actions {
		if t.has(string(a)) {
			found = append(found, string(a))
		}
	}
	if t.has("ceiling") && !t.has(string(spec.Stretch)) {
		t.n.asked["ceiling"] = true
		t.wrong(t.n.table["ceiling"].keyAt, `add stretch = "0.12 mm to 0.15 mm", or leave it out`, "%s: a ceiling belongs to a stretch", t.name)
		if len(found) == 0 {
			return spec.Step{Action: spec.Torque}
		}
	}
	if len(found) != 1 {
		for _, f := range found {
			t.n.asked[f] = true
		}
		at, what := t.n.at, "says nothing to do"
		for _, a := range spec.Actions {
			t.n.asked[string(a)] = t.n.asked[string(a)] // known, for the nearest name of a misspelt one
		}
		if len(found) > 1 {
			at, what = t.n.table[found[1]].keyAt, "does several things: "+strings.Join(found, ", ")
		}
		allowed := "torque, turn, loosen, remove, verify, stretch"
		if canWait { // a pass, not a step of one
			allowed += `, wait; or several on one fastener before the next: each = [{ torque = "20 N·m" }, { turn = "90°" }]`
		}
		if len(found) > 1 || !t.strangeKey() {
			t.wrong(at, "give exactly one of "+allowed, "%s %s", t.name, what)
		}
		return spec.Step{Action: spec.Torque}
	}
	action := spec.Action(found[0])
	step := spec.Step{Action: action, Targets: map[*spec.Group]*spec.Target{}}
	b.at[stepAt{pass, len(pass.Steps)}] = t.at(string(action))
	if action == spec.Stretch && t.has("ceiling") {
		b.at[ceilingAt{pass}] = t.at("ceiling")
	}
	switch action {
	case spec.Wait:
		if !canWait {
			t.wrong(t.at("wait"), "make it a pass of its own", "%s cannot wait", t.name)
		}
		pass.Wait = t.duration("wait", "4h")
		return step
	case spec.Remove:
		if v := t.get("remove", boolKind, "true"); v != nil && !v.truth {
			t.wrong(v.at, "write remove = true, or leave it out", "%s: remove is false", t.name)
		}
	}
	b.targets(t, pass, &step)
	return step
}

// strangeKey reports whether a key is none that is known: it may be the action, misspelt.
func (t table) strangeKey() bool {
	return slices.ContainsFunc(t.n.keys, func(key string) bool { _, known := t.n.asked[key]; return !known })
}

// targets gives every group in the pass its figure.
func (b *binder) targets(t table, pass *spec.Pass, step *spec.Step) {
	key := string(step.Action)
	t.n.asked[key] = true
	v := t.n.table[key]
	var ceiling *quantity.Torque
	if step.Action == spec.Stretch && t.has("ceiling") {
		ceiling = t.ceiling()
	}
	perGroup, allKnown := map[*spec.Group]*node{}, true
	if v.kind == tableKind && step.Action != spec.Remove {
		for _, id := range v.keys {
			if g := b.groupNamed(t, v.table[id].keyAt, id); g != nil {
				perGroup[g] = v.table[id]
			} else {
				allKnown = false
			}
		}
	}
	for _, g := range pass.Groups() {
		figure := v
		if v.kind == tableKind {
			if figure = perGroup[g]; figure == nil {
				if allKnown {
					t.wrong(v.at, "give every group of the pass a figure", "%s: %s has no figure for group %s", t.name, key, spec.Quote(g.ID))
				}
				continue
			}
			delete(perGroup, g)
		}
		b.at[figureAt{pass, len(pass.Steps), g}] = figure.at
		target, ok := b.target(t, step.Action, figure, g)
		target.Ceiling = ceiling
		step.Targets[g] = &target
		if !ok && v.kind != tableKind {
			break // one report is enough for a figure shared by all
		}
	}
	for g, n := range perGroup {
		if t.unsureOfMembers() && t.has("name") {
			break
		}
		t.wrong(n.keyAt, "take it out, or add the group to the pass", "%s: group %s is not in this pass", t.name, spec.Quote(g.ID))
	}
}

func (t table) ceiling() *quantity.Torque {
	v := t.get("ceiling", stringKind, `"45 N·m"`)
	if v == nil {
		return nil
	}
	c, err := figure(t.reader, v.text, quantity.ParseTorque)
	if err != nil {
		t.unreadable(v, "ceiling", err)
		return nil
	}
	t.plausible(v, "ceiling", c.Nm())
	return &c
}

var examples = map[spec.Action]string{spec.Torque: "22 N·m", spec.Turn: "90°", spec.Loosen: "fully", spec.Verify: "at least 122 N·m", spec.Stretch: "0.12 mm to 0.15 mm"}

// target reads one figure for one group.
func (b *binder) target(t table, action spec.Action, v *node, g *spec.Group) (spec.Target, bool) {
	if action == spec.Remove {
		return spec.Target{}, true
	}
	if v.kind != stringKind {
		t.wrong(v.at, "write "+string(action)+` = "`+examples[action]+`"`, "%s: %s must be text with a unit, not %s", t.name, action, v.kind)
		return spec.Target{}, false
	}
	switch action {
	case spec.Torque, spec.Verify:
		if share, ok := percentOf(v.text); ok {
			return b.share(t, v, g, share)
		}
		span, ok := t.torqueSpan(v, string(action))
		if ok {
			t.spanPlausible(v, string(action), span)
		}
		return spec.Target{Torque: span}, ok
	case spec.Turn, spec.Loosen:
		if action == spec.Loosen && strings.EqualFold(strings.TrimSpace(v.text), "fully") {
			return spec.Target{Fully: true}, true
		}
		span, err := figure(t.reader, v.text, quantity.ParseAngleSpan)
		if err != nil {
			t.unreadable(v, string(action), err)
			return spec.Target{}, false
		}
		return spec.Target{Turn: span}, t.anglePlausible(v, action, span)
	default:
		span, err := figure(t.reader, v.text, quantity.ParseLengthSpan)
		if err != nil {
			t.unreadable(v, string(action), err)
			return spec.Target{}, false
		}
		return spec.Target{Stretch: span}, true
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

func (b *binder) share(t table, v *node, g *spec.Group, share *big.Rat) (spec.Target, bool) {
	if share.Sign() <= 0 || share.Cmp(big.NewRat(3, 2)) > 0 {
		t.wrong(v.at, "give a share over 0 % and up to 150 %", "%s: %s of the final figure", t.name, spec.Quote(v.text))
		return spec.Target{}, false
	}
	if b.unsaid[g].torque {
		return spec.Target{}, false
	}
	if g.Torque == nil {
		t.wrong(v.at, "give group "+spec.Printable(g.ID)+" a torque, or write the figure here", "%s: %s of nothing: group %s has no final torque", t.name, spec.Quote(v.text), spec.Quote(g.ID))
		return spec.Target{}, false
	}
	return spec.Target{Torque: g.Torque.Scale(share), Percent: spec.Printable(strings.TrimSpace(v.text))}, true
}
