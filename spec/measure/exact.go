package measure

import (
	"math/big"

	"evenpull/spec/quantity"
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

// figure makes an exact quantity; unlike anything parsed, it may be negative.
func figure(r *big.Rat, u quantity.Unit) quantity.Quantity {
	switch u.Dimension() {
	case quantity.TorqueKind:
		return times(quantity.ParseTorque, r, u)
	case quantity.AngleKind:
		return times(quantity.ParseAngle, r, u)
	case quantity.ForceKind:
		return times(quantity.ParseForce, r, u)
	case quantity.TimeKind:
		return times(quantity.ParseDuration, r, u)
	}
	return times(quantity.ParseLength, r, u)
}

// times is r units. Every unit's own symbol can be read, so no error is lost.
func times[T quantity.Amount[T]](parse func(string) (T, error), r *big.Rat, u quantity.Unit) quantity.Quantity {
	one, _ := parse("1 " + u.Symbol())
	return quantity.AnyOf(one.Scale(r))
}
