package keys

import "time"

// DoublePress is the time within which a second confirmation is taken for a
// bounce of the first: slower than a double press by a thick glove, faster
// than anyone turns a bolt. Common practice, no source.
const DoublePress = 400 * time.Millisecond

// Guard lets a confirmation through unless it follows another too soon. The
// zero value is ready. It says nothing about a write still under way: a screen
// also ignores confirmations until the last one is on disk.
type Guard struct{ last time.Time }

// Press takes a press at time now and reports whether it counts. One that
// doesn't count starts the time anew, so a key held down, or a pedal that
// chatters, confirms once and not every 400 ms. A clock set back lets the
// press through rather than lock the key until it catches up.
func (g Guard) Press(now time.Time) (Guard, bool) {
	since := now.Sub(g.last)
	bounce := !g.last.IsZero() && since >= 0 && since < DoublePress
	return Guard{last: now}, !bounce
}
