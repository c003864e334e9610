package words

import (
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Said is a line with a word before it that says what it is of.
type Said struct{ Of, Text string }

// ComingBack says to somebody who comes back to a walk where it was left, what ran out
// meanwhile, and what was taken apart.
func ComingBack(r walk.Return, now time.Time) []Said {
	var lines []Said
	for _, text := range r.RanOut { // first: the rest may no longer hold
		lines = append(lines, Said{"clock", text})
	}
	lines = append(lines, Said{"last", r.Last + ", " + when(r.LastAt, now)})
	if r.Left.Sub(r.LastAt) >= time.Minute {
		lines = append(lines, Said{"left", when(r.Left, now)})
	}
	for _, part := range []struct {
		of    string
		texts []string
	}{{"in hand", r.InHand}, {"apart", r.Apart}} {
		for _, text := range part.texts {
			lines = append(lines, Said{part.of, text})
		}
	}
	return lines
}

func when(at, now time.Time) string {
	form := "2006-01-02 15:04"
	if at.Format(time.DateOnly) == now.Format(time.DateOnly) {
		form = "15:04"
	}
	return spec.Ago(at, now) + " (" + at.Format(form) + ")"
}
