package record

import (
	"strconv"
	"strings"
	"time"
)

// entry is the summary of one record as text.
type entry []byte

const entryGap = "\x00" // stands in no text of a record

// entryFields are what an entry holds, in its order: all of a summary but its place and
// what is wrong with it.
func (sum *Summary) entryFields() []any {
	return []any{
		&sum.Procedure, &sum.Source, &sum.From, &sum.SHA256, &sum.Engine, &sum.Place, (*string)(&sum.Direction), (*string)(&sum.State), &sum.began,
		&sum.Started, &sum.After, &sum.Last, &sum.Events, &sum.Confirmed, &sum.Stages, &sum.FalseDone, &sum.Torn,
	}
}

func newEntry(sum *Summary) entry {
	var texts []string
	for _, field := range sum.entryFields() {
		switch v := field.(type) {
		case *string:
			texts = append(texts, *v)
		case *time.Time:
			texts = append(texts, v.Format(time.RFC3339Nano))
		case *int:
			texts = append(texts, strconv.Itoa(*v))
		case *bool:
			texts = append(texts, strconv.FormatBool(*v))
		}
	}
	return entry(strings.Join(texts, entryGap))
}

// read fills in what an entry holds.
func (e entry) read(sum *Summary) bool {
	texts := strings.Split(string(e), entryGap)
	fields := sum.entryFields()
	if len(texts) != len(fields) {
		return false
	}
	for i, field := range fields {
		var err error
		switch v := field.(type) {
		case *string:
			*v = texts[i]
		case *time.Time:
			*v, err = time.Parse(time.RFC3339Nano, texts[i])
		case *int:
			*v, err = strconv.Atoi(texts[i])
		case *bool:
			*v, err = strconv.ParseBool(texts[i])
		}
		if err != nil {
			return false
		}
	}
	return true
}
