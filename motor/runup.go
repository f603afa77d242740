package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A RunUp is a motor that is switched on: its circuit, what feeds it, what it
// drives and what has to be turned. [RunUp.QuasiSteady] follows it by rms
// values, [RunUp.Dynamic] instant by instant; each is the check of the other.
type RunUp struct {
	Circuit Circuit
	Source  Source
	// Feeder is the impedance (Ω) of the wires between source and motor, of one
	// phase, line to neutral; of one phase both conductors. Zero: none.
	Feeder complex128
	// Load is what the shaft drives. Nil: nothing.
	Load Load
	// Inertia is all that turns, at the motor's shaft: rotor, coupling, impeller
	// and what sticks to it (1 mg·m² to 1000 kg·m²).
	Inertia Inertia
	// FullSpeed is the share of the synchronous speed that counts as full speed
	// (0.3 to 0.999). Zero: 0.9. Motors run at 0.93 and more; one that settles
	// below 0.9 is overloaded and heats up.
	FullSpeed float64
	// Until ends the simulation where full speed is not reached (10 ms to 10
	// min). Zero: 10 s, by when no start switch and no overload protection holds
	// any more.
	Until unit.Time
	// Settle is how much longer it goes on after full speed (0 to 10 min).
	Settle unit.Time
	// Every is the distance of the samples (10 µs to 10 s). Zero: no samples.
	Every unit.Time
	// DC returns what an inverter takes from its battery (W) for real and
	// apparent power at the source's terminals. Nil: no figure of that side.
	DC func(watts unit.Power, apparent ApparentPower) unit.Power
}

// An Outcome says how a start ended.
type Outcome byte

// The outcomes. The zero value is none.
const (
	Starts       Outcome = iota + 1 // it reaches full speed
	StandsStill                     // it hums: the torque at rest does not move the load
	HangsOnStart                    // it turns, but never fast enough to open the start switch
	HangsRunning                    // it settles or falls back below full speed, the start switch open or none there
	TimesOut                        // it still gains speed when the time is up
	SourceGaveUp                    // the source trips or collapses before full speed
)

var outcomeNames = [...]string{
	"unknown", "starts", "stands still and hums", "hangs with its start winding on",
	"hangs below full speed", "has not come up when the time is up", "loses its source",
}

// String returns the outcome in words, "stands still and hums" for one.
//
// Definition: the words beside the constants.
func (o Outcome) String() string {
	if int(o) < len(outcomeNames) {
		return outcomeNames[o]
	}
	return outcomeNames[0]
}

// A RunUpSample is the state of a start at one instant. Powers and current are
// those at the source's terminals.
type RunUpSample struct {
	Time       unit.Time // since switching on
	Speed      Speed
	Voltage    unit.Voltage  // at the motor (rms)
	Current    unit.Current  // of the line (rms)
	Apparent   ApparentPower // of line volts and amperes
	Real       unit.Power    // of the same
	Torque     unit.Torque   // developed
	LoadTorque unit.Torque   // of load, friction and windage
	DC         unit.Power    // from the battery; 0 without [RunUp.DC]
	Link       unit.Voltage  // of the dc link; 0 by rms values, and of a source that is not [Linked]
	Closed     bool          // the start switch is
}

// A RunUpResult is how a start went. Powers, current and energy are those at
// the source's terminals, feeder included; energies and heats count to full
// speed, or to the end where it is not reached.
type RunUpResult struct {
	Outcome Outcome
	// Cause is what the source said as it gave up; nil otherwise.
	Cause error
	// SwitchOpen is when the start switch opens. Zero: it does not, or there is none.
	SwitchOpen unit.Time
	// FullSpeed is when full speed is reached. Zero: never.
	FullSpeed unit.Time
	// End is when the simulation ends.
	End unit.Time
	// Speed is that at the end; of a start that hangs, where it hangs.
	Speed Speed
	// First is the state at the instant of switching on, rotor at rest.
	First RunUpSample
	// Last is the state at the end.
	Last RunUpSample

	LeastVoltage     unit.Voltage  // at the motor, to full speed
	GreatestCurrent  unit.Current  // line current (rms)
	GreatestApparent ApparentPower // of line volts and amperes
	GreatestReal     unit.Power    // of the same
	GreatestDC       unit.Power    // from the battery; 0 without [RunUp.DC]
	Energy           unit.Energy   // at the source's terminals
	DCEnergy         unit.Energy   // from the battery; 0 without [RunUp.DC]
	// SquareTime is ∫I²·dt of the line current (A²s), which heats wires and
	// fuses.
	SquareTime float64
	StatorHeat unit.Energy // in the windings and what stands in series with them
	RotorHeat  unit.Energy // in the rotor
	Samples    []RunUpSample
}

const (
	fullSpeed     = 0.9
	runUpEnds     = 10 * unit.Second
	creep         = 1e-3 // share of the synchronous speed gained in a second that counts as hanging
	standing      = 1e-4 // share of the synchronous speed below which a motor stands
	runUpAccuracy = 1e-9
)

// Validate reports everything that is wrong with the start, by the ranges of
// its fields, and with circuit and load; a source of another number of phases
// than the motor is a [ContradictionError].
//
// Definition: the ranges are those of starts.
func (r RunUp) Validate() error {
	var err error
	if r.Circuit == nil {
		err = pkg.Invalid("run-up", "without a circuit", "a circuit")
	} else {
		err = r.Circuit.Validate()
	}
	if r.Source == nil {
		err = errors.Join(err, pkg.Invalid("run-up", "without a source", "a source"))
	} else if v, ok := r.Source.(interface{ Validate() error }); ok {
		err = errors.Join(err, v.Validate())
	}
	if phases, _, ok := ratingOf(r.Source); ok && err == nil && phases != r.Circuit.frame().phases {
		err = contradiction("a source of %d phases on a motor of %d", phases, r.Circuit.frame().phases)
	}
	if r.Load != nil {
		err = errors.Join(err, r.Load.Validate())
	}
	err = errors.Join(
		err,
		pkg.Range("inertia", float64(r.Inertia), 1e-6, 1000, domain.PoundSquareFoot),
		pkg.Range("feeder resistance", real(r.Feeder), 0, mostSourceOhms, domain.Ohm),
		pkg.Range("feeder reactance", imag(r.Feeder), 0, mostSourceOhms, domain.Ohm),
		pkg.Range("settling time", float64(r.Settle), 0, 600, domain.Second),
	)
	if r.FullSpeed != 0 {
		err = errors.Join(err, pkg.Range("full speed over synchronous speed", r.FullSpeed, 0.3, 0.999, domain.One))
	}
	if r.Until != 0 {
		err = errors.Join(err, pkg.Range("end of the run-up", float64(r.Until), 0.01, 600, domain.Second))
	}
	if r.Every != 0 {
		err = errors.Join(err, pkg.Range("distance of samples", float64(r.Every), 1e-5, 10, domain.Second))
	}
	return err
}

// ratingOf returns phases and frequency of a source of this package; ok is false
// for another.
func ratingOf(s Source) (phases int, frequency unit.Frequency, ok bool) {
	switch s := s.(type) {
	case Line:
		return s.Phases, s.Frequency, true
	case Generator:
		return s.Phases, s.Frequency, true
	}
	return 0, 0, false
}

// plain returns the run-up with the figures that a zero stands for.
func (r RunUp) plain() RunUp {
	if r.FullSpeed == 0 {
		r.FullSpeed = fullSpeed
	}
	if r.Until == 0 {
		r.Until = runUpEnds
	}
	return r
}

// loadTorque is that of load, friction and windage (N·m).
func (r RunUp) loadTorque(f frame, speed float64) float64 {
	t := f.drag(speed)
	if r.Load != nil {
		t += float64(r.Load.Torque(Speed(speed)))
	}
	return t
}

// note takes the greatest and least of what a sample shows.
func (r *RunUpResult) note(s *RunUpSample) {
	r.LeastVoltage = min(r.LeastVoltage, s.Voltage)
	r.GreatestCurrent = max(r.GreatestCurrent, s.Current)
	r.GreatestApparent = max(r.GreatestApparent, s.Apparent)
	r.GreatestReal = max(r.GreatestReal, s.Real)
	r.GreatestDC = max(r.GreatestDC, s.DC)
}

// start puts the least at its greatest.
func (r *RunUpResult) start() { r.LeastVoltage = unit.Voltage(math.Inf(1)) }
