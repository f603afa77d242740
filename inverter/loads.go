package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An ACLoad is one of several loads that run at once.
type ACLoad struct {
	Real        unit.Power // 0 to 1 MW
	PowerFactor float64    // of the fundamental, 0.05 to 1; a load without real power is taken for none
	Leading     bool       // the current leads the voltage; else it lags, as with motors
}

// Sum returns the sum of loads on one voltage,
//
//	P = Σ P_k,  Q = Σ ±P_k·√(1/pf_k² - 1),  S = √(P² + Q²)
//
// with Q (var) positive for lagging loads. Currents are taken as sinusoidal;
// those of loads with harmonics have further parts, which mostly add up to less
// than their sum as well. Valid for a sum of up to 1 MVA; otherwise err wraps
// [ErrDomain].
//
// Source: complex power of sinusoidal currents adds.
func Sum(loads ...ACLoad) (PowerTriangle, error) {
	var all []error
	t := make([]PowerTriangle, 0, len(loads))
	for _, l := range loads {
		if l.Real == 0 {
			continue
		}
		if err := errors.Join(acPower(l.Real), pkg.Range("power factor", l.PowerFactor, leastPF, 1, domain.One)); err != nil {
			all = append(all, err)
			continue
		}
		one := triangle(l.Real, l.PowerFactor)
		if l.Leading {
			one.Reactive = -one.Reactive
		}
		t = append(t, one)
	}
	if err := errors.Join(all...); err != nil {
		return PowerTriangle{}, err
	}
	sum := together(t...)
	if err := pkg.Range("apparent power", float64(sum.Apparent), 0, mostPower, domain.VoltAmpere); err != nil {
		return PowerTriangle{}, err
	}
	return sum, nil
}

// together is the sum of loads on one voltage, ΣP and ΣQ: volt-amperes of loads
// with different power factors do not add. Only Real and Reactive of each are
// read; no load has a power factor of 0.
func together(loads ...PowerTriangle) PowerTriangle {
	var t PowerTriangle
	for _, l := range loads {
		t.Real += l.Real
		t.Reactive += l.Reactive
	}
	s := math.Hypot(float64(t.Real), float64(t.Reactive))
	t.Apparent = ApparentPower(s)
	if s > 0 {
		t.PowerFactor = float64(t.Real) / s
	}
	return t
}
