package walk

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/read"
)

// Here the second reading goes over to another sheet: it holds every line of the new one
// against the old, in its own words, and puts together anew what is open and due.

// saysOf is all that the work at a fastener rests on but its figures.
func saysOf(f *spec.Fastener) string {
	g := f.Group
	text := fmt.Sprint(f.ID, f.X, f.Y, g.ID, g.Thread.Name, g.Class.Name, g.Nut.Name, g.LeftHand, g.Friction, g.Bore, "|", g.Drive, "|", g.OneUse, "|", g.Prep, "|", g.PrepEach, "|", g.Caution)
	for _, w := range g.With {
		text += fmt.Sprint("|", w.Part, w.Count, w.OneUse)
	}
	return text
}

func saysOfPart(p *spec.Part) string {
	return fmt.Sprint(p.Name, p.Kind, p.Count, p.OneUse, nameOfPass(p.Before), "|", nameOfPass(p.After), "|", p.Where, "|", p.Caution)
}

func nameOfPass(p *spec.Pass) string {
	if p == nil {
		return ""
	}
	return p.Name
}

// says is what the answer to a line rests on.
func (r *second) says(l line) string {
	switch {
	case l.stage != nil:
		return fmt.Sprint(l.stage.Action, l.stage.TargetText(), l.pass.Caution, "|", l.pass.Prepare, "|", saysOf(l.stage.Fastener))
	case l.check != nil:
		c := l.check
		text := fmt.Sprint(c.Ask, c.Measure, c.How.Kind, c.Min, c.Max, nameOfPass(c.Before), "|", nameOfPass(c.After), "|", c.Caution, c.Of)
		for _, f := range c.NoRestarts {
			text += f.ID + " "
		}
		return text
	case l.part != nil:
		return saysOfPart(l.part)
	case l.say != nil:
		return fmt.Sprint(l.say.Say, l.say.Kind, nameOfPass(l.say.Before), "|", l.say.Caution, "|", l.say.To, l.say.Within)
	case l.of != "":
		return saysOf(r.p.Fastener(l.of))
	}
	if id, ok := strings.CutPrefix(l.text, "prep:"); ok {
		text := ""
		for _, f := range r.p.Group(id).Members {
			text += saysOf(f)
		}
		return text
	}
	if l.text == "sealant" {
		return r.p.Sealant.Name + " " + l.pass.Name
	}
	return ""
}

// stillStand are the lines of another sheet that stand as they do here.
func (r *second) stillStand(n *second) map[string]bool {
	old := map[string]int{}
	for i, l := range r.sheet {
		if l.pass != nil {
			old[l.text] = i
		}
	}
	acts := func(l line) bool {
		return l.stage != nil || l.wait || l.text == "sealant" || l.part != nil && (l.part.Before != nil || l.part.After != nil) || l.say != nil && l.say.Kind == "heat"
	}
	same := func(l line) bool {
		i, known := old[l.text]
		if known && l.wait && r.sheet[i].wait {
			return l.pass.Wait <= r.sheet[i].pass.Wait
		}
		return known && r.says(r.sheet[i]) == n.says(l)
	}
	keep := map[string]bool{}
	for j, l := range n.lines {
		keep[l.text] = same(l)
		if l.stage == nil && !l.wait && l.text != "sealant" {
			continue
		}
		for _, before := range n.lines[:j] {
			if i, known := old[before.text]; acts(before) && (!known || i > old[l.text] || before.stage == nil && !same(before)) {
				keep[l.text] = false
			}
		}
	}
	for j, l := range n.lines { // what follows a heat stands with it, and it with that
		for _, heat := range heatsFor(n.lines, j) {
			keep[l.text] = keep[l.text] && keep[heat]
		}
		for _, heat := range heatsFor(n.lines, j) {
			keep[heat] = keep[l.text]
		}
	}
	return keep
}

var threaded = regexp.MustCompile(`^(.*) (M[0-9x.]+)$`)

// newName is what a bolt that was brought, or a piece of it, is called by another sheet.
func (r *second) newName(n *second, name string) string {
	id, thread := name, ""
	if m := threaded.FindStringSubmatch(name); m != nil {
		id, thread = m[1], m[2]
	} else if f := r.p.Fastener(name); f != nil {
		thread = f.Group.Thread.Name
	}
	if f := n.p.Fastener(id); thread == "" || f != nil && f.Group.Thread.Name == thread {
		return id
	}
	return id + " " + thread
}

func renamed[V any](m map[string]V, to func(string) string) map[string]V {
	out := map[string]V{}
	for key, v := range m {
		out[to(key)] = v
	}
	return out
}

// lately are the sheets the second reading last came to: it comes to them after every event.
var lately = struct {
	sync.Mutex
	read map[string]*spec.Procedure
}{}

func readLately(text string) *spec.Procedure {
	lately.Lock()
	defer lately.Unlock()
	p, known := lately.read[text]
	if !known {
		p, _ = read.Recorded("test.toml", []byte(text))
		if len(lately.read)%32 == 0 {
			lately.read = map[string]*spec.Procedure{}
		}
		lately.read[text] = p
	}
	return p
}

// resheeted goes over to another sheet.
func (r *second) resheeted(text string) {
	p := readLately(text)
	n := &second{p: p, open: map[string]bool{}, due: map[string]bool{}, want: map[string]bool{}}
	n.layOut(plan.Of(p), r.laid)
	keep := r.stillStand(n)

	var again []string // what was done by a line that does not stand
	closing := p.Direction == spec.Close
	opened := closing && p.Sealant != nil && !keep["sealant"] && r.p.Sealant != nil && !r.open["sealant"]
	for _, f := range p.Fasteners {
		if r.p.Fastener(f.ID) == nil || !r.tight(f.ID) {
			continue
		}
		if closing && p.Sealant != nil && !keep["sealant"] && behindSmear(n.lines, f.ID) {
			opened = true
		}
		if slices.ContainsFunc(r.lines, func(l line) bool { return l.stage != nil && l.of == f.ID && !r.open[l.text] && !keep[l.text] }) {
			again = append(again, f.ID)
		}
	}
	for _, part := range p.Parts {
		if l := r.line("part:" + part.ID); closing && l != nil && !r.open[l.text] && !keep[l.text] {
			again = append(again, l.text)
		}
	}

	open := r.openBy(n, keep)
	r.namesBy(n, keep)
	r.piecesBy(n)
	r.p, r.open, r.lines = p, open, nil
	r.sheet = n.lines
	for _, l := range r.met {
		if !slices.ContainsFunc(n.lines, func(x line) bool { return x.text == l.text }) {
			r.sheet = append(slices.Clip(r.sheet), l)
		}
	}
	r.relines()
	if opened {
		r.openedWhole()
	}
	for _, id := range again {
		if part, ok := strings.CutPrefix(id, "part:"); ok {
			r.partBack(part)
			r.askAbout(part)
		} else if !opened || !behindSmear(n.lines, id) {
			r.back(id, fate{slacken: true, prep: true, checks: "pass", spends: "one-use"})
		}
	}
	var brought []Carried
	for _, name := range r.order {
		if r.off[name].Record != "" { // not found in this walk
			brought = append(brought, r.off[name])
		}
	}
	r.weigh(brought)
}

func behindSmear(lines []line, id string) bool {
	smear := slices.IndexFunc(lines, func(l line) bool { return l.text == "sealant" })
	return slices.IndexFunc(lines, func(l line) bool { return l.stage != nil && l.of == id }) > smear
}

// openBy is what is open of another sheet before anything starts again.
func (r *second) openBy(n *second, keep map[string]bool) map[string]bool {
	open := map[string]bool{}
	for _, l := range n.lines {
		switch was := r.open[l.text]; {
		case keep[l.text], l.hidden && was:
			open[l.text] = was
		default:
			open[l.text] = !l.hidden
		}
	}
	for text, was := range r.open {
		onOld := slices.ContainsFunc(r.sheet, func(l line) bool { return l.text == text && l.pass != nil })
		if _, onNew := open[text]; !onNew && (!onOld || r.off[text].New) {
			open[text] = was
		}
	}
	return open
}

// namesBy calls what was brought as another sheet does, and asks again for what was
// said not to go back where that sheet has a place for it.
func (r *second) namesBy(n *second, keep map[string]bool) {
	to := func(name string) string { return r.newName(n, name) }
	takes := func(x *second, name string) bool {
		if strings.HasPrefix(name, "part:") {
			return slices.ContainsFunc(x.p.Parts, func(p *spec.Part) bool { return "part:"+p.ID == name })
		}
		return slices.ContainsFunc(x.p.Fasteners, func(f *spec.Fastener) bool { return f.ID == name })
	}
	for name := range r.off {
		if has := takes(n, to(name)); has && !(takes(r, name) && (!strings.HasPrefix(name, "part:") || keep[name])) {
			r.gone[name] = false
		}
	}
	off := map[string]Carried{}
	for name, c := range r.off {
		if m := threaded.FindStringSubmatch(to(name)); m != nil && c.Fastener {
			c.Thread = m[2]
		} else if f := n.p.Fastener(c.ID); c.Fastener && f != nil {
			c.Thread = f.Group.Thread.Name
		}
		off[to(name)] = c
	}
	r.off, r.gone, r.last, r.loose, r.cased = off, renamed(r.gone, to), renamed(r.last, to), renamed(r.loose, to), renamed(r.cased, to)
	for i, name := range r.order {
		r.order[i] = to(name)
	}
	maps.DeleteFunc(r.cased, func(name, _ string) bool { return !takes(n, name) })
}

// piecesBy: whether a piece has to be new is for the sheet of now to say, and for what
// was used up; what was recorded new stays so where its owner means the same.
func (r *second) piecesBy(n *second) {
	has := map[string]bool{}
	for _, l := range n.lines {
		if n.p.Direction == spec.Close && l.stage != nil {
			has[l.of+"|fastener"] = true
			for _, w := range l.stage.Fastener.Group.With {
				if w.OneUse {
					has[l.of+"|"+w.Part] = true
				}
			}
		}
	}
	for _, p := range n.p.Parts {
		has["part:"+p.ID+"|"+p.Name] = n.p.Direction == spec.Close
	}
	for name, c := range r.off {
		if c.New && !c.Fastener && r.rules > 3 && n.p.Direction == spec.Close && !slices.ContainsFunc(n.p.Parts, func(p *spec.Part) bool { return p.ID == c.ID }) {
			has[name+"|"+c.Name] = true
		}
	}
	want, fresh, used := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for key := range n.want {
		want[key] = true
	}
	for key, is := range r.fresh {
		owner, piece, _ := strings.Cut(key, "|")
		switch _, listed := r.listedBefore(owner); {
		case !is:
		case has[key] && r.ownerSays(owner) == n.ownerSays(owner):
			fresh[key] = true
		case !has[key] && listed:
			fresh[r.newName(n, owner)+"|"+piece] = true
		case !has[key] && !has[r.newName(n, owner)+"|"+piece]:
			fresh[key] = true
		}
	}
	for key := range r.used {
		if has[key] && !r.only[key] {
			want[key], used[key] = true, true
		}
	}
	r.want, r.fresh, r.used, r.only, r.due = want, fresh, used, map[string]bool{}, map[string]bool{}
	for key := range want {
		r.due[key] = !fresh[key]
	}
}

// listedBefore reports whether a bolt was on the sheet that held.
func (r *second) listedBefore(owner string) (*spec.Fastener, bool) {
	f := r.p.Fastener(owner)
	return f, f != nil
}

// ownerSays is what is said of a thing; of what is on no sheet, nothing.
func (r *second) ownerSays(owner string) string {
	if f := r.p.Fastener(owner); f != nil {
		return saysOf(f)
	}
	for _, p := range r.p.Parts {
		if "part:"+p.ID == owner {
			return saysOfPart(p)
		}
	}
	return ""
}
