package spec

import (
	"fmt"
	"time"
)

// Span prints a time as a person says it: 2 d 3 h, 4 h 5 min, 12 min, 40 s.
func Span(d time.Duration) string {
	d = d.Round(time.Second)
	days, hours, minutes, seconds := int(d/(24*time.Hour)), int(d/time.Hour)%24, int(d/time.Minute)%60, int(d/time.Second)%60
	switch {
	case days > 0 && hours > 0:
		return fmt.Sprintf("%d d %d h", days, hours)
	case days > 0:
		return fmt.Sprintf("%d d", days)
	case hours > 0 && minutes > 0:
		return fmt.Sprintf("%d h %d min", hours, minutes)
	case hours > 0:
		return fmt.Sprintf("%d h", hours)
	case minutes > 0 && seconds > 0 && minutes < 10:
		return fmt.Sprintf("%d min %d s", minutes, seconds)
	case minutes > 0:
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d s", seconds)
}
