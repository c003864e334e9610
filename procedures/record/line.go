package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"evenpull/procedures/walk"
)

// How a line ends: …,"prev":"<64 hex>","sum":"<64 hex>"}
const (
	prevKey = `,"prev":"`
	sumKey  = `,"sum":"`
	hexLen  = 2 * sha256.Size
	sumTail = len(sumKey) + hexLen + len(`"}`)
)

// eventLine is an event as it stands in a file.
type eventLine struct {
	walk.Event
	Prev string `json:"prev"`
}

// encodeLine gives v as one line with its sum, without the newline.
func encodeLine(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false) // a record is read by people too
	if err := enc.Encode(v); err != nil {
		return nil, fmt.Errorf("the event cannot be written as JSON: %w", err)
	}
	line := b.Bytes()[:b.Len()-len("}\n")]
	sum := sha256.Sum256(line)
	line = append(line, sumKey...)
	line = hex.AppendEncode(line, sum[:])
	return append(line, `"}`...), nil
}

// lineHash is what the next line's prev must be.
func lineHash(line []byte) [hexLen]byte {
	var out [hexLen]byte
	sum := sha256.Sum256(line)
	hex.Encode(out[:], sum[:])
	return out
}

// ownSum is what a line says of itself.
type ownSum int

const (
	sumGood ownSum = iota
	sumBad
	sumAbsent // written by hand or another program: prev alone is the contract
)

// checkSum holds a line against its own sum.
func checkSum(line []byte) ownSum {
	body, found := splitSum(line)
	if !found {
		if hasOnlyKnownKeys(line) {
			return sumAbsent
		}
		return sumBad
	}
	want := sha256.Sum256(body)
	var text [hexLen]byte
	hex.Encode(text[:], want[:])
	if bytes.Equal(text[:], line[len(body)+len(sumKey):len(line)-2]) {
		return sumGood
	}
	return sumBad
}

// splitSum gives the bytes a line's sum is taken over.
func splitSum(line []byte) (body []byte, found bool) {
	at := len(line) - sumTail
	if at < 0 || !bytes.HasPrefix(line[at:], []byte(sumKey)) || !bytes.HasSuffix(line, []byte(`"}`)) {
		return nil, false
	}
	return line[:at], true
}

// cutText splits a header line at its text: the line without it, and the text
// as it stands. found is false when text is not the last field.
func cutText(line []byte) (head, rawText []byte, found bool) {
	at := bytes.Index(line, []byte(textKey))
	if at < 0 {
		return nil, nil, false
	}
	end := len(line) - len(`"}`)
	if body, ok := splitSum(line); ok {
		end = len(body) - len(`"`)
	}
	start := at + len(textKey)
	if end < start || line[end] != '"' || bytes.Contains(line[start:end], []byte(`","`)) {
		return nil, nil, false // a quote inside would be escaped: another field follows
	}
	head = append(append([]byte{}, line[:at]...), '}')
	return head, line[start:end], true
}

// prevOf gives the hash a line says the line before has.
func prevOf(line []byte) ([]byte, bool) {
	body, found := splitSum(line)
	if !found {
		body = bytes.TrimSuffix(line, []byte("}"))
	}
	at := len(body) - len(prevKey) - hexLen - len(`"`)
	if at >= 0 && bytes.HasPrefix(body[at:], []byte(prevKey)) && body[len(body)-1] == '"' {
		return body[at+len(prevKey) : len(body)-1], true
	}
	var loose struct { // another program may order its fields otherwise
		Prev string `json:"prev"`
	}
	if json.Unmarshal(line, &loose) != nil || loose.Prev == "" {
		return nil, false
	}
	return []byte(loose.Prev), true
}

var knownKeys = keySet("evenpull", "id", "procedure", "source", "from", "engine", "place", "direction", "sha256", "started", "after", "program", "text",
	"seq", "at", "kind", "item", "fastener", "thread", "piece", "number", "reading", "answer", "facts", "restarts", "outstanding", "brought", "faults", "sheet", "ledger", "rules", "prev")

func keySet(keys ...string) map[string]bool {
	set := map[string]bool{}
	for _, k := range keys {
		set[k] = true
	}
	return set
}

// hasOnlyKnownKeys is asked of a line without a sum, so that a sum whose name
// was changed is not taken for one that never was.
func hasOnlyKnownKeys(line []byte) bool {
	var fields map[string]json.RawMessage
	if json.Unmarshal(line, &fields) != nil {
		return false
	}
	for k := range fields {
		if !knownKeys[k] {
			return false
		}
	}
	return true
}
