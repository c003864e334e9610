package draft

import (
	"slices"
	"strconv"
	"strings"

	"evenpull/spec/pattern"
	"evenpull/spec/sheet"
)

var (
	placeAt = pattern.Of(`(?i)^(?:add\s+)?(\S+)\s+at\s+(-?[\d.,]+)\s*[ ,;]\s*(-?[\d.,]+)$`)
	moveTo  = pattern.Of(`(?i)^(\S+)\s+(right|left|up|down)\s+(.+)$`)
	takeOut = pattern.Of(`(?i)^(?:take out|remove)\s+(\S+)$`)
)

// Directions that a bolt is moved in.
var directions = map[string][2]float64{"right": {1, 0}, "left": {-1, 0}, "up": {0, 1}, "down": {0, -1}}

// setPlaces lays bolts out, or moves, adds or takes out one.
func (d Draft) setPlaces(group, text string) (Draft, *Refusal) {
	at := sheet.At("group", group, "at")
	there := d.text.Keys(at)
	if text == "" {
		return d, nil
	}
	if m := moveTo.RE().FindStringSubmatch(text); m != nil {
		mm, no := millimetres(m[3])
		if no != nil {
			return d, no
		}
		by := directions[strings.ToLower(m[2])]
		return d.Move(m[1], by[0]*mm, by[1]*mm)
	}
	if m := takeOut.RE().FindStringSubmatch(text); m != nil {
		id := d.asSpelt([]string{m[1]})[0]
		if !d.text.Has(sheet.At(at, id)) {
			return d, refuse("bolts of this group: "+strings.Join(there, ", "), "there is no bolt %s here", quote(id))
		}
		if len(there) == 1 {
			return d, refuse("add another first, or take the group out", "%s is the only one", id)
		}
		s, err := d.text.Remove(sheet.At(at, id))
		if err == nil {
			s, err = d.leaveCap(s, group, id)
		}
		return d.written(s, err)
	}
	if m := placeAt.RE().FindStringSubmatch(text); m != nil {
		x, no := millimetres(m[2])
		y, noY := millimetres(m[3])
		if no != nil || noY != nil {
			return d, refuse("write it as M3 at 70 34, in mm", "%s is no place", quote(text))
		}
		return d.put(group, place{d.asSpelt([]string{m[1]})[0], x, y})
	}
	text, again := strings.CutPrefix(text, "again ")
	if len(there) > 0 && !again {
		return d, refuse("write again "+text+" to lay them out anew, M3 right 10 or M3 at 70 34 to move one, add M9 at 70 34, or take out M9", "%d bolts are there already", len(there))
	}
	l, no := readLayout(text)
	if no != nil {
		return d, no
	}
	return d.layOut(group, l)
}

func (d Draft) layOut(group string, l layout) (Draft, *Refusal) {
	at := sheet.At("group", group, "at")
	s, err := d.text.Remove(at)
	if err != nil {
		return d.written(nil, err)
	}
	beside := d.beside(group)
	b := sheet.Block{}
	if len(d.Bolts()) == 0 {
		b.Comment = "Where each bolt sits on the joint face: x to the right, y up, in mm."
	}
	for _, p := range l.places(d.prefix(group)) {
		p.x += beside
		b.Entries = append(b.Entries, sheet.Entry{Key: p.id, Value: p.literal()})
	}
	if s, err = s.AddTableBehind(sheet.At("group", group), at, b); err == nil {
		s, err = capsOf(s, group, b.Entries, l)
	}
	next, no := d.written(s, err)
	if no == nil {
		no = next.refused([]sheet.Path{at})
	}
	return next, no
}

// capsOf writes which bolts hold a cap together, if any do, over what was said before.
func capsOf(s *sheet.Sheet, group string, bolts []sheet.Entry, l layout) (*sheet.Sheet, error) {
	at := sheet.At("group", group, "caps")
	s, err := s.Remove(at)
	if err != nil || !l.caps {
		return s, err
	}
	b := sheet.Block{Comment: "Which bolts hold one cap together."}
	for i := 0; i < len(bolts); i += len(l.rows) {
		var ids []string
		for _, e := range bolts[i : i+len(l.rows)] {
			ids = append(ids, e.Key)
		}
		b.Entries = append(b.Entries, sheet.Entry{Key: strconv.Itoa(i/len(l.rows) + 1), Value: sheet.Texts(ids)})
	}
	return s.AddTableBehind(sheet.At("group", group), at, b)
}

// leaveCap takes a bolt out of the cap it holds, and the cap with its last one.
func (d Draft) leaveCap(s *sheet.Sheet, group, id string) (*sheet.Sheet, error) {
	caps := sheet.At("group", group, "caps")
	for _, name := range s.Keys(caps) {
		at := sheet.At(caps, name)
		i := slices.Index(s.Strings(at), id)
		switch {
		case i < 0:
			continue
		case s.Len(at) == 1 && len(s.Keys(caps)) == 1:
			return s.Remove(caps)
		case s.Len(at) == 1:
			return s.Remove(at)
		}
		return s.Remove(sheet.At(at, i))
	}
	return s, nil
}

// beside is how far to the right a group is laid out, to be clear of the others.
func (d Draft) beside(group string) float64 {
	most, any := 0.0, false
	for _, b := range d.Bolts() {
		if b.Group != group {
			most, any = max(most, b.X), true
		}
	}
	if !any {
		return 0
	}
	return most + usualPitch
}

func (p place) literal() string { return "[" + mm(p.x) + ", " + mm(p.y) + "]" }

func mm(v float64) string { return strconv.FormatFloat(tenth(v)+0, 'f', -1, 64) } // no -0

// put sets a bolt of a group at a place, or moves one that another group has.
func (d Draft) put(group string, p place) (Draft, *Refusal) {
	for _, b := range d.Bolts() {
		if b.ID == p.id {
			group = b.Group
		}
	}
	at := sheet.At("group", group, "at")
	next, no := d.written(d.text.Set(at, sheet.Entry{Key: p.id, Value: p.literal()}))
	if no == nil {
		no = next.refused([]sheet.Path{sheet.At(at, p.id)})
	}
	return next, no
}

// Move moves a bolt by some mm, right and up.
func (d Draft) Move(id string, right, up float64) (Draft, *Refusal) {
	id = d.asSpelt([]string{id})[0]
	for _, b := range d.Bolts() {
		if b.ID == id {
			return d.put(b.Group, place{id, b.X + right, b.Y + up})
		}
	}
	return d, refuse("name one that is there", "there is no bolt %s", quote(id))
}

// AddBeside adds a bolt to the right of another, in its group, under the next number.
func (d Draft) AddBeside(id string) (next Draft, added string, no *Refusal) {
	bolts := d.Bolts()
	i := slices.IndexFunc(bolts, func(b Bolt) bool { return b.ID == id })
	if i < 0 {
		return d, id, refuse("name one that is there", "there is no bolt %s", quote(id))
	}
	letters := strings.TrimRight(id, "0123456789")
	for n := 1; ; n++ {
		added = letters + strconv.Itoa(n)
		if !slices.ContainsFunc(bolts, func(b Bolt) bool { return strings.EqualFold(b.ID, added) }) {
			break
		}
	}
	next, no = d.put(bolts[i].Group, place{added, bolts[i].X + usualPitch, bolts[i].Y})
	if no != nil {
		return d, id, no
	}
	return next, added, nil
}
