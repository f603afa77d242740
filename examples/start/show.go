package main

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/examples/internal/chart"
	"ridethrough.example/motor"
)

const (
	linesOfTable = 20
	perLine      = 20 // points of the plots a line of the table
	shownAfter   = 0.4
)

// show samples the case that is printed and plotted.
func (a *Answer) show(in *Input, wires complex128, c *Case) error {
	a.Shown = c.Name
	r := c.runUp(in, wires, c.inertia, 1)
	r.Settle = unit.Time(shownAfter * c.FullSpeedS)
	end := float64(c.result.End)
	if c.result.Outcome == motor.Starts && c.result.Cause == nil {
		end = float64(c.result.FullSpeed + r.Settle)
	}
	step := in.EveryS
	if step == 0 {
		step = chart.Nice(end / linesOfTable)
	}
	r.Every = unit.Time(math.Max(step/perLine, 1e-5))
	full, err := r.QuasiSteady()
	if err != nil {
		return err
	}
	for i := range full.Samples {
		if i%perLine == 0 {
			a.Samples = append(a.Samples, newSample(&full.Samples[i], in.synchronousRPM()))
		}
	}
	if len(full.Samples) == 0 { // the source gave up at once
		a.Samples = append(a.Samples, newSample(&full.First, in.synchronousRPM()))
	}
	if full.Outcome == motor.StandsStill {
		if err := a.still(in, wires, c, &full); err != nil {
			return err
		}
	}
	a.curves = curves{result: full}
	if err := a.curves.torques(in, wires, c); err != nil {
		return err
	}
	if !in.Dynamic {
		return nil
	}
	a.Dynamic, err = follow(in, c, r)
	return err
}

// stillFor is how long a motor that stands still is shown.
const stillFor = 1 * unit.Second

// still samples a motor that hums: nothing moves, so that the start ends at once,
// and what the source does with time is all that there is to see.
func (a *Answer) still(in *Input, wires complex128, c *Case, r *motor.RunUpResult) error {
	held, err := c.circuit.Starting(1, unit.Voltage(in.SourceVolts))
	if err != nil {
		return err
	}
	src, root := source(*in, 1), math.Sqrt(float64(in.phases))
	z := complex(float64(held.Voltage)/root, 0) / held.Line
	r.Samples, a.Samples = nil, nil
	for i := range linesOfTable*perLine + 1 {
		t := stillFor * unit.Time(i) / (linesOfTable * perLine)
		v, holds := left(src, z+wires, t)
		if !holds {
			break
		}
		s := r.First
		u, amps := float64(v)*cmplx.Abs(z/(z+wires)), float64(v)/(root*cmplx.Abs(z+wires))
		s.Time, s.Voltage, s.Current = t, unit.Voltage(u), unit.Current(amps)
		s.Apparent, s.Real = motor.ApparentPower(root*float64(v)*amps), unit.Power(root*root*amps*amps*real(z+wires))
		s.Torque = held.Torque * unit.Torque(u*u/float64(held.Voltage*held.Voltage))
		r.Samples = append(r.Samples, s)
		if i%(4*perLine) == 0 {
			a.Samples = append(a.Samples, newSample(&s, in.synchronousRPM()))
		}
		r.End = t
	}
	return nil
}

// left is the voltage that a source leaves a load (Ω), unless it gives up.
func left(src motor.Source, load complex128, after unit.Time) (v unit.Voltage, holds bool) {
	v, _, err := src.Under(load, after)
	return v, err == nil
}

// shortcuts puts what the trade reckons with beside the figures of the case shown.
func (a *Answer) shortcuts(in *Input, c *Case) {
	s := Shortcuts{ComputedVA: c.GreatestVA, ComputedW: c.GreatestW}
	s.LockedRotorVA = rounded(math.Sqrt(float64(in.phases)) * in.Volts * c.LockedRotorA)
	if p, err := ratedPoint(*in, c.circuit, in.LoadNM); err == nil && (in.OutputHP != 0 || in.LoadNM != 0) {
		s.RunningW = rounded(p.Input)
		s.TripledW = rounded(motor.TriplingRule(p.Input))
	}
	s.TripledVA = rounded(3 * math.Sqrt(float64(in.phases)) * in.Volts * in.FullLoadA)
	a.Shortcuts = s
}
