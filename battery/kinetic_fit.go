package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
)

// FitKinetic returns the kinetic model that follows a table best, by least
// squares of the relative error of the capacity in the time of each row, and
// how far it is from the rows.
//
// Three or more different rates; fewer are an [ErrDomain]. Where the best
// model lies outside the bounds of [Kinetic], err is [ErrNoFit]: so it is for
// tables that span too little to tell the wells apart.
//
// Source: [Kinetic.CapacityIn]; the simplex method of Nelder and Mead over c
// and k′, with qmax solved for.
func (r Rates) FitKinetic() (Kinetic, FitError, error) {
	if err := r.checkFit(3); err != nil {
		return Kinetic{}, FitError{}, err
	}
	share := func(x []float64, rate Rating) float64 {
		return kineticShare(logistic(x[0]), math.Exp(x[1])*float64(rate.Time))
	}
	x, most, ok := r.fitShape(share, [][]float64{
		{0, math.Log(1. / 3600)}, {0, math.Log(0.1 / 3600)}, {-1, math.Log(0.3 / 3600)}, {1, math.Log(3. / 3600)},
	})
	m := Kinetic{Capacity: unit.Charge(most), Available: logistic(x[0]), Rate: EqualizationRate(math.Exp(x[1]))}
	if !ok || m.validate() != nil {
		return Kinetic{}, FitError{}, ErrNoFit
	}
	return m, r.fitError(func(rate Rating) float64 { return most * share(x, rate) }), nil
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// KineticFromRatings returns the kinetic model that has a given qmax and
// delivers exactly two ratings, for a nameplate that has no table: 20 h and
// 5 h with the 100 h capacity, or a little more, as qmax.
//
// For each k′ the model has one c that meets a rating,
//
//	c = g·(1-e)/(x - g·(x - 1 + e)),  x = k′T,  e = exp(-x),  g = C/qmax
//
// where T is the time of the rating (h) and C its capacity (Ah); k′ is where
// the two agree. Ratings that do not fall from qmax to the slow and on to the
// fast one are an [ErrDomain]; where no k′ within the bounds of [Kinetic]
// meets both, err is [ErrNoFit].
//
// Source: [Kinetic.CapacityIn] solved for c.
func KineticFromRatings(qmax unit.Charge, a, b Rating) (Kinetic, error) {
	if err := errors.Join(checkCapacity("kinetic capacity", qmax), a.validate(), b.validate()); err != nil {
		return Kinetic{}, err
	}
	if a.Time < b.Time {
		a, b = b, a
	}
	if !(qmax > a.Capacity && a.Capacity > b.Capacity && a.Time > b.Time) {
		return Kinetic{}, pkg.Invalid("ratings", "that do not fall with the time", "qmax above the slow rating and that above the fast one")
	}
	available := func(r Rating, lnK float64) float64 {
		g, x := float64(r.Capacity/qmax), math.Exp(lnK)*float64(r.Time)
		y := -math.Expm1(-x)
		return g * y / (x - g*(x-y))
	}
	lnK, err := numeric.Root(func(x float64) float64 {
		return available(a, x) - available(b, x)
	}, math.Log(leastEqualization), math.Log(mostEqualization), 0)
	if err != nil {
		return Kinetic{}, ErrNoFit
	}
	m := Kinetic{Capacity: qmax, Available: available(a, lnK), Rate: EqualizationRate(math.Exp(lnK))}
	if m.validate() != nil {
		return Kinetic{}, ErrNoFit
	}
	return m, nil
}

// Kinetic returns the kinetic model that follows the law best between its
// rated time and a twentieth of it, for a battery of which no table is known,
// and how far it is from the law there: 20 h, 10 h, 5 h, 2.5 h and 1 h for a
// 20 h rating. Its qmax, which nothing but the curve of the law tells, is an
// extrapolation beyond the rating.
//
// A law outside its bounds, and one rated for less than 100 min, is an
// [ErrDomain]; an exponent so near 1 that one well would do is [ErrNoFit].
//
// Common practice: [Rates.FitKinetic] of what [Peukert.At] gives.
func (p Peukert) Kinetic() (Kinetic, FitError, error) {
	var r Rates
	for _, share := range [...]unit.Time{1, 2, 4, 8, 20} {
		rate, err := p.At(p.Rating.Time / share)
		if err != nil {
			return Kinetic{}, FitError{}, err
		}
		r = append(r, rate)
	}
	return r.FitKinetic()
}
