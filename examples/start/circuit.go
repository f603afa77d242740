package main

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

// A machine is what is known of a motor: one circuit, or several where the plate
// leaves a range, and the inertia of what it turns.
type machine struct {
	variants []variant
	inertia  motor.Range[motor.Inertia]

	// typical says that the circuit is that of other motors.
	typical             bool
	basis, inertiaBasis string
	sources             []string
}

// A variant is one motor that the plate allows.
type variant struct {
	name    string // as given, low, typical or high
	circuit motor.Circuit
}

// newMachine finds circuit and inertia of the motor: ohms before the plate.
func newMachine(in *Input) (machine, error) {
	var m machine
	var err error
	if in.circuitGiven() {
		m, err = fromOhms(*in)
	} else {
		m, err = fromPlate(in)
	}
	if err != nil {
		return machine{}, err
	}
	if err := m.turning(in); err != nil {
		return machine{}, err
	}
	return m, nil
}

// fromOhms takes the circuit as it was given.
func fromOhms(in Input) (machine, error) {
	c, err := circuitOf(in)
	if err != nil {
		return machine{}, err
	}
	return machine{
		variants: []variant{{"as given", c}},
		basis:    "the ohms given",
		sources:  []string{"Circuit: the ohms given. One phase by double revolving fields, Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., chapter 9; three phases by section 6.4."},
	}, nil
}

func circuitOf(in Input) (motor.Circuit, error) {
	ohm := func(x float64) unit.Resistance { return unit.Resistance(x) }
	if in.Type == "three-phase" {
		c := motor.ThreePhaseCircuit{
			Voltage: unit.Voltage(in.Volts), Frequency: unit.Frequency(in.Hertz), Poles: int(in.Poles), Delta: in.Delta,
			R1: ohm(in.MainROhm), X1: ohm(in.MainXOhm), R2: ohm(in.RotorROhm), X2: ohm(in.RotorXOhm), Xm: ohm(in.MagnetizingOhm),
			RotationalLoss: unit.Power(in.RotationalW),
		}
		return c, c.Validate()
	}
	c := motor.SinglePhaseCircuit{
		Voltage: unit.Voltage(in.Volts), Frequency: unit.Frequency(in.Hertz), Poles: int(in.Poles),
		R1: ohm(in.MainROhm), X1: ohm(in.MainXOhm), R2: ohm(in.RotorROhm), X2: ohm(in.RotorXOhm), Xm: ohm(in.MagnetizingOhm),
		RotationalLoss: unit.Power(in.RotationalW),
	}
	if in.Turns != 0 {
		c.Auxiliary = motor.Auxiliary{
			Turns: in.Turns, R: ohm(in.AuxiliaryROhm), X: ohm(in.AuxiliaryXOhm), Switch: in.SwitchPercent / 100,
			Start: branch(in.StartUF, in.StartXOhm, in.StartROhm, in.Hertz),
			Run:   branch(in.RunUF, in.RunXOhm, in.RunROhm, in.Hertz),
		}
	} else if in.AuxiliaryROhm != 0 || in.AuxiliaryXOhm != 0 || in.StartUF != 0 || in.StartXOhm != 0 || in.RunUF != 0 || in.RunXOhm != 0 {
		return nil, errors.New("turns is missing: the auxiliary winding's over the main one's")
	}
	return c, c.Validate()
}

// branch is a capacitor by its capacitance (µF) or its reactance (Ω).
func branch(uf, x, r, hertz float64) motor.Branch {
	b := motor.Branch{Capacitance: unit.Capacitance(uf * 1e-6), Resistance: unit.Resistance(r)}
	if x != 0 {
		b.Capacitance = unit.Capacitance(1 / (2 * math.Pi * hertz * x))
	}
	return b
}
