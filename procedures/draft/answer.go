package draft

import (
	"slices"
	"strconv"
	"strings"

	"evenpull/spec/near"
	"evenpull/spec/sheet"
)

// Answer takes an answer to a question, empty to take back what stands there. It gives the
// sheet with it and the question to go on with, or why it is not taken; then the draft is
// as it was.
func (d Draft) Answer(id, text string) (next Draft, then string, no *Refusal) {
	all := d.Questions()
	i := slices.IndexFunc(all, func(q Question) bool { return q.ID == id })
	if i < 0 {
		return d, id, refuse("go on with another", "%s is not asked here", quote(id))
	}
	q := all[i]
	text = strings.TrimSpace(text)
	if q.Kind == Choice && text != "" {
		if text, no = oneOf(q.Choices, text); no != nil {
			return d, id, no
		}
	}
	switch asked := text == "" && q.Answer == "" && q.Must; {
	case asked && q.Kind != Choice && q.Kind != Places:
		return d, id, refuse("write "+q.Hint, "%s has to be answered", q.Ask)
	case asked && q.Kind == Places:
		return d, id, refuse(layoutRemedy, "%s has to be answered", q.Ask)
	case asked:
		return d, id, refuse("write one of: "+strings.Join(q.Choices, ", "), "%s has to be answered", q.Ask)
	case text == q.Answer && q.Kind != Add && q.Kind != Save && q.ID != "+pass/shape":
		return d, all[min(i+1, len(all)-1)].ID, nil
	}
	if next, then, no = d.answer(q, text); no != nil {
		return d, id, no
	}
	next.asked = nil
	next.asked = next.Questions()
	if !slices.ContainsFunc(next.asked, func(o Question) bool { return o.ID == then }) {
		then = next.after(q, all[min(i+1, len(all)-1)].ID)
	}
	return next, then, nil
}

// Enter is what going on answers where this was typed: what stands there, or what is
// proposed, if nothing was.
func (q Question) Enter(typed string) string {
	switch {
	case typed != "" || q.Kind == Places:
		return typed
	case q.Answer != "":
		return q.Answer
	}
	return q.Proposal
}

// oneOf finds a choice by its word or the beginning of it.
func oneOf(choices []string, text string) (string, *Refusal) {
	var begins []string
	for _, c := range choices {
		if strings.EqualFold(c, text) {
			return c, nil
		}
		if len(text) <= len(c) && strings.EqualFold(c[:len(text)], text) {
			begins = append(begins, c)
		}
	}
	if len(begins) == 1 {
		return begins[0], nil
	}
	remedy := "write one of: " + strings.Join(choices, ", ")
	if meant := near.Best(text, choices); meant != "" && len(begins) == 0 {
		remedy = "did you mean " + meant + "? " + remedy
	}
	return "", refuse(remedy, "%s is none of the answers", quote(text))
}

// after is the question behind one that was answered, wherever it is now.
func (d Draft) after(q Question, then string) string {
	all := d.Questions()
	if i := slices.IndexFunc(all, func(o Question) bool { return o.ID == q.ID }); i >= 0 {
		return all[min(i+1, len(all)-1)].ID
	}
	if slices.ContainsFunc(all, func(o Question) bool { return o.ID == then }) {
		return then
	}
	kind, _, _ := strings.Cut(q.Thing, "/") // the thing is gone
	for _, o := range all {
		if o.Thing == "+"+strings.TrimPrefix(kind, "+") {
			return o.ID
		}
	}
	return all[0].ID
}

func (d Draft) answer(q Question, text string) (Draft, string, *Refusal) {
	kind, _, _ := strings.Cut(q.Thing, "/")
	key := strings.TrimPrefix(q.ID, q.Thing+"/")
	at := tableOf(q.Thing)
	switch {
	case q.Kind == Save:
		return d, q.ID, nil
	case q.ID == "+pass/shape":
		if d.fresh = nil; text == "none" || text == "" {
			d.shape = ""
			return d, "", nil
		}
		d.shape = text
		return d, "+pass/figures", nil
	case q.Kind == Add && text == "":
		d.shape = ""
		return d, "", nil
	case strings.HasPrefix(q.ID, "+pass/"):
		return d.forFresh(q, text)
	case q.Kind == Add:
		return d.added(q.ID, text)
	case strings.HasPrefix(q.ID, "caution/"):
		return d.item(sheet.At("procedure", "cautions"), q.ID[len("caution/"):], text)
	case key == "more":
		return d.asking(q.Thing, text == "yes"), "", nil
	case key == "keep":
		return d.change(q.Thing, text)
	case key == "at":
		next, no := d.setPlaces(at[1], text)
		return next, "", no
	case key == "when":
		next, no := d.setWhen(at, text)
		return next, "", no
	case strings.HasPrefix(key, "with/"):
		return d.setPiece(sheet.At(at, "with", key[len("with/"):]), text)
	}
	var next Draft
	var no *Refusal
	switch {
	case kind == "pass" && key == "figure":
		next, no = d.setFigure(at, text)
	case kind == "pass" && key == "order":
		next, no = d.setOrder(at, text)
	case kind == "pass" && key == "groups":
		next, no = d.setGroups(at, text)
	default:
		next, no = d.setField(q, at, kind, key, text)
	}
	if no == nil {
		no = next.refused(next.pathsOf(q))
	}
	return next, "", no
}

// written takes an edit of the text.
func (d Draft) written(s *sheet.Sheet, err error) (Draft, *Refusal) {
	if err != nil {
		return d, refuse("write it in an editor", "the file cannot be changed here: %s", err)
	}
	return d.with(s), nil
}

// refused is what is wrong on the lines of some places, where that keeps the sheet from
// being read. What is said against it as a whole may be mended by answers to come.
func (d Draft) refused(paths []sheet.Path) *Refusal {
	if d.procedure != nil {
		return nil
	}
	for _, p := range d.concerning(paths).Errors() {
		return &Refusal{p.What, p.Remedy}
	}
	return nil
}

var fieldsOf = map[string][]field{
	"procedure": jointFields, "group": groupFields, "pass": passFields, "check": checkFields,
	"part": partFields, "callout": calloutFields, "sealant": sealantFields,
}

// columns of the = in new tables.
var columns = map[string]int{"procedure": 10, "group": 9, "pass": 8, "check": 8, "part": 8, "callout": 7, "sealant": 10}

// setField gives a key what is answered, or takes it out.
func (d Draft) setField(q Question, at sheet.Path, kind, key, text string) (Draft, *Refusal) {
	f, _ := fieldOf(fieldsOf[kind], key)
	if text == "" && f.must {
		return d, refuse("write "+f.hint, "%s has to be answered", f.ask)
	}
	if text == "" || f.kind == flag && text == "no" {
		return d.written(d.text.Remove(sheet.At(at, key)))
	}
	value := sheet.Text(text)
	switch f.kind {
	case flag:
		value = "true"
	case count:
		n, err := strconv.Atoi(text)
		if err != nil {
			return d, refuse("write a whole number, such as 2", "%s: %s is no number", f.ask, quote(text))
		}
		value = strconv.Itoa(n)
	case list:
		value = sheet.Texts(splitList(text))
	}
	next, no := d.written(d.text.Set(at, sheet.Entry{Key: key, Value: value, Comment: f.comment, Column: columns[kind]}))
	if no == nil && kind == "pass" && key == "name" {
		return next.renamed(q.Answer, text)
	}
	return next, no
}

// renamed has everything that named a pass follow it.
func (d Draft) renamed(was, is string) (Draft, *Refusal) {
	s, err := d.text, error(nil)
	follow := func(at sheet.Path) {
		for _, key := range []string{"before", "after"} {
			if name, ok := s.String(sheet.At(at, key)); ok && name == was && err == nil {
				s, err = s.Set(at, sheet.Entry{Key: key, Value: sheet.Text(is)})
			}
		}
	}
	for _, list := range []string{"check", "part", "callout"} {
		for i := range s.Len(sheet.At(list)) {
			follow(sheet.At(list, i))
		}
	}
	follow(sheet.At("sealant"))
	return d.written(s, err)
}

// item changes a text of a list, or takes it out.
func (d Draft) item(at sheet.Path, index, text string) (Draft, string, *Refusal) {
	var next Draft
	var no *Refusal
	if text == "" {
		next, no = d.written(d.text.Remove(sheet.At(at, index)))
	} else {
		next, no = d.written(d.text.Set(at, sheet.Entry{Key: index, Value: sheet.Text(text)}))
	}
	if no == nil {
		no = next.refused([]sheet.Path{sheet.At(at, index)})
	}
	return next, "", no
}

// change takes a thing out, or has a pass come earlier or later.
func (d Draft) change(thing, what string) (Draft, string, *Refusal) {
	at := tableOf(thing)
	d = d.asking(thing, false)
	var s *sheet.Sheet
	var err error
	switch what {
	case "take out":
		s, err = d.text.Remove(at)
	case "earlier":
		s, err = d.text.Swap("pass", indexOf(thing)-1)
	case "later":
		s, err = d.text.Swap("pass", indexOf(thing))
	default:
		return d, "", nil
	}
	next, no := d.written(s, err)
	return next, "", no
}

// TakeOut takes a thing out of the sheet, and gives the question to go on with.
func (d Draft) TakeOut(thing string) (next Draft, then string, no *Refusal) {
	q := Question{Thing: thing}
	if next, _, no = d.change(thing, "take out"); no != nil {
		return d, "", no
	}
	return next, next.after(q, ""), nil
}

// setWhen reads "before Final" and "after Final".
func (d Draft) setWhen(at sheet.Path, text string) (Draft, *Refusal) {
	key, name, _ := strings.Cut(text, " ")
	s, err := d.text, error(nil)
	for _, other := range []string{"before", "after"} {
		if other != key && err == nil {
			s, err = s.Remove(sheet.At(at, other))
		}
	}
	if text != "" && err == nil {
		s, err = s.Set(at, sheet.Entry{Key: key, Value: sheet.Text(name)})
	}
	return d.written(s, err)
}

// setGroups reads "all" or names of groups with commas or spaces between.
func (d Draft) setGroups(at sheet.Path, text string) (Draft, *Refusal) {
	names := d.groups()
	if text != "" && !strings.EqualFold(text, "all") {
		names = strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' })
	}
	return d.written(d.text.Set(at, sheet.Entry{Key: "groups", Value: sheet.Texts(names)}))
}

// forFresh answers for the passes that have just been made, or makes them.
func (d Draft) forFresh(q Question, text string) (Draft, string, *Refusal) {
	switch q.ID {
	case "+pass/figures":
		return d.addPasses(text)
	case "+pass/order":
		if text == "" {
			return d, "", nil
		}
	}
	key := q.ID[len("+pass/"):]
	next := d
	for i, name := range d.passNames() {
		if !slices.Contains(d.fresh, name) {
			continue
		}
		at := sheet.At("pass", i)
		var no *Refusal
		switch {
		case key == "order":
			next, no = next.setOrder(at, text)
		case text == "":
			next, no = next.written(next.text.Remove(sheet.At(at, key)))
		default:
			next, no = next.written(next.text.Set(at, sheet.Entry{Key: key, Value: sheet.Text(text)}))
		}
		if no == nil {
			no = next.refused([]sheet.Path{sheet.At(at, key)})
		}
		if no != nil {
			return d, "", no
		}
	}
	if key == "order" && len(d.groupsOf(sheet.At("pass", slices.Index(d.passNames(), d.fresh[0])))) > 1 {
		return next, "+pass/first", nil
	}
	return next, "", nil
}
