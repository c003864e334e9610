package growth

import (
	"math"
	"testing"
)

func TestTheSlopeIsTheExponent(t *testing.T) {
	sizes := []int{10, 40, 160, 640}
	for _, k := range []float64{0, 1, 1.5, 2, 3} {
		var cost []float64
		for _, n := range sizes {
			cost = append(cost, 7e-6*math.Pow(float64(n), k))
		}
		if got := Slope(sizes, cost); math.Abs(got-k) > 1e-9 {
			t.Errorf("cost grows with the power %v, measured %v", k, got)
		}
	}
	// One figure that is off by a fifth, of four over a range of 64, moves it by little.
	if got := Slope(sizes, []float64{10, 40, 160, 640 * 1.2}); math.Abs(got-1) > 0.05 {
		t.Errorf("one figure off by a fifth makes %v of 1", got)
	}
}
