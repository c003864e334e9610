package bolt

import (
	"strconv"
	"strings"
)

// ThreadNames lists the standard threads by the names ParseThread gives them:
// metric by size, coarse first, then inch by series.
func ThreadNames() []string {
	var names []string
	number := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	for _, s := range metricSizes {
		pitches := s.fine
		if s.coarse > 0 {
			pitches = append([]float64{s.coarse}, pitches...)
		}
		for _, p := range pitches {
			names = append(names, "M"+number(s.diameter)+"x"+number(p))
		}
	}
	for _, s := range inchSeries {
		for _, word := range strings.Fields(s.words) {
			names = append(names, word+" "+s.series)
		}
	}
	return names
}
