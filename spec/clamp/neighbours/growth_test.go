package neighbours

import (
	"testing"

	"evenpull/spec/growth"
)

// BenchmarkGrowthOfNeighbours draws so many bolts down in five passes, from the matrix of
// influence on. For n bolts that is n² influences, n steps of n² in the first pass and
// n steps of n in each later one: the exponent comes to 2 to 3, the more bolts the higher.
func BenchmarkGrowthOfNeighbours(b *testing.B) {
	growth.Exponent(b, []int{25, 50, 100, 200}, func(n int) func() {
		return func() {
			m := wideCover(b, n, 20)
			tighten(b, m, repeat(5, Set, m.ids(), 15000)...)
		}
	})
}
