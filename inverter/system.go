package inverter

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A System is an inverter on its battery.
type System struct {
	Loss   Loss   // what it takes for what it gives
	Surge  Surge  // what it carries, and for how long
	Source Source // battery, cable and contacts
	CutOff CutOff // when it gives up for lack of voltage
}

// Validate returns nil if all four parts are valid, and otherwise an error
// that names each fault.
//
// Definition: the parts' own checks.
func (s System) Validate() error {
	return errors.Join(s.Loss.Validate(), s.Surge.Validate(), s.Source.Validate(), s.CutOff.Validate())
}

// A Demand is what a load asks of the inverter at its rated voltage. The two
// powers differ: apparent power meets the inverter's current limit, real power
// the battery.
type Demand struct {
	Apparent Range[ApparentPower] // 1 VA to 1 MVA
	Real     Range[unit.Power]    // 1 W up to the apparent power, end by end
}

func (d Demand) validate() error {
	err := errors.Join(
		checkApparent(d.Apparent),
		pkg.Range("real power", float64(d.Real.Low), 1, mostPower, domain.Watt),
		pkg.Range("real power", float64(d.Real.High), 1, mostPower, domain.Watt),
	)
	if err != nil {
		return err
	}
	if !d.Real.Valid() {
		return upsideDown("real power", float64(d.Real.Low), float64(d.Real.High), "W")
	}
	return errors.Join(notBelow(d.Apparent.Low, d.Real.Low), notBelow(d.Apparent.High, d.Real.High))
}

// A Check is what becomes of a demand, link by link. Low and high belong to
// the low and the high end of the demand, save that the low voltage comes with
// the high demand.
type Check struct {
	DC       Range[unit.Power]   // at the inverter's input, idle draw included
	Voltage  Range[unit.Voltage] // at the inverter's input; an end is 0 where the source collapses
	Current  Range[unit.Current] // dc; an end is 0 where the source collapses
	Rating   LinkCheck           // SurgeRating or ContinuousRating, in volt-amperes
	CutOff   LinkCheck           // StartCutOff, CutOffDelay or RunningCutOff, in dc watts
	Collapse LinkCheck           // Collapse, in dc watts
	Allowed  ApparentPower       // what the rating allows for the duration
	Limit    unit.Voltage        // threshold that binds
	Largest  unit.Power          // dc power at that threshold; 0 if the source at rest is below it
}

// Weakest returns the check with the least margin, the link that gives way
// first as the demand grows.
//
// Definition: the least of the three low margins; collapse comes before a
// cut-off that no load reaches.
func (c Check) Weakest() LinkCheck {
	w := c.Collapse
	if c.CutOff.Margin.Low < w.Margin.Low {
		w = c.CutOff
	}
	if c.Rating.Margin.Low < w.Margin.Low {
		w = c.Rating
	}
	return w
}

// Verdict returns the worst verdict of the three checks.
//
// Definition: a chain carries what its weakest link carries.
func (c Check) Verdict() Verdict {
	return min(c.Rating.Verdict, c.CutOff.Verdict, c.Collapse.Verdict)
}

// CheckStart lays the start of a motor beside surge rating, start cut-off and
// collapse. The demand is that at rated voltage with the rotor held; duration
// is the run-up time (s). Dc power comes from [Loss.DCPowerAt].
//
// It asks whether the motor starts at full voltage. An inverter that limits
// its current lets less through, the battery sags less and the start takes
// longer or fails: see [LimitStart]. One that trips does not start it.
//
// Source: the models of [Loss], [Surge], [Source] and [CutOff].
func (s System) CheckStart(d Demand, duration unit.Time) (Check, error) {
	if err := errors.Join(s.Validate(), d.validate(), span("duration", duration)); err != nil {
		return Check{}, err
	}
	allowed, rating := s.Surge.allowed(duration)
	limit, cutoff := s.CutOff.limit(duration)
	return s.check(d, allowed, rating, limit, cutoff), nil
}

// CheckRun lays a steady load beside continuous rating, running cut-off and
// collapse.
//
// Source: the models of [Loss], [Surge], [Source] and [CutOff].
func (s System) CheckRun(d Demand) (Check, error) {
	if err := errors.Join(s.Validate(), d.validate()); err != nil {
		return Check{}, err
	}
	return s.check(d, s.Surge.Continuous, ContinuousRating, s.CutOff.Running, RunningCutOff), nil
}

func (s System) check(d Demand, allowed ApparentPower, rating Link, limit unit.Voltage, cutoff Link) Check {
	low := s.Loss.dcAt(float64(d.Real.Low), float64(d.Apparent.Low))
	high := s.Loss.dcAt(float64(d.Real.High), float64(d.Apparent.High))
	largest := s.Source.largest(limit)
	atLow, _ := s.Source.point(unit.Power(low)) // zero where the source collapses
	atHigh, _ := s.Source.point(unit.Power(high))
	return Check{
		DC:       Range[unit.Power]{Low: unit.Power(low), High: unit.Power(high)},
		Voltage:  Range[unit.Voltage]{Low: atHigh.Voltage, High: atLow.Voltage},
		Current:  Range[unit.Current]{Low: atLow.Current, High: atHigh.Current},
		Rating:   checkLink(rating, float64(allowed), float64(d.Apparent.Low), float64(d.Apparent.High)),
		CutOff:   checkLink(cutoff, float64(largest), low, high),
		Collapse: checkLink(Collapse, float64(s.Source.collapse()), low, high),
		Allowed:  allowed, Limit: limit, Largest: largest,
	}
}
