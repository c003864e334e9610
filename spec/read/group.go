package read

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"evenpull/spec"
	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
	"evenpull/spec/near"
	"evenpull/spec/quantity"
)

// What [group.NAME] says: its bolts, how they are pulled, and where each one sits.

func (b *binder) groups(top table) {
	all := top.get("group", tableKind, "[group.main]")
	if all == nil {
		if !top.has("group") && !top.misspelt("group") {
			b.wrong(0, "add a [group.NAME] table with the fasteners' places", "there are no fasteners")
		}
		return
	}
	ids := map[string]*spec.Fastener{}
	var capped []table
	for _, id := range all.keys {
		n := all.table[id]
		if n.kind != tableKind {
			b.wrong(n.keyAt, "write [group."+spec.Printable(id)+"]", "group %s must be a table, not %s", spec.Quote(id), n.kind)
			b.unread[id] = true
			continue
		}
		t := b.tableOf(n, "group "+spec.Printable(id))
		g := &spec.Group{ID: id}
		if !b.goodID(n.keyAt, "group", id) {
			b.unread[id] = true
		}
		if len(n.keys) == 1 && t.has("at") { // most likely the heading above it is misspelt
			t.wrong(n.at, "add [group."+spec.Printable(id)+"] with its thread and torque, or mend its name", "there are places for %s, but no [group.%s]", t.name, spec.Printable(id))
			b.unsaid[g] = unsaid{true, true}
		} else {
			b.group(t, g)
		}
		b.p.Groups = append(b.p.Groups, g)
		b.groupByID[id] = g
		b.at[g] = n.at
		b.places(t, g, ids)
		t.n.asked["caps"] = true
		if t.has("caps") {
			capped = append(capped, t)
		}
		t.rest()
	}
	for _, t := range capped { // once all bolts are known that they may name
		b.caps(t, b.groupByID[t.n.name])
	}
}

func (b *binder) group(t table, g *spec.Group) {
	g.Title = t.str("title", "main case bolts")
	if g.Title == "" {
		g.Title = g.ID
	}
	b.thread(t, g)
	b.nut(t, g)
	g.LeftHand = t.choice("hand", []string{"right", "left"}) == "left"
	g.Friction = t.friction()
	g.Into = t.material("into")
	g.WireInsert = t.choice("insert", []string{"wire"}) != ""
	g.Engagement = t.length("engagement", "16 mm")
	g.Grip = t.length("grip", "52 mm")
	g.Drive = t.str("drive", "12 mm hex")
	g.Bore = t.length("bore", "0 mm")
	b.shape(t, g)
	if v := t.get("torque", stringKind, `"22 N·m"`); v != nil {
		if span, ok := t.torqueSpan(v, "torque"); ok && t.spanPlausible(v, "torque", span) {
			g.Torque = &span
			b.at[figureAt{group: g}] = v.at
		}
	}
	g.OneUse = t.flag("one_use")
	g.With = b.pieces(t)
	g.Prep = t.str("prep", "oil threads and under the head")
	g.PrepEach = t.flag("prep_each")
	g.Caution = t.str("caution", "left-hand thread")
	g.Number = t.str("number", "380-11-204")
	g.Source = t.str("source", "sheet 12, table 1")
	g.LookFor = t.texts("look_for", "stretched thread")
	g.Condemn = t.texts("condemn", "any rust pit")
	if g.Light = t.str("light", "crushes its washer"); g.Light == "" {
		g.Light = lightByName(g)
	}
	for _, key := range []string{"engagement", "grip", "bore", "nut"} {
		if t.has(key) {
			b.at[keyAt{g, key}] = t.at(key)
		}
	}
	b.strength(t, g)
	b.unsaid[g] = unsaid{
		strength: g.Thread.DiameterMM == 0 || t.spoilt("class") || t.spoilt("bore"),
		torque:   t.spoilt("torque"),
	}
	for _, l := range []struct {
		key string
		of  quantity.Length
	}{{"engagement", g.Engagement}, {"grip", g.Grip}} {
		if v := t.n.table[l.key]; v != nil && !t.spoilt(l.key) && !t.recorded && l.of.IsZero() {
			t.warn(v.at, "measure it, or leave it out", "%s: %s is nothing", t.name, l.key)
		}
	}
}

// material reads a name that the estimates know.
func (t table) material(key string) string {
	name := t.str(key, "cast aluminium")
	if name == "" || t.recorded || t.full() {
		return name
	}
	if _, err := bolt.ParseMaterial(name); err == nil {
		return name
	}
	remedy := "known are " + strings.Join(bolt.MaterialNames(), ", ")
	if n := near.Best(name, bolt.MaterialNames()); n != "" {
		remedy = "did you mean " + spec.Quote(n) + "? Known are " + strings.Join(bolt.MaterialNames(), ", ")
	}
	t.wrong(t.at(key), remedy, "%s: no material %s is known", t.name, spec.Quote(name))
	return name
}

func (b *binder) thread(t table, g *spec.Group) {
	if text := t.must("thread", "M8x1.25"); text != "" {
		thread, err := bolt.ParseThread(text)
		if err != nil {
			t.wrong(t.at("thread"), `write it as "M8x1.25" or "3/8-16 UNC"`, "%s: thread %s: %s", t.name, spec.Quote(text), spec.Printable(err.Error()))
		}
		g.Thread = thread
	}
	if text := t.str("class", "8.8"); text != "" {
		class, err := bolt.ParseClass(text)
		if err != nil {
			t.wrong(t.at("class"), `write it as "8.8", "A2-70" or "SAE 5"`, "%s: class %s: %s", t.name, spec.Quote(text), spec.Printable(err.Error()))
			return
		}
		g.Class, g.HasClass = class, true
	}
}

// nut reads the class of a nut; the bolt's own class stays what the order goes by.
func (b *binder) nut(t table, g *spec.Group) {
	text := t.str("nut", "8")
	if text == "" {
		return
	}
	n, err := bolt.ParseNut(text)
	if err != nil {
		t.wrong(t.at("nut"), "classes of nuts are "+strings.Join(bolt.NutNames(), ", ")+" (ISO 898-2)", "%s: nut %s: %s", t.name, spec.Quote(text), spec.Printable(err.Error()))
		return
	}
	g.Nut = n
}

// strength is rule 1 of the order: proof stress × (stress area − bore area).
func (b *binder) strength(t table, g *spec.Group) {
	if g.Thread.DiameterMM == 0 {
		return // already reported
	}
	if root := g.Thread.RootDiameterMM(); g.Bore.Mm() >= root {
		t.wrong(t.at("bore"), fmt.Sprintf("give a bore under %.2f mm", root), "%s: the bore %s leaves nothing of %s", t.name, g.Bore, g.Thread.Name)
		return
	}
	if !g.HasClass {
		return
	}
	newtons, err := bolt.ProofLoad(g.Thread, g.Class, g.Bore.Mm())
	if err != nil {
		t.wrong(t.at("class"), "give a class that covers this size", "%s: %s", t.name, spec.Printable(err.Error()))
		return
	}
	g.ProofLoadN = newtons
}

func (t table) friction() spec.Friction {
	t.n.asked["friction"] = true
	v := t.n.table["friction"]
	if v == nil {
		return spec.Friction{}
	}
	if v.kind == stringKind {
		return spec.Friction{Word: t.choice("friction", clamp.FrictionNames())}
	}
	mu, ok := t.numberOf(v, "friction")
	if ok && (mu < clamp.LeastFriction || mu > clamp.MostFriction) {
		t.wrong(v.at, fmt.Sprintf("give a coefficient from %v to %v, or %s", clamp.LeastFriction, clamp.MostFriction, strings.Join(clamp.FrictionNames(), ", ")), "%s: friction is %s", t.name, v.text)
		return spec.Friction{}
	}
	return spec.Friction{Coefficient: mu}
}

func (b *binder) pieces(t table) []spec.Piece {
	const example = `[{ part = "plain washer", count = 1, one_use = false }]`
	var list []spec.Piece
	seen := map[string]bool{}
	for i, n := range t.tables("with", example) {
		pt := b.tableOf(n, fmt.Sprintf("%s: with, entry %d", t.name, i+1))
		piece := spec.Piece{Part: pt.must("part", "plain washer"), Count: pt.count("count", 20), OneUse: pt.flag("one_use"), Number: pt.str("number", "380-11-204")}
		if key := strings.ToLower(piece.Part); seen[key] {
			pt.wrong(n.at, "raise its count instead", "%s: %s is already in the list", pt.name, spec.Quote(piece.Part))
		} else {
			seen[key] = true
			list = append(list, piece)
		}
		pt.rest()
	}
	return list
}

// places reads [group.ID.at], the coordinates that name the fasteners.
func (b *binder) places(t table, g *spec.Group, ids map[string]*spec.Fastener) {
	n := t.get("at", tableKind, "{ M1 = [0, 0] }")
	if n == nil || len(n.keys) == 0 {
		if !b.unread[g.ID] && (n != nil || !t.has("at")) {
			t.wrong(t.at("at"), "add [group."+spec.Printable(g.ID)+".at] with lines such as M1 = [0, 0]", "%s has no fasteners", t.name)
		}
		return
	}
	for _, id := range n.keys {
		v := n.table[id]
		b.goodID(v.keyAt, "fastener", id)
		f := &spec.Fastener{ID: id, Group: g, Index: len(b.p.Fasteners)}
		if first, ok := ids[strings.ToLower(id)]; ok {
			line, _ := b.place(b.at[first])
			b.wrong(v.keyAt, "give each fastener an id of its own", "fastener %s is already on line %d, in group %s", spec.Quote(id), line, spec.Quote(first.Group.ID))
			continue
		}
		f.X, f.Y = t.place2(v, id)
		ids[strings.ToLower(id)] = f
		b.at[f] = v.keyAt
		if len(b.p.Fasteners) == MaxFasteners {
			b.wrong(v.keyAt, "split the procedure", "more than %d fasteners", MaxFasteners)
			return
		}
		g.Members = append(g.Members, f)
		b.p.Fasteners = append(b.p.Fasteners, f)
	}
}

func (t table) place2(v *node, id string) (x, y float64) {
	if v.kind != arrayKind || len(v.items) != 2 {
		t.wrong(v.at, id+" = [0, 0], x to the right and y up, in mm", "%s: the place of %s must be two numbers", t.name, spec.Quote(id))
		return 0, 0
	}
	for i, into := range []*float64{&x, &y} {
		n, ok := t.numberOf(v.items[i], "the place of "+spec.Quote(id))
		if ok && (n < -10_000 || n > 10_000) {
			t.wrong(v.items[i].at, "give millimetres within 10 m of the origin", "%s: %s lies at %s", t.name, spec.Quote(id), v.items[i].text)
		}
		*into = n
	}
	return x, y
}

// goodID refuses ids that a person cannot type or a screen cannot show.
func (b *binder) goodID(at int, what, id string) bool {
	bad := id == "" || utf8.RuneCountInString(id) > 24
	for _, r := range id {
		bad = bad || !spec.Harmless(r) || strings.ContainsRune(" \t/\\,\"'=#", r)
	}
	if bad {
		b.wrong(at, "use up to 24 letters, digits, '-', '_' or '.'", "%s cannot be called %s", what, spec.Quote(id))
	}
	return !bad
}
