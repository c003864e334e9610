package spec

import (
	"testing"
	"time"
)

func TestSilenceIsToldInWordsAPersonUses(t *testing.T) {
	const day = 24 * time.Hour
	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	for since, want := range map[time.Duration]string{
		-time.Minute - 1: "ahead of this clock", -time.Minute: "just now", 59 * time.Second: "just now",
		time.Minute: "a minute ago", 2*time.Minute - 1: "a minute ago", 59 * time.Minute: "59 minutes ago",
		time.Hour: "an hour ago", 23 * time.Hour: "23 hours ago", day: "a day ago", 12 * day: "12 days ago", 59 * day: "59 days ago",
		60 * day: "2 months ago", 349 * day: "11 months ago", 350 * day: "a year ago", 549 * day: "a year ago", 550 * day: "2 years ago", 1100 * day: "3 years ago",
	} {
		if got := Ago(now.Add(-since), now); got != want {
			t.Errorf("%s: %q, want %q", since, got, want)
		}
	}
}
