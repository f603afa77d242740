package inverter

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A SurgePoint is an overload and the time for which an inverter carries it.
type SurgePoint struct {
	Apparent ApparentPower // at least the continuous rating
	For      unit.Time     // 1 ms to 1 h; a surge without a time says nothing and is refused
}

// A Surge is what an inverter carries: one apparent power without end and more
// for shorter times. Between the points it is read as a step, the safe way:
// for any time, what the maker states for the next longer time. Beyond the
// longest time it is the continuous rating.
type Surge struct {
	Continuous ApparentPower // 10 VA to 1 MVA
	Points     []SurgePoint  // times rising, apparent power not rising; none: no overload
}

const (
	leastContinuous = 10     // (VA)
	leastSurge      = 1e-3   // (s)
	mostSurge       = 3600.0 // (s)
)

// ok is validate without the words, for the hot path.
func (s Surge) ok() bool {
	last := SurgePoint{Apparent: mostPower}
	for _, p := range s.Points {
		if !(p.For >= leastSurge && p.For <= mostSurge && p.For > last.For &&
			p.Apparent >= s.Continuous && p.Apparent <= last.Apparent) {
			return false
		}
		last = p
	}
	return s.Continuous >= leastContinuous && s.Continuous <= mostPower
}

// Validate returns nil for a rating in order, and otherwise an error that
// names each fault.
//
// Definition: a longer time cannot allow more, nor a surge be less than the
// continuous rating.
func (s Surge) Validate() error {
	if s.ok() {
		return nil
	}
	err := pkg.Range("continuous rating", float64(s.Continuous), leastContinuous, mostPower, domain.VoltAmpere)
	last := SurgePoint{Apparent: mostPower}
	for _, p := range s.Points {
		err = errors.Join(
			err,
			pkg.Range("surge time", float64(p.For), leastSurge, mostSurge, domain.Second),
			pkg.Range("surge rating", float64(p.Apparent), float64(s.Continuous), mostPower, domain.VoltAmpere),
		)
		if p.For <= last.For {
			err = errors.Join(err, pkg.Invalid("surge time", fmt.Sprintf("%g s", float64(p.For)),
				fmt.Sprintf("more than the %g s before it", float64(last.For))))
		}
		if p.Apparent > last.Apparent {
			err = errors.Join(err, pkg.Invalid("surge rating", fmt.Sprintf("%g VA", float64(p.Apparent)),
				fmt.Sprintf("at most the %g VA of the shorter time", float64(last.Apparent))))
		}
		last = p
	}
	return err
}

// Allowed returns the apparent power carried for a duration (s), and whether
// it is the surge or the continuous rating that says so. Valid for 0 to 400
// days.
//
// Definition: the step of [Surge].
func (s Surge) Allowed(duration unit.Time) (ApparentPower, Link, error) {
	if !s.ok() || !(duration >= 0 && duration <= mostTime) {
		return 0, 0, errors.Join(s.Validate(), span("duration", duration))
	}
	va, link := s.allowed(duration)
	return va, link, nil
}

func (s Surge) allowed(duration unit.Time) (ApparentPower, Link) {
	for _, p := range s.Points {
		if duration <= p.For {
			return p.Apparent, SurgeRating
		}
	}
	return s.Continuous, ContinuousRating
}

// A SurgeCheck lays a demand beside a [Surge].
type SurgeCheck struct {
	LinkCheck
	Allowed ApparentPower // carried for the duration asked for
}

// Check lays a demand of apparent power, 1 VA to 1 MVA, that lasts the
// duration given beside the rating.
//
// Common practice: locked-rotor volt-amperes for the run-up time, 0.4 to 5 s,
// and not "three times the running watts".
func (s Surge) Check(demand Range[ApparentPower], duration unit.Time) (SurgeCheck, error) {
	allowed, link, err := s.Allowed(duration)
	if err := errors.Join(err, checkApparent(demand)); err != nil {
		return SurgeCheck{}, err
	}
	return SurgeCheck{checkLink(link, float64(allowed), float64(demand.Low), float64(demand.High)), allowed}, nil
}

func checkApparent(demand Range[ApparentPower]) error {
	err := errors.Join(
		pkg.Range("apparent power", float64(demand.Low), 1, mostPower, domain.VoltAmpere),
		pkg.Range("apparent power", float64(demand.High), 1, mostPower, domain.VoltAmpere),
	)
	if err == nil && !demand.Valid() {
		err = upsideDown("apparent power", float64(demand.Low), float64(demand.High), "VA")
	}
	return err
}

// A LimitedStart is what is left of a motor start behind an inverter that
// limits its output current instead of tripping.
type LimitedStart struct {
	Voltage  float64       // ratio k of motor voltage to rated voltage, at most 1
	Torque   float64       // ratio k² of starting torque to that at rated voltage
	Apparent ApparentPower // at the motor, k²·S
	Real     unit.Power    // at the motor, k²·P
	RunUp    float64       // ratio 1/k² of run-up time, without load, to that at rated voltage
}

// LimitStart returns the start of a motor that would take S and P at rated
// voltage with its rotor held, from an output limited to the current of the
// apparent power allowed:
//
//	k = S_allowed/S,  V = k·V_rated,  torque, VA and W as k²
//
// since a held rotor is a constant impedance. The run-up time goes with 1/k²
// without load and is longer against one, perhaps longer than the surge lasts;
// a torque below the load's leaves the motor standing with its start winding
// energised.
//
// Quasi-steady and sinusoidal. Where the limit is a clamp of the peaks, take
// S_allowed from the rms current that it lets through, which is more than peak
// over √2 as the tops are flat; the rms voltage is then above k·V_rated, by 8 %
// at k = 0.34. Valid for P ≤ S, 1 VA to 1 MVA and S up to 1000·S_allowed;
// otherwise err wraps [ErrDomain].
//
// Source: the constant-impedance model of a locked rotor.
func LimitStart(s ApparentPower, p unit.Power, allowed ApparentPower) (LimitedStart, error) {
	err := errors.Join(
		pkg.Range("apparent power", float64(s), 1, mostPower, domain.VoltAmpere),
		pkg.Range("apparent power allowed", float64(allowed), max(1, float64(s)/1000), mostPower, domain.VoltAmpere),
		acPower(p),
	)
	if err == nil {
		err = notBelow(s, p)
	}
	if err != nil {
		return LimitedStart{}, err
	}
	k := min(1, float64(allowed/s))
	q := k * k
	return LimitedStart{Voltage: k, Torque: q, Apparent: ApparentPower(q) * s, Real: unit.Power(q) * p, RunUp: 1 / q}, nil
}
