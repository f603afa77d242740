package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/unit"
)

// A Fit is a loss model with what it leaves of the points it was made from.
type Fit struct {
	Loss     Loss
	RMS      unit.Power // root mean square of loss measured less loss of the model
	Greatest unit.Power // the greatest of these differences, without sign
}

// FitPoints returns the loss model nearest to any number of idle draws and
// efficiency points, in the sense of the least sum of
//
//	[p_0 + v·p + r·p² - l]²,  l = p/η - p, or the idle draw at p = 0
//
// over all of them with none of p_0, v and r below zero, p being output over
// rated output. Through three points that fit the model it goes exactly, as
// [FitThree] and [FitIdleTwo] do; where those find a negative coefficient, it
// sets that one to zero and says in the residuals what the data are worth. Two
// loads give no linear term, as in [FitTwo] and [FitIdleOne]. A reading taken
// twice counts twice. As losses are largest at high output, the points there
// weigh most.
//
// Loads closer than 1 % of rated output count as one. At least two different
// loads are wanted, no load among them if there is an idle draw; outputs of 0.1
// to 200 % of rated. Otherwise err wraps [ErrDomain]; it is a [FitError] where a
// coefficient is larger than any inverter has.
//
// Source: the model of Schmidt and Sauer, 1996, by least squares; of the
// solutions with some coefficients at zero the best that has none negative is
// the constrained one, Lawson and Hanson, Solving Least Squares Problems, 1974,
// chapter 23.
func FitPoints(rated unit.Power, idle []unit.Power, points ...EfficiencyPoint) (Fit, error) {
	err := checkFit(rated)
	for _, p0 := range idle {
		err = errors.Join(err, checkIdle(rated, p0))
	}
	for _, a := range points {
		err = errors.Join(err, checkFit(rated, a))
	}
	if err != nil {
		return Fit{}, err
	}
	var p, l []float64
	for _, p0 := range idle {
		p, l = append(p, 0), append(l, float64(p0/rated))
	}
	for _, a := range points {
		x, y := a.lossAt(rated)
		p, l = append(p, x), append(l, y)
	}
	loads := different(p)
	if loads < 2 {
		return Fit{}, pkg.Invalid("points of a fit", "of fewer than two loads", "idle draw and one efficiency, or two efficiencies")
	}
	best, c := math.Inf(1), [3]float64{}
	for set := 1; set < 8; set++ {
		if loads == 2 && set&2 != 0 {
			continue
		}
		if x, ok := leastSquares(p, l, set); ok {
			if s := squares(p, l, x); s < best {
				best, c = s, x
			}
		}
	}
	loss, err := fitted(rated, c[0], c[1], c[2])
	if err != nil {
		return Fit{}, err
	}
	f := Fit{Loss: loss, RMS: unit.Power(math.Sqrt(best/float64(len(p)))) * rated}
	for i := range p {
		d := math.Abs(c[0] + (c[1]+c[2]*p[i])*p[i] - l[i])
		f.Greatest = max(f.Greatest, unit.Power(d)*rated)
	}
	return f, nil
}

// different counts the loads that are 1 % of rated output apart.
func different(p []float64) int {
	n := 0
	for i, a := range p {
		apart := true
		for _, b := range p[:i] {
			apart = apart && math.Abs(a-b) >= 0.01
		}
		if apart {
			n++
		}
	}
	return n
}

// leastSquares solves for the coefficients whose bits are in set, the others
// being zero; false where one comes out negative.
func leastSquares(p, l []float64, set int) ([3]float64, bool) {
	var powers []int
	for k := range 3 {
		if set&(1<<k) != 0 {
			powers = append(powers, k)
		}
	}
	a := mat.NewDense(len(p), len(powers), nil)
	for i, x := range p {
		for j, k := range powers {
			a.Set(i, j, [...]float64{1, x, x * x}[k])
		}
	}
	c := [3]float64{}
	if len(powers) > len(p) {
		return c, false
	}
	var x mat.VecDense
	if err := x.SolveVec(a, mat.NewVecDense(len(l), l)); err != nil {
		return c, false // the loads do not tell the coefficients apart
	}
	for j, k := range powers {
		c[k] = x.AtVec(j)
		if c[k] < -rounding {
			return c, false
		}
		c[k] = max(0, c[k])
	}
	return c, true
}

// squares is the sum of the squared residuals.
func squares(p, l []float64, c [3]float64) float64 {
	s := 0.0
	for i, x := range p {
		d := c[0] + (c[1]+c[2]*x)*x - l[i]
		s += d * d
	}
	return s
}
