package main

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"
	"gonum.org/v1/plot/plotter"

	"ridethrough.example/motor"
)

// curves are what the plots show of one case.
type curves struct {
	result motor.RunUpResult

	// Torque (N·m) over speed (rpm): with the source's open voltage at the motor,
	// and, of a source that does not change with time, with what is left of it.
	stiffStart, stiffRun, sagStart, sagRun, load plotter.XYs
	greatest                                     float64 // of all (N·m)
}

const speedSteps = 240

// torques computes the torque–speed curves of a case.
func (k *curves) torques(in *Input, wires complex128, c *Case) error {
	ns := in.synchronousRPM()
	src := source(*in, 1)
	open := unit.Voltage(in.SourceVolts)
	switchAt := switchOf(c.circuit)
	for i := range speedSteps + 1 {
		x := float64(i) / speedSteps
		rpm := x * ns
		add := func(to *plotter.XYs, torque float64) {
			*to = append(*to, plotter.XY{X: rpm, Y: torque})
			k.greatest = math.Max(k.greatest, torque)
		}
		run, err := c.circuit.Running(1-x, open)
		if err != nil {
			return err
		}
		add(&k.stiffRun, float64(run.Torque))
		steady := in.Source != "generator"
		if steady {
			add(&k.sagRun, sagged(src, wires, run, in.phases))
		}
		if switchAt != 0 {
			begin, err := c.circuit.Starting(1-x, open)
			if err != nil {
				return err
			}
			add(&k.stiffStart, float64(begin.Torque))
			if steady {
				add(&k.sagStart, sagged(src, wires, begin, in.phases))
			}
		}
		if c.load != nil {
			add(&k.load, float64(c.load.Torque(motor.Speed(rpm)*motor.RPM)))
		}
	}
	return nil
}

// sagged is the torque (N·m) of a point at the voltage that source and wires
// leave of the one for which it was computed.
func sagged(src motor.Source, wires complex128, p motor.Point, phases int) float64 {
	z := complex(float64(p.Voltage)/math.Sqrt(float64(phases)), 0) / p.Line
	v, holds := left(src, z+wires, 0)
	if !holds {
		return 0
	}
	ratio := float64(v/p.Voltage) * cmplx.Abs(z/(z+wires))
	return float64(p.Torque) * ratio * ratio
}
