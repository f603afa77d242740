// Package numeric holds the few numerical tools that gonum does not have.
//
//   - root.go: a bracketing root finder
//   - maximum.go: the maximum of a function between two points
//   - lambertw.go: the inverse of w·e^w
//   - table.go: look-up in a table of points, on gonum's interp
//   - ode.go: differential equations, step by step to a tolerance
//   - ode_step.go: one step, and how long it is
//   - ode_pair.go: the Runge–Kutta pair it steps with
//   - ode_event.go: steps that end where a function of the state is zero
package numeric

import (
	"errors"
	"math"
)

// ErrBracket says that a function does not change sign over the interval in
// which its root was sought.
var ErrBracket = errors.New("numeric: no sign change over the interval")

// Root returns an x between a and b at which f changes sign, by Brent's
// method: inverse quadratic interpolation where it converges, bisection where
// it does not. The result is within tol + 4ε|x| of the root.
//
// If f(a) and f(b) have one sign, or f returns NaN, or the interval has no
// finite length, err is [ErrBracket]. A tol that is negative or NaN counts as 0.
// Where f jumps over zero, the place of the jump is returned.
//
// Source: R. P. Brent, Algorithms for Minimization without Derivatives, 1973,
// chapter 4, procedure zero.
func Root(f func(float64) float64, a, b, tol float64) (x float64, err error) {
	if math.IsInf(b-a, 0) || math.IsNaN(b-a) {
		return 0, ErrBracket
	}
	if !(tol >= 0) {
		tol = 0
	}
	fa, fb := f(a), f(b)
	if !(fa <= 0 && fb >= 0 || fa >= 0 && fb <= 0) {
		return 0, ErrBracket
	}
	c, fc, d, e := a, fa, b-a, b-a
	for {
		if math.Signbit(fb) == math.Signbit(fc) && fb != 0 {
			c, fc, d, e = a, fa, b-a, b-a
		}
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		step := 2*ulp*math.Abs(b) + tol/2
		m := (c - b) / 2
		if math.Abs(m) <= step || fb == 0 {
			return b, nil
		}
		if math.Abs(e) < step || math.Abs(fa) <= math.Abs(fb) {
			d, e = m, m
		} else {
			p, q := interpolate(a, b, c, fa, fb, fc)
			if 2*p < math.Min(3*m*q-math.Abs(step*q), math.Abs(e*q)) {
				d, e = p/q, d
			} else {
				d, e = m, m
			}
		}
		a, fa = b, fb
		if math.Abs(d) > step {
			b += d
		} else {
			b += math.Copysign(step, m)
		}
		if fb = f(b); math.IsNaN(fb) {
			return 0, ErrBracket
		}
	}
}

const ulp = 0x1p-52

// interpolate returns the correction p/q to b from the secant through two
// points, or the inverse parabola through three, with p ≥ 0.
func interpolate(a, b, c, fa, fb, fc float64) (p, q float64) {
	m, s := (c-b)/2, fb/fa
	if a == c {
		p, q = 2*m*s, 1-s
	} else {
		r, t := fb/fc, fa/fc
		p = s * (2*m*t*(t-r) - (b-a)*(r-1))
		q = (t - 1) * (r - 1) * (s - 1)
	}
	if p > 0 {
		return p, -q
	}
	return -p, q
}
