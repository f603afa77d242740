package inverter

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Weighting is a published set of loads and weights for one efficiency
// figure. Both sets describe a year of solar power. A pump backup idles most
// of the day: for its energy use [Loss.Use], never a weighted or a peak
// figure.
type Weighting byte

// The weightings. The zero value is none.
const (
	European Weighting = iota + 1 // central Europe; EN 50530
	CEC                           // California Energy Commission
)

// A WeightPoint is one load of a weighting.
type WeightPoint struct {
	Load   float64 // ac output over rated ac output
	Weight float64 // share; the shares of a weighting sum to 1
}

var (
	europeanPoints = [...]WeightPoint{{0.05, 0.03}, {0.10, 0.06}, {0.20, 0.13}, {0.30, 0.10}, {0.50, 0.48}, {1, 0.20}}
	cecPoints      = [...]WeightPoint{{0.10, 0.04}, {0.20, 0.05}, {0.30, 0.12}, {0.50, 0.21}, {0.75, 0.53}, {1, 0.05}}
)

func (w Weighting) points() []WeightPoint {
	switch w {
	case European:
		return europeanPoints[:]
	case CEC:
		return cecPoints[:]
	}
	return nil
}

// Points returns a copy of the weighting's loads and weights, loads rising;
// none for a weighting that is not one of the constants.
//
// Source: EN 50530 (European); California Energy Commission, inverter test
// protocol, 2005 (CEC).
func (w Weighting) Points() []WeightPoint { return slices.Clone(w.points()) }

// String returns "European" or "CEC".
func (w Weighting) String() string {
	switch w {
	case European:
		return "European"
	case CEC:
		return "CEC"
	}
	return "no weighting"
}

// A LoadEfficiency is one reading of an efficiency curve.
type LoadEfficiency struct {
	Load       float64 // ac output over rated ac output
	Efficiency float64 // 0 to 1
}

// Of returns the weighted efficiency of a measured curve,
//
//	η_EU  = 0.03·η₅ + 0.06·η₁₀ + 0.13·η₂₀ + 0.10·η₃₀ + 0.48·η₅₀ + 0.20·η₁₀₀
//	η_CEC = 0.04·η₁₀ + 0.05·η₂₀ + 0.12·η₃₀ + 0.21·η₅₀ + 0.53·η₇₅ + 0.05·η₁₀₀
//
// with the index in percent of rated output. The curve must hold every load of
// the weighting (the European set has no 75 %, the CEC set no 5 %); it is not
// interpolated, and loads beyond the weighting's are passed over. Otherwise
// err wraps [ErrDomain].
//
// Source: as [Weighting.Points].
func (w Weighting) Of(curve []LoadEfficiency) (float64, error) {
	points := w.points()
	if points == nil {
		return 0, pkg.Invalid("weighting", w.String(), "European or CEC")
	}
	sum, all := 0.0, []error(nil)
	for _, p := range points {
		i := slices.IndexFunc(curve, func(e LoadEfficiency) bool { return math.Abs(e.Load-p.Load) < 1e-9 })
		if i < 0 {
			all = append(all, pkg.Invalid("efficiency curve", fmt.Sprintf("without a point at %g %%", 100*p.Load),
				"one for every load of the "+w.String()+" weighting"))
			continue
		}
		all = append(all, pkg.Range("efficiency", curve[i].Efficiency, 0, 1, domain.One))
		sum += p.Weight * curve[i].Efficiency
	}
	if err := errors.Join(all...); err != nil {
		return 0, err
	}
	return sum, nil
}

// Weighted returns the weighted efficiency of the loss model.
//
// Source: as [Weighting.Points], on the efficiencies of the model.
func (l Loss) Weighted(w Weighting) (float64, error) {
	err := l.Validate()
	points := w.points()
	if points == nil {
		err = errors.Join(err, pkg.Invalid("weighting", w.String(), "European or CEC"))
	}
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for _, p := range points {
		sum += p.Weight * l.efficiency(float64(unit.Power(p.Load)*l.Rated))
	}
	return sum, nil
}
