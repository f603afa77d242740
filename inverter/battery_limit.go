package inverter

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A CurrentPoint is a current above the continuous one and the time for which a
// battery's management allows it.
type CurrentPoint struct {
	Current unit.Current // at least the continuous current
	For     unit.Time    // 0.1 ms to 1 h
}

// A BatteryLimit is what a battery's management lets out before it opens: one
// current without end and more for shorter times. It is read as a [Surge] is,
// in steps, and over a course of current as [Surge.Follow] is.
//
// Common practice for lithium batteries: two to three times the continuous
// current for 1 to 10 s.
type BatteryLimit struct {
	Continuous unit.Current   // 0.1 A to 20 kA
	Points     []CurrentPoint // times rising, currents not rising; none: no more
}

const (
	leastTripTime = 1e-4 // (s): a short circuit is switched off in less
	mostCurrent   = 20e3 // (A)
)

// Validate returns nil for a limit in order, and otherwise an error that names
// each fault.
//
// Definition: a longer time cannot allow more, nor a peak be less than the
// continuous current.
func (b BatteryLimit) Validate() error {
	err := pkg.Range("continuous current", float64(b.Continuous), 0.1, mostCurrent, domain.Ampere)
	last := CurrentPoint{Current: mostCurrent}
	for _, p := range b.Points {
		err = errors.Join(
			err,
			pkg.Range("peak time", float64(p.For), leastTripTime, mostSurge, domain.Second),
			pkg.Range("peak current", float64(p.Current), float64(b.Continuous), float64(last.Current), domain.Ampere),
		)
		if p.For <= last.For {
			err = errors.Join(err, pkg.Invalid("peak time", fmt.Sprintf("%g s", float64(p.For)),
				fmt.Sprintf("more than the %g s before it", float64(last.For))))
		}
		last = p
	}
	return err
}

// Allowed returns the current (A) allowed for a duration, 0 to 400 days.
//
// Definition: the step of [BatteryLimit].
func (b BatteryLimit) Allowed(duration unit.Time) (unit.Current, error) {
	if err := errors.Join(b.Validate(), span("duration", duration)); err != nil {
		return 0, err
	}
	for _, p := range b.Points {
		if duration <= p.For {
			return p.Current, nil
		}
	}
	return b.Continuous, nil
}

// A CurrentSample is the dc current at one instant. Between samples it goes in a
// straight line; two samples of one time are a step.
type CurrentSample struct {
	After   unit.Time    // 0 to 400 days
	Current unit.Current // 0 to 20 kA
}

// Follow lays a dc current that changes in time beside the limit and returns the
// first instant at which it goes beyond, and whether it does. The limit is read
// as in [Surge.Follow]: never above the highest peak, and all the times
// together that the current is above the next lower value no longer than the
// time of the peak. err wraps [ErrDomain] for a limit or samples out of order.
//
// Common practice: as [Surge.Follow].
func (b BatteryLimit) Follow(course []CurrentSample) (first unit.Time, beyond bool, err error) {
	if len(course) == 0 {
		err = pkg.Invalid("course of current", "without samples", "one at least")
	}
	err = errors.Join(b.Validate(), err)
	last := unit.Time(0)
	for _, c := range course {
		err = errors.Join(
			err,
			pkg.Range("time of a sample", float64(c.After), float64(last), mostTime, domain.Second),
			pkg.Range("dc current", float64(c.Current), 0, mostCurrent, domain.Ampere),
		)
		last = max(last, c.After)
	}
	if err != nil {
		return 0, false, err
	}
	point := func(i int) (t, y float64) { return float64(course[i].After), float64(course[i].Current) }
	first, beyond = b.follow(len(course), point, func(i unit.Current) float64 { return float64(i) })
	return first, beyond, nil
}

// follow is Follow on a course of anything that rises with the current; level
// says what a current is on it.
func (b BatteryLimit) follow(n int, point func(i int) (t, y float64), level func(unit.Current) float64) (unit.Time, bool) {
	first, found, allowed := 0.0, false, unit.Time(0)
	for k := 0; k <= len(b.Points); k++ {
		i := b.Continuous
		if k < len(b.Points) {
			i = b.Points[k].Current
		}
		if t, over := beyond(level(i), float64(allowed), n, point); over && (!found || t < first) {
			first, found = t, true
		}
		if k < len(b.Points) {
			allowed = b.Points[k].For
		}
	}
	return unit.Time(first), found
}
