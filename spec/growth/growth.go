// Package growth is for benchmarks: it tells how the cost of work grows with its size,
// and makes the large sheets that this is measured with.
package growth

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// Exponent measures work of several sizes, the sizes turn and turn about, and reports k
// of the cost that grows with the size to the k: 1 is linear. ready makes what is needed
// beforehand, and gives the work that is timed.
func Exponent(b *testing.B, sizes []int, ready func(size int) func()) {
	b.Helper()
	work := make([]func(), len(sizes))
	took := make([][]float64, len(sizes))
	for i, size := range sizes {
		work[i] = ready(size)
		work[i]() // caches are warm, and what is made once is made
	}
	most := sizes[len(sizes)-1]
	for b.Loop() {
		for i, size := range sizes {
			times := max(1, most/size) // so that each size has as long to be measured
			start := time.Now()
			for range times {
				work[i]()
			}
			took[i] = append(took[i], time.Since(start).Seconds()/float64(times))
		}
	}
	cost := make([]float64, len(sizes))
	for i := range took {
		cost[i] = slices.Min(took[i]) // what else ran only makes it longer
	}
	b.ReportMetric(Slope(sizes, cost), "exponent")
	b.ReportMetric(cost[len(cost)-1]*1000, "ms-largest")
	b.ReportMetric(0, "ns/op")
}

// Slope is that of the line of least squares through the logarithms of sizes and costs.
func Slope(sizes []int, cost []float64) float64 {
	var x, y, xx, xy float64
	for i, size := range sizes {
		lx, ly := math.Log(float64(size)), math.Log(cost[i])
		x, y, xx, xy = x+lx, y+ly, xx+lx*lx, xy+lx*ly
	}
	n := float64(len(sizes))
	return (n*xy - x*y) / (n*xx - x*x)
}

// Sheet is a procedure of so many bolts, invented, and a pass for each order named.
func Sheet(bolts int, orders ...string) string {
	var s strings.Builder
	s.WriteString("format = 1\n[procedure]\nname = \"Close a large cover\"\ndirection = \"close\"\nsource = \"invented for this benchmark\"\n" +
		"[group.rim]\nthread = \"M8x1.25\"\nclass = \"8.8\"\ntorque = \"22 N·m\"\n[group.rim.at]\n")
	for i := range bolts {
		fmt.Fprintf(&s, "B%d = [%d, %d]\n", i, i%100*20, i/100*20)
	}
	for i, order := range orders {
		fmt.Fprintf(&s, "[[pass]]\nname = \"Pass %d\"\ngroups = [\"rim\"]\ntorque = \"%d %%\"\norder = %q\n", i+1, 100*(i+1)/len(orders), order)
	}
	return s.String()
}
