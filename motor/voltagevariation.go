package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// ErrUnbalance says that the voltages of three phases are so uneven that a
// motor is not to be run on them at all.
var ErrUnbalance = errors.New("motor: voltage unbalance above 5 %, on which no three-phase motor is to be run")

// VoltageUnbalance returns the unbalance of the three line-to-line voltages
// (V, rms),
//
//	u = max|V_i − V|/V    V = (V_1 + V_2 + V_3)/3
//
// as a share of 1. It is NEMA's measure, which a voltmeter gives; that of the
// IEC, negative over positive sequence, needs the angles and differs.
//
// Valid for 10 V to 15 kV each; outside, err wraps [ErrDomain]. A phase that
// is missing shows on a running motor's terminals as a voltage not far from
// the others, since the motor generates it: it is no case for this figure.
//
// Source: NEMA MG 1 14.36 (older 14.35), definition from memory.
func VoltageUnbalance(ab, bc, ca unit.Voltage) (float64, error) {
	if !(goodVoltage(ab) && goodVoltage(bc) && goodVoltage(ca)) {
		return 0, errors.Join(checkVoltage(ab), checkVoltage(bc), checkVoltage(ca))
	}
	a, b, c := float64(ab), float64(bc), float64(ca)
	mean := (a + b + c) / 3
	return max(math.Abs(a-mean), math.Abs(b-mean), math.Abs(c-mean)) / mean, nil
}

// unbalancePoints are read off the curve: unbalance in percent, and the
// derating factor there.
//
// Source: NEMA MG 1 figure 14-1, points from memory.
var unbalancePoints = [...]struct{ percent, factor float64 }{
	{1, 1}, {2, 0.95}, {3, 0.88}, {4, 0.82}, {5, 0.75},
}

// UnbalanceDerating returns the share of its rated output that a three-phase
// motor may carry at the unbalance u (a share of 1, [VoltageUnbalance]): 1 up
// to 1 %, then 0.95, 0.88, 0.82 and 0.75 at 2, 3, 4 and 5 %, on straight lines
// between. The standard has a curve and no table; these points are as they are
// commonly cited.
//
// Above 5 % err is [ErrUnbalance]. Valid for 0 to 2, which no three voltages
// exceed; outside, and so for a percentage put in as it stands, err wraps
// [ErrDomain].
//
// Source: NEMA MG 1 figure 14-1, points from memory.
func UnbalanceDerating(u float64) (float64, error) {
	if !within(u, 0, 2) {
		return 0, pkg.Range("voltage unbalance", u, 0, 2, domain.Percent)
	}
	percent, last := 100*u, unbalancePoints[len(unbalancePoints)-1]
	switch {
	case percent > last.percent*(1+1e-12):
		return 0, ErrUnbalance
	case percent >= last.percent:
		return last.factor, nil
	case percent <= unbalancePoints[0].percent:
		return unbalancePoints[0].factor, nil
	}
	i := int(percent) // the points stand at whole percents from 1 on
	lo, hi := unbalancePoints[i-1], unbalancePoints[i]
	return lo.factor + (percent-lo.percent)*(hi.factor-lo.factor), nil
}
