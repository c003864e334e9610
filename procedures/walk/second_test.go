package walk

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/quantity"
)

// second is another reading of a walk's events, made from the words of the table
// and of the procedure alone: it calls nothing of this package, and works out
// from the first event on, the slow and obvious way, what is still open.
type second struct {
	p     *spec.Procedure
	lines []line
	open  map[string]bool // lines still open, by the text a record has of them
	due   map[string]bool // pieces still to be new: "M1|fastener"
	want  map[string]bool // pieces that have to be new at some time
	only  map[string]bool // of these, those wanted only since they were condemned
	fresh map[string]bool // pieces recorded new and not used up since
	off   map[string]Carried
	gone  map[string]bool   // of off, those settled here
	loose map[string]string // let go by another walk: its record
	cased map[string]string // thread in the case stripped: the record that says so

	rules  int              // that the events are under
	faults map[string]Fault // findings to be answered here, by the text a record has of them
	asked  []string         // of these, in the order they were brought
	last   map[string]bool  // of these, and of things no sheet has, those put off
	sheet  []line           // lines without those of things that no sheet has
	laid   int              // the rules the lines are laid out by
	used   map[string]bool  // pieces that have to be new since one was used up
	met    []line           // things no sheet has, found on the way apart
	stood  []Event          // what was not taken back
	order  []string         // of off
}

// line is one line of the agenda as the procedure has it.
type line struct {
	text   string
	pass   *spec.Pass
	stage  *plan.Stage
	check  *spec.Check
	part   *spec.Part
	say    *spec.Callout
	wait   bool
	hidden bool // asked for only after something has happened
	tail   bool // asked for after all the others
	of     string
}

func secondReading(pl *plan.Plan, rules int, events []Event) *second {
	r := &second{p: pl.Procedure, open: map[string]bool{}, due: map[string]bool{}, want: map[string]bool{}, only: map[string]bool{}, fresh: map[string]bool{}, off: map[string]Carried{}, gone: map[string]bool{}, loose: map[string]string{}, cased: map[string]string{}, faults: map[string]Fault{}, last: map[string]bool{}, rules: rules}
	r.laid, r.used = rules, map[string]bool{}
	r.layOut(pl, rules)
	r.sheet = r.lines
	from := 0
	for i, e := range append(slices.Clip(events), Event{Kind: Resheeted}) { // each sheet has a stretch of its own: undo does not reach behind it
		if e.Kind != Resheeted {
			continue
		}
		for _, e := range r.standing(events[from:i]) {
			r.take(e)
			r.stood = append(r.stood, e)
		}
		if from = i + 1; i < len(events) {
			r.resheeted(e.Sheet)
		}
	}
	return r
}

// layOut writes down the agenda: before each pass what comes before it in the
// order of the file, the smear, its stages with what belongs before the first
// tightening one, and what comes after.
func (r *second) layOut(pl *plan.Plan, rules int) {
	begun, prepared := map[string]bool{}, map[string]bool{}
	closing := r.p.Direction == spec.Close
	add := func(l line) {
		r.lines = append(r.lines, l)
		if !l.hidden {
			r.open[l.text] = true
		}
	}
	for n, pass := range r.p.Passes {
		r.around(pass, true, n == 0 && closing, add)
		for _, g := range r.readyBefore(pl, pass) {
			if rules < 3 {
				continue
			}
			prepared[g.ID] = true
			add(line{text: "prep:" + g.ID, pass: pass})
		}
		if r.p.Sealant != nil && r.p.Sealant.Before == pass {
			add(line{text: "sealant", pass: pass})
		}
		for _, st := range pl.Stages {
			if st.Pass != pass {
				continue
			}
			if st.Action == spec.Wait {
				add(line{text: pass.Name, pass: pass, wait: true})
				continue
			}
			f, g := st.Fastener, st.Fastener.Group
			if closing && !begun[f.ID] && (tightens(st) || st.Action == spec.Verify && !everTightened(pl, f)) {
				begun[f.ID] = true
				add(line{text: "repair:" + f.ID, pass: pass, hidden: true, of: f.ID})
				add(line{text: "slacken:" + f.ID, pass: pass, hidden: true, of: f.ID})
				if g.Prep != "" && st.Action != spec.Verify {
					if !g.PrepEach && !prepared[g.ID] {
						prepared[g.ID] = true
						add(line{text: "prep:" + g.ID, pass: pass})
					}
					add(line{text: "prep:" + g.ID + "/" + f.ID, pass: pass, hidden: !g.PrepEach, of: f.ID})
				}
			}
			text := pass.Name + "/" + f.ID
			if len(pass.Steps) > 1 {
				text += "/" + strconv.Itoa(st.Step+1)
			}
			add(line{text: text, pass: pass, stage: st, of: f.ID})
		}
		r.around(pass, false, n == len(r.p.Passes)-1 && !closing, add)
	}
	if !closing {
		return
	}
	for _, f := range r.p.Fasteners {
		if !slices.ContainsFunc(r.lines, func(l line) bool { return l.stage != nil && l.of == f.ID }) {
			continue
		}
		if f.Group.OneUse {
			r.wanted(f.ID, "fastener")
		}
		for _, w := range f.Group.With {
			if w.OneUse {
				r.wanted(f.ID, w.Part)
			}
		}
	}
	for _, p := range r.p.Parts {
		if p.OneUse {
			r.wanted("part:"+p.ID, p.Name)
		}
	}
}

// readyBefore lists the groups whose threads are made ready before a pass, in the
// order their bolts are come to.
func (r *second) readyBefore(pl *plan.Plan, pass *spec.Pass) (list []*spec.Group) {
	for _, st := range pl.Stages {
		if st.Fastener == nil || r.p.Direction != spec.Close {
			continue
		}
		g := st.Fastener.Group
		if g.Prep != "" && !g.PrepEach && !slices.Contains(list, g) && r.placeOfPrep(pl, g) == pass {
			list = append(list, g)
		}
	}
	slices.SortStableFunc(list, func(a, b *spec.Group) int { return pulledFirst(pl, a) - pulledFirst(pl, b) })
	return list
}

// pulledFirst is where a bolt of the group is first tightened.
func pulledFirst(pl *plan.Plan, g *spec.Group) int {
	return slices.IndexFunc(pl.Stages, func(st *plan.Stage) bool { return st.Fastener != nil && st.Fastener.Group == g && tightens(st) })
}

// placeOfPrep is the pass before which the threads of a group are made ready, if
// they are before any: the smear's when its clock runs until they are tightened, or
// else that in which they are; but none of its bolts may be touched on the way there.
func (r *second) placeOfPrep(pl *plan.Plan, g *spec.Group) *spec.Pass {
	first := pulledFirst(pl, g)
	if first < 0 {
		return nil
	}
	in := pl.Stages[first].Pass
	untouched := func(from *spec.Pass) bool {
		return !slices.ContainsFunc(pl.Stages[:first], func(st *plan.Stage) bool {
			return st.Fastener != nil && st.Fastener.Group == g && st.Pass.Index >= from.Index
		})
	}
	if r.p.Sealant != nil && r.p.Sealant.Before.Index <= in.Index && untouched(r.p.Sealant.Before) {
		waited := false
		for _, p := range r.p.Passes {
			waited = waited || p.IsWait() && p.Index >= r.p.Sealant.Before.Index && p.Index < in.Index
		}
		if !waited {
			return r.p.Sealant.Before
		}
	}
	if untouched(in) {
		return in
	}
	return nil
}

// around adds checks, parts and callouts before or after a pass.
func (r *second) around(pass *spec.Pass, before, floating bool, add func(line)) {
	type placed struct {
		at int
		l  line
	}
	var list []placed
	for _, c := range r.p.Checks {
		if before && c.Before == pass || !before && c.After == pass {
			list = append(list, placed{c.Order, line{text: "check:" + c.ID, pass: pass, check: c}})
		}
	}
	for _, c := range r.p.Callouts {
		if before && c.Before == pass {
			list = append(list, placed{c.Order, line{text: "callout:" + c.ID, pass: pass, say: c}})
		}
	}
	for _, p := range r.p.Parts {
		if before && p.Before == pass || !before && p.After == pass || floating && p.Before == nil && p.After == nil {
			list = append(list, placed{p.Order, line{text: "part:" + p.ID, pass: pass, part: p}})
		}
	}
	slices.SortStableFunc(list, func(a, b placed) int { return a.at - b.at })
	for _, p := range list {
		add(p.l)
	}
}

func tightens(st *plan.Stage) bool {
	return st.Action == spec.Torque || st.Action == spec.Turn || st.Action == spec.Stretch
}

func everTightened(pl *plan.Plan, f *spec.Fastener) bool {
	return slices.ContainsFunc(pl.Stages, func(st *plan.Stage) bool { return st.Fastener == f && tightens(st) })
}

func (r *second) wanted(owner, piece string) {
	r.want[owner+"|"+piece], r.due[owner+"|"+piece] = true, true
}

// standing strikes out what was undone: an undo takes back the last step before
// it that can be taken back, never one before something was brought.
func (r *second) standing(events []Event) []Event {
	var out []Event
	var steps []int
	for _, e := range events {
		switch e.Kind {
		case Undone:
			at := steps[len(steps)-1]
			steps = steps[:len(steps)-1]
			out[at].Kind = "struck"
			continue
		case Brought:
			steps = nil
		case Confirmed, Measured, Answered, Renewed, Repaired, Lost, Trouble, Resealed, Found, Refitted, Accounted, Cleaned, Settled, PutOff, Pictured:
			steps = append(steps, len(out))
		case Rejected:
			if r.sendsBack(e) {
				steps = append(steps, len(out))
			}
		}
		out = append(out, e)
	}
	return out
}

func (r *second) line(text string) *line {
	for i := range r.lines {
		if r.lines[i].text == text {
			return &r.lines[i]
		}
	}
	return nil
}

func (r *second) sendsBack(e Event) bool {
	l := r.line(e.Item)
	if l == nil {
		return false // a finding measured again, and still out of its limits
	}
	if l.check != nil {
		return len(l.check.NoRestarts) > 0
	}
	return l.stage != nil && r.verdict(l.stage, e.Reading) != ""
}

// verdict is what a reading that was refused means: "over", "under" where it is
// felt, "stretched", or "" for one that is only short.
func (r *second) verdict(st *plan.Stage, reading string) string {
	figure, _, _ := strings.Cut(reading, " ")
	v, ok := new(big.Rat).SetString(strings.TrimSuffix(figure, "°"))
	if !ok {
		return ""
	}
	t := st.Target
	switch st.Action {
	case spec.Torque:
		top := t.Torque.High.Exact(quantity.NewtonMetre)
		if t.Torque.Low.Cmp(*t.Torque.High) == 0 {
			give := big.NewRat(104, 100)
			if t.Torque.High.Nm() <= 10 {
				give = big.NewRat(106, 100)
			}
			top.Mul(top, give)
		}
		if v.Cmp(top) > 0 {
			return "over"
		}
	case spec.Turn:
		if v.Cmp(t.Turn.High.Exact(quantity.Degree)) > 0 {
			return "over"
		}
	case spec.Verify:
		if v.Cmp(t.Torque.Low.Exact(quantity.NewtonMetre)) < 0 {
			return "under"
		}
	case spec.Stretch:
		if _, torque, given := strings.Cut(reading, " at "); given && t.Ceiling != nil {
			if nm, _ := strconv.ParseFloat(strings.TrimSuffix(torque, " N·m"), 64); nm > t.Ceiling.Nm() {
				return "stretched"
			}
		}
		if v.Cmp(t.Stretch.High.Exact(quantity.Millimetre)) > 0 {
			return "stretched"
		}
	}
	return ""
}

// take is one event that stands.
func (r *second) take(e Event) {
	switch e.Kind {
	case Confirmed, Repaired, Settled:
		r.open[e.Item] = false
	case Measured:
		r.open[e.Item] = false
		r.measuredAgain(r.line(e.Item).check, e.Reading)
	case Answered:
		if e.Answer == "yes" || r.p.Direction == spec.Open && r.rules > 3 {
			r.open[e.Item] = false
			return
		}
		r.cameLoose(e.Restarts, r.line(e.Item).check)
		r.open[e.Item] = true
	case Resumed:
		fmt.Sscan(e.Facts["rules"], &r.rules)
	case PutOff:
		r.last[e.Item] = true
		r.relines()
	case Found:
		if name := e.Facts["new"]; name != "" {
			r.foundNew(e.Item, name, e.Facts["count"])
		}
	case Renewed:
		r.renewed(e)
	case Lost:
		r.back(e.Fastener, fate{slacken: true, checks: "later", spends: "one-use"})
	case Trouble:
		if r.p.Direction != spec.Close {
			return
		}
		if e.Facts["stripped"] == "case" {
			r.back(e.Fastener, fate{repair: true, prep: true, checks: "pass", spends: "one-use"})
			return
		}
		r.back(e.Fastener, fate{prep: true, checks: "pass", spends: "itself"})
	case Rejected:
		r.rejected(e)
	case Resealed:
		r.openedWhole()
	case Brought:
		r.toAnswer(e.Faults)
		r.brought(e.Brought)
	case Accounted:
		r.accounted(strings.TrimSpace(e.Fastener + e.Item + " " + e.Thread))
	case Refitted:
		name := strings.TrimSpace(e.Fastener + e.Item + " " + e.Thread)
		r.gone[name] = true
		if l := r.line(name); l != nil && l.part != nil {
			r.open[name] = false
		}
	}
}

func (r *second) rejected(e Event) {
	l := r.line(e.Item)
	if l == nil {
		return
	}
	if l.check != nil {
		was := r.open[e.Item]
		r.cameLoose(nil, l.check)
		r.open[e.Item] = was
	}
	if l.stage == nil {
		return
	}
	switch r.verdict(l.stage, e.Reading) {
	case "over", "under":
		r.back(l.of, fate{slacken: true, checks: "later", spends: "one-use"})
	case "stretched":
		r.back(l.of, fate{prep: true, checks: "pass", spends: "itself"})
	}
}

// cameLoose: those named, and those the sheet says as far as they are tight.
func (r *second) cameLoose(named []string, c *spec.Check) {
	list := slices.Clone(named)
	for _, f := range c.NoRestarts {
		if r.tight(f.ID) && !slices.Contains(list, f.ID) {
			list = append(list, f.ID)
		}
	}
	for _, id := range list {
		r.back(id, fate{slacken: true, checks: "later", spends: "one-use"})
	}
}

// fate is a row of the table for one fastener.
type fate struct {
	slacken, repair, prep bool
	checks                string // "later", or "pass": also those of a pass it is in
	spends                string // "one-use", or "itself": that and the fastener itself
}

// first is where the fastener is first tightened, or, if it never is, first
// held, as an index of lines.
func (r *second) first(id string) int {
	felt := len(r.lines)
	for i, l := range r.lines {
		if l.stage == nil || l.of != id {
			continue
		}
		if tightens(l.stage) {
			return i
		}
		if l.stage.Action == spec.Verify {
			felt = min(felt, i)
		}
	}
	return felt
}

func (r *second) tight(id string) bool {
	for i, l := range r.lines {
		if l.stage != nil && l.of == id && i >= r.first(id) && !r.open[l.text] {
			return true
		}
	}
	return false
}

func (r *second) back(id string, f fate) {
	from := r.first(id)
	group := r.p.Fastener(id).Group
	for i, l := range r.lines {
		switch {
		case l.of == id && l.stage != nil && i >= from:
			r.heatedAgain(i)
			r.open[l.text] = true
		case l.text == "slacken:"+id && f.slacken,
			l.text == "repair:"+id && f.repair,
			l.text == "prep:"+group.ID+"/"+id && (f.prep || group.PrepEach),
			l.wait && i > from:
			r.open[l.text] = true
		case l.check != nil && len(l.check.Of) > 0:
			for _, t := range l.check.Of {
				if t.ID == id && t.Thread != "" {
					r.open[l.text] = true
				}
			}
		case l.check != nil && (i > from || f.checks == "pass" && slices.ContainsFunc(l.pass.Fasteners, func(x *spec.Fastener) bool { return x.ID == id })):
			r.open[l.text] = true
		}
	}
	for key := range r.want {
		if strings.HasPrefix(key, id+"|") {
			r.spent(key)
		}
	}
	if f.spends == "itself" {
		r.spent(id + "|fastener")
	}
}

func (r *second) spent(key string) {
	r.want[key], r.due[key], r.fresh[key], r.used[key] = true, true, false, true
	delete(r.only, key)
}

// heatedAgain: what was heated for something that was done is heated for it again: the
// callouts with a time between it and what was done to the joint before.
func (r *second) heatedAgain(act int) {
	for _, heat := range heatsFor(r.lines, act) {
		if !r.open[r.lines[act].text] {
			r.open[heat] = true
		}
	}
}

func heatsFor(lines []line, act int) (heats []string) {
	does := func(l line) bool { return l.stage != nil || l.text == "sealant" || l.part != nil && l.part.Kind != "" }
	for i := act - 1; does(lines[act]) && i >= 0 && !does(lines[i]); i-- {
		if lines[i].say != nil && lines[i].say.Within > 0 {
			heats = append(heats, lines[i].text)
		}
	}
	return heats
}

func (r *second) partBack(id string) {
	for i, l := range r.lines {
		if l.part != nil && l.part.ID == id {
			r.heatedAgain(i)
			r.open[l.text] = true
		}
	}
	for key := range r.want {
		if strings.HasPrefix(key, "part:"+id+"|") {
			r.spent(key)
		}
	}
}

func (r *second) renewed(e Event) {
	owner := strings.TrimSpace(e.Fastener + e.Item + " " + e.Thread)
	if e.Fastener != "" && e.Thread == "" && r.p.Fastener(e.Fastener) != nil && r.tight(e.Fastener) {
		f := fate{checks: "later", spends: "one-use"}
		if e.Piece == "fastener" {
			f = fate{prep: true, checks: "pass", spends: "one-use"}
		}
		r.back(e.Fastener, f)
	}
	key := owner + "|" + e.Piece
	r.due[key], r.fresh[key] = false, true
}

// openedWhole: from the smear on all is open, whatever holds the joint goes
// back, what was asked before the smear's pass is asked again, one-use parts are spent.
func (r *second) openedWhole() {
	smear := slices.IndexFunc(r.lines, func(l line) bool { return l.text == "sealant" })
	r.heatedAgain(smear)
	for i, l := range r.lines {
		if i >= smear && !l.hidden || i < smear && l.check != nil && l.pass == r.lines[smear].pass {
			r.open[l.text] = true
		}
	}
	for _, f := range r.p.Fasteners {
		if stage := slices.IndexFunc(r.lines, func(l line) bool { return l.stage != nil && l.of == f.ID }); stage > smear {
			r.back(f.ID, fate{prep: true, checks: "pass", spends: "one-use"})
		}
	}
	for i, l := range r.lines[:smear] { // threads made ready as a group before the smear: as a group again
		id, isPrep := strings.CutPrefix(l.text, "prep:")
		if !isPrep || l.of != "" {
			continue
		}
		inGroup := func(m line) bool { return m.of != "" && r.p.Fastener(m.of).Group.ID == id }
		if slices.ContainsFunc(r.lines[:smear], func(m line) bool { return m.stage != nil && inGroup(m) }) {
			continue
		}
		r.open[r.lines[i].text] = true
		for _, m := range r.lines {
			if strings.HasPrefix(m.text, "prep:") && inGroup(m) {
				r.open[m.text] = false
			}
		}
	}
	for _, p := range r.p.Parts {
		if p.OneUse {
			r.partBack(p.ID)
		}
	}
}

// nameOf is how this reading calls what was brought: a bolt of this id with
// another thread is not the sheet's.
func (r *second) nameOf(c Carried) string {
	if !c.Fastener {
		return "part:" + c.ID
	}
	if f := r.p.Fastener(c.ID); c.Thread != "" && (f == nil || f.Group.Thread.Name != c.Thread) {
		return c.ID + " " + c.Thread
	}
	return c.ID
}

// owns is whether the sheet has this very bolt.
func (r *second) owns(c Carried) bool {
	return r.p.Fastener(c.ID) != nil && r.nameOf(c) == c.ID
}

func (r *second) closedHere(c Carried) bool {
	if c.Fastener {
		return r.owns(c) && r.tight(c.ID)
	}
	l := r.line("part:" + c.ID)
	return l != nil && !r.open[l.text]
}

func (r *second) brought(list []Carried) {
	closing := r.p.Direction == spec.Close
	for name := range r.off { // another walk has had it since
		if !r.gone[name] && r.off[name].Record != "" && !slices.ContainsFunc(list, func(c Carried) bool { return r.nameOf(c) == name }) {
			delete(r.off, name)
			r.order = slices.DeleteFunc(r.order, func(n string) bool { return n == name })
			delete(r.last, name)
			r.acquitted(name)
		}
	}
	var apart []Carried
	for _, c := range list {
		name := r.nameOf(c)
		old, known := r.off[name]
		if closing && r.closedHere(c) && !(known && old.Record == c.Record) && !(c.Loose && r.loose[name] == c.Record) {
			apart = append(apart, c)
		}
		if c.Loose {
			r.loose[name] = c.Record
			continue
		}
		if known && old.Record != c.Record {
			r.gone[name], r.last[name] = false, false
		}
		if !known {
			r.order = append(r.order, name)
		}
		r.off[name] = c
	}
	r.relines()
	for _, c := range apart {
		if c.Fastener {
			r.back(c.ID, fate{prep: true, checks: "pass", spends: "one-use"})
		} else {
			r.partBack(c.ID)
			r.askAbout(c.ID)
		}
	}
	if len(apart) > 0 && r.p.Sealant != nil && !r.open["sealant"] && r.nothingHolds() {
		r.openedWhole()
	}
	r.weigh(list)
}

// weigh asks for what follows from how things came off.
func (r *second) weigh(list []Carried) {
	closing := r.p.Direction == spec.Close
	for _, c := range list { // a stripped thread found on the way apart is to be repaired, once a record
		if name := r.nameOf(c); c.Case != "" && r.owns(c) && r.cased[name] != c.Case {
			r.cased[name] = c.Case
			r.back(c.ID, fate{repair: true, prep: true, checks: "pass", spends: "one-use"})
		}
	}
	for _, c := range list {
		if c.Loose {
			continue
		}
		name, piece := r.nameOf(c), c.Name
		if c.Fastener {
			piece = "fastener"
		}
		if r.gone[name] || !closing {
			continue
		}
		var bad []string
		if c.condemnedInWords() {
			bad = []string{piece}
		} else {
			for _, p := range c.Pieces {
				if (Carried{Facts: p.Facts}).condemnedInWords() {
					bad = append(bad, c.Name+", "+p.Piece)
				}
			}
		}
		r.acquitted(name, bad...)
		for _, piece := range bad {
			key := name + "|" + piece
			if r.want[key] || r.fresh[key] {
				continue
			}
			late := r.closedHere(c)
			r.want[key], r.due[key] = true, true
			if late && c.Fastener {
				r.back(c.ID, fate{prep: true, checks: "pass", spends: "one-use"})
			} else if late {
				r.partBack(c.ID)
				r.askAbout(c.ID)
			}
			r.only[key] = true
		}
	}
}

// foundNew: on the way together, a thing that has to go somewhere before done.
func (r *second) foundNew(text, name, count string) {
	c := Carried{ID: strings.TrimPrefix(text, "part:"), Name: name, Count: 1, New: true}
	fmt.Sscan(count, &c.Count)
	if r.p.Direction != spec.Close { // it is off, and that is all
		r.met = append(r.met, line{text: text, part: &spec.Part{ID: c.ID, Count: c.Count}})
		r.sheet = append(slices.Clip(r.sheet), r.met[len(r.met)-1])
		r.open[text] = false
		r.relines()
		return
	}
	r.off[text] = c
	r.order = append(r.order, text)
	r.relines()
}

// relines puts in what the sheet has no line for: before the part it came off
// with, before the pass of the fastener it came off with, or else last.
func (r *second) relines() {
	before, tail, had := map[int][]line{}, []line{}, map[string]bool{}
	for _, name := range r.order {
		c := r.off[name]
		if !c.New || c.Fastener || r.p.Direction != spec.Close || r.rules < 4 || slices.ContainsFunc(r.sheet, func(l line) bool { return l.text == name }) {
			continue
		}
		had[name] = true
		if _, known := r.open[name]; !known {
			r.open[name] = true
		}
		at := slices.IndexFunc(r.sheet, func(l line) bool { return l.part != nil && l.text == c.Before })
		if stage := slices.IndexFunc(r.sheet, func(l line) bool { return l.stage != nil && l.of == c.Before }); at < 0 && stage >= 0 {
			at = slices.IndexFunc(r.sheet, func(l line) bool { return l.pass == r.sheet[stage].pass })
		}
		l := line{text: name, part: &spec.Part{ID: c.ID, Name: c.Name, Count: c.Count}, tail: at < 0 || r.last[name]}
		if l.tail {
			tail = append(tail, l)
		} else {
			l.pass = r.sheet[at].pass
			before[at] = append(before[at], l)
		}
	}
	for _, l := range r.lines {
		if !had[l.text] && !slices.ContainsFunc(r.sheet, func(s line) bool { return s.text == l.text }) {
			delete(r.open, l.text)
		}
	}
	r.lines = nil
	for i, l := range r.sheet {
		r.lines = append(append(r.lines, before[i]...), l)
	}
	r.lines = append(r.lines, tail...)
}

// toAnswer: the findings that are open now, and those answered here before.
func (r *second) toAnswer(list []Fault) {
	if r.p.Direction != spec.Close || r.rules < 4 {
		return
	}
	r.asked = nil
	now := map[string]Fault{}
	for text, f := range r.faults {
		if !r.open[text] {
			now[text] = f
		}
		delete(r.faults, text)
	}
	for _, f := range list {
		text := "finding:" + f.Record + "/" + f.ID
		old, answered := now[text]
		now[text] = f
		r.open[text] = !answered || old.At != f.At
		r.asked = append(r.asked, text)
	}
	for text := range r.last {
		if _, ok := now[text]; !ok && strings.HasPrefix(text, "finding:") {
			delete(r.last, text)
		}
	}
	for text := range r.open {
		if _, ok := now[text]; !ok && strings.HasPrefix(text, "finding:") {
			delete(r.open, text)
		}
	}
	r.faults = now
}

// measuredAgain: a figure in range where the finding was answers it, if it keeps
// to the limits of then.
func (r *second) measuredAgain(c *spec.Check, reading string) {
	within := func(mm float64, f Fault) bool {
		low, high := 0.0, 1e9
		fmt.Sscanf(f.Min, "%f mm", &low)
		fmt.Sscanf(f.Max, "%f mm", &high)
		return mm >= low && mm <= high && strings.HasSuffix(f.Min+f.Max, "mm")
	}
	for text, f := range r.faults {
		figures := []float64{}
		for _, word := range strings.Fields(reading) {
			if mm, err := strconv.ParseFloat(word, 64); err == nil {
				figures = append(figures, mm)
			}
		}
		if c.How.Kind == "float" {
			figures = figures[:1] // the second is the shim
		}
		keeps := f.ID == c.ID && r.p.Direction == spec.Close
		for _, mm := range figures {
			keeps = keeps && within(mm, f)
		}
		if keeps {
			r.open[text] = false
		}
	}
}

// askAbout asks again what says that it is about a part.
func (r *second) askAbout(part string) {
	for _, l := range r.lines {
		if l.check != nil {
			for _, t := range l.check.Of {
				if t.ID == part && t.Thread == "" {
					r.open[l.text] = true
				}
			}
		}
	}
}

func (c Carried) condemnedInWords() bool {
	switch cond := c.Facts["condition"]; {
	case c.Facts["again"] == "no", c.Facts["again"] == "yes":
		return c.Facts["again"] == "no"
	case cond == "missing", c.Facts["goes"] == "replace":
		return true
	case c.Facts["goes"] != "":
		return false
	default:
		return cond != "" && cond != "good" && cond != "worn" && cond != "a little dull"
	}
}

func (r *second) nothingHolds() bool {
	smear := slices.IndexFunc(r.lines, func(l line) bool { return l.text == "sealant" })
	for _, f := range r.p.Fasteners {
		if stage := slices.IndexFunc(r.lines, func(l line) bool { return l.stage != nil && l.of == f.ID }); stage > smear && r.tight(f.ID) {
			return false
		}
	}
	return true
}

func (r *second) acquitted(owner string, still ...string) {
	for key := range r.only {
		if _, piece, _ := strings.Cut(key, "|"); !slices.Contains(still, piece) && strings.HasPrefix(key, owner+"|") && !r.fresh[key] {
			delete(r.only, key)
			delete(r.used, key)
			delete(r.want, key)
			delete(r.due, key)
		}
	}
}

func (r *second) accounted(name string) {
	r.gone[name] = true
	if l := r.line(name); l != nil && l.part != nil {
		r.open[name] = false
	}
	for key := range r.only {
		if strings.HasPrefix(key, name+"|") {
			delete(r.want, key)
			delete(r.due, key)
		}
	}
}

// next is what is in hand: the first line that is open.
func (r *second) next() string {
	// Where a finding is asked: behind the measurement of the same id, or before all, unless it was put off.
	behind := func(at string) string {
		for _, text := range r.asked {
			f, place := r.faults[text], ""
			if l := r.line("check:" + f.ID); l != nil && l.check.Measure != "" && f.Min+f.Max != "" {
				place = l.text
			}
			if r.last[text] {
				place = "end"
			}
			if r.open[text] && place == at {
				return text
			}
		}
		return ""
	}
	if text := behind(""); text != "" {
		return text
	}
	for _, l := range r.lines {
		if r.open[l.text] && !l.tail {
			return l.text
		}
		if text := behind(l.text); text != "" {
			return text
		}
	}
	if text := behind("end"); text != "" {
		return text
	}
	for _, l := range r.lines {
		if r.open[l.text] {
			return l.text
		}
	}
	return ""
}

// change is what has to be done to the wrench before what is next, in words: the
// whole log read again, undone or not.
func (r *second) change(events []Event) string {
	figure := func(st *plan.Stage) string {
		target, action := st.Target, st.Action
		if st.Step == 0 && (action == spec.Loosen || action == spec.Remove) && len(st.Pass.Steps) > 1 { // set before it is let go
			target, action = st.Pass.Steps[1].Target(st.Fastener.Group), st.Pass.Steps[1].Action
		}
		if action == spec.Torque || action == spec.Verify {
			return fmt.Sprint(target.Torque.Aim().Nm())
		}
		return ""
	}
	set, on, pass := "", "", ""
	var met [][2]string // figure and socket
	for _, e := range events {
		if e.Kind == Resumed || e.Kind == Resheeted {
			set, on, pass = "", "", ""
		}
		l := r.line(e.Item)
		if e.Kind != Confirmed && e.Kind != Changed || l == nil || l.stage == nil {
			continue
		}
		if pass != l.pass.Name {
			pass, met = l.pass.Name, nil
		}
		drive := l.stage.Fastener.Group.Drive
		met = append(met, [2]string{figure(l.stage), drive})
		if f := figure(l.stage); f != "" {
			set = f
		}
		if drive != "" {
			on = drive
		}
	}
	ahead := r.line(r.next())
	for i := range r.lines {
		if ahead != nil && ahead.text == "sealant" && r.lines[i].stage != nil && r.open[r.lines[i].text] && slices.IndexFunc(r.lines, func(l line) bool { return l.text == "sealant" }) < i {
			ahead = &r.lines[i]
		}
	}
	if ahead == nil || ahead.stage == nil {
		return ""
	}
	f, drive, words := figure(ahead.stage), ahead.stage.Fastener.Group.Drive, ""
	if f != "" && f != set {
		words += "wrench "
	}
	if drive != "" && drive != on && (on != "" || words != "") {
		words += "socket "
	}
	if words != "" && pass == ahead.pass.Name {
		for _, m := range met {
			if (f == "" || f == m[0]) && (drive == "" || drive == m[1]) {
				return words + "again"
			}
		}
	}
	return words
}

// told is what was said and not taken back, of what: "A|noted|it rattles".
func (r *second) told() (list []string) {
	for _, e := range r.stood {
		words := e.Text
		switch e.Kind {
		case Pictured:
			words += " " + e.Facts["sha256"]
		case Noted, Found, Trouble, Lost, Accounted, PutOff:
		default:
			words = ""
		}
		of := e.Fastener
		if of == "" {
			of = e.Item
		}
		if l := r.line(e.Item); l != nil && l.of != "" {
			of = l.of
		}
		if words != "" {
			list = append(list, fmt.Sprintf("%s|%s|%s", of, e.Kind, words))
		}
	}
	slices.Sort(list)
	return list
}

// left is everything that keeps the walk from being done, in a fixed order.
func (r *second) left() []string {
	var list []string
	for text, open := range r.open {
		if open {
			list = append(list, text)
		}
	}
	for key, due := range r.due {
		if due {
			list = append(list, "new "+key)
		}
	}
	for name, c := range r.off {
		_, placed := r.place(c)
		switch {
		case r.gone[name]:
		case !placed && !slices.ContainsFunc(r.piecesOf(name), func(key string) bool { return r.fresh[key] }):
			list = append(list, fmt.Sprintf("left %s", name))
		case placed && !c.Fastener && c.Count > r.line("part:"+c.ID).part.Count:
			list = append(list, fmt.Sprintf("left %s", name))
		}
	}
	slices.Sort(list)
	return list
}

func (r *second) piecesOf(owner string) (keys []string) {
	for key := range r.fresh {
		if strings.HasPrefix(key, owner+"|") {
			keys = append(keys, key)
		}
	}
	return keys
}

func (r *second) place(c Carried) (string, bool) {
	if c.Fastener {
		return c.ID, r.owns(c)
	}
	return c.ID, r.line("part:"+c.ID) != nil
}
