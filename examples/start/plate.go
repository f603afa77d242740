package main

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

var plateTypes = map[string]motor.Type{
	"split-phase": motor.SplitPhase, "capacitor-start": motor.CapacitorStart, "capacitor-start-run": motor.CapacitorStartRun,
	"permanent-split": motor.PermanentSplit, "three-phase": motor.ThreePhase,
}

// plate is what is printed on the motor.
func plate(in *Input) (motor.Nameplate, error) {
	n := motor.Nameplate{
		Output: unit.Power(in.OutputHP) * motor.Horsepower, Voltage: unit.Voltage(in.Volts), Phases: in.phases,
		FullLoadCurrent: unit.Current(in.FullLoadA), LockedRotorCurrent: unit.Current(in.LockedRotorA),
		PowerFactor: in.PowerFactor, Efficiency: in.Efficiency, Type: plateTypes[in.Type],
	}
	if in.Code != "" {
		code, err := motor.ParseCodeLetter(in.Code)
		if err != nil {
			return n, fmt.Errorf("code: %w", err)
		}
		n.Code = code
	}
	if err := n.Validate(); err != nil {
		return n, fmt.Errorf("nameplate: %w", err)
	}
	return n, nil
}

// typical is a typical motor of the plate's type and size.
type typical struct {
	circuit motor.Circuit
	spread  motor.Range[unit.Current] // of the locked-rotor current
	source  string
}

func typicalOf(in *Input) (typical, error) {
	p, v, f, poles := unit.Power(in.OutputHP)*motor.Horsepower, unit.Voltage(in.Volts), unit.Frequency(in.Hertz), int(in.Poles)
	if in.Type == "three-phase" {
		t, err := motor.TypicalThreePhase(p, v, f, poles)
		return typical{t.Circuit, t.LockedRotorCurrent, t.Source}, err
	}
	var t motor.SinglePhasePreset
	var err error
	switch {
	case in.Drives == "submersible" && in.Type == "split-phase":
		t, err = motor.TypicalSubmersible(2, p, v, f)
	case in.Drives == "submersible" && in.Type == "capacitor-start":
		t, err = motor.TypicalSubmersible(3, p, v, f)
	default:
		t, err = motor.TypicalSinglePhase(plateTypes[in.Type], p, v, f, poles)
	}
	if in.SwitchPercent != 0 && t.Circuit.Auxiliary.Switch != 0 {
		t.Circuit.Auxiliary.Switch = in.SwitchPercent / 100
	}
	return typical{t.Circuit, t.LockedRotorCurrent, t.Source}, err
}

// with is the typical motor at a locked-rotor current.
func (t typical) with(i unit.Current) (motor.Circuit, error) {
	switch c := t.circuit.(type) {
	case motor.SinglePhaseCircuit:
		return c.WithLockedRotorCurrent(i)
	case motor.ThreePhaseCircuit:
		return c.WithLockedRotorCurrent(i)
	}
	return nil, errors.New("no typical motor")
}

// fromPlate finds circuits that the plate allows: a typical motor of its type and
// size, brought to the locked-rotor current that plate or code letter tell.
func fromPlate(in *Input) (machine, error) {
	n, err := plate(in)
	if err != nil {
		return machine{}, err
	}
	t, err := typicalOf(in)
	if err != nil {
		return machine{}, fmt.Errorf("no typical circuit, give ohms (main_r_ohm and the others): %w", err)
	}
	current, m, err := lockedRotor(in, n, t)
	if err != nil {
		return machine{}, err
	}
	m.typical = true
	m.sources = append(m.sources, "Circuit: typical of its type and size, by the impedances of published machines over V²/P: "+t.source+
		". A real motor of the same locked-rotor current may have a fifth less or more torque; for that a source 10 % weaker is tried as well.")
	amperes := []named{{"low", current.Low}, {"typical", current.Mid()}, {"high", current.High}}
	if current.Low == current.High {
		amperes = amperes[1:2]
	}
	if m.variants, err = variants(amperes, t.with); err != nil {
		return machine{}, fmt.Errorf("locked_rotor_a: %w", err)
	}
	if in.FullLoadA != 0 && in.FullLoadRPM != 0 {
		m.fit(in, amperes, t)
	}
	return m, nil
}

// named is a locked-rotor current that the plate allows.
type named struct {
	name    string
	current unit.Current
}

func variants(amperes []named, with func(unit.Current) (motor.Circuit, error)) ([]variant, error) {
	var all []variant
	for _, a := range amperes {
		c, err := with(a.current)
		if err != nil {
			return nil, err
		}
		all = append(all, variant{a.name, c})
	}
	return all, nil
}

// fit puts circuits in place of the typical ones that follow the running figures
// of the plate as well, where there are any. The starting torque, which no plate
// tells, is that of the typical one.
func (m *machine) fit(in *Input, amperes []named, t typical) {
	speed := motor.Speed(in.FullLoadRPM) * motor.RPM
	fitted, err := variants(amperes, func(i unit.Current) (motor.Circuit, error) {
		usual, err := t.with(i)
		if err != nil {
			return nil, err
		}
		held, err := usual.Starting(1, unit.Voltage(in.Volts))
		if err != nil {
			return nil, err
		}
		c := motor.Catalogue{
			Type: plateTypes[in.Type], Output: unit.Power(in.OutputHP) * motor.Horsepower, Voltage: unit.Voltage(in.Volts),
			Frequency: unit.Frequency(in.Hertz), Poles: int(in.Poles),
			FullLoadCurrent: unit.Current(in.FullLoadA), PowerFactor: in.PowerFactor, Efficiency: in.Efficiency,
			FullLoadSpeed: speed, LockedRotorCurrent: i,
			StartingTorque: float64(held.Torque) * float64(speed) / float64(unit.Power(in.OutputHP)*motor.Horsepower),
		}
		if in.Type == "three-phase" {
			circuit, _, err := c.FitThreePhase()
			return circuit, err
		}
		circuit, _, err := c.FitSinglePhase()
		if in.SwitchPercent != 0 && circuit.Auxiliary.Switch != 0 {
			circuit.Auxiliary.Switch = in.SwitchPercent / 100
		}
		return circuit, err
	})
	if err != nil {
		in.assume("full_load_a and full_load_rpm: left aside, a typical circuit was taken; %v", err)
		return
	}
	m.variants = fitted
	m.basis += ", fitted to its full-load current and speed"
	m.sources = append(m.sources, "Fit: weighted least squares on full-load current, full-load speed and locked-rotor current, and on the starting torque of a typical motor; what they leave open stays near the published machines.")
}

// lockedRotor is the range of locked-rotor current at rated voltage, and what it
// rests on.
func lockedRotor(in *Input, n motor.Nameplate, t typical) (motor.Range[unit.Current], machine, error) {
	for _, b := range []motor.Basis{motor.BasisNameplate, motor.BasisCodeLetter} {
		d, err := n.StartFrom(b, motor.StartEvidence{})
		switch {
		case errors.Is(err, motor.ErrMissing):
			continue
		case err != nil:
			return motor.Range[unit.Current]{}, machine{}, fmt.Errorf("nameplate: %w", err)
		}
		m := machine{basis: "typical circuit at the locked-rotor current of the nameplate", sources: []string{"Locked-rotor current: the nameplate."}}
		if b == motor.BasisCodeLetter {
			m.basis = "typical circuit at the locked-rotor current of code letter " + in.Code
			m.sources = []string{"Locked-rotor current: code letter, NEMA MG 1 10.37.2 and NEC table 430.7(B)."}
		}
		if d.Unbounded {
			d.Current.High = 1.25 * d.Current.Low
			in.assume("code: V has no upper limit; a quarter above its lower one is taken for the high end")
		}
		return d.Current, m, nil
	}
	in.assume("locked_rotor_a: %.3g to %.3g A, typical of such motors; a figure of the plate, or its code letter, is better", float64(t.spread.Low), float64(t.spread.High))
	return t.spread, machine{basis: "typical of its type and size", sources: []string{"Locked-rotor current: spread of such motors, from the code letter below the usual one to the one above; common practice."}}, nil
}
