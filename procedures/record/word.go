package record

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"evenpull/procedures/walk"
)

// word is what a search looks for.
type word struct {
	ways  []string // as it was typed, small, capital, and with a capital letter first
	tails [][]byte // ends of those, as they stand in JSON: bytes without one of them have no way
}

// newWord is nil for no word.
func newWord(typed string) *word {
	if typed == "" {
		return nil
	}
	low := strings.ToLower(typed)
	first, size := utf8.DecodeRuneInString(low)
	w := &word{}
	for _, way := range []string{typed, low, strings.ToUpper(typed), string(unicode.ToUpper(first)) + low[size:]} {
		if !slices.Contains(w.ways, way) {
			w.ways = append(w.ways, way)
		}
	}
	cut := rarest(inJSON(low))
	for _, way := range w.ways {
		raw := inJSON(way)
		tail := raw[min(cut, len(raw)-1):]
		if !slices.ContainsFunc(w.tails, func(t []byte) bool { return bytes.Equal(t, tail) }) {
			w.tails = append(w.tails, tail)
		}
	}
	return w
}

// often are the bytes that records are full of, most of them first. Half of a record is
// sums: a search that stops wherever its first letter is a hexadecimal digit takes four
// times as long.
const often = `"e291037adfc546:b8,is-trmnoukplvT.{}qZ`

// rarest is where in its first half a text has the byte that records have least of.
func rarest(text []byte) (at int) {
	rank := func(c byte) int {
		if rank := strings.IndexByte(often, c); rank >= 0 {
			return rank
		}
		return len(often)
	}
	for i := range (len(text) + 1) / 2 {
		if rank(text[i]) > rank(text[at]) {
			at = i
		}
	}
	return at
}

// inJSON is a text as encodeLine writes it, without the quotes around it.
func inJSON(text string) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if enc.Encode(text) != nil {
		return []byte(text) // a text can always be encoded
	}
	return bytes.TrimSuffix(bytes.TrimPrefix(b.Bytes(), []byte(`"`)), []byte("\"\n"))
}

// mayBeIn is false when no way of the word stands in the bytes.
func (w *word) mayBeIn(data []byte) bool {
	return slices.ContainsFunc(w.tails, func(tail []byte) bool { return bytes.Contains(data, tail) })
}

// in reports whether a text has the word.
func (w *word) in(text string) bool {
	return slices.ContainsFunc(w.ways, func(way string) bool { return strings.Contains(text, way) })
}

// mayBeInRecord is false when none of the bytes after the first line, nor its names,
// can hold the word: most records are left at that.
func (w *word) mayBeInRecord(data []byte) bool {
	head, events, whole := bytes.Cut(data, []byte("\n"))
	names, _, found := bytes.Cut(head, []byte(textKey))
	if !whole || !found {
		return true // let whoever can read it decide
	}
	return w.mayBeIn(events) || w.mayBeIn(names)
}

// inRecord reports whether the word stands in what a person can read of a record:
// its names and its events, not the procedure's text, which all walks of it
// share. Bytes are looked at first; only a line that has them is taken apart,
// since hashes and names of fields are nobody's words.
func (w *word) inRecord(sum *Summary, events [][]byte) bool {
	if slices.ContainsFunc([]string{sum.began, sum.Procedure, sum.Source, sum.Engine}, w.in) {
		return true
	}
	return slices.ContainsFunc(events, func(line []byte) bool {
		if !w.mayBeIn(line) {
			return false
		}
		e, err := decodeEvent(line)
		return err == nil && w.inEvent(e)
	})
}

// inEvent reports whether an event has the word in its values.
func (w *word) inEvent(e walk.Event) bool {
	texts := append([]string{e.Item, e.Fastener, e.Piece, e.Number, e.Reading, e.Answer, e.Text}, e.Outstanding...)
	for k, v := range e.Facts {
		texts = append(texts, k, v)
	}
	for _, c := range e.Brought {
		texts = append(texts, c.ID, c.Name, c.Away, c.Unclean)
	}
	return slices.ContainsFunc(texts, w.in)
}
