package tank

import (
	"errors"

	"ridethrough.example/internal/domain"
)

// A pump at another speed.

// A Ratios is what the affinity laws say of a change of speed.
type Ratios struct {
	Flow  float64 // r
	Head  float64 // r²
	Power float64 // at the shaft, r³
}

// Affinity returns how flow, head and shaft power of a pump change with its
// speed, along the same curve,
//
//	Q2/Q1 = r,  H2/H1 = r²,  P2/P1 = r³
//
// where r is the ratio of the speeds, 0.2 to 2.5; otherwise err wraps
// [ErrDomain]. They move each point of the curve; where the system's own curve
// then meets it is another matter: see [Supply.At].
//
// Source: affinity laws of pumps, textbooks of fluid mechanics.
func Affinity(r float64) (Ratios, error) {
	if err := pkg.Range("speed ratio", r, leastSpeed, mostSpeed, domain.One); err != nil {
		return Ratios{}, err
	}
	return Ratios{Flow: r, Head: r * r, Power: r * r * r}, nil
}

// AtSpeed returns the curve at another speed, by the affinity laws,
//
//	H(Q) = r²·H1(Q/r)
//
// where r is the ratio of the speeds and H1 the curve at the speed before. On a
// lower frequency r is a little above the ratio of the frequencies, as the
// motor is loaded less. Against a static lift the flow falls much faster than
// the speed, and once r²·H0 is down to that lift nothing is delivered.
//
// Valid for 0.2 to 2.5 of the speed that the curve was made for; otherwise err
// wraps [ErrDomain].
//
// Source: affinity laws, see [Affinity].
func (c Curve) AtSpeed(r float64) (Curve, error) {
	err := errors.Join(c.check(), pkg.Range("speed ratio", r*c.speed, leastSpeed, mostSpeed, domain.One))
	if err != nil {
		return Curve{}, err
	}
	c.speed *= r
	return c, nil
}
