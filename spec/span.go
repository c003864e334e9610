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

// Ago says how long ago a time was, as a person would: "an hour ago", "3 months ago".
func Ago(at, now time.Time) string {
	const day = 24 * time.Hour
	since := now.Sub(at)
	days := int(since / day)
	switch {
	case since < -time.Minute:
		return "ahead of this clock"
	case since < time.Minute:
		return "just now"
	case since < time.Hour:
		return some(int(since/time.Minute), "a minute", "minutes")
	case since < day:
		return some(int(since/time.Hour), "an hour", "hours")
	case days < 60:
		return some(days, "a day", "days")
	case days < 350:
		return some(days/30, "a month", "months")
	case days < 550:
		return "a year ago"
	}
	return some((days+182)/365, "a year", "years")
}

func some(n int, one, many string) string {
	if n == 1 {
		return one + " ago"
	}
	return fmt.Sprintf("%d %s ago", n, many)
}
