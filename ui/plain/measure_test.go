package plain

import (
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// Where several figures are wanted, nobody should need a refusal to learn it.
func TestTheFormOfSeveralFiguresIsSaidBeforeTheyAreAskedFor(t *testing.T) {
	form := "  all in one line: measure 0.1 mm; 0.1 mm"
	for readings, want := range map[string]bool{"": false, "kind = \"strip\"\nreadings = 2\n": true} {
		text := strings.Replace(cover, "after   = \"Final\"\n", "before = \"Final\"\n"+readings, 1)
		s := state(t, text)
		for s.CurrentItem().Check == nil {
			e, refusal := walk.Decide(s, walk.Command{Do: walk.Confirm}, time.Time{})
			if refusal != nil {
				t.Fatalf("on the way to the measurement: %v", refusal)
			}
			s.Apply(*e)
		}
		lines := strings.Join(Prompt(s, "", nil, time.Time{}), "\n")
		if strings.Contains(lines, form) != want {
			t.Errorf("%q gives:\n%s", readings, lines)
		}
	}
}

// A sealant's clock says what is left of it, and once nothing is, by how much it is past
// and what to do: never that less than nothing is left.
func TestTheSealantsClockIsSaidUntilAndPastItsEnd(t *testing.T) {
	text := strings.Replace(cover, "[group.", "[sealant]\nname = \"flange sealant\"\nwork_time = \"20m\"\n[group.", 1)
	s, now := state(t, text), time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for smeared := false; !smeared; {
		smeared = s.CurrentItem().Kind == walk.SealItem
		e, refusal := walk.Decide(s, walk.Command{Do: walk.Confirm}, now)
		if refusal != nil {
			t.Fatalf("on the way to the smear: %v", refusal)
		}
		s.Apply(*e)
	}
	for after, want := range map[time.Duration]string{
		8 * time.Minute:                              "  sealant: 12 min of work time left",
		20 * time.Minute:                             "  sealant: 0 s of work time left",
		25*time.Minute + 30*time.Second:              "  SEALANT PAST ITS WORK TIME by 5 min 30 s: open it, clean it, seal it afresh: reseal REASON",
		3*time.Hour + 20*time.Minute + 1*time.Second: "  SEALANT PAST ITS WORK TIME by 3 h: open it, clean it, seal it afresh: reseal REASON",
	} {
		if lines := Prompt(s, "", nil, now.Add(after)); !slices.Contains(lines, want) {
			t.Errorf("%v after the smear:\n%s\nwant %q", after, strings.Join(lines, "\n"), want)
		}
	}
}
