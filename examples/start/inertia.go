package main

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// Inertia constants on shaft output (s) of rotors for which no table is at hand.
//
// Common practice: small motors of one phase, coupling and impeller included.
// Slender rotors of few poles stand at the low end.
const (
	leastConstant    = 0.03
	greatestConstant = 0.3
)

// turning takes the inertia given, or what rotors of that size have.
func (m *machine) turning(in *Input) error {
	if in.InertiaKGM2 != 0 {
		m.inertia, m.inertiaBasis = motor.Exactly(motor.Inertia(in.InertiaKGM2)), "the inertia given"
		return nil
	}
	if in.OutputHP == 0 {
		return errors.New("inertia_kgm2 is missing, or output_hp, by which rotors are estimated")
	}
	p := unit.Power(in.OutputHP) * motor.Horsepower
	ws, err := motor.SynchronousSpeed(unit.Frequency(in.Hertz), int(in.Poles))
	if err != nil {
		return err
	}
	low, errLow := motor.InertiaOfConstant(leastConstant, motor.ApparentPower(p), ws)
	high, errHigh := motor.InertiaOfConstant(greatestConstant, motor.ApparentPower(p), ws)
	if err := errors.Join(errLow, errHigh); err != nil {
		return fmt.Errorf("inertia_kgm2 is missing, and output_hp is beyond the rule for it: %w", err)
	}
	m.inertia, m.inertiaBasis = motor.Range[motor.Inertia]{Low: low, High: high}, motor.BasisRuleOfThumb.String()
	source := fmt.Sprintf("inertia constant of %g to %g s on shaft output, common practice", leastConstant, greatestConstant)
	rotor, err := motor.TypicalRotorInertia(p, int(in.Poles))
	var beyond *motor.NotCoveredError
	switch {
	case errors.As(err, &beyond):
	case err != nil:
		return fmt.Errorf("output_hp: %w", err)
	case in.Type == "three-phase":
		m.inertia, m.inertiaBasis = rotor, motor.BasisTypical.String()
		source = "one published range of small three-phase motors of two poles, without what they drive"
	default: // a motor of one phase has often more
		m.inertia.Low = min(rotor.Low, low)
	}
	m.sources = append(m.sources, "Inertia: "+source+". It sets the seconds, and hardly whether the motor starts.")
	in.assume("inertia_kgm2: %.2g to %.2g, by size; the time of the start goes with it", float64(m.inertia.Low), float64(m.inertia.High))
	return nil
}
