package record

import (
	"bytes"
	"encoding/json"
	"time"
	"unicode/utf8"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// decodeEvent reads an event line and makes its texts safe for a terminal.
// Lines as Append writes them are taken apart where they stand; whatever is
// otherwise goes through encoding/json, which is the rule. A test holds the one
// to the other.
func decodeEvent(line []byte) (walk.Event, error) {
	if e, ok := takeApart(line); ok {
		return e, nil
	}
	return decodeJSON(line)
}

func decodeJSON(line []byte) (walk.Event, error) {
	var e walk.Event
	if err := json.Unmarshal(line, &e); err != nil {
		return e, err
	}
	for _, s := range []*string{(*string)(&e.Kind), &e.Item, &e.Fastener, &e.Thread, &e.Piece, &e.Number, &e.Reading, &e.Answer, &e.Text} {
		*s = spec.Printable(*s)
	}
	for _, list := range [][]string{e.Outstanding, e.Restarts} {
		for i := range list {
			list[i] = spec.Printable(list[i])
		}
	}
	printableFacts(e.Facts)
	for i := range e.Brought {
		c := &e.Brought[i]
		for _, s := range []*string{&c.ID, &c.Thread, &c.Name, &c.Away, &c.Unclean, &c.Case, &c.Before, &c.Record} {
			*s = spec.Printable(*s)
		}
		printableFacts(c.Facts)
		printableFacts(c.Lots)
		printableSaid(c.Said)
		for j := range c.Pieces {
			c.Pieces[j].Piece = spec.Printable(c.Pieces[j].Piece)
			printableFacts(c.Pieces[j].Facts)
		}
	}
	for i := range e.Faults {
		f := &e.Faults[i]
		for _, s := range []*string{&f.ID, &f.What, &f.Found, &f.Where, &f.Reading, &f.Min, &f.Max, &f.Record, &f.Work, &f.By} {
			*s = spec.Printable(*s)
		}
		printableSaid(f.Said)
	}
	return e, nil
}

func printableSaid(list []walk.Said) {
	for i := range list {
		said := &list[i]
		said.Text = spec.Printable(said.Text)
		if p := said.Photo; p != nil {
			p.Name, p.SHA256, p.Type = spec.Printable(p.Name), spec.Printable(p.SHA256), spec.Printable(p.Type)
		}
	}
}

func printableFacts(facts map[string]string) {
	for k, v := range facts {
		if ck, cv := spec.Printable(k), spec.Printable(v); ck != k || cv != v {
			delete(facts, k)
			facts[ck] = cv
		}
	}
}

// apart is a line being taken apart from the left. ok turns false for good at
// the first byte that is not as Append writes it.
type apart struct {
	rest []byte
	ok   bool
}

// takeApart reads a line in the very form Append writes, without escapes in its
// texts. It is false for any other, which says nothing against the line.
func takeApart(line []byte) (e walk.Event, ok bool) {
	body, found := splitSum(line)
	if !found {
		return e, false
	}
	a := apart{rest: body, ok: true}
	a.lit(`{"seq":`)
	e.Seq = a.number()
	a.lit(`,"at":"`)
	a.time(&e.At)
	a.lit(`,"kind":"`)
	e.Kind = a.kind()
	for _, f := range []struct {
		key string
		to  *string
	}{{`,"item":"`, &e.Item}, {`,"fastener":"`, &e.Fastener}, {`,"thread":"`, &e.Thread}, {`,"piece":"`, &e.Piece}, {`,"number":"`, &e.Number}, {`,"reading":"`, &e.Reading}, {`,"answer":"`, &e.Answer}, {`,"text":"`, &e.Text}} {
		if a.has(f.key) {
			*f.to = a.str()
		}
	}
	if a.has(`,"facts":{`) {
		e.Facts = a.facts()
	}
	if a.has(`,"restarts":[`) {
		e.Restarts = a.list()
	}
	if a.has(`,"outstanding":[`) {
		e.Outstanding = a.list()
	}
	a.lit(prevKey)
	a.hash()
	return e, a.ok && len(a.rest) == 0
}

func (a *apart) has(lit string) bool {
	if !a.ok || len(a.rest) < len(lit) || string(a.rest[:len(lit)]) != lit {
		return false
	}
	a.rest = a.rest[len(lit):]
	return true
}

func (a *apart) lit(lit string) { a.ok = a.has(lit) && a.ok }

func (a *apart) number() int {
	n := 0
	for n < len(a.rest) && a.rest[n] >= '0' && a.rest[n] <= '9' {
		n++
	}
	if n == 0 || n > 9 || n > 1 && a.rest[0] == '0' {
		a.ok = false
		return 0
	}
	v := 0
	for _, digit := range a.rest[:n] {
		v = 10*v + int(digit-'0')
	}
	a.rest = a.rest[n:]
	return v
}

func (a *apart) time(to *time.Time) {
	end := bytes.IndexByte(a.rest, '"')
	if !a.ok || end < 0 || to.UnmarshalText(a.rest[:end]) != nil {
		a.ok = false
		return
	}
	a.rest = a.rest[end+1:]
}

// str takes a text up to its closing quote. Texts with escapes, or with
// anything a terminal must not see, are not as they are written in most lines.
func (a *apart) str() string {
	end := bytes.IndexByte(a.rest, '"')
	if !a.ok || end < 0 {
		a.ok = false
		return ""
	}
	s := string(a.rest[:end]) // of its own, so that what is kept does not keep the line
	a.rest = a.rest[end+1:]
	plain := true
	for i := range len(s) {
		if c := s[i]; c < ' ' || c == '\\' || c == 0x7f {
			a.ok = false
			return ""
		} else if c >= utf8.RuneSelf {
			plain = false
		}
	}
	if !plain {
		a.ok = a.ok && utf8.ValidString(s)
		return spec.Printable(s)
	}
	return s
}

// kinds are those that are written most, up to the closing quote: no event has a text of
// its own for one of them.
var kinds = [...]string{string(walk.Confirmed) + `"`, string(walk.Renewed) + `"`, string(walk.Found) + `"`, string(walk.Measured) + `"`, string(walk.Answered) + `"`,
	string(walk.Noted) + `"`, string(walk.Undone) + `"`, string(walk.Changed) + `"`, string(walk.Resumed) + `"`}

func (a *apart) kind() walk.Kind {
	for _, k := range kinds {
		if a.has(k) {
			return walk.Kind(k[:len(k)-1])
		}
	}
	return walk.Kind(a.str())
}

// hash passes over a hash, which the chain is held against.
func (a *apart) hash() {
	n := 0
	for n < len(a.rest) && (a.rest[n] >= '0' && a.rest[n] <= '9' || a.rest[n] >= 'a' && a.rest[n] <= 'f') {
		n++
	}
	a.rest = a.rest[n:]
	a.lit(`"`)
}

// list takes texts up to the closing bracket.
func (a *apart) list() (list []string) {
	for a.ok && !a.has("]") {
		if list == nil {
			list = make([]string, 0, 1+bytes.Count(a.rest, []byte(`","`))) // of what follows too
		} else {
			a.lit(",")
		}
		a.lit(`"`)
		list = append(list, a.str())
	}
	return list
}

func (a *apart) facts() map[string]string {
	facts := map[string]string{}
	for first := true; a.ok && !a.has("}"); first = false {
		if !first {
			a.lit(",")
		}
		a.lit(`"`)
		k := a.str()
		a.lit(`:"`)
		if _, again := facts[k]; again {
			a.ok = false
		}
		facts[k] = a.str()
	}
	return facts
}
