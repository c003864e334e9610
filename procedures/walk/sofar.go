package walk

import (
	"sort"
	"time"
)

// soFar is what judging needs of all events so far. It is kept apart from them, so that
// a record of any length can be judged without any of its events being held.
type soFar struct {
	events      int // how many there have been
	first, last time.Time
	crests      []crest // the events that nothing later is as late as, oldest first
	forgets     bool
}

// crest is a time that the clock has not come back to since.
type crest struct {
	events int // how many there were with it
	at     time.Time
}

// Forget keeps no events from here on. Such a state judges and folds as any other, but has
// nothing to tell of what was said, of pictures or of how fast it went.
func (s *State) Forget() { s.Events, s.said, s.forgets = nil, nil, true }

// LastAt is the time of the last event, zero before the first.
func (s *State) LastAt() time.Time { return s.last }

// keep puts an event with those so far.
func (s *State) keep(e Event) {
	if !s.forgets {
		s.Events = append(s.Events, e)
	}
}

// count takes note that one more event has been.
func (f *soFar) count(e Event) {
	if f.events++; f.events == 1 {
		f.first = e.At
	}
	f.last = e.At
	for n := len(f.crests); n > 0 && !f.crests[n-1].at.After(e.At); n-- {
		f.crests = f.crests[:n-1]
	}
	f.crests = append(f.crests, crest{f.events, e.At})
}

// latestAfter is the latest time of any event after the first so many; false when there is none.
func (f *soFar) latestAfter(events int) (time.Time, bool) {
	i := sort.Search(len(f.crests), func(i int) bool { return f.crests[i].events > events })
	if i == len(f.crests) {
		return time.Time{}, false
	}
	return f.crests[i].at, true
}
