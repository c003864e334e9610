package quantity

import (
	"fmt"
	"math/big"
)

// Quantity is a figure of any dimension; its unit says which. The zero value has none.
type Quantity struct{ held[anyDim] }

// ParseAny reads one figure and lets its unit decide the dimension.
// The error is a *ParseError.
func ParseAny(s string) (Quantity, error) {
	text, f := tidy(s)
	var a amount
	if f == nil {
		a, f = one(text, 0)
	}
	if f != nil {
		return Quantity{}, f.of(s)
	}
	return Quantity{held[anyDim]{a}}, nil
}

// Dimension is what the figure measures.
func (q Quantity) Dimension() Dimension { return q.Unit().Dimension() }

// Compare is -1, 0 or +1, or an error when the two are of different dimensions.
func (q Quantity) Compare(o Quantity) (int, error) {
	if q.Dimension() != o.Dimension() {
		return 0, fmt.Errorf("%s is %s, %s is %s; give both in the same kind of unit", q, q.Dimension(), o, o.Dimension())
	}
	return q.core().compare(o.core()), nil
}

// UnmarshalText reads what MarshalText wrote, or any text ParseAny takes.
func (q *Quantity) UnmarshalText(b []byte) error {
	if string(b) == "0" {
		*q = Quantity{}
		return nil
	}
	if a, ok := stored(string(b)); ok {
		*q = Quantity{held[anyDim]{a}}
		return nil
	}
	got, err := ParseAny(string(b))
	*q = got
	return err
}

// Of is a figure of that many units, exactly; unlike anything read it may be negative.
func Of(figure *big.Rat, u Unit) Quantity {
	return Quantity{held[anyDim]{amount{value: new(big.Rat).Set(figure), unit: u}}}
}

// AnyOf lets a typed figure stand as a Quantity.
func AnyOf[T Amount[T]](t T) Quantity { return Quantity{held[anyDim]{t.core()}} }
