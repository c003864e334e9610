package plain

import (
	"strings"
	"testing"

	"evenpull/procedures/walk"
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

// An angle may be found lost after the next fastener has come into hand.
func TestLostNamesAFastenerThatIsNotInHand(t *testing.T) {
	s := state(t, cover)
	for line, want := range map[string][2]string{
		"lost the socket slipped":     {"", "the socket slipped"},
		"lost M1: the socket slipped": {"M1", "the socket slipped"},
		"lost said: nothing":          {"", "said: nothing"},
	} {
		r, err := parse(line, s)
		if got := [2]string{r.command.Target, r.command.Text}; err != nil || r.command.Do != walk.Lose || got != want {
			t.Errorf("%s: got %q, %v, want %q", line, got, err, want)
		}
	}
	if _, err := parse("lost M1, M2: the gauge fell", s); err == nil {
		t.Error("two lost at once were taken")
	}
}
