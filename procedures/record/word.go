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

// spelling is one way of a word: as a person reads it, and as it stands in JSON.
type spelling struct {
	plain string
	raw   []byte
}

// spellings are the ways a search takes a word: as it was typed, small, capital,
// and with a capital letter first. An empty word has none.
func spellings(word string) []spelling {
	var list []spelling
	if word == "" {
		return nil
	}
	low := strings.ToLower(word)
	first, size := utf8.DecodeRuneInString(low)
	for _, w := range []string{word, low, strings.ToUpper(word), string(unicode.ToUpper(first)) + low[size:]} {
		if !slices.ContainsFunc(list, func(s spelling) bool { return s.plain == w }) {
			list = append(list, spelling{w, inJSON(w)})
		}
	}
	return list
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

// found reports whether the word stands in what a person can read of a record:
// its names and its events, not the procedure's text, which all walks of it
// share. Bytes are looked at first; only a line that has them is taken apart,
// since hashes and names of fields are nobody's words.
func found(events [][]byte, h Header, word []spelling) bool {
	for _, w := range word {
		for _, text := range []string{h.ID, h.Procedure, h.Source, h.Engine} {
			if strings.Contains(text, w.plain) {
				return true
			}
		}
		for _, line := range events {
			if !bytes.Contains(line, w.raw) {
				continue
			}
			if e, err := decodeEvent(line); err == nil && says(e, w.plain) {
				return true
			}
		}
	}
	return false
}

// says reports whether an event has a word in its values.
func says(e walk.Event, word string) bool {
	texts := append([]string{e.Item, e.Fastener, e.Piece, e.Number, e.Reading, e.Answer, e.Text}, e.Outstanding...)
	for k, v := range e.Facts {
		texts = append(texts, k, v)
	}
	for _, c := range e.Brought {
		texts = append(texts, c.ID, c.Name, c.Away, c.Unclean)
	}
	return slices.ContainsFunc(texts, func(t string) bool { return strings.Contains(t, word) })
}
