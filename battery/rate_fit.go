package battery

import (
	"errors"
	"math"
	"strconv"

	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/unit"
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
