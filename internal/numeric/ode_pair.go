package numeric

import "math"

// The pair of Dormand and Prince: seven stages, of which the last is the first
// of the next step, a solution of order 5, one of order 4 to measure its error
// with, and a polynomial of order 4 between the ends of the step.
//
// Source: J. R. Dormand and P. J. Prince, A family of embedded Runge-Kutta
// formulae, 1980, RK5(4)7M; the polynomial after L. F. Shampine, Some practical
// Runge-Kutta formulas, 1986, in the form of E. Hairer, S. P. Nørsett and
// G. Wanner, Solving Ordinary Differential Equations I, 2nd ed., II.6.
const (
	c2 = 1.0 / 5
	c3 = 3.0 / 10
	c4 = 4.0 / 5
	c5 = 8.0 / 9

	a21 = 1.0 / 5
	a31 = 3.0 / 40
	a32 = 9.0 / 40
	a41 = 44.0 / 45
	a42 = -56.0 / 15
	a43 = 32.0 / 9
	a51 = 19372.0 / 6561
	a52 = -25360.0 / 2187
	a53 = 64448.0 / 6561
	a54 = -212.0 / 729
	a61 = 9017.0 / 3168
	a62 = -355.0 / 33
	a63 = 46732.0 / 5247
	a64 = 49.0 / 176
	a65 = -5103.0 / 18656

	// The solution of order 5, and the seventh stage; b2 and b7 are 0.
	b1 = 35.0 / 384
	b3 = 500.0 / 1113
	b4 = 125.0 / 192
	b5 = -2187.0 / 6784
	b6 = 11.0 / 84

	// The solution of order 5 less that of order 4.
	e1 = 71.0 / 57600
	e3 = -71.0 / 16695
	e4 = 71.0 / 1920
	e5 = -17253.0 / 339200
	e6 = 22.0 / 525
	e7 = -1.0 / 40

	// The highest term of the polynomial.
	d1 = -12715105075.0 / 11282082432
	d3 = 87487479700.0 / 32700410799
	d4 = -10690763975.0 / 1880347072
	d5 = 701980252875.0 / 199316789632
	d6 = -1453857185.0 / 822651844
	d7 = 69997945.0 / 29380423
)

// stages computes y1 and the slopes k[1] to k[5] of a step of length h from t0
// and y0, with k[0] given.
func (s *Solver) stages(h float64) {
	n, t := len(s.y0), s.t0
	y0, y := s.y0[:n], s.y[:n]
	k1, k2, k3 := s.k[0][:n], s.k[1][:n], s.k[2][:n]
	k4, k5, k6 := s.k[3][:n], s.k[4][:n], s.k[5][:n]
	for i := range y {
		y[i] = y0[i] + h*(a21*k1[i])
	}
	s.F(t+c2*h, y, k2)
	for i := range y {
		y[i] = y0[i] + h*(a31*k1[i]+a32*k2[i])
	}
	s.F(t+c3*h, y, k3)
	for i := range y {
		y[i] = y0[i] + h*(a41*k1[i]+a42*k2[i]+a43*k3[i])
	}
	s.F(t+c4*h, y, k4)
	for i := range y {
		y[i] = y0[i] + h*(a51*k1[i]+a52*k2[i]+a53*k3[i]+a54*k4[i])
	}
	s.F(t+c5*h, y, k5)
	for i := range y {
		y[i] = y0[i] + h*(a61*k1[i]+a62*k2[i]+a63*k3[i]+a64*k4[i]+a65*k5[i])
	}
	s.F(t+h, y, k6)
	for i := range y {
		y[i] = y0[i] + h*(b1*k1[i]+b3*k3[i]+b4*k4[i]+b5*k5[i]+b6*k6[i])
	}
}

// defect returns the largest estimated error of a state after a step of length
// h, relative to what the tolerances allow, or NaN where a state is not finite.
func (s *Solver) defect(h float64) float64 {
	n := len(s.y0)
	y0, y, atol := s.y0[:n], s.y[:n], s.atol[:n]
	k1, k3, k4 := s.k[0][:n], s.k[2][:n], s.k[3][:n]
	k5, k6, k7 := s.k[4][:n], s.k[5][:n], s.k[6][:n]
	worst := 0.0
	for i := range y {
		e := h * (e1*k1[i] + e3*k3[i] + e4*k4[i] + e5*k5[i] + e6*k6[i] + e7*k7[i])
		allowed := atol[i] + s.RTol*max(abs(y0[i]), abs(y[i]))
		// An infinite state would pass, and 0/0 of a state that rests at 0 fail.
		if !isFinite(e) || !isFinite(allowed) {
			return math.NaN()
		}
		if q := abs(e) / allowed; q > worst {
			worst = q
		}
	}
	return worst
}

// weights returns the factors of the slopes in y(t0+θh) = y0 + h·Σ w·k.
func weights(theta float64) (w [7]float64) {
	rest := 1 - theta
	cubic := func(first, b, last, d float64) float64 {
		return theta * (b + rest*(first-b+theta*(2*b-first-last+rest*d)))
	}
	return [7]float64{
		cubic(1, b1, 0, d1), 0, cubic(0, b3, 0, d3), cubic(0, b4, 0, d4),
		cubic(0, b5, 0, d5), cubic(0, b6, 0, d6), cubic(0, 0, 1, d7),
	}
}

// dense writes the polynomial of the last step at t0 + x.
func (s *Solver) dense(x float64, out []float64) {
	n := len(s.y0)
	w := weights(x / s.h)
	y0, out := s.y0[:n], out[:n]
	k1, k3, k4 := s.k[0][:n], s.k[2][:n], s.k[3][:n]
	k5, k6, k7 := s.k[4][:n], s.k[5][:n], s.k[6][:n]
	for i := range out {
		out[i] = y0[i] + s.h*(w[0]*k1[i]+w[2]*k3[i]+w[3]*k4[i]+w[4]*k5[i]+w[5]*k6[i]+w[6]*k7[i])
	}
}
