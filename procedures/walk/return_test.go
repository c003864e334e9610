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
		want       string // last; in hand; clocks
	}{
		{"nothing was done", half, nil, time.Hour, "||"},
		{"only a note", half, []Command{{Do: Note, Text: "began"}}, time.Hour, "||"},
		{"torque and no turn yet", half, []Command{measured("20.2 N·m")}, time.Hour,
			"First: A1, 20 N·m, read 20.2 N·m|A1 is half done: 20 N·m, and not yet turn 90°; a turn that was begun is lost|"},
		{"between two bolts", half, []Command{ok(), ok()}, time.Hour, "First: A1, turn 90°||"},
		{"undone, it does not stand", half, []Command{ok(), ok(), {Do: Undo, Text: "not sure"}}, time.Hour,
			"First: A1, 20 N·m|A1 is half done: 20 N·m, and not yet turn 90°; a turn that was begun is lost|"},
		{"to be let go", half, []Command{ok(), ok(), {Do: Lose, Target: "A1", Text: "slipped"}}, time.Hour, "|A1 starts again, and is still to be let go|"},
		{"a thread to repair", half, []Command{ok(), ok(), {Do: Problem, Target: "A1", Text: "stripped, case", Facts: Facts{StrippedAt: InCase}}}, time.Hour,
			"|the thread in the case at A1 is stripped and not recorded as repaired|"},
		{"the sealant holds yet", sealed, []Command{ok()}, 10 * time.Minute, "first smear of sealant||flange sealant: 10 min of 20 min left"},
		{"the sealant is past it", sealed, []Command{ok()}, time.Hour,
			"first smear of sealant||flange sealant: 40 min past its work time; open the joint, clean it, seal afresh"},
		{"it cures", sealed, []Command{ok(), ok(), ok()}, time.Hour, "Final: M1, 22 N·m||the wait of 4 h has 3 h to go; no oil yet: the sealant cures until 2026-03-01 21:03"},
		{"it has cured", sealed, []Command{ok(), ok(), ok()}, 13 * time.Hour, "Final: M1, 22 N·m||the wait of 4 h is over; the sealant has cured since 2026-03-01 21:03"},
		{"a wait that is not over", strings.Replace(waiting, "name = \"Warm through\"\nwait = \"1h\"\n[[pass]]\n", "", 1), []Command{ok()}, time.Hour, "Snug: M1, 9 N·m||the wait of 4 h has 3 h to go"},
		{"a wait that is over", strings.Replace(waiting, "name = \"Warm through\"\nwait = \"1h\"\n[[pass]]\n", "", 1), []Command{ok()}, 4 * time.Hour, "Snug: M1, 9 N·m||the wait of 4 h is over"},
		{"all at their torque and none turned", turning, []Command{ok(), ok()}, time.Hour,
			"Snug: M2, 8.8 N·m|M1 is half done: 8.8 N·m, and not yet turn 90° to 94°; a turn that was begun is lost|"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, now := walked(t, c.text, c.do...)
			r := s.Returning(now.Add(c.away))
			if got := strings.Join([]string{r.Last, strings.Join(r.InHand, "; "), strings.Join(r.RanOut, "; ")}, "|"); got != c.want {
				t.Errorf("told\n%s\nwant\n%s", got, c.want)
			}
			if len(c.do) > 0 && !r.Left.Equal(now) || r.Last != "" && r.LastAt.IsZero() {
				t.Errorf("left %s, last %s", r.Left, r.LastAt)
			}
		})
	}
}
