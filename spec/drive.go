package spec

import "evenpull/spec/pattern"

var (
	twelve = pattern.Of(`(?i)\b(?:12|twelve)[ -]?(?:point|pt|side)|\b(?:bi-?|double[ -])hex`)
	six    = pattern.Of(`(?i)\bhex(?:agon(?:al)?)?\b|\b(?:6|six)[ -]?(?:point|pt|side)|\ballen\b|\bacross flats\b|\bA/?F\b`)
)

// Corners is how many equal parts of a turn can be counted on the drive: 6 flats
// of a hexagon, 12 points of a twelve-point, 0 where the sheet names neither.
func (g *Group) Corners() int {
	switch {
	case twelve.RE().MatchString(g.Drive):
		return 12
	case six.RE().MatchString(g.Drive):
		return 6
	}
	return 0
}
