package walk

import (
	"strings"
	"testing"
)

// Whatever the window, the examples that are shown for it lie inside, not on a limit.
func TestExamplesOfAStretchLieInside(t *testing.T) {
	for _, window := range []string{"0.12 mm to 0.15 mm", "at least 0.1 mm", "0.05 mm to 0.07 mm", "0.12 ± 0.01 mm", "4 thou to 6 thou"} {
		s, _ := walked(t, strings.Replace(stretching, "0.12 mm to 0.15 mm", window, 1))
		w := WindowOf(s.CurrentItem().Stage)
		for _, example := range []string{w.Example(), w.Lengths() + ", at 40 N·m"} {
			got, err := w.readStretch(example)
			if err != nil {
				t.Fatalf("%s: %q is not understood: %v", window, example, err)
			}
			low, high := w.Limits()
			if mm, _ := got.mm.Float64(); mm <= low*1.001 || high > 0 && mm >= high*0.999 {
				t.Errorf("%s: %q comes to %.4f mm, not inside", window, example, mm)
			}
			if v, _ := w.judgeStretch(example); v != inRange {
				t.Errorf("%s: %q is judged %d", window, example, v)
			}
		}
	}
}
