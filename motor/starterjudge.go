package motor

import (
	"errors"
	"strconv"
)

// A Starter is a way of starting a motor.
type Starter byte

// The starters.
const (
	FullVoltage     Starter = iota + 1 // straight on the line
	Autotransformer                    // a tap, then the line
	WyeDelta                           // wye, then delta
	SeriesImpedance                    // resistor or reactor in the lines, then none
	VoltageRamp                        // soft starter: voltage alone is raised
	FrequencyDrive                     // variable-frequency drive
)

// A Usefulness says how far a starter answers its purpose, a smaller start
// current. The zero value is no answer.
type Usefulness byte

// The answers, best first.
const (
	Useful                Usefulness = iota + 1
	OnlyWithTorqueToSpare            // works where the load breaks away with less than the full starting torque
	Useless                          // does not work on this motor, or does it harm
)

// A StarterReason says why a starter is no more useful than it is.
type StarterReason byte

// The reasons.
const (
	NoObjection StarterReason = iota
	// TorqueFalls: torque falls with the square of the voltage, current only
	// with the voltage (with the square too behind a transformer).
	TorqueFalls
	// SwitchStaysIn: besides, the start winding stays in circuit as long as
	// the motor is slow, at currents that it bears for seconds.
	SwitchStaysIn
	// NeedsThreePhaseMotor: the method belongs to three-phase motors.
	NeedsThreePhaseMotor
	// NeedsSixLeads: wye-delta needs both ends of each winding, and a motor
	// that runs in delta at the voltage at hand.
	NeedsSixLeads
	// NeedsItsOwnDrive: a drive is for three-phase motors unless it is made
	// for single-phase ones.
	NeedsItsOwnDrive
)

var (
	starterNames    = [...]string{"unknown", "full voltage", "autotransformer", "wye-delta", "series impedance", "voltage ramp", "frequency drive"}
	usefulnessNames = [...]string{"unknown", "useful", "only with torque to spare", "useless"}
	reasonNames     = [...]string{
		"no objection", "torque falls with the square of the voltage", "the start switch stays in",
		"needs a three-phase motor", "needs six leads", "needs a drive made for single-phase motors",
	}
)

// String returns the starter in words.
//
// Definition: the name of the constant in words.
func (s Starter) String() string { return nameOf(starterNames[:], byte(s)) }

// String returns the answer in words.
//
// Definition: the name of the constant in words.
func (u Usefulness) String() string { return nameOf(usefulnessNames[:], byte(u)) }

// String returns the reason in words.
//
// Definition: the comment of the constant in short.
func (r StarterReason) String() string { return nameOf(reasonNames[:], byte(r)) }

func nameOf(names []string, i byte) string {
	if int(i) < len(names) {
		return names[i]
	}
	return "unknown"
}

// A StarterCase is a motor and the way in which it is to be started.
type StarterCase struct {
	// Starter is the method.
	Starter Starter
	// Type of the motor; [UnknownType] with one phase is judged as a motor
	// with a start switch.
	Type Type
	// Phases of the motor, 1 or 3.
	Phases int
	// SixLeads says that both ends of each winding are led out and that the
	// motor runs in delta at the voltage at hand.
	SixLeads bool
	// SinglePhaseDrive says that the drive is made for single-phase motors.
	SinglePhaseDrive bool
}

// A StarterVerdict is what can be said of a [StarterCase] without figures.
type StarterVerdict struct {
	// Use is the answer.
	Use Usefulness
	// Reason is why it is no better.
	Reason StarterReason
}

// Judge says whether the starter answers its purpose on the motor. Reduced
// voltage costs torque in its square everywhere. A single-phase motor with a
// start switch or relay stays on its start winding besides, so that only full
// voltage is left to it; permanent-split and shaded-pole motors, without one,
// may have torque to spare. Drives are for three-phase motors, unless made for
// single-phase ones, and even then a start switch comes in again at low speed.
// Wye-delta needs six leads of a three-phase motor.
//
// A number of phases besides 1 and 3, one that the type contradicts and a
// starter that is none give an error that wraps [ErrDomain].
//
// Source: application manuals of submersible motors (drives, taps); the laws
// at [TorqueRatio]. Common practice: the judgement on motors with switches.
func (c StarterCase) Judge() (StarterVerdict, error) {
	if err := c.check(); err != nil {
		return StarterVerdict{}, err
	}
	if c.Phases == 3 {
		switch {
		case c.Starter == FullVoltage || c.Starter == FrequencyDrive:
			return StarterVerdict{Useful, NoObjection}, nil
		case c.Starter == WyeDelta && !c.SixLeads:
			return StarterVerdict{Useless, NeedsSixLeads}, nil
		}
		return StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}, nil
	}
	switched := c.Type != PermanentSplit && c.Type != ShadedPole
	switch c.Starter {
	case FullVoltage:
		return StarterVerdict{Useful, NoObjection}, nil
	case WyeDelta:
		return StarterVerdict{Useless, NeedsThreePhaseMotor}, nil
	case FrequencyDrive:
		switch {
		case !c.SinglePhaseDrive:
			return StarterVerdict{Useless, NeedsItsOwnDrive}, nil
		case switched:
			return StarterVerdict{OnlyWithTorqueToSpare, SwitchStaysIn}, nil
		}
		return StarterVerdict{Useful, NoObjection}, nil
	}
	if switched {
		return StarterVerdict{Useless, SwitchStaysIn}, nil
	}
	return StarterVerdict{OnlyWithTorqueToSpare, TorqueFalls}, nil
}

func (c StarterCase) check() error {
	err := checkPhases(c.Phases)
	if c.Starter < FullVoltage || c.Starter > FrequencyDrive {
		err = errors.Join(err, pkg.Invalid("starter", strconv.Itoa(int(c.Starter)), "a starter"))
	}
	if c.Type != c.Type.known() {
		err = errors.Join(err, pkg.Invalid("motor type", strconv.Itoa(int(c.Type)), "a type"))
	}
	if c.Type != UnknownType && err == nil && (c.Type == ThreePhase) != (c.Phases == 3) {
		err = contradiction("a %v motor with %d phases", c.Type, c.Phases)
	}
	return err
}
