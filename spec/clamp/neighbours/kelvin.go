package neighbours

import (
	"math"
	"math/cmplx"
)

const eulerGamma = 0.57721566490153286060651209008240243

// seriesLimit is where kelvinK changes method. Below it the power series loses
// no more than a factor exp(√2·x) ≈ 70 to cancellation, above it the continued
// fraction needs fewer than 40 terms.
const seriesLimit = 3.0

// kelvinK returns the Kelvin functions ker(x) and kei(x) of order zero for
// x ≥ 0, as the real and imaginary part of the modified Bessel function
// K₀(x·exp(iπ/4)). At 0 ker is +Inf and kei −π/4. Relative to |K₀| the error is
// below 1e-13 (checked against SciPy up to x = 60).
func kelvinK(x float64) (ker, kei float64) {
	if x == 0 {
		return math.Inf(1), -math.Pi / 4
	}
	var k complex128
	if x < seriesLimit {
		k = besselK0Series(x)
	} else {
		k = besselK0Fraction(x)
	}
	return real(k), imag(k)
}

// besselK0Series sums K₀(z) = Σ (z²/4)^m/(m!)²·(H_m − γ − ln(z/2)) for
// z = x·exp(iπ/4), so that z²/4 = i·x²/4 and the powers of i only shift the
// terms between the real and the imaginary sum (Abramowitz & Stegun 9.6.13).
func besselK0Series(x float64) complex128 {
	q := x * x / 4
	var plain, weighted [4]float64 // sums by power of i
	term, harmonic := 1.0, 0.0
	for m := 0; ; m++ {
		if m > 0 {
			term *= q / float64(m*m)
			harmonic += 1 / float64(m)
		}
		plain[m%4] += term
		weighted[m%4] += term * harmonic
		if term < 1e-20 {
			break
		}
	}
	fold := func(s [4]float64) complex128 { return complex(s[0]-s[2], s[1]-s[3]) }
	log := complex(eulerGamma+math.Log(x/2), math.Pi/4)
	return fold(weighted) - log*fold(plain)
}

// besselK0Fraction evaluates K₀(z), z = x·exp(iπ/4), by Steed's continued
// fraction with the normalising sum of Temme (1975), as textbooks on numerical
// methods give it for real argument (from memory); it holds for Re z > 0.
func besselK0Fraction(x float64) complex128 {
	z := complex(x*math.Sqrt2/2, x*math.Sqrt2/2)
	if real(z) > 745 { // exp(−z) is below the smallest float64
		return 0
	}
	a, c := -0.25, 0.25
	b := 2 * (1 + z)
	d := 1 / b
	delta := d
	q1, q2, q := complex128(0), complex128(1), complex(0.25, 0)
	sum := 1 + q*delta
	for i := 2.0; i < 500; i++ {
		a -= 2 * (i - 1)
		c = -a * c / i
		q1, q2 = q2, scale(q1-b*q2, 1/a)
		q += scale(q2, c)
		b += 2
		d = 1 / (b + scale(d, a))
		delta *= b*d - 1
		step := q * delta
		sum += step
		if abs1(step) < 1e-16*abs1(sum) {
			break
		}
	}
	return cmplx.Sqrt(math.Pi/(2*z)) * cmplx.Exp(-z) / sum
}

// scale multiplies by a real number, cheaper than a complex product.
func scale(z complex128, f float64) complex128 { return complex(real(z)*f, imag(z)*f) }

func abs1(z complex128) float64 { return math.Abs(real(z)) + math.Abs(imag(z)) }
