package session

import (
	"fmt"
	"time"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/spec"
)

// clockSlack is how far a clock may be behind without a word: times are read to
// the second.
const clockSlack = time.Second

// behind gives what has to be written with what is written at now: what it comes
// after, zero when the clock is ahead of all that is on record. heed says so in
// words when a person should look at the clock.
func behind(c engine.Clock, now time.Time) (after time.Time, heed string) {
	if !c.Behind(now) {
		return time.Time{}, ""
	}
	if c.Order.Sub(now) >= clockSlack {
		heed = fmt.Sprintf("this clock says %s, and an entry of %s is on record, in %s: it is behind by %s now, or one was ahead then; put it right if it is wrong. What is written now counts as done after all that",
			stamp(now), stamp(c.At.In(now.Location())), c.Source, spec.Span(c.Order.Sub(now).Round(time.Second)))
	}
	return c.Order, heed
}

func stamp(t time.Time) string { return t.Format("2006-01-02 15:04:05") }

// afterFact is the fact that keeps what an event comes after, or nil.
func afterFact(after time.Time) map[string]string {
	if after.IsZero() {
		return nil
	}
	return map[string]string{record.After: after.Format(time.RFC3339Nano)}
}
