package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
	"ridethrough.example/motor"
)

// source is what feeds the motor, with its voltage and its limits times strength.
func source(in Input, strength float64) motor.Source {
	v, f := unit.Voltage(strength*in.SourceVolts), unit.Frequency(in.Hertz)
	if in.Source == "generator" {
		return motor.Generator{
			Rating: motor.ApparentPower(in.RatingVA), Power: unit.Power(in.EngineW), Voltage: v, Frequency: f, Phases: in.phases,
			Subtransient: in.SubtransientPU, Transient: in.TransientPU, Decay: unit.Time(in.DecayS), Recovery: unit.Time(in.RecoveryS),
			Droop: in.DroopPercent / 100,
		}
	}
	return motor.Line{
		Voltage: v, Frequency: f, Phases: in.phases,
		Impedance: complex(in.SourceROhm, in.SourceXOhm), Limit: unit.Current(strength * in.LimitA),
	}
}

// feeder is the impedance (Ω) of the wires, of one phase, line to neutral; of one
// phase both conductors.
func feeder(in Input) (complex128, error) {
	if in.FeederSize == "" {
		return complex(in.FeederROhm, in.FeederXOhm), nil
	}
	size, err := conductor.ParseSize(in.FeederSize)
	if err != nil {
		return 0, fmt.Errorf("feeder_size: %w", err)
	}
	metal := conductor.Copper
	if in.FeederMetal == "aluminium" {
		metal = conductor.Aluminium
	}
	run := conductor.Run{Circuit: conductor.TwoWire, Segments: []conductor.Segment{{
		Wire: conductor.Wire{Size: size, Metal: metal, Stranding: conductor.Stranded}, OneWay: unit.Length(in.FeederM),
		Temperature: conductor.Celsius(in.FeederC), Reactance: conductor.ReactanceInPVC * conductor.ResistancePerLength(in.Hertz/60),
	}}}
	perLine := 1.0
	if in.phases == 3 {
		run.Circuit, perLine = conductor.ThreePhase, math.Sqrt(3) // the run counts volts line to line
	}
	z, err := run.Impedance()
	if err != nil {
		return 0, fmt.Errorf("feeder: %w", err)
	}
	return z.Complex() / complex(perLine, 0), nil
}

// load is what the shaft drives. Without a torque it is that of the rated output
// at the speed where the circuit gives it.
func load(in *Input, c motor.Circuit) (motor.Load, error) {
	if in.Drives == "none" {
		return nil, nil
	}
	rpm := in.LoadRPM
	if rpm == 0 {
		rpm = in.FullLoadRPM
	}
	torque := in.LoadNM
	if rpm == 0 {
		p, err := ratedPoint(*in, c, torque)
		if err != nil {
			return nil, err
		}
		rpm = float64(p.Speed / motor.RPM)
	}
	speed := motor.Speed(rpm) * motor.RPM
	if torque == 0 {
		torque = float64(unit.Power(in.OutputHP)*motor.Horsepower) / float64(speed)
	}
	t := unit.Torque(torque)
	if in.Drives == "piston" {
		return motor.ConstantLoad{Rated: t, Breakaway: in.BreakawayPercent / 100}, nil
	}
	return motor.CentrifugalLoad{Rated: t, Speed: speed, Breakaway: in.BreakawayPercent / 100, Shutoff: in.ShutoffPercent / 100}, nil
}

// ratedPoint is where the circuit gives a torque (N·m), or else its rated output,
// at rated voltage.
func ratedPoint(in Input, c motor.Circuit, torque float64) (motor.Point, error) {
	v := unit.Voltage(in.Volts)
	if torque != 0 {
		p, err := c.AtTorque(unit.Torque(torque), v)
		if err != nil {
			return p, fmt.Errorf("load_nm: %w; where the load is rated at another speed, give load_rpm", err)
		}
		return p, nil
	}
	p, err := c.AtOutput(unit.Power(in.OutputHP)*motor.Horsepower, v)
	if err != nil {
		return p, fmt.Errorf("output_hp: %w; ohms or locked-rotor current are those of a smaller motor", err)
	}
	return p, nil
}
