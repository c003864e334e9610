package draft

import (
	"slices"
	"strings"

	"evenpull/spec"
	"evenpull/spec/sheet"
)

// groupsOf are the groups a pass is over, by their ids.
func (d Draft) groupsOf(at sheet.Path) []string {
	var list []string
	named := d.text.Strings(sheet.At(at, "groups"))
	bolts := d.text.Strings(sheet.At(at, "fasteners"))
	for _, g := range d.groups() {
		in := slices.Contains(named, g)
		for _, id := range d.text.Keys(sheet.At("group", g, "at")) {
			in = in || slices.Contains(bolts, id)
		}
		if in {
			list = append(list, g)
		}
	}
	return list
}

// whichText is what a pass is over, as it would be typed.
func (d Draft) whichText(at sheet.Path) string {
	named := d.text.Strings(sheet.At(at, "groups"))
	if len(named) == len(d.groups()) {
		return "all"
	}
	return strings.Join(named, ", ")
}

// byCap stands behind a rule that orders caps.
const byCap = " by cap"

// orders are the rules there are for a pass, and the orders that the sheet names.
func (d Draft) orders(at sheet.Path) []string {
	list := slices.Clone(spec.Orders)
	if d.anyCaps(at) {
		for _, rule := range spec.Orders {
			list = append(list, rule+byCap)
		}
	}
	return append(list, d.text.Keys(sheet.At("order"))...)
}

// anyCaps reports whether bolts of a pass hold caps together.
func (d Draft) anyCaps(at sheet.Path) bool {
	return slices.ContainsFunc(d.groupsOf(at), func(g string) bool { return d.text.Has(sheet.At("group", g, "caps")) })
}

// orderText is the order of a pass, as it would be typed.
func (d Draft) orderText(at sheet.Path) string {
	if rule := d.str(at, "order"); rule != "" {
		if d.str(at, "by") == spec.ByCap {
			rule += byCap
		}
		return rule
	}
	return strings.Join(d.text.Strings(sheet.At(at, "order")), " ")
}

// figureText is what a pass does, as it would be typed.
func (d Draft) figureText(at sheet.Path) string {
	if each := sheet.At(at, "each"); d.text.Has(each) {
		var list []string
		for i := range d.text.Len(each) {
			list = append(list, d.stepText(sheet.At(each, i)))
		}
		return strings.Join(list, ", ")
	}
	return d.stepText(at)
}

func (d Draft) stepText(at sheet.Path) string {
	for _, a := range spec.Actions {
		key := sheet.At(at, string(a))
		if groups := d.text.Keys(key); groups != nil {
			var list []string
			for _, g := range groups {
				list = append(list, g+" "+step{action: a, figure: d.str(key, g)}.text())
			}
			return strings.Join(list, ", ")
		}
		if d.text.Has(key) {
			return step{action: a, figure: d.str(key), ceiling: d.str(at, "ceiling")}.text()
		}
	}
	return ""
}

// setFigure makes a pass do what is typed.
func (d Draft) setFigure(at sheet.Path, text string) (Draft, *Refusal) {
	if d.text.Has(sheet.At(at, "each")) {
		return d.setEach(at, text)
	}
	if byGroup, ok := d.splitByGroup(text); ok {
		return d.setByGroup(at, byGroup)
	}
	steps, no := readSteps(text, d.Opens() || d.str(at, "direction") == string(spec.Open) || d.text.Has(sheet.At(at, "loosen")))
	switch {
	case no != nil:
		return d, no
	case len(steps) > 1:
		return d, refuse("one figure for this pass; make another pass for the next", "%s does several things", quote(text))
	}
	return d.setStep(at, steps[0])
}

// setStep writes one step over what a pass did before.
func (d Draft) setStep(at sheet.Path, to step) (Draft, *Refusal) {
	s, err := d.text, error(nil)
	for _, a := range spec.Actions {
		if a != to.action && err == nil {
			s, err = s.Remove(sheet.At(at, string(a)))
		}
	}
	if to.ceiling == "" && err == nil {
		s, err = s.Remove(sheet.At(at, "ceiling"))
	}
	for _, e := range to.entries() {
		if err == nil {
			s, err = s.Set(at, e)
		}
	}
	return d.written(s, err)
}

func (d Draft) setEach(at sheet.Path, text string) (Draft, *Refusal) {
	steps, no := readSteps(text, false)
	if no != nil {
		return d, no
	}
	return d.written(d.text.Set(at, sheet.Entry{Key: "each", Value: eachValue(steps)}))
}

func eachValue(steps []step) string {
	var list []string
	for _, s := range steps {
		var fields []string
		for _, e := range s.entries() {
			fields = append(fields, e.Key+" = "+e.Value)
		}
		list = append(list, "{ "+strings.Join(fields, ", ")+" }")
	}
	return "[" + strings.Join(list, ", ") + "]"
}

// splitByGroup reads "rim 4 N·m, main 8 N·m" into figures by group.
func (d Draft) splitByGroup(text string) (map[string]string, bool) {
	byGroup := map[string]string{}
	for _, piece := range splitList(text) {
		name, figure, ok := strings.Cut(strings.Replace(piece, "=", " ", 1), " ")
		if !ok || !slices.Contains(d.groups(), name) {
			return nil, false
		}
		byGroup[name] = strings.TrimSpace(figure)
	}
	return byGroup, len(byGroup) > 0
}

func (d Draft) setByGroup(at sheet.Path, byGroup map[string]string) (Draft, *Refusal) {
	var action spec.Action
	var fields []string
	for _, g := range d.groups() {
		text, ok := byGroup[g]
		if !ok {
			continue
		}
		s, no := readStep(text, d.Opens())
		switch {
		case no != nil:
			return d, no
		case action == "":
			action = s.action
		case action != s.action:
			return d, refuse("make two passes", "%s and %s in one pass", action, s.action)
		}
		fields = append(fields, sheet.Key(g)+" = "+sheet.Text(s.figure))
	}
	next, no := d.setStep(at, step{action: action, figure: "x"})
	if no != nil {
		return d, no
	}
	return next.written(next.text.Set(at, sheet.Entry{Key: string(action), Value: "{ " + strings.Join(fields, ", ") + " }"}))
}

// setOrder gives a pass a rule, or a list of bolts. The words may name a list with spaces,
// commas or both between.
func (d Draft) setOrder(at sheet.Path, text string) (Draft, *Refusal) {
	rule, caps := strings.CutSuffix(strings.ToLower(text), byCap)
	value, by := sheet.Text(rule), ""
	switch named := d.text.Keys(sheet.At("order")); {
	case text == "":
		s, err := d.text.Remove(sheet.At(at, "order"))
		if err == nil {
			s, err = s.Remove(sheet.At(at, "by"))
		}
		return d.written(s, err)
	case slices.Contains(named, text):
		value = sheet.Text(text)
	case !slices.Contains(spec.Orders, rule):
		ids := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' })
		if len(ids) == 1 && len(d.Bolts()) > 1 {
			return d, refuse("use one of: "+strings.Join(d.orders(at), ", ")+"; or name every bolt: M3 M4 M2 M5", "there is no order %s", quote(text))
		}
		value = sheet.Texts(d.asSpelt(ids))
	case caps:
		by = spec.ByCap
	}
	s, err := d.text.Set(at, sheet.Entry{Key: "order", Value: value})
	switch {
	case err != nil:
	case by != "":
		s, err = s.Set(at, sheet.Entry{Key: "by", Value: sheet.Text(by), Comment: "the bolts of a cap follow each other"})
	default:
		s, err = s.Remove(sheet.At(at, "by"))
	}
	return d.written(s, err)
}

// asSpelt gives bolts as the file spells them.
func (d Draft) asSpelt(ids []string) []string {
	bolts := d.Bolts()
	list := slices.Clone(ids)
	for i, id := range ids {
		for _, b := range bolts {
			if strings.EqualFold(b.ID, id) {
				list[i] = b.ID
			}
		}
	}
	return list
}

// addPasses writes the passes that figures of a shape make, over all bolts.
func (d Draft) addPasses(text string) (Draft, string, *Refusal) {
	steps, no := readSteps(text, d.shape == Loosen)
	if no == nil && d.shape == Stretch && !slices.ContainsFunc(steps, func(s step) bool { return s.action == spec.Stretch }) {
		no = refuse("add the stretch: 0.12 mm to 0.15 mm", "%s has no stretch in it", quote(text))
	}
	if no == nil && d.shape == EachOne && len(steps) < 2 {
		no = refuse("name all of them: loosen 90°, 20 N·m, 90°", "%s is one thing", quote(text))
	}
	if no != nil {
		return d, "", no
	}
	order := d.usualOrder(d.shape == Loosen)
	caps := slices.ContainsFunc(d.groups(), func(g string) bool { return d.text.Has(sheet.At("group", g, "caps")) })
	s, err := d.text, error(nil)
	var names []string
	for _, p := range passesOf(d.shape, steps, d.passNames()) {
		entries := []sheet.Entry{{Key: "name", Value: sheet.Text(p.name)}}
		if d.bothWays() {
			entries = append(entries, sheet.Entry{Key: "direction", Value: sheet.Text(string(d.way()))})
		}
		wait := p.steps[0].action == spec.Wait
		if !wait {
			entries = append(entries, sheet.Entry{Key: "groups", Value: sheet.Texts(d.groups())})
		}
		if len(p.steps) > 1 {
			entries = append(entries, sheet.Entry{Key: "each", Value: eachValue(p.steps), Comment: "all on one bolt before the next"})
		} else {
			entries = append(entries, p.steps[0].entries()...)
		}
		if !wait {
			entries = append(entries, sheet.Entry{Key: "order", Value: sheet.Text(order), Comment: "listed, cross, spiral, reverse, or a list of bolts"})
			if caps {
				entries = append(entries, sheet.Entry{Key: "by", Value: sheet.Text(spec.ByCap), Comment: "the bolts of a cap follow each other"})
			}
			names = append(names, p.name)
		}
		if err == nil {
			s, err = s.AddEntry("pass", s.Len(sheet.At("pass")), d.block("pass", s, entries))
		}
	}
	next, no := d.written(s, err)
	if no != nil {
		return d, "", no
	}
	for i := d.text.Len(sheet.At("pass")); i < next.text.Len(sheet.At("pass")); i++ {
		if no := next.refused(figurePaths(sheet.At("pass", i))); no != nil {
			return d, "", no
		}
	}
	next.shape, next.fresh = "", names
	return next, "+pass/order", nil
}

// way is the direction of new passes: the shape says it.
func (d Draft) way() spec.Direction {
	if d.shape == Loosen {
		return spec.Open
	}
	return spec.Close
}

// usualOrder is proposed where nobody has said: outwards, or inwards when loosening.
func (d Draft) usualOrder(loosening bool) string {
	switch n := len(d.Bolts()); {
	case n < 3:
		return "listed"
	case loosening:
		return "reverse"
	case d.onCircle():
		return "cross"
	}
	return "spiral"
}

// onCircle reports whether the bolts lie on one circle and no rows.
func (d Draft) onCircle() bool {
	bolts := d.Bolts()
	x, y := 0.0, 0.0
	for _, b := range bolts {
		x, y = x+b.X/float64(len(bolts)), y+b.Y/float64(len(bolts))
	}
	least, most := 0.0, 0.0
	for i, b := range bolts {
		r := (b.X-x)*(b.X-x) + (b.Y-y)*(b.Y-y)
		if i == 0 || r < least {
			least = r
		}
		most = max(most, r)
	}
	return len(bolts) > 3 && least > 0.8*most
}

// PassesOf are the names of the passes that a question is about: its own, or those just made.
func (d Draft) PassesOf(q Question) []string {
	names := d.passNames()
	switch kind, _, _ := strings.Cut(q.Thing, "/"); {
	case kind == "pass" && indexOf(q.Thing) < len(names):
		return names[indexOf(q.Thing) : indexOf(q.Thing)+1]
	case kind == "+pass":
		return d.fresh
	}
	return nil
}

// BoltsOf are the bolts of the pass that a question is about, as the file lists them.
func (d Draft) BoltsOf(q Question) []string {
	var ids []string
	for _, name := range d.PassesOf(q) {
		at := sheet.At("pass", slices.Index(d.passNames(), name))
		bolts, groups := d.text.Strings(sheet.At(at, "fasteners")), d.text.Strings(sheet.At(at, "groups"))
		for _, b := range d.Bolts() {
			if (slices.Contains(bolts, b.ID) || slices.Contains(groups, b.Group)) && !slices.Contains(ids, b.ID) {
				ids = append(ids, b.ID)
			}
		}
	}
	return ids
}
