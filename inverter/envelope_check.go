package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An Envelope is everything that a demand which changes in time is held
// against: volt-amperes on the switches, watts on the dc side, volts at the
// cut-off and amperes through the battery's management.
type Envelope struct {
	System  System
	DCPower unit.Power   // greatest dc power at any instant, 20 W to 10 MW; 0: none
	Battery BatteryLimit // the zero limit: no management
}

// unmanaged reports whether there is no battery management.
func (e Envelope) unmanaged() bool { return e.Battery.Continuous == 0 && len(e.Battery.Points) == 0 }

// Validate returns nil for a valid system with limits in the ranges stated
// beside them, and otherwise an error that names each fault.
//
// Definition: the parts' own checks.
func (e Envelope) Validate() error {
	err := e.System.Validate()
	if e.DCPower != 0 {
		err = errors.Join(err, pkg.Range("dc power limit", float64(e.DCPower), leastRated, mostDC, domain.Watt))
	}
	if !e.unmanaged() {
		err = errors.Join(err, e.Battery.Validate())
	}
	return err
}

// An EnvelopeCheck says of each limit when a demand first goes beyond it.
type EnvelopeCheck struct {
	Rating  Breach     // ContinuousRating or SurgeRating
	DCPower Breach     // DCPowerLimit
	CutOff  Breach     // StartCutOff, RunningCutOff, CutOffDelay or Collapse
	Battery Breach     // BatteryManagement
	Peak    unit.Power // greatest dc power asked for
}

// First returns the breach that comes first; its Link is 0 where the demand
// stays within all limits.
//
// Definition: the earliest of the four.
func (c EnvelopeCheck) First() Breach {
	return c.Rating.earlier(c.DCPower).earlier(c.CutOff).earlier(c.Battery)
}

// Follow lays a demand that changes in time beside all limits. Dc power follows
// from each sample by [Loss.DCPowerAt] and goes in a straight line between
// them, which is never less than the law makes of the straight lines of W and
// VA. On the dc side
//
//   - the power never exceeds DCPower,
//   - nor what the source delivers at the start cut-off, or at collapse,
//   - all the times together that it is above what the source delivers at the
//     running cut-off come to no more than the cut-off waits,
//   - and the current keeps to the battery's limit, a current I being the power
//     I·(V_oc - I·R) at which it flows.
//
// Volt-amperes are read as in [Surge.Follow]. A demand above a limit is a demand
// not met in full: what an inverter then makes of the load says [Limited]. err
// wraps [ErrDomain] for an envelope or samples out of order.
//
// Source: the models of [Loss], [Surge], [Source] and [CutOff].
func (e Envelope) Follow(demand []DemandSample) (EnvelopeCheck, error) {
	if err := errors.Join(e.Validate(), checkDemand(demand)); err != nil {
		return EnvelopeCheck{}, err
	}
	s := e.System
	point := func(i int) (t, y float64) {
		d := demand[i]
		return float64(d.After), s.Loss.dcAt(float64(d.Real), float64(d.Apparent))
	}
	check := func(link Link, level, allowed float64) Breach {
		if t, over := beyond(level, allowed, len(demand), point); over {
			return Breach{link, at(demand, unit.Time(t))}
		}
		return Breach{}
	}
	c := EnvelopeCheck{Rating: s.Surge.follow(demand)}
	for i := range demand {
		_, p := point(i)
		c.Peak = max(c.Peak, unit.Power(p))
	}
	if e.DCPower != 0 {
		c.DCPower = check(DCPowerLimit, float64(e.DCPower), 0)
	}
	floor, link := s.CutOff.floor()
	if 2*floor < s.Source.OpenCircuit {
		link = Collapse
	}
	c.CutOff = check(link, float64(s.Source.largest(floor)), 0)
	delay := RunningCutOff
	if s.CutOff.Allowed > 0 {
		delay = CutOffDelay
	}
	c.CutOff = c.CutOff.earlier(check(delay, float64(s.Source.largest(s.CutOff.Running)), float64(s.CutOff.Allowed)))
	if !e.unmanaged() {
		if t, over := e.Battery.follow(len(demand), point, s.Source.powerOf); over {
			c.Battery = Breach{BatteryManagement, at(demand, t)}
		}
	}
	return c, nil
}

// powerOf is the dc power at which a current flows, or that of collapse for a
// current that no power draws.
func (s Source) powerOf(i unit.Current) float64 {
	a, r := float64(i), float64(s.Resistance())
	if 2*a*r >= float64(s.OpenCircuit) {
		return float64(s.collapse())
	}
	return a * (float64(s.OpenCircuit) - a*r)
}
