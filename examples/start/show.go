package main

import (
	"math"

	"gonum.org/v1/gonum/unit"

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
		step = nice(end / linesOfTable)
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

// nice is the step of 1, 2 or 5 times a power of ten nearest above x.
func nice(x float64) float64 {
	x = math.Max(x, 1e-3)
	p := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{1, 2, 5} {
		if k*p >= x*(1-1e-9) {
			return k * p
		}
	}
	return 10 * p
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
