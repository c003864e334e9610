package spec

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"evenpull/spec/bolt"
	"evenpull/spec/near"
	"evenpull/spec/quantity"
)

// Read reads a procedure of format 1. file is only a name for messages. The
// procedure is nil when any problem is more than a warning.
func Read(file string, text []byte) (*Procedure, Problems) {
	return newReader(file, text).readAll()
}

// ReadRecorded reads the procedure that a record holds. What this version asks back and
// the one that walked it took, a slash between two torques or a material nobody knows, is
// read as it was then.
func ReadRecorded(file string, text []byte) (*Procedure, Problems) {
	r := newReader(file, text)
	r.recorded = true
	return r.readAll()
}

// ReadDraft reads a sheet that is still being written. The procedure is there as soon as
// its passes can be put in order, whatever is said against how they end.
func ReadDraft(file string, text []byte) (*Procedure, Problems) {
	r := newReader(file, text)
	p := r.read()
	if !r.sound {
		p = nil
	}
	return p, r.listed()
}

func (r *reader) readAll() (*Procedure, Problems) {
	p := r.read()
	problems := r.listed()
	if len(problems.Errors()) > 0 {
		return nil, problems
	}
	return p, problems
}

// listed gives the problems found, in file order, and counts those left out.
func (r *reader) listed() Problems {
	if r.dropped > 0 {
		r.problems = append(r.problems, Problem{r.file, 1, 1, fmt.Sprintf("%d more problems are not listed", r.dropped), "mend these first", false})
		r.dropped = 0
	}
	return slices.Compact(r.problems.sorted()) // a check of several names has its problems with each
}

// document reads the text as TOML of format 1, whatever it is about.
func (r *reader) document() (top table, ok bool) {
	if !r.readable() {
		return table{}, false
	}
	root, faults := r.decode()
	for _, f := range faults {
		r.add(f.at, false, f.what, f.remedy)
	}
	if len(faults) > 0 {
		return table{}, false // what follows a syntax error would only be guesses
	}
	top = r.tableOf(root, "the file")
	r.format(top)
	return top, true
}

func (r *reader) read() *Procedure {
	top, ok := r.document()
	if !ok {
		return nil
	}
	var binders []*binder
	ways := r.ways(top)
	for _, way := range ways {
		b := &binder{reader: r, way: way, p: &Procedure{File: r.file, Text: r.given}, at: map[any]int{}, groupByID: map[string]*Group{}, unsaid: map[*Group]unsaid{}, unread: map[string]bool{}, capless: map[*Group]bool{}}
		b.bind(top)
		binders = append(binders, b)
	}
	top.rest()
	if r.sound = len(r.problems.Errors()) == 0; r.sound {
		for _, b := range binders {
			b.judge()
		}
		unusedOrders(binders)
	}
	if len(binders) > 1 {
		binders[0].p.Other = binders[1].p
	}
	return binders[0].p
}

// bind builds the procedure of one direction.
func (b *binder) bind(top table) {
	b.procedure(top)
	top.n.asked["part"] = true // and no misspelt pass
	if b.partsOnly = top.has("part") && !top.has("group") && !top.has("pass") && !top.misspelt("group") && !top.misspelt("pass"); b.partsOnly {
		b.p.Passes = []*Pass{{Name: PartsPass, Steps: []Step{{}}}}
	} else {
		b.groups(top)
		b.orders(top)
		b.passes(top)
	}
	b.checks(top)
	b.parts(top)
	b.callouts(top)
	b.shims()
	b.about()
	b.clashes()
	b.sealant(top)
	b.cover(top)
}

// readable refuses what is no text file at all.
func (r *reader) readable() bool {
	switch {
	case len(r.text) > MaxFileBytes:
		r.text, r.lines = nil, []int{0}
		r.wrong(0, "split it: one joint a file", "the file is larger than 1 MiB")
	case len(bytes.TrimSpace(r.text)) == 0:
		r.wrong(0, "start from: evenpull new FILE", "the file is empty")
	case bytes.IndexByte(r.text, 0) >= 0:
		r.add(bytes.IndexByte(r.text, 0), false, "the file is not text: it holds a zero byte", "give a TOML text file")
	case !utf8.Valid(r.text):
		r.add(firstInvalid(r.text), false, "the file is not UTF-8 here", "save the file as UTF-8")
	default:
		return true
	}
	return false
}

func firstInvalid(text []byte) int {
	for i := 0; i < len(text); {
		c, size := utf8.DecodeRune(text[i:])
		if c == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(text)
}

func (r *reader) format(top table) {
	v := top.get("format", integerKind, "1")
	switch {
	case v == nil && !top.has("format"):
		r.wrong(0, "write format = 1 as the first line", "the file does not say which format it is in")
	case v != nil && v.number != 1:
		r.wrong(v.at, "write format = 1", "format %s is not known here", v.text)
	}
}

// binder builds the procedure and remembers where each piece of it stood.
type binder struct {
	*reader
	way       Direction // of a file that goes both ways, the one that is read now; else empty
	p         *Procedure
	at        map[any]int // *Group, *Fastener, *Pass, *Check, *Cover, *Sealant, keyAt, stepAt, figureAt → mark
	byID      map[string]*Fastener
	groupByID map[string]*Group
	stages    int            // of the passes read so far
	ids       map[string]int // of checks, parts and callouts → mark
	lastOf    map[string]int // words → the last number put behind them to make an id
	partsOnly bool           // no fasteners and no passes: a cluster, a clutch, a pump
	named     map[string]*namedOrder
	capless   map[*Group]bool // groups whose caps are wrong
	shimParts []shimPart
	abouts    []about
	unsaid    map[*Group]unsaid
	unread    map[string]bool // groups of which there is nothing but an error
	nameless  bool            // a pass has no name: what names passes may mean it
}

// unsaid is what a group would have given but for an error that is reported.
type unsaid struct{ strength, torque bool }

// section opens a [name] table, or reports that it is missing.
func (b *binder) section(top table, name string, required bool) (table, bool) {
	n := top.get(name, tableKind, "["+name+"]")
	if n == nil {
		if required && !top.has(name) && !top.misspelt(name) {
			b.wrong(0, "add a ["+name+"] table", "there is no [%s]", name)
		}
		return table{}, false
	}
	return b.tableOf(n, "["+name+"]"), true
}

func (b *binder) procedure(top table) {
	t, ok := b.section(top, "procedure", true)
	if !ok {
		return
	}
	b.p.Name = t.must("name", "Close the crankcase")
	b.p.Engine = t.str("engine", "Osier 380")
	if t.must("direction", "close") != "" {
		b.p.Direction = Direction(t.choice("direction", []string{"close", "open", "both"}))
	}
	b.names(t)
	b.p.Source = t.str("source", "sheet 12")
	b.p.Cautions = t.texts("cautions", "Support the case.")
	t.rest()
}

func (b *binder) sealant(top table) {
	if b.way == Open {
		return // it is for closing
	}
	t, ok := b.section(top, "sealant", false)
	if !ok {
		return
	}
	s := &Sealant{Name: t.must("name", "anaerobic flange sealant")}
	s.WorkTime = t.duration("work_time", "20m")
	s.CureTime = t.duration("cure_time", "12h")
	if !t.has("work_time") {
		t.wrong(t.n.at, `add work_time = "20m"`, "[sealant] has no work_time")
	}
	s.Before = b.passNamed(t, "before")
	b.at[s] = t.at("work_time")
	t.rest()
	if s.Before == nil {
		s.Before = b.firstTightening()
	}
	if s.Before == nil && len(b.p.Passes) > 0 {
		t.wrong(t.n.at, "leave [sealant] out", "[sealant]: no pass tightens anything, so nothing is sealed")
	}
	b.p.Sealant = s
}

func (b *binder) firstTightening() *Pass {
	for _, pass := range b.p.Passes {
		if len(pass.Steps) > 0 && pass.Tightens() {
			return pass
		}
	}
	return nil
}

func (b *binder) groups(top table) {
	all := top.get("group", tableKind, "[group.main]")
	if all == nil {
		if !top.has("group") && !top.misspelt("group") {
			b.wrong(0, "add a [group.NAME] table with the fasteners' places", "there are no fasteners")
		}
		return
	}
	ids := map[string]*Fastener{}
	var capped []table
	for _, id := range all.keys {
		n := all.table[id]
		if n.kind != tableKind {
			b.wrong(n.keyAt, "write [group."+Printable(id)+"]", "group %s must be a table, not %s", quote(id), n.kind)
			b.unread[id] = true
			continue
		}
		t := b.tableOf(n, "group "+Printable(id))
		g := &Group{ID: id}
		if !b.goodID(n.keyAt, "group", id) {
			b.unread[id] = true
		}
		if len(n.keys) == 1 && t.has("at") { // most likely the heading above it is misspelt
			t.wrong(n.at, "add [group."+Printable(id)+"] with its thread and torque, or mend its name", "there are places for %s, but no [group.%s]", t.name, Printable(id))
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

func (b *binder) group(t table, g *Group) {
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
		b.at[keyAt{g, key}] = t.at(key)
	}
	b.strength(t, g)
	b.unsaid[g] = unsaid{
		strength: g.Thread.DiameterMM == 0 || t.spoilt("class") || t.spoilt("bore"),
		torque:   t.spoilt("torque"),
	}
	for _, key := range []string{"engagement", "grip"} {
		if v := t.n.table[key]; v != nil && !t.spoilt(key) && !t.recorded && b.lengthOf(g, key).IsZero() {
			t.warn(v.at, "measure it, or leave it out", "%s: %s is nothing", t.name, key)
		}
	}
}

func (b *binder) lengthOf(g *Group, key string) quantity.Length {
	if key == "grip" {
		return g.Grip
	}
	return g.Engagement
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
		remedy = "did you mean " + quote(n) + "? Known are " + strings.Join(bolt.MaterialNames(), ", ")
	}
	t.wrong(t.at(key), remedy, "%s: no material %s is known", t.name, quote(name))
	return name
}

func (b *binder) thread(t table, g *Group) {
	if text := t.must("thread", "M8x1.25"); text != "" {
		thread, err := bolt.ParseThread(text)
		if err != nil {
			t.wrong(t.at("thread"), `write it as "M8x1.25" or "3/8-16 UNC"`, "%s: thread %s: %s", t.name, quote(text), Printable(err.Error()))
		}
		g.Thread = thread
	}
	if text := t.str("class", "8.8"); text != "" {
		class, err := bolt.ParseClass(text)
		if err != nil {
			t.wrong(t.at("class"), `write it as "8.8", "A2-70" or "SAE 5"`, "%s: class %s: %s", t.name, quote(text), Printable(err.Error()))
			return
		}
		g.Class, g.HasClass = class, true
	}
}

// nut reads the class of a nut; the bolt's own class stays what the order goes by.
func (b *binder) nut(t table, g *Group) {
	text := t.str("nut", "8")
	if text == "" {
		return
	}
	n, err := bolt.ParseNut(text)
	if err != nil {
		t.wrong(t.at("nut"), "classes of nuts are "+strings.Join(bolt.NutNames(), ", ")+" (ISO 898-2)", "%s: nut %s: %s", t.name, quote(text), Printable(err.Error()))
		return
	}
	g.Nut = n
}

// strength is rule 1 of the order: proof stress × (stress area − bore area).
func (b *binder) strength(t table, g *Group) {
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
	newtons, err := bolt.Strength(g.Thread, g.Class, g.Bore.Mm())
	if err != nil {
		t.wrong(t.at("class"), "give a class that covers this size", "%s: %s", t.name, Printable(err.Error()))
		return
	}
	g.StrengthN = newtons
}

var frictionWords = []string{"dry", "oiled", "moly", "threadlock"}

func (t table) friction() Friction {
	t.n.asked["friction"] = true
	v := t.n.table["friction"]
	if v == nil {
		return Friction{}
	}
	if v.kind == stringKind {
		return Friction{Word: t.choice("friction", frictionWords)}
	}
	mu, ok := t.numberOf(v, "friction")
	if ok && (mu < 0.04 || mu > 0.5) {
		t.wrong(v.at, "give a coefficient from 0.04 to 0.5, or dry, oiled, moly, threadlock", "%s: friction is %s", t.name, v.text)
		return Friction{}
	}
	return Friction{Coefficient: mu}
}

func (b *binder) pieces(t table) []Piece {
	const example = `[{ part = "plain washer", count = 1, one_use = false }]`
	var list []Piece
	seen := map[string]bool{}
	for i, n := range t.tables("with", example) {
		pt := b.tableOf(n, fmt.Sprintf("%s: with, entry %d", t.name, i+1))
		piece := Piece{Part: pt.must("part", "plain washer"), Count: pt.count("count", 20), OneUse: pt.flag("one_use"), Number: pt.str("number", "380-11-204")}
		if key := strings.ToLower(piece.Part); seen[key] {
			pt.wrong(n.at, "raise its count instead", "%s: %s is already in the list", pt.name, quote(piece.Part))
		} else {
			seen[key] = true
			list = append(list, piece)
		}
		pt.rest()
	}
	return list
}

// places reads [group.ID.at], the coordinates that name the fasteners.
func (b *binder) places(t table, g *Group, ids map[string]*Fastener) {
	n := t.get("at", tableKind, "{ M1 = [0, 0] }")
	if n == nil || len(n.keys) == 0 {
		if !b.unread[g.ID] && (n != nil || !t.has("at")) {
			t.wrong(t.at("at"), "add [group."+Printable(g.ID)+".at] with lines such as M1 = [0, 0]", "%s has no fasteners", t.name)
		}
		return
	}
	for _, id := range n.keys {
		v := n.table[id]
		b.goodID(v.keyAt, "fastener", id)
		f := &Fastener{ID: id, Group: g, Index: len(b.p.Fasteners)}
		if first, ok := ids[strings.ToLower(id)]; ok {
			line, _ := b.place(b.at[first])
			b.wrong(v.keyAt, "give each fastener an id of its own", "fastener %s is already on line %d, in group %s", quote(id), line, quote(first.Group.ID))
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
		t.wrong(v.at, id+" = [0, 0], x to the right and y up, in mm", "%s: the place of %s must be two numbers", t.name, quote(id))
		return 0, 0
	}
	for i, into := range []*float64{&x, &y} {
		n, ok := t.numberOf(v.items[i], "the place of "+quote(id))
		if ok && (n < -10_000 || n > 10_000) {
			t.wrong(v.items[i].at, "give millimetres within 10 m of the origin", "%s: %s lies at %s", t.name, quote(id), v.items[i].text)
		}
		*into = n
	}
	return x, y
}

// goodID refuses ids that a person cannot type or a screen cannot show.
func (b *binder) goodID(at int, what, id string) bool {
	bad := id == "" || utf8.RuneCountInString(id) > 24
	for _, r := range id {
		bad = bad || !allowedRune(r) || strings.ContainsRune(" \t/\\,\"'=#", r)
	}
	if bad {
		b.wrong(at, "use up to 24 letters, digits, '-', '_' or '.'", "%s cannot be called %s", what, quote(id))
	}
	return !bad
}

func (t table) torqueSpan(v *node, key string) (TorqueSpan, bool) {
	span, err := figure(t.reader, v.text, quantity.ParseTorqueSpan)
	if err != nil {
		t.unreadable(v, key, err)
		return span, false
	}
	return span, true
}
