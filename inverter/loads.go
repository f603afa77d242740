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

// A Together is what loads that run at once take.
type Together struct {
	Real     unit.Power    // W add up
	Reactive ApparentPower // Q (var) adds up with its sign, lagging positive
	Apparent ApparentPower // √(P² + Q²): less than the sum of the loads' own VA where power factors differ
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
func Sum(loads ...ACLoad) (Together, error) {
	var all []error
	p, q := 0.0, 0.0
	for _, l := range loads {
		x := float64(l.Real)
		if x == 0 {
			continue
		}
		all = append(all, acPower(l.Real), pkg.Range("power factor", l.PowerFactor, 0.05, 1, domain.One))
		y := x * math.Sqrt(max(0, 1/(l.PowerFactor*l.PowerFactor)-1))
		if l.Leading {
			y = -y
		}
		p, q = p+x, q+y
	}
	s := math.Hypot(p, q)
	if err := errors.Join(all...); err != nil {
		return Together{}, err
	}
	if err := pkg.Range("apparent power", s, 0, mostPower, domain.VoltAmpere); err != nil {
		return Together{}, err
	}
	return Together{unit.Power(p), ApparentPower(q), ApparentPower(s)}, nil
}

// PowerFactor returns P/S, without a sign; 1 where there is no load.
//
// Definition: real over apparent power.
func (t Together) PowerFactor() float64 {
	if t.Apparent == 0 {
		return 1
	}
	return min(1, float64(t.Real)/float64(t.Apparent))
}
