package keys

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Burst is the time within which two keys are not pressed by one hand: a gauge, a
// wrench or a scanner that types like a keyboard sent them, or they are pasted, or the
// machine stood still and hands them over together. A held key repeats every 33 ms, a
// fast typist every 60 (common practice, no source).
const Burst = 25 * time.Millisecond

// Stream tells keys that arrive one by one from those that arrive together. The zero
// value is ready.
type Stream struct{ last time.Time }

// Arrive takes a key's arrival and reports whether it came together with the one before.
func (s Stream) Arrive(now time.Time) (Stream, bool) {
	since := now.Sub(s.last)
	together := !s.last.IsZero() && since >= 0 && since < Burst
	return Stream{last: now}, together
}

// Several reports whether a message holds more than one key's worth: several
// characters that arrived in one read, or a paste. As the name of a key such a text
// means nothing, be it "enter".
func Several(k tea.KeyMsg) bool { return k.Paste || k.Type == tea.KeyRunes && len(k.Runes) > 1 }
