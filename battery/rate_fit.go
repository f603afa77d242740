package battery

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/numeric"
)

// ErrNoFit says that no law of the kind asked for follows the table: rows from
// different tests, or a capacity that does not fall with the current.
var ErrNoFit = errors.New("battery: no rate law of this kind follows the table")

// A FitError says how far a fitted law is from the rows of its table, as a
// fraction of the capacity (which is that of the time as well): 0.046 is 4.6 %.
type FitError struct {
	Worst float64 // largest of the rows, as it stands
	Mean  float64 // root of the mean square
}

// fitError compares capacities of a law with those of a table.
func (r Rates) fitError(capacity func(Rating) float64) (e FitError) {
	for _, rate := range r {
		x := capacity(rate)/float64(rate.Capacity) - 1
		e.Worst = max(e.Worst, math.Abs(x))
		e.Mean += x * x
	}
	e.Mean = math.Sqrt(e.Mean / float64(len(r)))
	return e
}

// mostRates bounds a table.
const mostRates = 1000

// checkFit refuses tables of fewer than n different rates.
func (r Rates) checkFit(n int) error {
	if len(r) < n || len(r) > mostRates {
		return pkg.Invalid("rate table", "with "+strconv.Itoa(len(r))+" rates", strconv.Itoa(n)+" to "+strconv.Itoa(mostRates))
	}
	different := 0
	for i, rate := range r {
		if err := rate.validate(); err != nil {
			return err
		}
		seen := false
		for _, other := range r[:i] {
			seen = seen || other.Time == rate.Time || other.current() == rate.current()
		}
		if !seen {
			different++
		}
	}
	if different < n {
		return pkg.Invalid("rate table", "with "+strconv.Itoa(different)+" different rates", strconv.Itoa(n)+" or more")
	}
	return nil
}

// FitPeukert returns Peukert's law through a whole table,
//
//	ln t = ln Cp - k·ln I
//
// by least squares, where t is the time (h), I the current (A) and Cp the
// capacity at 1 A (A^k·h), and how far it is from the rows. Its rating is that
// of the law at the slowest rate of the table, and its Most the largest of
// that and the capacities of the table.
//
// One exponent for a wide table is 4 to 5 % off; [Rates.Peukert], which takes
// the two rates that bracket a current, is closer.
//
// Two or more different rates; fewer, and an exponent outside 1 to 1.6, are an
// [ErrDomain].
//
// Source: Peukert's law; linear regression.
func (r Rates) FitPeukert() (Peukert, FitError, error) {
	if err := r.checkFit(2); err != nil {
		return Peukert{}, FitError{}, err
	}
	lnI, lnT := make([]float64, len(r)), make([]float64, len(r))
	slowest, most := unit.Time(0), unit.Charge(0)
	for i, rate := range r {
		lnI[i], lnT[i] = math.Log(float64(rate.current())), math.Log(float64(rate.Time))
		slowest, most = max(slowest, rate.Time), max(most, rate.Capacity)
	}
	intercept, slope := stat.LinearRegression(lnI, lnT, nil, false)
	k := -slope
	if err := checkExponent(k); err != nil {
		return Peukert{}, FitError{}, err
	}
	c := math.Exp((intercept-math.Log(float64(slowest)))/k) * float64(slowest)
	p := Peukert{Rating: Rating{Capacity: unit.Charge(c), Time: slowest}, Exponent: k}
	p.Most = max(most, p.Rating.Capacity)
	if err := p.validate(); err != nil {
		return Peukert{}, FitError{}, err
	}
	return p, r.fitError(func(rate Rating) float64 {
		return math.Exp(intercept-k*math.Log(float64(rate.current()))) * float64(rate.current())
	}), nil
}

// FitRateLaw returns the generalised law that follows a table best, by least
// squares of the relative error of the capacity at the current of each row,
// and how far it is from the rows.
//
// Three or more different rates; fewer are an [ErrDomain]. Where the best law
// lies outside the bounds of [RateLaw], err is [ErrNoFit].
//
// Source: [RateLaw.Capacity]; the simplex method of Nelder and Mead over I0
// and n, with Cm solved for.
func (r Rates) FitRateLaw() (RateLaw, FitError, error) {
	if err := r.checkFit(3); err != nil {
		return RateLaw{}, FitError{}, err
	}
	fastest := 0.0
	for _, rate := range r {
		fastest = max(fastest, float64(rate.current()))
	}
	share := func(x []float64, rate Rating) float64 {
		return 1 / (1 + math.Exp(x[1]*(math.Log(float64(rate.current()))-x[0])))
	}
	// With the small I0 of a table without curvature, Cm and I0 run away
	// together; the bounds of RateLaw stop them.
	x, most, ok := r.fitShape(share, [][]float64{
		{math.Log(2 * fastest), 0.7}, {math.Log(20 * fastest), 0.4}, {math.Log(fastest / 30), 0.15}, {math.Log(2 * fastest), 2},
	})
	l := RateLaw{Most: unit.Charge(most), Half: unit.Current(math.Exp(x[0])), Exponent: x[1]}
	if !ok || l.validate() != nil {
		return RateLaw{}, FitError{}, ErrNoFit
	}
	return l, r.fitError(func(rate Rating) float64 { return most * share(x, rate) }), nil
}

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

// fitShape finds the two parameters x of a law C = Cm·share(x, rate), and Cm,
// with the least squares of its relative errors, from the best of several
// starts.
func (r Rates) fitShape(share func(x []float64, rate Rating) float64, starts [][]float64) (best []float64, most float64, ok bool) {
	scale := func(x []float64) float64 {
		var s1, s2 float64
		for _, rate := range r {
			s := share(x, rate) / float64(rate.Capacity)
			s1 += s
			s2 += s * s
		}
		return s1 / s2
	}
	squares := func(x []float64) (sum float64) {
		c := scale(x)
		for _, rate := range r {
			e := c*share(x, rate)/float64(rate.Capacity) - 1
			sum += e * e
		}
		if math.IsNaN(sum) {
			return math.Inf(1)
		}
		return sum
	}
	least := math.Inf(1)
	best = starts[0]
	for _, x := range starts {
		// The simplex stalls; it is set up anew until that brings nothing.
		for range 8 {
			result, err := optimize.Minimize(optimize.Problem{Func: squares}, x, &optimize.Settings{
				MajorIterations: 2000,
				Converger:       &optimize.FunctionConverge{Absolute: 1e-30, Relative: 1e-15, Iterations: 60},
			}, &optimize.NelderMead{SimplexSize: 0.1})
			if err != nil || result == nil {
				break
			}
			gained := math.Abs(result.X[0]-x[0]) + math.Abs(result.X[1]-x[1])
			x = result.X
			if gained < 1e-9 {
				break
			}
		}
		if f := squares(x); f < least {
			least, best = f, x
		}
	}
	return best, scale(best), !math.IsInf(least, 1)
}

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
