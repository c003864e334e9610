package walk

import (
	"strings"
	"testing"
	"time"
)

// What somebody is told who comes back, by where the walk was left and how long ago.
func TestWhoComesBackIsToldWhereItWasLeft(t *testing.T) {
	const half = drives + "[[pass]]\nname = \"First\"\ngroups = [\"a\"]\neach = [{ torque = \"20 N·m\" }, { turn = \"90°\" }]\n"
	turning := strings.Replace(twoBolts, "one_use = true\n", "", 1)
	for _, c := range []struct {
		name, text string
		do         []Command
		away       time.Duration
		want       string // last; in hand; clocks; next
	}{
		{"nothing was done", half, nil, time.Hour, "|||First: A1, 20 N·m"},
		{"only a note", half, []Command{{Do: Note, Text: "began"}}, time.Hour, "|||First: A1, 20 N·m"},
		{"torque and no turn yet", half, []Command{read("20.2 N·m")}, time.Hour,
			"First: A1, 20 N·m, read 20.2 N·m|A1 is half done: 20 N·m is confirmed, turn 90° is not; if the turn of A1 was begun, its angle is lost: record that, and it starts again||First: A1, turn 90°"},
		{"between two bolts", half, []Command{ok(), ok()}, time.Hour, "First: A1, turn 90°|||First: A2, 20 N·m"},
		{"undone, it does not stand", half, []Command{ok(), ok(), {Do: Undo, Text: "not sure"}}, time.Hour,
			"First: A1, 20 N·m|A1 is half done: 20 N·m is confirmed, turn 90° is not; if the turn of A1 was begun, its angle is lost: record that, and it starts again||First: A1, turn 90°"},
		{"to be let go", half, []Command{ok(), ok(), {Do: Lose, Target: "A1", Text: "slipped"}}, time.Hour, "|A1 starts again, and is still to be let go||slacken A1 fully, before it starts again"},
		{"a thread to repair", half, []Command{ok(), ok(), {Do: Problem, Target: "A1", Text: "stripped, case", Facts: Facts{StrippedAt: InCase}}}, time.Hour,
			"|the thread in the case at A1 is stripped and not recorded as repaired||repair the thread in the case at A1"},
		{"the sealant holds yet", sealed, []Command{ok()}, 10 * time.Minute, "first smear of sealant||flange sealant: 10 min of its 20 min are left|Snug: M1, 9 N·m"},
		{"the sealant is past it", sealed, []Command{ok()}, time.Hour,
			"first smear of sealant||flange sealant is past its work time of 20 min by 40 min: open the joint, clean both faces and seal it again|Snug: M1, 9 N·m"},
		{"it cures", sealed, []Command{ok(), ok(), ok()}, time.Hour, "Final: M1, 22 N·m||the wait of 4 h has 3 h to go; no oil yet: the sealant cures until 2026-03-01 21:03|Settle: wait 4 h"},
		{"it has cured", sealed, []Command{ok(), ok(), ok()}, 13 * time.Hour, "Final: M1, 22 N·m||the wait of 4 h is over; the sealant has cured since 2026-03-01 21:03|Settle: wait 4 h"},
		{"a wait that is not over", strings.Replace(waiting, "name = \"Warm through\"\nwait = \"1h\"\n[[pass]]\n", "", 1), []Command{ok()}, time.Hour, "Snug: M1, 9 N·m||the wait of 4 h has 3 h to go|Settle: wait 4 h"},
		{"a wait that is over", strings.Replace(waiting, "name = \"Warm through\"\nwait = \"1h\"\n[[pass]]\n", "", 1), []Command{ok()}, 4 * time.Hour, "Snug: M1, 9 N·m||the wait of 4 h is over|Settle: wait 4 h"},
		{"all at their torque and none turned", turning, []Command{ok(), ok()}, time.Hour,
			"Snug: M2, 8.8 N·m|M1 is half done: 8.8 N·m is confirmed, turn 90° to 94° is not; if the turn of M1 was begun, its angle is lost: record that, and it starts again||Turn: M1, turn 90° to 94°"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, now := walked(t, c.text, c.do...)
			r := s.Returning(now.Add(c.away))
			if got := strings.Join([]string{r.Last, strings.Join(r.InHand, "; "), strings.Join(r.RanOut, "; "), r.Next}, "|"); got != c.want {
				t.Errorf("told\n%s\nwant\n%s", got, c.want)
			}
			if len(c.do) > 0 && !r.Left.Equal(now) || r.Last != "" && r.LastAt.IsZero() {
				t.Errorf("left %s, last %s", r.Left, r.LastAt)
			}
		})
	}
}
