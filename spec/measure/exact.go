package measure

import (
	"math/big"
)

func add(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
func sub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
func half(a *big.Rat) *big.Rat   { return new(big.Rat).Mul(a, big.NewRat(1, 2)) }
func apart(a, b *big.Rat) *big.Rat {
	d := sub(a, b)
	return d.Abs(d)
}

func sum(list []*big.Rat) *big.Rat {
	total := new(big.Rat)
	for _, r := range list {
		total.Add(total, r)
	}
	return total
}

// extent of a list that is not empty.
func extent(list []*big.Rat) (low, high, mean *big.Rat) {
	low, high = list[0], list[0]
	for _, r := range list {
		if r.Cmp(low) < 0 {
			low = r
		}
		if r.Cmp(high) > 0 {
			high = r
		}
	}
	return low, high, new(big.Rat).Quo(sum(list), big.NewRat(int64(len(list)), 1))
}
