package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Peukert is Peukert's law in its rated-hour form, with the capacity held at
// a stated most on the slow side, where the bare law grows without limit.
// The zero value is invalid.
//
// Rating, exponent and current must speak of the same thing: a whole bank with
// the bank's current, or one string with the string's current. The bank's
// current on one battery's ampere-hours is a common mistake; see
// [Bank.Peukert].
type Peukert struct {
	Rating   Rating
	Exponent float64 // k; 1 to 1.6, as found by [PeukertExponent]

	// Most is the largest capacity credited, however slow the discharge: a
	// 100 h rating, say. It is from one to two times the rated capacity.
	// Zero: the rated capacity, which credits nothing below the rated
	// current.
	Most unit.Charge
}

const (
	leastExponent = 1.0
	mostExponent  = 1.6

	// fastest is the highest current taken for plausible, as a multiple of
	// the rated capacity over one hour. The published tables end at 5.
	fastest = 10.0
)

func checkExponent(k float64) error {
	return pkg.Range("Peukert exponent", k, leastExponent, mostExponent, domain.One)
}

func (p Peukert) validate() error {
	err := errors.Join(p.Rating.validate(), checkExponent(p.Exponent))
	if p.Most != 0 {
		c := float64(p.Rating.Capacity)
		err = errors.Join(err, pkg.Range("most capacity", float64(p.Most), c, 2*c, domain.AmpereHour))
	}
	return err
}

// checkRate refuses currents that no battery of this size is drained with.
func (p Peukert) checkRate(i unit.Current) error {
	most := fastest * float64(p.Rating.Capacity) / float64(Hour)
	return pkg.Range("current", float64(i), float64(leastCurrent), most, domain.Ampere)
}

// most returns the cap in force (C).
func (p Peukert) most() float64 {
	if p.Most != 0 {
		return float64(p.Most)
	}
	return float64(p.Rating.Capacity)
}

// Runtime returns the time to empty at a constant current,
//
//	t = H·(C/(I·H))^k, but at most Cm/I
//
// where C is the rated capacity (Ah), H the time of its rate (h), I the
// current (A), k the exponent and Cm the most capacity credited (Ah). At the
// rated current it is H. The form t = C/I^k found in print is right only where
// C is the capacity at 1 A: with a 20 h rating of 100 Ah and k = 1.2 it gives
// 14.5 h instead of 20 h.
//
// Valid from full charge at 25 °C for 1 mA to ten times the capacity an hour;
// outside, and for a p outside its bounds, err wraps [ErrDomain].
//
// Source: W. Peukert, Elektrotechnische Zeitschrift 20 (1897), in the form
// normalised to the rated hour; limits of use in Doerffel and Sharkh, Journal
// of Power Sources 155 (2006).
func (p Peukert) Runtime(i unit.Current) (unit.Time, error) {
	if err := p.validate(); err != nil {
		return 0, err
	}
	if err := p.checkRate(i); err != nil {
		return 0, err
	}
	return p.runtime(i), nil
}

// runtime is Runtime of arguments that were checked.
func (p Peukert) runtime(current unit.Current) unit.Time {
	c, h, k, i := float64(p.Rating.Capacity), float64(p.Rating.Time), p.Exponent, float64(current)
	t := h * math.Pow(c/(i*h), k)
	return unit.Time(min(t, p.most()/i))
}

// Capacity returns the charge delivered to empty at a constant current,
//
//	Q = I·t
//
// with t as [Peukert.Runtime] gives it and with its bounds.
//
// Source: as for [Peukert.Runtime].
func (p Peukert) Capacity(i unit.Current) (unit.Charge, error) {
	t, err := p.Runtime(i)
	if err != nil {
		return 0, err
	}
	return unit.Charge(float64(i) * float64(t)), nil
}

// Current returns the constant current that empties the battery in a wanted
// time, the inverse of [Peukert.Runtime],
//
//	I = (C/H)·(H/t)^(1/k), but at most Cm/t
//
// in the same symbols. The time must be from 1 min to 10000 h and the current
// must come out at 1 mA to ten times the capacity an hour; otherwise, and for
// a p outside its bounds, err wraps [ErrDomain].
//
// Source: as for [Peukert.Runtime].
func (p Peukert) Current(t unit.Time) (unit.Current, error) {
	const least, most = 1 * Minute, 10000 * Hour
	err := errors.Join(p.validate(), pkg.Range("run time", float64(t), float64(least), float64(most), domain.Hour))
	if err != nil {
		return 0, err
	}
	c, h, k := float64(p.Rating.Capacity), float64(p.Rating.Time), p.Exponent
	i := unit.Current(min(c/h*math.Pow(h/float64(t), 1/k), p.most()/float64(t)))
	if err := p.checkRate(i); err != nil {
		return 0, err
	}
	return i, nil
}

// At returns the rating at another hour rate,
//
//	C2 = C1·(H2/H1)^((k-1)/k), but at most Cm
//
// where C1 and H1 are the rating's capacity (Ah) and time (h) and H2 the other
// time (h). The time must be one that a [Rating] may have; otherwise, and for
// a p outside its bounds, err wraps [ErrDomain].
//
// Source: follows from [Peukert.Runtime].
func (p Peukert) At(t unit.Time) (Rating, error) {
	i, err := p.Current(t)
	if err != nil {
		return Rating{}, err
	}
	r := Rating{Capacity: unit.Charge(float64(i) * float64(t)), Time: t}
	if err := r.validate(); err != nil {
		return Rating{}, err
	}
	return r, nil
}
