package plain

import (
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
