package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Rating is a capacity with the time of the constant-current discharge in
// which it was, or would be, delivered: 100 Ah at the 20 h rate. The zero
// value is invalid.
//
// Definition: IEC 60050-482-03-15, rated capacity.
type Rating struct {
	Capacity unit.Charge // delivered to the end voltage; 0.5 Ah to 100 kAh
	Time     unit.Time   // of the discharge; 5 min to 500 h
}

const (
	leastRatingTime = 5 * Minute
	mostRatingTime  = 500 * Hour
)

// validate says what is wrong with a rating, everything at once.
func (r Rating) validate() error {
	return errors.Join(
		checkCapacity("rated capacity", r.Capacity),
		pkg.Range("rated time", float64(r.Time), float64(leastRatingTime), float64(mostRatingTime), domain.Hour),
	)
}

// Current returns the current of the rating,
//
//	I = C/H
//
// where C is r.Capacity (Ah) and H is r.Time (h). A rating outside its bounds
// is an [ErrDomain].
//
// Definition: the H-hour rate.
func (r Rating) Current() (unit.Current, error) {
	if err := r.validate(); err != nil {
		return 0, err
	}
	return r.current(), nil
}

// current is Current of a rating that was checked.
func (r Rating) current() unit.Current {
	return unit.Current(float64(r.Capacity) / float64(r.Time))
}

// ShortcutRuntime returns the run time as the trade works it out in the head,
//
//	t = C/I
//
// where C is the capacity (Ah) and I the current (A), at whatever rate the
// capacity was rated. It is here to be laid beside [Peukert.Runtime]: at a
// third of the 20 h capacity in amperes, by the exponents of
// [TypicalExponent], it is 15 to 35 % long for AGM and 30 to 70 % for flooded
// batteries, because lead-acid gives less the faster it is drained, and it
// ignores cold, age and the depth limit.
//
// Valid for 0.5 Ah to 100 kAh and 1 mA to 100 kA; otherwise err wraps
// [ErrDomain].
//
// Common practice: the usual shortcut.
func ShortcutRuntime(c unit.Charge, i unit.Current) (unit.Time, error) {
	if err := errors.Join(checkCapacity("capacity", c), checkCurrent("current", i)); err != nil {
		return 0, err
	}
	return unit.Time(float64(c) / float64(i)), nil
}
