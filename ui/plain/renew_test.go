package plain

import (
	"strings"
	"testing"
)

// The prompt says what to type, so a name that holds a comma must be read back.
func TestRenewReadsAPartWhoseNameHoldsAComma(t *testing.T) {
	s := state(t, strings.Replace(cover, `name  = "washer behind the gear"`, `name  = "crank seal, left"`, 1))
	for line, want := range map[string][3]string{
		"renew crank seal, left":         {"crank seal, left", "", ""},
		"renew crank seal, left, bag 4":  {"crank seal, left", "", "bag 4"},
		"renew crank-seal-left, bag 4":   {"crank-seal-left", "", "bag 4"},
		"renew washer, 4471, second bag": {"washer", "", "4471, second bag"},
		"renew M1 plain washer, 4471":    {"M1", "plain washer", "4471"},
	} {
		r, err := parse(line, s)
		if got := [3]string{r.command.Target, r.command.Piece, r.command.Number}; err != nil || got != want {
			t.Errorf("%s: got %q, %v, want %q", line, got, err, want)
		}
	}
}
