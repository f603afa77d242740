package inverter

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An EfficiencyPoint is one point of an efficiency curve at unity power
// factor.
type EfficiencyPoint struct {
	Output     unit.Power // ac output, above 0 and up to twice the rated power
	Efficiency float64    // ac output over dc input, 0.01 to 1
}

// A FitError says that efficiency points, taken together, give a loss
// coefficient that no inverter has: the points contradict each other or the
// model. It wraps [ErrDomain].
type FitError struct {
	Coefficient string  // "idle", "linear" or "quadratic"
	Value       float64 // per unit of rated power
	Limit       float64 // the largest value taken
}

// Error says which coefficient came out at what value.
func (e *FitError) Error() string {
	return fmt.Sprintf("inverter: the efficiency points give a %s loss of %.4g of rated power, want 0 to %g: "+
		"check the points, and that none is rounded to whole percents", e.Coefficient, e.Value, e.Limit)
}

// Is reports whether target is [ErrDomain].
func (e *FitError) Is(target error) bool { return target == ErrDomain }

// rounding is how far below zero a coefficient may come out by the last bits
// of the arithmetic and count as zero.
const rounding = 1e-9

// lossAt returns output and loss of a point per unit of rated power.
func (a EfficiencyPoint) lossAt(rated unit.Power) (p, loss float64) {
	p = float64(a.Output / rated)
	return p, p/a.Efficiency - p
}

// checkFit validates what the fits are given. Outputs closer than 1 % of
// rated power say nothing about the slope between them.
func checkFit(rated unit.Power, points ...EfficiencyPoint) error {
	err := pkg.Range("rated power", float64(rated), leastRated, mostRated, domain.Watt)
	if err != nil {
		return err
	}
	var all []error
	for i, a := range points {
		all = append(
			all,
			pkg.Range("output of an efficiency point", float64(a.Output), 1e-3*float64(rated), 2*float64(rated), domain.Watt),
			pkg.Range("efficiency", a.Efficiency, 0.01, 1, domain.One),
		)
		for _, b := range points[:i] {
			if d := float64((a.Output - b.Output) / rated); d < 0.01 && d > -0.01 {
				all = append(all, pkg.Invalid("output of an efficiency point", fmt.Sprintf("%.6g W", float64(a.Output)),
					"at least 1 % of rated power away from the other points"))
			}
		}
	}
	return errors.Join(all...)
}

// fitted returns the model with the three per-unit coefficients, or says which
// of them is impossible.
func fitted(rated unit.Power, p0, v, r float64) (Loss, error) {
	var all []error
	for _, c := range []struct {
		name  string
		value *float64
		limit float64
	}{{"idle", &p0, mostIdle}, {"linear", &v, 1}, {"quadratic", &r, 1}} {
		if *c.value < 0 && *c.value > -rounding {
			*c.value = 0
		}
		if !(*c.value >= 0 && *c.value <= c.limit) {
			all = append(all, &FitError{Coefficient: c.name, Value: *c.value, Limit: c.limit})
		}
	}
	if err := errors.Join(all...); err != nil {
		return Loss{}, err
	}
	return Loss{Rated: rated, Idle: unit.Power(p0) * rated, Linear: v, Quadratic: r}, nil
}

// FitThree returns the loss model through three efficiency points: the
// coefficients that solve
//
//	p/η - p = p_0 + v·p + r·p²
//
// at the three, with p = P/P_r. A negative coefficient means bad data and
// comes back as a [FitError]; so do points rounded to whole percents at light
// load, often.
//
// Source: Schmidt and Sauer, 1996; solved by divided differences.
func FitThree(rated unit.Power, a, b, c EfficiencyPoint) (Loss, error) {
	if err := checkFit(rated, a, b, c); err != nil {
		return Loss{}, err
	}
	p1, l1 := a.lossAt(rated)
	p2, l2 := b.lossAt(rated)
	p3, l3 := c.lossAt(rated)
	d12, d23 := (l2-l1)/(p2-p1), (l3-l2)/(p3-p2)
	r := (d23 - d12) / (p3 - p1)
	v := d12 - r*(p1+p2)
	return fitted(rated, l1-(v+r*p1)*p1, v, r)
}

// FitTwo returns the loss model without a linear term through two efficiency
// points,
//
//	p/η - p = k_0 + k_1·p²
//
// which for points at 10 and 100 % is k_0 = (10/η₁₀ - 1/η₁₀₀ - 9)/99 and
// k_1 = 1/η₁₀₀ - k_0 - 1. With no linear term it over-predicts the efficiency
// at half load by about half a point.
//
// Source: Macagnan and Lorenzo, 1992.
func FitTwo(rated unit.Power, a, b EfficiencyPoint) (Loss, error) {
	if err := checkFit(rated, a, b); err != nil {
		return Loss{}, err
	}
	p1, l1 := a.lossAt(rated)
	p2, l2 := b.lossAt(rated)
	k1 := (l2 - l1) / ((p2 - p1) * (p2 + p1))
	return fitted(rated, l1-k1*p1*p1, 0, k1)
}

// FitIdleTwo returns the loss model through a measured idle draw and two
// efficiency points. The points' efficiencies include the idle draw, as a
// meter sees it.
//
// Source: the three-point fit with the first point at no load, where the loss
// is the idle draw.
func FitIdleTwo(rated, idle unit.Power, a, b EfficiencyPoint) (Loss, error) {
	if err := errors.Join(checkFit(rated, a, b), checkIdle(rated, idle)); err != nil {
		return Loss{}, err
	}
	p0 := float64(idle / rated)
	p1, l1 := a.lossAt(rated)
	p2, l2 := b.lossAt(rated)
	d1, d2 := (l1-p0)/p1, (l2-p0)/p2
	r := (d2 - d1) / (p2 - p1)
	return fitted(rated, p0, d1-r*p1, r)
}

// FitIdleOne returns the loss model through a measured idle draw and one
// efficiency point, which must include the idle draw. One equation does not
// give two coefficients, so that an assumption decides: all loss beyond idle
// goes with the square of the output,
//
//	r = (1/η - 1 - p_0/p)/p
//
// as in the two-parameter form of [FitTwo]. It errs to the high side below the
// point (efficiency half a point too good) and to the low side above it, where
// a motor start lies.
//
// Source: Macagnan and Lorenzo, 1992, with k_0 measured.
func FitIdleOne(rated, idle unit.Power, a EfficiencyPoint) (Loss, error) {
	if err := errors.Join(checkFit(rated, a), checkIdle(rated, idle)); err != nil {
		return Loss{}, err
	}
	p0 := float64(idle / rated)
	p, l := a.lossAt(rated)
	return fitted(rated, p0, 0, (l-p0)/(p*p))
}

// Flat returns the loss model of one efficiency for every load with the idle
// draw on top,
//
//	P_dc = P_0 + P/η
//
// that is v = 1/η - 1 and r = 0. It is for the case that nothing but a
// catalogue figure is known. A catalogue efficiency mostly includes the idle
// draw already, so that this form takes up to P_0 too much from the battery at
// the load for which the figure holds: the safe side. If that load is known,
// use [FitIdleOne]. A start far above rated load loses more than a flat
// efficiency says. Valid for η from 0.5 to 1.
//
// Common practice: energy at the load over efficiency, plus idle hours.
func Flat(rated, idle unit.Power, efficiency float64) (Loss, error) {
	l := Loss{Rated: rated, Idle: idle, Linear: 1/efficiency - 1}
	if !(efficiency >= 0.5 && efficiency <= 1) {
		l.Linear = 0
		return Loss{}, errors.Join(l.Validate(), pkg.Range("efficiency", efficiency, 0.5, 1, domain.One))
	}
	if err := l.Validate(); err != nil {
		return Loss{}, err
	}
	return l, nil
}

// FlatRange returns the best and the worst flat model that a range of idle
// draw and of efficiency allow: "10 to 20 W idle, 85 to 92 %".
//
// Common practice: as [Flat], at both ends.
func FlatRange(rated unit.Power, idle Range[unit.Power], efficiency Range[float64]) (best, worst Loss, err error) {
	if !idle.Valid() {
		return Loss{}, Loss{}, upsideDown("idle draw", float64(idle.Low), float64(idle.High), "W")
	}
	if !efficiency.Valid() {
		return Loss{}, Loss{}, upsideDown("efficiency", efficiency.Low, efficiency.High, "")
	}
	best, errBest := Flat(rated, idle.Low, efficiency.High)
	worst, errWorst := Flat(rated, idle.High, efficiency.Low)
	if err := errors.Join(errBest, errWorst); err != nil {
		return Loss{}, Loss{}, err
	}
	return best, worst, nil
}

// upsideDown refuses a range whose ends are not numbers in order.
func upsideDown(name string, lo, hi float64, symbol string) error {
	return pkg.Invalid(name, fmt.Sprintf("%g to %g %s", lo, hi, symbol), "a low end not above the high end")
}

func checkIdle(rated, idle unit.Power) error {
	return pkg.Range("idle draw", float64(idle), 0, mostIdle*float64(rated), domain.Watt)
}
