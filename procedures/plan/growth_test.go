package plan_test

import (
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec/growth"
	"evenpull/spec/read"
)

// BenchmarkGrowthOfPlan plans a cover of so many bolts in a pass of each order.
func BenchmarkGrowthOfPlan(b *testing.B) {
	for _, order := range []string{"listed", "cross", "spiral", "reverse"} {
		b.Run(order, func(b *testing.B) {
			growth.Exponent(b, []int{150, 600, 2_400, 9_600}, func(n int) func() {
				p, problems := read.Procedure("sheet.toml", []byte(growth.Sheet(n, order)))
				if p == nil {
					b.Fatal(problems)
				}
				return func() { plan.Of(p) }
			})
		})
	}
}
