package quantity

import (
	"math"
	"math/big"
	"time"
)

// Amount is the set of the five types, for code that works on any one of them.
type Amount[T any] interface {
	Torque | Angle | Length | Force | Duration

	Cmp(T) int
	Scale(*big.Rat) T
	As(Unit) T
	In(Unit) float64
	Exact(Unit) *big.Rat
	Text(Unit) string
	Parts(Unit) Parts
	String() string
	Unit() Unit
	IsZero() bool

	core() amount
	with(amount) T
}

// Torque is an exact tightening torque with the unit it was written in. The zero value is 0 N·m.
type Torque struct{ held[torqueDim] }

// Nm is the value in N·m, rounded once to the nearest binary64.
func (t Torque) Nm() float64 { return t.In(NewtonMetre) }

// Cmp compares exactly: -1, 0 or +1.
func (t Torque) Cmp(o Torque) int { return t.core().compare(o.core()) }

// Scale multiplies exactly; 40 % is big.NewRat(40, 100).
func (t Torque) Scale(by *big.Rat) Torque { return t.with(t.core().scale(by)) }

// Add is the exact sum, in the unit of the first.
func (t Torque) Add(o Torque) Torque { return t.with(t.core().plus(o.core())) }

// Sub is the exact difference, in the unit of the first.
func (t Torque) Sub(o Torque) Torque { return t.with(t.core().minus(o.core())) }

// As is the same value counted as written in u; itself for a unit of another dimension.
func (t Torque) As(u Unit) Torque { return t.with(t.core().as(u)) }

// UnmarshalText reads what MarshalText wrote, or any text ParseTorque takes.
func (t *Torque) UnmarshalText(b []byte) (err error) {
	*t, err = unmarshal[Torque](b)
	return err
}

func (Torque) with(a amount) Torque { return Torque{held[torqueDim]{a}} }

// Angle is an exact angle of turn with the unit it was written in. The zero value is 0 °.
type Angle struct{ held[angleDim] }

// Degrees is the value in degrees, rounded once to the nearest binary64.
func (a Angle) Degrees() float64 { return a.In(Degree) }

// Cmp compares exactly: -1, 0 or +1.
func (a Angle) Cmp(o Angle) int { return a.core().compare(o.core()) }

// Scale multiplies exactly; 40 % is big.NewRat(40, 100).
func (a Angle) Scale(by *big.Rat) Angle { return a.with(a.core().scale(by)) }

// Add is the exact sum, in the unit of the first.
func (a Angle) Add(o Angle) Angle { return a.with(a.core().plus(o.core())) }

// Sub is the exact difference, in the unit of the first.
func (a Angle) Sub(o Angle) Angle { return a.with(a.core().minus(o.core())) }

// As is the same value counted as written in u; itself for a unit of another dimension.
func (a Angle) As(u Unit) Angle { return a.with(a.core().as(u)) }

// UnmarshalText reads what MarshalText wrote, or any text ParseAngle takes.
func (a *Angle) UnmarshalText(b []byte) (err error) {
	*a, err = unmarshal[Angle](b)
	return err
}

func (Angle) with(a amount) Angle { return Angle{held[angleDim]{a}} }

// Length is an exact length with the unit it was written in. The zero value is 0 mm.
type Length struct{ held[lengthDim] }

// Mm is the value in mm, rounded once to the nearest binary64.
func (l Length) Mm() float64 { return l.In(Millimetre) }

// Cmp compares exactly: -1, 0 or +1.
func (l Length) Cmp(o Length) int { return l.core().compare(o.core()) }

// Scale multiplies exactly; 40 % is big.NewRat(40, 100).
func (l Length) Scale(by *big.Rat) Length { return l.with(l.core().scale(by)) }

// Add is the exact sum, in the unit of the first.
func (l Length) Add(o Length) Length { return l.with(l.core().plus(o.core())) }

// Sub is the exact difference, in the unit of the first.
func (l Length) Sub(o Length) Length { return l.with(l.core().minus(o.core())) }

// As is the same value counted as written in u; itself for a unit of another dimension.
func (l Length) As(u Unit) Length { return l.with(l.core().as(u)) }

// UnmarshalText reads what MarshalText wrote, or any text ParseLength takes.
func (l *Length) UnmarshalText(b []byte) (err error) {
	*l, err = unmarshal[Length](b)
	return err
}

func (Length) with(a amount) Length { return Length{held[lengthDim]{a}} }

// Force is an exact force with the unit it was written in. The zero value is 0 N.
type Force struct{ held[forceDim] }

// N is the value in newtons, rounded once to the nearest binary64.
func (f Force) N() float64 { return f.In(Newton) }

// Cmp compares exactly: -1, 0 or +1.
func (f Force) Cmp(o Force) int { return f.core().compare(o.core()) }

// Scale multiplies exactly; 40 % is big.NewRat(40, 100).
func (f Force) Scale(by *big.Rat) Force { return f.with(f.core().scale(by)) }

// Add is the exact sum, in the unit of the first.
func (f Force) Add(o Force) Force { return f.with(f.core().plus(o.core())) }

// Sub is the exact difference, in the unit of the first.
func (f Force) Sub(o Force) Force { return f.with(f.core().minus(o.core())) }

// As is the same value counted as written in u; itself for a unit of another dimension.
func (f Force) As(u Unit) Force { return f.with(f.core().as(u)) }

// UnmarshalText reads what MarshalText wrote, or any text ParseForce takes.
func (f *Force) UnmarshalText(b []byte) (err error) {
	*f, err = unmarshal[Force](b)
	return err
}

func (Force) with(a amount) Force { return Force{held[forceDim]{a}} }

// Duration is an exact length of time with the unit it was written in. The zero value is 0 s.
type Duration struct{ held[timeDim] }

// Std is the value to the nearest nanosecond; the longest time.Duration when it is longer.
func (d Duration) Std() time.Duration {
	r := d.Exact(Second)
	ns, _ := r.Mul(r, big.NewRat(int64(time.Second), 1)).Float64()
	if ns >= math.MaxInt64 {
		return math.MaxInt64
	}
	return time.Duration(math.Round(ns))
}

// Cmp compares exactly: -1, 0 or +1.
func (d Duration) Cmp(o Duration) int { return d.core().compare(o.core()) }

// Scale multiplies exactly; 40 % is big.NewRat(40, 100).
func (d Duration) Scale(by *big.Rat) Duration { return d.with(d.core().scale(by)) }

// Add is the exact sum, in the unit of the first.
func (d Duration) Add(o Duration) Duration { return d.with(d.core().plus(o.core())) }

// Sub is the exact difference, in the unit of the first.
func (d Duration) Sub(o Duration) Duration { return d.with(d.core().minus(o.core())) }

// As is the same value counted as written in u; itself for a unit of another dimension.
func (d Duration) As(u Unit) Duration { return d.with(d.core().as(u)) }

// UnmarshalText reads what MarshalText wrote, or any text ParseDuration takes.
func (d *Duration) UnmarshalText(b []byte) (err error) {
	*d, err = unmarshal[Duration](b)
	return err
}

func (Duration) with(a amount) Duration { return Duration{held[timeDim]{a}} }
