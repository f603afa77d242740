package numeric

import "math"

// LambertW returns the principal branch W0 of Lambert's function, the w ≥ -1
// with
//
//	w·e^w = x
//
// It is good to a few units in the last place, near the branch point x = -1/e
// to what rounding of x leaves of it. Below -1/e, where there is no real w,
// and for NaN it is NaN; of +Inf it is +Inf.
//
// Source: Corless, Gonnet, Hare, Jeffrey and Knuth, On the Lambert W function,
// Advances in Computational Mathematics 5 (1996), for the series about the
// branch point (4.22); Fritsch, Shafer and Crowley, Algorithm 443,
// Communications of the ACM 16 (1973), for the iteration of fourth order.
func LambertW(x float64) float64 {
	// branchRest is what 1/e is above the float64 nearest to it.
	const branch, branchRest = 1 / math.E, -1.242875367278836317e-17
	if x == 0 || math.IsInf(x, 1) || math.IsNaN(x) {
		return x
	}
	if x < -branch {
		return math.NaN()
	}
	var w float64
	if x < -0.25 {
		p := math.Sqrt(max(2*math.E*((x+branch)+branchRest), 0))
		w = -1 + p*(1+p*(-1./3+p*(11./72+p*(-43./540+p*(769./17280+p*(-221./8505))))))
		if p < 1e-3 {
			return w // the next term is below the last bit
		}
	} else {
		l := math.Log1p(x)
		w = l * (1 - math.Log1p(l)/(2+l))
	}
	for range 3 {
		z := math.Log(x/w) - w
		q := 2 * (1 + w) * (1 + w + 2*z/3)
		step := z / (1 + w) * (q - z) / (q - 2*z)
		w *= 1 + step
		if math.Abs(step) < 1e-5 {
			break // the next step would be the fourth power of this one
		}
	}
	return w
}
