package motor

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// This file has the search of [Catalogue.FitThreePhase] and FitSinglePhase.

// fit finds the best parameters. Without figures to fit, or with wrong ones, it
// returns nil and why.
func (c Catalogue) fit(phases int) (*fitting, error) {
	if err := c.Validate(); err != nil {
		return nil, err
	}
	if c.phases() != phases {
		return nil, pkg.Invalid("motor type", c.Type.String(), "one of "+strconv.Itoa(phases)+" phases")
	}
	if err := c.enough(); err != nil {
		return nil, err
	}
	f := c.fitting()
	x0, best := make([]float64, len(f.free)), make([]float64, len(f.free))
	least := math.Inf(1)
	for k := range fitStarts {
		start := &fitStarts[k]
		for i, p := range f.free {
			x0[i] = f.coordinate(p, f.base[p]*or(start[p], 1))
		}
		if x, squares := f.minimize(x0); squares < least {
			least = squares
			copy(best, x)
		}
		if least < enoughSquares {
			break
		}
	}
	if math.IsInf(least, 1) {
		return nil, pkg.Invalid("figures of a catalogue", "that no search comes near", "those of one motor")
	}
	f.best = f.parameters(best)
	return f, nil
}

// fitStarts are factors on the parameters of the base, a set for each start.
var fitStarts = [...]fitted{
	{},
	{unitR2: 0.4, fitSlip: 0.5},
	{unitR1: 0.5, unitX1: 2, unitXm: 2},
	{unitX1: 0.5, unitXm: 0.6, unitRa: 0.5},
	{unitR2: 2, unitRotational: 0.3, unitStartX: 0.5, unitRunX: 0.5, fitSlip: 1.7},
}

// enoughSquares of a fit need no other start.
const enoughSquares = 0.05

func (f *fitting) squares(x []float64) float64 {
	f.evaluate(x, f.residuals)
	sum := 0.0
	for _, r := range f.residuals {
		sum += r * r
	}
	if math.IsNaN(sum) {
		return math.Inf(1)
	}
	return sum
}

// derive fills in the residuals and their Jacobian at x, by central differences.
func (f *fitting) derive(x []float64) {
	const h = 1e-5
	if slices.Equal(x, f.at) {
		return // gradient and Hessian are asked for one after the other
	}
	copy(f.at, x)
	copy(f.beside, x)
	for j := range x {
		f.beside[j] = x[j] + h
		f.evaluate(f.beside, f.up)
		f.beside[j] = x[j] - h
		f.evaluate(f.beside, f.down)
		f.beside[j] = x[j]
		for i := range f.up {
			f.jacobian.Set(i, j, (f.up[i]-f.down[i])/(2*h))
		}
	}
	f.evaluate(x, f.center)
}

// minimize goes from x0 to the least squares near it. The Hessian is that of
// Gauss and Newton, 2·JᵀJ, which the weights of the base keep definite.
func (f *fitting) minimize(x0 []float64) (x []float64, squares float64) {
	problem := optimize.Problem{
		Func: f.squares,
		Grad: func(grad, x []float64) {
			f.derive(x)
			g := mat.NewVecDense(len(grad), grad)
			g.MulVec(f.jacobian.T(), mat.NewVecDense(len(f.center), f.center))
			g.ScaleVec(2, g)
		},
		Hess: func(hess *mat.SymDense, x []float64) {
			f.derive(x)
			hess.SymOuterK(2, f.jacobian.T())
		},
	}
	result, err := optimize.Minimize(problem, x0, &optimize.Settings{
		MajorIterations: 200, GradientThreshold: 1e-9,
		Converger: &optimize.FunctionConverge{Absolute: 1e-14, Relative: 1e-10, Iterations: 6},
	}, &optimize.Newton{})
	if result == nil || err != nil && math.IsInf(result.F, 1) {
		return x0, math.Inf(1)
	}
	// An error stands for a search that rounding has stopped near its end; what
	// it is worth the squares say.
	return result.X, result.F
}
