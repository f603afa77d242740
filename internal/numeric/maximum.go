package numeric

import "math"

// Maximum returns an x between a and b at which f is greatest, by golden
// section: exact to about tol + √ε·|x| where f has one maximum between them,
// and one of its maxima where it has several. A maximum at an end is approached
// to tol. A tol below √ε of the interval counts as that.
//
// Source: J. Kiefer, Sequential minimax search for a maximum, Proceedings of
// the American Mathematical Society 4, 1953.
func Maximum(f func(float64) float64, a, b, tol float64) float64 {
	const ratio = 0.6180339887498949 // (√5 - 1)/2
	if !(tol >= 1.5e-8*math.Abs(b-a)) {
		tol = 1.5e-8 * math.Abs(b-a)
	}
	x1, x2 := b-ratio*(b-a), a+ratio*(b-a)
	f1, f2 := f(x1), f(x2)
	for math.Abs(b-a) > tol {
		if f1 >= f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - ratio*(b-a)
			f1 = f(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + ratio*(b-a)
			f2 = f(x2)
		}
		if x1 == x2 {
			break
		}
	}
	return a + (b-a)/2
}
