package spec

import "fmt"

// Change is one difference between two versions of a sheet.
type Change struct {
	Of       string // "group main", "pass Final"
	Key      string // what of it; empty: it is on one of the two alone
	Was, Now string // in the sheet's words; of what is on one alone, Now or Was is empty
}

// Text gives it in one line: "group main, thread: was M8x1, now M8x1.25".
func (c Change) Text() string {
	text := c.Of
	switch {
	case c.Key == "" && c.Was == "":
		text = "new: " + text
	case c.Key == "":
		text = "gone: " + text
	case c.Was == "":
		text = fmt.Sprintf("%s, %s: now %s", c.Of, c.Key, c.Now)
	case c.Now == "":
		text = fmt.Sprintf("%s, %s: was %s, no longer said", c.Of, c.Key, c.Was)
	default:
		text = fmt.Sprintf("%s, %s: was %s, now %s", c.Of, c.Key, c.Was, c.Now)
	}
	return Printable(text)
}

// entry is something of its own on a sheet, with all that is said of it.
type entry struct {
	of      string
	sayings []saying
}

// entries are all that two versions of a sheet can differ in, in the order of the manual.
func (p *Procedure) entries() []entry {
	head := entry{"the procedure", []saying{{key: "engine", text: p.Engine}, {key: "source", text: p.Source}}}
	list := []entry{head}
	add := func(kind, name string, sayings []saying) { list = append(list, entry{kind + " " + name, sayings}) }
	for _, c := range p.Cautions {
		add("caution", c, nil)
	}
	if p.Sealant != nil {
		list = append(list, entry{"the sealant", p.Sealant.sayings()})
	}
	if p.Cover != nil {
		list = append(list, entry{"the cover", p.Cover.sayings()})
	}
	for _, g := range p.Groups {
		add("group", g.ID, g.sayings())
	}
	for _, f := range p.Fasteners {
		add("fastener", f.ID, f.sayings())
	}
	for i, pass := range p.Passes {
		after := "the first pass"
		if i > 0 {
			after = "after " + p.Passes[i-1].Name
		}
		add("pass", pass.Name, append([]saying{{key: "comes", text: after}}, pass.sayings()...))
	}
	for _, c := range p.Callouts {
		add("callout", c.ID, c.sayings())
	}
	for _, c := range p.Checks {
		add("check", c.ID, c.sayings())
	}
	for _, part := range p.Parts {
		add("part", part.ID, part.sayings())
	}
	return list
}

// Changes lists what differs between two versions of a sheet: first what is no longer
// there, then what is new or says something else, in the order of the newer one.
func Changes(old, now *Procedure) []Change {
	var list []Change
	was, is := byName(old.entries()), byName(now.entries())
	for _, e := range old.entries() {
		if _, still := is[e.of]; !still {
			list = append(list, Change{Of: e.of, Was: e.of})
		}
	}
	for _, e := range now.entries() {
		before, known := was[e.of]
		if !known {
			list = append(list, Change{Of: e.of, Now: e.of})
			continue
		}
		list = append(list, differing(before, e)...)
	}
	return list
}

func byName(list []entry) map[string]entry {
	by := make(map[string]entry, len(list))
	for _, e := range list {
		by[e.of] = e
	}
	return by
}

// differing compares what two versions say of one thing, key by key.
func differing(old, now entry) (list []Change) {
	was := map[string]string{}
	for _, s := range old.sayings {
		was[s.key] = s.text
	}
	for _, s := range now.sayings {
		if was[s.key] != s.text {
			list = append(list, Change{now.of, s.key, was[s.key], s.text})
		}
		delete(was, s.key)
	}
	for _, s := range old.sayings { // a figure of a group that is no longer in the pass
		if text := was[s.key]; text != "" {
			list = append(list, Change{now.of, s.key, text, ""})
		}
	}
	return list
}
