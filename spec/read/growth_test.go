package read

import (
	"testing"

	"evenpull/spec/growth"
)

// BenchmarkGrowthOfCheck reads sheets of so many bolts.
func BenchmarkGrowthOfCheck(b *testing.B) {
	growth.Exponent(b, []int{150, 600, 2_400, 9_600}, func(n int) func() {
		text := sheetOf(n)
		return func() {
			if p, problems := Procedure("sheet.toml", text); p == nil {
				b.Fatal(problems)
			}
		}
	})
}
