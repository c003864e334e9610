package draft

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenpull/spec"
	"evenpull/spec/pattern"
	"evenpull/spec/quantity"
	"evenpull/spec/sheet"
)

// added makes something new of what was typed.
func (d Draft) added(id, text string) (next Draft, then string, no *Refusal) {
	switch id {
	case "+caution":
		n := len(d.text.Strings(sheet.At("procedure", "cautions")))
		next, no = d.written(d.text.AddItem(sheet.At("procedure", "cautions"), sheet.Text(text)))
		if no == nil {
			no = next.refused([]sheet.Path{sheet.At("procedure", "cautions", n)})
		}
		return next, id, no
	case "+group":
		return d.addGroup(text)
	case "+check":
		return d.addCheck(text)
	case "+part":
		return d.addPart(text)
	case "+callout":
		n := d.text.Len(sheet.At("callout"))
		entries := []sheet.Entry{{Key: "say", Value: sheet.Text(text)}}
		names := d.passNames()
		if len(names) == 0 {
			return d.addTo("callout", entries, id)
		}
		entries = append([]sheet.Entry{{Key: "before", Value: sheet.Text(names[0])}}, entries...)
		return d.addTo("callout", entries, fmt.Sprintf("callout/%d/when", n))
	case "+sealant":
		next, no = d.written(d.text.AddTable(sheet.At("sealant"), sheet.Block{Entries: []sheet.Entry{{Key: "name", Value: sheet.Text(text)}}, Column: columns["sealant"]}))
		return next, "sealant/work_time", no
	}
	return d.addPiece(id, text)
}

// aboutLists stands above the first of each list.
var aboutLists = map[string]string{
	"pass": "Passes are walked in this order.", "check": "Questions and measurements.",
	"part": "What comes off or goes on besides the bolts.", "callout": "What to have ready.",
}

// block is a new entry of a list, with a word about the list above its first.
func (d Draft) block(list string, s *sheet.Sheet, entries []sheet.Entry) sheet.Block {
	b := sheet.Block{Entries: entries, Column: columns[list]}
	if s.Len(sheet.At(list)) == 0 {
		b.Comment = aboutLists[list]
	}
	return b
}

// addTo adds an entry to a list of tables, if nothing is wrong with it.
func (d Draft) addTo(list string, entries []sheet.Entry, then string) (Draft, string, *Refusal) {
	n := d.text.Len(sheet.At(list))
	next, no := d.written(d.text.AddEntry(list, n, d.block(list, d.text, entries)))
	for _, e := range entries {
		if no == nil {
			no = next.refused([]sheet.Path{sheet.At(list, n, e.Key)})
		}
	}
	return next, then, no
}

var kindOfBolt = pattern.Of(`(?i)[ -]*\b(bolts?|nuts?|studs?|screws?|capscrews?)\s*$`)

func (d Draft) addGroup(title string) (Draft, string, *Refusal) {
	id := fresh(spec.ShortID(kindOfBolt.RE().ReplaceAllString(title, ""), 20, "bolts"), d.groups())
	next, no := d.written(d.text.AddTable(sheet.At("group", id), sheet.Block{Entries: []sheet.Entry{{Key: "title", Value: sheet.Text(title)}}, Column: columns["group"]}))
	if no == nil {
		no = next.refused([]sheet.Path{sheet.At("group", id, "title")})
	}
	return next, "group/" + id + "/thread", no
}

// prefix is the letter that a group's bolts are called by, with a number: the first of its
// title, or two where another group has it.
func (d Draft) prefix(group string) string {
	title := d.str("group", group, "title")
	if title == "" {
		title = group
	}
	letters := []rune(strings.ToUpper(title))
	for n := 1; n <= min(3, len(letters)); n++ {
		p := strings.TrimSpace(string(letters[:n]))
		taken := slices.ContainsFunc(d.Bolts(), func(b Bolt) bool {
			rest, ok := strings.CutPrefix(strings.ToUpper(b.ID), p)
			_, err := strconv.Atoi(rest)
			return ok && err == nil && b.Group != group
		})
		if !taken && p == shortLetters(p) {
			return p
		}
	}
	return "B" + strconv.Itoa(len(d.groups())) + "-"
}

func shortLetters(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return r
		}
		return -1
	}, s)
}

var (
	times   = pattern.Of(`^(\d+)\s*(?:x|×|times)\s+(.+)$`)
	oneUse  = pattern.Of(`(?i)[,;]?\s*\b(one[ -]use|new each time|once only)\s*$`)
	limited = pattern.Of(`^(.+?):\s+(\S.*)$`)
)

// thing reads "2 x sealing washer, one use".
func thing(text string) (name string, count int, once bool) {
	name = strings.TrimSpace(oneUse.RE().ReplaceAllString(text, ""))
	once, count = name != text, 1
	if m := times.RE().FindStringSubmatch(name); m != nil {
		count, _ = strconv.Atoi(m[1])
		name = m[2]
	}
	return name, count, once
}

func (d Draft) addPiece(id, text string) (Draft, string, *Refusal) {
	group := strings.TrimSuffix(id, "/+with")
	at := sheet.At(tableOf(group), "with")
	name, n, once := thing(text)
	fields := "part = " + sheet.Text(name)
	if n > 1 {
		fields += ", count = " + strconv.Itoa(n)
	}
	if once {
		fields += ", one_use = true"
	}
	next, no := d.written(d.text.AddItem(at, "{ "+fields+" }"))
	if no == nil {
		no = next.refused([]sheet.Path{at})
	}
	return next, id, no
}

// setPiece changes one that goes on with each bolt, what else is said of it stays.
func (d Draft) setPiece(at sheet.Path, text string) (Draft, string, *Refusal) {
	if text == "" {
		next, no := d.written(d.text.Remove(at))
		return next, "", no
	}
	name, n, once := thing(text)
	s, err := d.text.Set(at, sheet.Entry{Key: "part", Value: sheet.Text(name)})
	set := func(key string, on bool, value string) {
		switch {
		case err != nil:
		case on:
			s, err = s.Set(at, sheet.Entry{Key: key, Value: value})
		case s.Has(sheet.At(at, key)):
			s, err = s.Remove(sheet.At(at, key))
		}
	}
	set("count", n > 1, strconv.Itoa(n))
	set("one_use", once, "true")
	next, no := d.written(s, err)
	if no == nil {
		no = next.refused([]sheet.Path{at})
	}
	return next, "", no
}

// partWords tell the kind of a part from its name, the more particular ones first.
var partWords = []struct{ word, kind string }{
	{"tab washer", "tab-washer"}, {"o-ring", "o-ring"}, {"o ring", "o-ring"}, {"thrust washer", "washer"}, {"washer", "washer"}, {"shim", "shim"},
	{"key", "key"}, {"seal", "seal"}, {"circlip", "circlip"}, {"dowel", "dowel"}, {"gasket", "gasket"},
	{"bearing shell", "bearing"}, {"big-end shell", "bearing"}, {"main shell", "bearing"}, {"ball bearing", "bearing"}, {"roller bearing", "bearing"}, {"needle bearing", "bearing"},
}

func (d Draft) addPart(text string) (Draft, string, *Refusal) {
	name, n, once := thing(text)
	entries := []sheet.Entry{{Key: "name", Value: sheet.Text(name)}}
	for _, w := range partWords {
		if strings.Contains(strings.ToLower(name), w.word) {
			entries = append(entries, sheet.Entry{Key: "kind", Value: sheet.Text(w.kind)})
			break
		}
	}
	if n > 1 {
		entries = append(entries, sheet.Entry{Key: "count", Value: strconv.Itoa(n)})
	}
	if once {
		entries = append(entries, sheet.Entry{Key: "one_use", Value: "true"})
	}
	return d.addTo("part", entries, "+part")
}

// addCheck makes a question, or a measurement where a figure comes after a colon.
func (d Draft) addCheck(text string) (Draft, string, *Refusal) {
	names := d.passNames()
	if len(names) == 0 && len(d.groups()) > 0 {
		return d, "", refuse("answer how it is done first", "a check comes before or after a pass, and there is none yet")
	}
	entries := []sheet.Entry{{Key: "ask", Value: sheet.Text(text)}}
	if m := limited.RE().FindStringSubmatch(text); m != nil && !strings.HasSuffix(text, "?") {
		limits, no := limitsOf(m[2])
		if no != nil {
			return d, "", no
		}
		entries = append([]sheet.Entry{{Key: "measure", Value: sheet.Text(m[1])}}, limits...)
	}
	n := d.text.Len(sheet.At("check"))
	if len(names) == 0 {
		return d.addTo("check", entries, fmt.Sprintf("check/%d/remedy", n))
	}
	when := sheet.Entry{Key: "before", Value: sheet.Text(names[0])}
	if len(entries) > 1 { // a measurement
		when = sheet.Entry{Key: "after", Value: sheet.Text(names[len(names)-1])}
	}
	return d.addTo("check", append([]sheet.Entry{when}, entries...), fmt.Sprintf("check/%d/when", n))
}

// limitsOf reads "0.05 mm to 0.20 mm", "at most 0.1 mm", each limit as it was typed where
// it has a unit of its own.
func limitsOf(text string) ([]sheet.Entry, *Refusal) {
	low, high, both := strings.Cut(text, " to ")
	for _, l := range []struct{ word, key string }{{"at most ", "max"}, {"up to ", "max"}, {"max ", "max"}, {"at least ", "min"}, {"min ", "min"}} {
		if rest, ok := cutWord(text, l.word); ok {
			if _, err := quantity.ParseAny(rest); err != nil {
				return nil, unreadable(rest, err)
			}
			return []sheet.Entry{{Key: l.key, Value: sheet.Text(rest)}}, nil
		}
	}
	if !both {
		return nil, refuse("write 0.05 mm to 0.20 mm, at most 0.20 mm, or at least 0.05 mm; or end a question with ?", "%s are no limits", quote(text))
	}
	q, err := quantity.ParseAny(high)
	if err != nil {
		return nil, unreadable(high, err)
	}
	if _, err := quantity.ParseAny(low); err != nil { // the unit stands behind the last one only
		low += " " + q.Unit().Symbol()
		if _, err := quantity.ParseAny(low); err != nil {
			return nil, unreadable(low, err)
		}
	}
	return []sheet.Entry{{Key: "min", Value: sheet.Text(strings.TrimSpace(low))}, {Key: "max", Value: sheet.Text(strings.TrimSpace(high))}}, nil
}
