package record

import (
	"fmt"
	"strings"
	"time"
)

// Longest parts of an id, in characters: short enough to type with gloves on.
const (
	engineLetters    = 16
	procedureLetters = 24
)

// newID makes the nth id of its day, engine and procedure, such as
// 2026-11-25-stand-2-close-the-crankcase-1. Whatever the tag and the name hold,
// only a–z, 0–9 and hyphens come out: an id is a file name and is typed.
func newID(started time.Time, engine, procedure string, n int) string {
	parts := []string{started.Format("2006-01-02")}
	for _, s := range []string{slug(engine, engineLetters), slug(procedure, procedureLetters)} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return fmt.Sprintf("%s-%d", strings.Join(parts, "-"), n)
}

// slug keeps the letters and digits of a text, at most limit characters, and
// turns each run of anything else into one hyphen. Not spec.Slug: where a limit falls
// on a hyphen the two differ, and both are names that files go by already.
func slug(text string, limit int) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(text) {
		if r < '0' || r > '9' && r < 'a' || r > 'z' {
			gap = b.Len() > 0
			continue
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(r)
		if b.Len() >= limit {
			break
		}
	}
	return b.String()
}
