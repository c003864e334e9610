package draft

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/spec"
	"evenpull/spec/sheet"
)

// Kind is how a question is answered.
type Kind int

// Kinds of question.
const (
	Line   Kind = iota // a text
	Choice             // one of Choices
	Places             // a layout, or bolts moved about
	Order              // one of Choices, or bolts named one after the other
	Add                // a text that makes something new; empty: go on
	Save               // the end
)

// Question is one thing to answer.
type Question struct {
	ID       string
	Thing    string // what it is about, for those that belong together: "group/main"
	Section  string // heading over those of one thing
	Ask      string
	Hint     string
	Answer   string // as it stands; empty: nothing does
	Proposal string // what going on without a word answers
	Choices  []string
	Kind     Kind
	Must     bool     // a sheet is not whole without it
	Wanted   bool     // nor without this, but something further on may stand in for it
	Wrong    []string // what is wrong there, each with its remedy
	Doubts   []string // warnings
}

// Open reports whether it has to be answered still.
func (q Question) Open() bool { return q.missing() || len(q.Wrong) > 0 }

func (q Question) missing() bool { return (q.Must || q.Wanted) && q.Answer == "" }

// Questions are all there are at this point, in order.
func (d Draft) Questions() []Question {
	if d.asked != nil {
		return d.asked
	}
	b := &asker{d: d}
	b.joint()
	b.allGroups()
	b.allPasses()
	b.checks()
	b.parts()
	b.callouts()
	b.sealant()
	b.add(Question{ID: "save", Section: "The end", Ask: "write the file", Kind: Save})
	b.placeProblems()
	return b.list
}

// asker gathers the questions.
type asker struct {
	d       Draft
	list    []Question
	thing   string
	section string
}

func (b *asker) about(thing, section string) { b.thing, b.section = thing, section }

func (b *asker) add(q Question) {
	q.Thing = b.thing
	if q.Section == "" {
		q.Section = b.section
	}
	b.list = append(b.list, q)
}

// full reports whether a thing is asked about with the rare keys.
func (b *asker) full() bool { return b.d.more[b.thing] }

// field asks for a key of a table.
func (b *asker) field(at sheet.Path, f field) {
	has := b.d.text.Has(sheet.At(at, f.key))
	if f.rare && !has && !b.full() || f.both && !has && !b.d.bothWays() {
		return
	}
	q := Question{ID: b.thing + "/" + f.key, Ask: f.ask, Hint: f.hint, Answer: b.d.shown(at, f), Choices: f.choices, Proposal: f.proposal, Must: f.must}
	switch f.kind {
	case choice:
		q.Kind = Choice
	case flag:
		q.Kind, q.Choices, q.Proposal = Choice, []string{"no", "yes"}, "no"
	}
	b.add(q)
}

// shown is what stands at a key, as it would be typed.
func (d Draft) shown(at sheet.Path, f field) string {
	switch v := d.text.Value(sheet.At(at, f.key)).(type) {
	case string:
		return v
	case bool:
		return map[bool]string{true: "yes", false: "no"}[v]
	case int64, float64:
		return fmt.Sprint(v)
	case []any:
		return strings.Join(d.text.Strings(sheet.At(at, f.key)), ", ")
	}
	return ""
}

// moreAbout asks whether the rare keys are wanted.
func (b *asker) moreAbout() {
	if b.full() {
		b.add(Question{ID: b.thing + "/keep", Ask: "keep it", Hint: "take out takes it out of the sheet", Kind: Choice, Choices: b.changes(), Proposal: "keep"})
		return
	}
	b.add(Question{ID: b.thing + "/more", Ask: "more", Hint: "yes to be asked the rarer things, or to take it out", Kind: Choice, Choices: []string{"no", "yes"}, Proposal: "no"})
}

func (b *asker) changes() []string {
	if kind, _, _ := strings.Cut(b.thing, "/"); kind == "pass" {
		return []string{"keep", "take out", "earlier", "later"}
	}
	return []string{"keep", "take out"}
}

func (b *asker) joint() {
	b.about("procedure", "The joint")
	at := sheet.At("procedure")
	for _, f := range jointFields {
		b.field(at, f)
	}
	for i, text := range b.d.text.Strings(sheet.At(at, "cautions")) {
		b.add(Question{ID: fmt.Sprint("caution/", i), Ask: "caution", Hint: "empty takes it out", Answer: text})
	}
	b.add(Question{ID: "+caution", Ask: "a caution", Hint: "said before the first bolt: Support the case off the crank end", Kind: Add})
}

func (b *asker) allGroups() {
	for _, id := range b.d.groups() {
		b.group(id)
	}
	b.about("+group", "Bolts")
	q := Question{ID: "+group", Ask: "more bolts", Hint: "another kind of bolt, by what it is called; none: go on", Kind: Add}
	if len(b.d.groups()) == 0 {
		q.Ask, q.Hint = "which bolts", "what they are called: main cap bolts; none: a sheet of parts alone"
		q.Wanted = b.d.text.Len(sheet.At("part")) == 0
	}
	b.add(q)
}

func (b *asker) group(id string) {
	at := sheet.At("group", id)
	title := b.d.str(at, "title")
	if title == "" {
		title = id
	}
	b.about("group/"+id, "Bolts: "+title)
	for _, f := range groupFields {
		if f.key == "torque" {
			b.places(id)
		}
		b.field(at, f)
		if f.key == "one_use" {
			b.pieces(at)
		}
	}
	b.moreAbout()
}

func (b *asker) places(id string) {
	bolts := b.d.text.Keys(sheet.At("group", id, "at"))
	q := Question{ID: b.thing + "/at", Ask: "how they sit", Hint: "2 rows of 5, rows of 4 and 5, 5 caps of 2, circle of 8, 1; then: 60 mm apart", Kind: Places, Must: true}
	switch n := len(bolts); {
	case n == 1:
		q.Answer = "1 bolt, " + bolts[0]
	case n > 1:
		q.Answer = fmt.Sprintf("%d bolts, %s to %s", n, bolts[0], bolts[n-1])
	}
	if len(bolts) > 0 {
		q.Hint = "M3 right 10, M3 at 70 34, add M9 at 70 34, take out M9; or again 2 rows of 5"
	}
	b.add(q)
}

func (b *asker) pieces(at sheet.Path) {
	for i := range b.d.text.Len(sheet.At(at, "with")) {
		b.add(Question{ID: fmt.Sprint(b.thing, "/with/", i), Ask: "with each", Hint: "2 x sealing washer, one use; empty takes it out", Answer: b.d.piece(sheet.At(at, "with", i), "part")})
	}
	b.add(Question{ID: b.thing + "/+with", Ask: "goes on with it", Hint: "plain washer   or   2 x sealing washer, one use; none: go on", Kind: Add})
}

// piece is a part as a person types it: "2 x sealing washer, one use".
func (d Draft) piece(at sheet.Path, key string) string {
	text := d.str(at, key)
	if n, _ := d.text.Value(sheet.At(at, "count")).(int64); n > 1 {
		text = fmt.Sprintf("%d x %s", n, text)
	}
	if once, _ := d.text.Value(sheet.At(at, "one_use")).(bool); once {
		text += ", one use"
	}
	return text
}

func (b *asker) allPasses() {
	names := b.d.passNames()
	if len(b.d.groups())+len(names) == 0 {
		return // parts alone have no passes
	}
	for i, name := range names {
		b.pass(i, name)
	}
	b.about("+pass", "Passes")
	b.freshOrder()
	q := Question{ID: "+pass/shape", Ask: "more passes", Hint: "none: go on", Kind: Choice, Choices: append([]string{"none"}, Shapes...), Proposal: "none", Answer: b.d.shape}
	if len(names) == 0 {
		q.Ask, q.Hint, q.Must, q.Choices, q.Proposal = "how it is done", "the shape of the work; its figures come next", true, Shapes, Staged
		if b.d.Opens() {
			q.Proposal = Loosen
		}
	}
	b.add(q)
	if b.d.shape != "" {
		b.add(Question{ID: "+pass/figures", Ask: "figures", Hint: figuresHint[b.d.shape], Kind: Add, Must: true})
	}
}

// freshOrder asks once for the order of the passes that have just been made.
func (b *asker) freshOrder() {
	if len(b.d.fresh) == 0 {
		return
	}
	i := slices.Index(b.d.passNames(), b.d.fresh[len(b.d.fresh)-1])
	if i < 0 {
		return
	}
	at := sheet.At("pass", i)
	b.add(Question{ID: "+pass/order", Ask: "order of these", Hint: "a rule, or bolts one after the other: M3 M4 M2 M5", Kind: Order, Choices: b.d.orders(at), Answer: b.d.orderText(at)})
	if len(b.d.groupsOf(at)) > 1 {
		f, _ := fieldOf(passFields, "first")
		b.add(Question{ID: "+pass/first", Ask: f.ask, Hint: f.hint, Kind: Choice, Choices: f.choices, Answer: b.d.str(at, "first")})
	}
}

func (b *asker) pass(i int, name string) {
	at := sheet.At("pass", i)
	b.about(fmt.Sprint("pass/", i), "Pass: "+name)
	for _, f := range passFields {
		if f.key == "first" {
			b.passBody(at)
			if len(b.d.groupsOf(at)) < 2 && b.d.str(at, "first") == "" {
				continue
			}
		}
		b.field(at, f)
	}
	b.moreAbout()
}

func (b *asker) passBody(at sheet.Path) {
	if len(b.d.groups()) > 1 && b.d.text.Value(sheet.At(at, "fasteners")) == nil {
		b.add(Question{ID: b.thing + "/groups", Ask: "which bolts", Hint: "all, or their names: " + strings.Join(b.d.groups(), ", "), Answer: b.d.whichText(at), Proposal: "all"})
	}
	b.add(Question{ID: b.thing + "/figure", Ask: "figure", Hint: "22 N·m, 40 %, 90°, stretch 0.12 mm to 0.15 mm; by group: rim 4 N·m, main 8 N·m", Answer: b.d.figureText(at), Must: true})
	if b.d.str(at, "wait") == "" {
		b.add(Question{ID: b.thing + "/order", Ask: "order", Hint: "a rule, or bolts one after the other: M3 M4 M2 M5", Kind: Order, Choices: b.d.orders(at), Answer: b.d.orderText(at)})
	}
}

func (b *asker) checks() {
	for i := range b.d.text.Len(sheet.At("check")) {
		at := sheet.At("check", i)
		b.about(fmt.Sprint("check/", i), "Check: "+b.d.str(at, "ask")+b.d.str(at, "measure"))
		asks := b.d.text.Has(sheet.At(at, "ask"))
		for _, f := range checkFields {
			measured := slices.Contains([]string{"measure", "min", "max", "kind", "readings", "spread"}, f.key)
			if asks && measured || !asks && f.key == "ask" {
				continue
			}
			if f.key == "remedy" {
				b.when(at, true)
			}
			b.field(at, f)
		}
		b.moreAbout()
	}
	b.about("+check", "Checks")
	b.add(Question{ID: "+check", Ask: "a check", Hint: "Both dowels in place?   or   crank end float: 0.05 mm to 0.20 mm; none: go on", Kind: Add})
}

// when asks at which pass something comes; parts alone come as they stand in the file.
func (b *asker) when(at sheet.Path, after bool) {
	if len(b.d.passNames()) == 0 {
		return
	}
	q := Question{ID: b.thing + "/when", Ask: "when", Hint: "before or after which pass", Kind: Choice}
	if b.d.bothWays() && strings.HasPrefix(b.thing, "part/") {
		b.whenEach(at)
		return
	}
	for _, name := range b.d.passNames() {
		q.Choices = append(q.Choices, "before "+name)
		if after {
			q.Choices = append(q.Choices, "after "+name)
		}
	}
	for _, key := range []string{"before", "after"} {
		if name := b.d.str(at, key); name != "" {
			q.Answer = key + " " + name
		}
	}
	b.add(q)
}

// whenEach asks when a part of a sheet that goes both ways goes on, and when it comes off.
func (b *asker) whenEach(at sheet.Path) {
	for _, w := range []struct {
		key, ask string
		way      spec.Direction
	}{{"before", "goes on before", spec.Close}, {"after", "comes off after", spec.Open}} {
		q := Question{ID: b.thing + "/" + w.key, Ask: w.ask, Hint: "which pass; empty: " + map[string]string{"before": "before the first", "after": "after the last"}[w.key], Kind: Choice, Answer: b.d.str(at, w.key)}
		for i, name := range b.d.passNames() {
			if b.d.str("pass", i, "direction") == string(w.way) {
				q.Choices = append(q.Choices, name)
			}
		}
		b.add(q)
	}
}

func (b *asker) parts() {
	for i := range b.d.text.Len(sheet.At("part")) {
		at := sheet.At("part", i)
		b.about(fmt.Sprint("part/", i), "Part: "+b.d.str(at, "name"))
		for _, f := range partFields {
			b.field(at, f)
			if f.key == "where" && (b.full() || b.d.str(at, "before")+b.d.str(at, "after") != "") {
				b.when(at, true)
			}
		}
		b.moreAbout()
	}
	b.about("+part", "Parts")
	b.add(Question{ID: "+part", Ask: "a part", Hint: "comes off or goes on: gasket, one use   or   2 x crank seal, one use; none: go on", Kind: Add})
}

func (b *asker) callouts() {
	for i := range b.d.text.Len(sheet.At("callout")) {
		at := sheet.At("callout", i)
		b.about(fmt.Sprint("callout/", i), "Ready: "+b.d.str(at, "say"))
		for _, f := range calloutFields {
			b.field(at, f)
			if f.key == "say" {
				b.when(at, false)
			}
		}
		b.moreAbout()
	}
	b.about("+callout", "To have ready")
	b.add(Question{ID: "+callout", Ask: "have ready", Hint: "a tool, heat, a second pair of hands; none: go on", Kind: Add})
}

func (b *asker) sealant() {
	at := sheet.At("sealant")
	if !b.d.text.Has(at) {
		b.about("+sealant", "Sealant")
		b.add(Question{ID: "+sealant", Ask: "sealant", Hint: "what the joint is sealed with; none: go on", Kind: Add})
		return
	}
	b.about("sealant", "Sealant")
	for _, f := range sealantFields {
		b.field(at, f)
	}
	b.moreAbout()
}
