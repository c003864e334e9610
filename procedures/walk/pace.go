package walk

import (
	"slices"
	"time"
)

// A gap longer than this between two confirmations was a pause, not work.
const longestStroke = 5 * time.Minute

// paceOver is how many of the last stages the pace is taken over, and
// leastForPace how many there must be before one is believed.
const (
	paceOver     = 20
	leastForPace = 3
)

// Pace is how long a stage has lately taken this person: the median of the
// gaps between the last confirmations, pauses left out. False until there are
// enough to tell.
func (s *State) Pace() (time.Duration, bool) {
	var gaps []time.Duration
	var later time.Time
	for i := len(s.Events) - 1; i >= 0 && len(gaps) < paceOver; i-- {
		e := s.Events[i]
		if i, known := s.Find(e.Item); e.Kind != Confirmed || !known || s.Items[i].Kind != StageItem {
			later = time.Time{} // something else came between
			continue
		}
		if gap := later.Sub(e.At); !later.IsZero() && gap >= 0 && gap <= longestStroke {
			gaps = append(gaps, gap)
		}
		later = e.At
	}
	if len(gaps) < leastForPace {
		return 0, false
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2], true
}

// SealantNeed is how long the stages still under the sealant's clock will take
// at the person's pace. False while no clock runs or no pace is known.
func (s *State) SealantNeed(now time.Time) (time.Duration, bool) {
	pace, known := s.Pace()
	if _, running := s.SealantLeft(now); !running || !known {
		return 0, false
	}
	left := 0
	for i := s.next; i <= s.sealEnd; i++ {
		if s.Items[i].Kind == StageItem && !s.marks[i].Closed {
			left++
		}
	}
	return time.Duration(left) * pace, true
}
