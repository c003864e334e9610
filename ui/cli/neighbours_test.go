package cli

import "testing"

func TestVerdictOnTheWays(t *testing.T) {
	const nothing = "no difference that this estimate can tell."
	for _, c := range []struct {
		compared bool
		told     []string
		want     string
	}{
		{false, nil, "No other way comes to other steps."},
		{true, nil, "No difference that this estimate can tell."},
		{true, []string{"every pass spiral", "one torque pass only"}, "Told from the sheet's order: every pass spiral; one torque pass only.\nBetween the others and the sheet's order, " + nothing},
	} {
		if got := verdict(c.compared, c.told); got != c.want {
			t.Errorf("%v, %q: %q, want %q", c.compared, c.told, got, c.want)
		}
	}
}
