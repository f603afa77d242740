package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A RateLaw is the generalised form of Peukert's law with three parameters,
// which stays finite at small currents, where Peukert's grows without limit.
// With an exponent of 1 it is Liebenow's law. It follows a maker's table of
// rates within 1 % where one Peukert exponent is 4 to 5 % off; [FitRateLaw]
// finds the parameters. The zero value is invalid.
type RateLaw struct {
	Most     unit.Charge  // Cm, the capacity at no current; 0.5 Ah to 100 kAh
	Half     unit.Current // I0, the current that halves it; 1 mA to 100 kA
	Exponent float64      // n, 0.05 to 5
}

func (l RateLaw) validate() error {
	return errors.Join(
		checkCapacity("most capacity", l.Most),
		checkCurrent("current of half the capacity", l.Half),
		pkg.Range("exponent of the rate law", l.Exponent, 0.05, 5, domain.One),
	)
}

// Capacity returns the charge delivered to empty at a constant current,
//
//	C = Cm/(1 + (I/I0)^n)
//
// where Cm is l.Most (Ah), I the current (A), I0 is l.Half (A) and n is
// l.Exponent. Beyond the rates that it was fitted to it is an extrapolation.
//
// Valid for 1 mA to ten times Cm an hour; otherwise, and for a law outside its
// bounds, err wraps [ErrDomain].
//
// Source: generalised Peukert law, with n = 1 after C. Liebenow, Zeitschrift
// für Elektrochemie 4 (1897).
func (l RateLaw) Capacity(i unit.Current) (unit.Charge, error) {
	if err := l.validate(); err != nil {
		return 0, err
	}
	most := fastest * float64(l.Most) / float64(Hour)
	if err := pkg.Range("current", float64(i), float64(leastCurrent), most, domain.Ampere); err != nil {
		return 0, err
	}
	return unit.Charge(float64(l.Most) / (1 + math.Pow(float64(i/l.Half), l.Exponent))), nil
}

// Runtime returns the time to empty at a constant current,
//
//	t = C/I
//
// with C and bounds as for [RateLaw.Capacity].
//
// Source: as for [RateLaw.Capacity].
func (l RateLaw) Runtime(i unit.Current) (unit.Time, error) {
	c, err := l.Capacity(i)
	if err != nil {
		return 0, err
	}
	return unit.Time(float64(c) / float64(i)), nil
}
