package neighbours

import (
	"strings"
	"testing"
)

// By hand: two hundredths and a quarter of what is off the whole, from the least and from
// the most of the shares.
func TestBandReachesPastTheModels(t *testing.T) {
	for _, c := range []struct {
		shares    []float64
		low, high float64
	}{
		{[]float64{1}, 0.98, 1.02},
		{[]float64{0.9, 0.8, 0.84}, 0.73, 0.945},
		{[]float64{0.8, 0.9}, 0.73, 0.945},
		{[]float64{1.4, 1}, 0.98, 1.52},
		{[]float64{1.4, 1.2}, 1.13, 1.52},
		{[]float64{0.1}, 0, 0.345},
	} {
		low, high := Band(c.shares...)
		if !about(low, c.low, 1e-12) || !about(high, c.high, 1e-12) {
			t.Errorf("%v: %v to %v, want %v to %v", c.shares, low, high, c.low, c.high)
		}
	}
}

// Each limit from just inside and just outside, in a joint that is inside in all else.
func TestJointsBeyondTheGridAreToldApart(t *testing.T) {
	for _, c := range []struct {
		thickness, pitch, face float64
		diameters              []float64
		want                   string
	}{
		{12, 40, 200, []float64{8, 8}, ""},
		{6, 40, 200, []float64{8, 8}, ""},
		{5.9, 40, 200, []float64{8, 8}, "cover 5.9 mm thick on bolts of 8 to 8 mm: outside 0.75 to 5 diameters"},
		{6, 40, 200, []float64{8, 10}, "on bolts of 8 to 10 mm: outside 0.75 to 5 diameters"},
		{40, 50, 200, []float64{8, 8}, ""},
		{40.1, 50, 200, []float64{8, 8}, "cover 40.1 mm thick"},
		{40, 50, 200, []float64{10, 6}, "cover 40 mm thick"},
		{12, 24, 200, []float64{8, 8}, ""},
		{12, 23.9, 200, []float64{8, 8}, "A and B are 23.9 mm apart: under 3 diameters"},
		{12, 24, 200, []float64{6, 10}, "A and B are 24 mm apart: under 3 diameters"},
		{30, 30, 200, []float64{8, 8}, ""},
		{30, 29.9, 200, []float64{8, 8}, "A and B are 29.9 mm apart: closer than the cover is thick"},
		// λ = (70000·24³/(3·5))^¼ = 89.6 mm, by hand
		{24, 30, 5, []float64{8, 8}, ""},
		{24, 29.8, 5, []float64{8, 8}, "A and B are 29.8 mm apart: so close on so soft a face (under 29.9 mm) that the cover moves as one piece"},
	} {
		j := Joint{Plate{70000, 0.33, c.thickness}, Face{c.face}, []Bolt{{"A", 0, 0, 1}, {"B", 0.6 * c.pitch, 0.8 * c.pitch, 1}}}
		if got := j.Uncompared(c.diameters); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%v: got %q, want %q", c, got, c.want)
		}
	}
}
