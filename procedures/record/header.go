// Package record keeps a walk on disk: one file a walk, JSON Lines, only ever
// appended to.
//
// The first line is the header with the whole procedure text, so that a record
// can be reviewed without the file it came from. Every further line is one
// event with prev, the SHA-256 of the line before. Each line ends in sum, the
// SHA-256 of its own bytes up to there: prev cannot vouch for the newest line,
// and a header alone has nothing after it.
//
// What the chain is good for: it finds any byte that changed by accident or by
// hand. What it is not good for: a person who computes all hashes anew. Whether
// a done is earned is never taken from the file; walk.Judge says so on replay.
//
// Append returns only when the event is on disk. A line that was cut off by a
// power cut is put aside, never thrown away, and the walk goes on from the line
// before. Listing, reading and verifying never change a file.
package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// FormatVersion is the record format this program writes and reads.
const FormatVersion = 1

// Header is the first line of a record. Text comes last so that a list need
// not read through it.
type Header struct {
	Format    int            `json:"evenpull"`
	ID        string         `json:"id"`
	Procedure string         `json:"procedure"`        // its name
	Source    string         `json:"source"`           // file name or bundled name, as typed
	From      string         `json:"from,omitempty"`   // where it lies: an absolute path, or "bundled"; empty in old records and when it was piped in
	Engine    string         `json:"engine"`           // the tag the user gave; any text
	Place     string         `json:"place,omitempty"`  // which of two of a kind on the engine; any text
	Ledger    bool           `json:"ledger,omitempty"` // of an engine, not of a walk: no procedure
	Direction spec.Direction `json:"direction"`
	SHA256    string         `json:"sha256"` // of Text, hex
	Started   time.Time      `json:"started"`
	After     time.Time      `json:"after,omitzero"`  // the newest known of the engine, when the clock was behind it
	Program   string         `json:"program"`         // version that started the record
	Rules     int            `json:"rules,omitempty"` // what its events are judged by: walk.Rules; 0: the first
	Text      string         `json:"text"`            // the whole procedure file
}

// After is the fact of an event that says what it came after: the newest known
// of the engine, RFC 3339, when the clock was behind it. A header has it as a field.
const After = "after"

// NewHeader fills a header for a walk through p on the engine with this tag.
// source is the file or bundled name as the user would type it again.
func NewHeader(p *spec.Procedure, source, engine, program string, started time.Time) Header {
	return Header{
		Procedure: p.Name, Source: source, Engine: strings.TrimSpace(engine), Direction: p.Direction,
		Text: string(p.Text), Program: program, Rules: walk.Rules, Started: started,
	}
}

// TextHash is the SHA-256 of a procedure's text in hex, as headers hold it.
func TextHash(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// complete checks what the caller gave and fills in the rest but the id.
func (h Header) complete() (Header, error) {
	switch {
	case h.Started.IsZero():
		return h, fmt.Errorf("a record needs the time its walk started")
	case !utf8.ValidString(h.Text):
		return h, fmt.Errorf("the procedure is not UTF-8; save it as UTF-8 first")
	}
	h.Format, h.SHA256 = FormatVersion, TextHash([]byte(h.Text))
	return h, nil
}

// textKey starts the header's last field. In JSON text a bare quote cannot
// stand inside a string, so that its first occurrence is the field itself.
const textKey = `,"text":"`

// decodeHeader reads a header line whole.
func decodeHeader(line []byte) (Header, error) {
	var h Header
	if err := json.Unmarshal(line, &h); err != nil {
		return h, fmt.Errorf("the first line is not a record's header")
	}
	return h.checked()
}

// decodeHeaderHead reads a header line without its text, and gives the text as
// it stands there, still escaped.
func decodeHeaderHead(line []byte) (h Header, rawText []byte, err error) {
	head, raw, found := cutText(line)
	if !found {
		h, err = decodeHeader(line)
		return h, []byte(h.Text), err
	}
	if h, ok := takeHeaderApart(bytes.TrimSuffix(head, []byte("}"))); ok {
		h, err = h.checked()
		return h, raw, err
	}
	if err := json.Unmarshal(head, &h); err != nil {
		return h, nil, fmt.Errorf("the first line is not a record's header")
	}
	h, err = h.checked()
	return h, raw, err
}

// takeHeaderApart does for a header, up to its text, what takeApart does for an event.
func takeHeaderApart(head []byte) (h Header, ok bool) {
	a := apart{rest: head, ok: true}
	a.lit(`{"evenpull":`)
	h.Format = a.number()
	for _, f := range []struct {
		key   string
		to    *string
		maybe bool
	}{{`,"id":"`, &h.ID, false}, {`,"procedure":"`, &h.Procedure, false}, {`,"source":"`, &h.Source, false}, {`,"from":"`, &h.From, true}, {`,"engine":"`, &h.Engine, false}, {`,"place":"`, &h.Place, true},
		{`,"direction":"`, (*string)(&h.Direction), false}, {`,"sha256":"`, &h.SHA256, false}} {
		if there := a.has(f.key); there {
			*f.to = a.str()
		} else {
			a.ok = a.ok && f.maybe
		}
	}
	a.lit(`,"started":"`)
	a.time(&h.Started)
	if a.has(`,"after":"`) {
		a.time(&h.After)
	}
	a.lit(`,"program":"`)
	h.Program = a.str()
	if a.has(`,"rules":`) {
		h.Rules = a.number()
	}
	return h, a.ok && len(a.rest) == 0
}

// checked makes a header safe to show, and refuses what a later program wrote.
// What can be read of it is given all the same.
func (h Header) checked() (Header, error) {
	for _, s := range []*string{&h.ID, &h.Procedure, &h.Source, &h.From, &h.Engine, &h.Place, &h.Program, &h.SHA256, (*string)(&h.Direction)} {
		*s = spec.Printable(*s) // a record may come from a stranger
	}
	switch {
	case h.Format == 0:
		return h, fmt.Errorf("the first line is not a record's header")
	case h.Format != FormatVersion:
		return h, fmt.Errorf("record format %d is not known here, only %d (%s); read it with the program that wrote it", h.Format, FormatVersion, h.brief())
	case h.Rules > walk.Rules:
		return h, fmt.Errorf("this record was walked by rules %d, and only those up to %d are known here (%s); read it with the program that wrote it", h.Rules, walk.Rules, h.brief())
	}
	return h, nil
}

// brief is what can be read of a record in any case.
func (h Header) brief() string {
	text := fmt.Sprintf("%s, engine %q", h.Procedure, h.Engine)
	if !h.Started.IsZero() {
		text += ", begun " + h.Started.Format(time.DateOnly)
	}
	return text + ", by " + h.Program
}
