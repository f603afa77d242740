package main

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
)

const (
	dynamicAccuracy = 1e-7
	peakCycles      = 12 // after switching on, in which a peak is looked for
	anglesBetween   = 30 // (°)
	waveCycles      = 12 // that are plotted
	perCycle        = 48 // points of them
)

// follow follows a start instant by instant, and looks for the peaks.
func follow(in *Input, c *Case, r motor.RunUp) (*Dynamic, error) {
	if _, ok := c.circuit.(motor.SinglePhaseCircuit); !ok {
		return nil, errors.New("dynamic: a start instant by instant is for one phase")
	}
	if in.LimitA != 0 && imag(r.Feeder) != 0 {
		// The limiter of the model needs a source without inductance.
		r.Feeder = complex(real(r.Feeder), 0)
		in.assume("feeder: instant by instant without its small reactance")
	}
	r.Every = unit.Time(1 / (perCycle * in.Hertz))
	d, err := r.Dynamic(radians(in.AngleDeg), dynamicAccuracy)
	if err != nil {
		return nil, fmt.Errorf("dynamic: %w", err)
	}
	out := &Dynamic{
		Outcome: d.Outcome.String(), AngleDeg: in.AngleDeg, FullSpeedS: rounded(d.FullSpeed), SwitchOpensS: rounded(d.SwitchOpen),
		CapacitorLeft: rounded(d.CapacitorLeft), PeakA: rounded(d.Peak), PeakS: rounded(d.PeakTime), FirstCycleA: rounded(d.First.Current),
		EnergyWh: rounded(d.Energy / (3600 * unit.Joule)), SquareTimeA2S: rounded(d.SquareTime),
	}
	out.wave = d.Samples
	within := unit.Time(peakCycles / in.Hertz)
	short := r
	short.Every, short.Until, short.Settle = 0, within, 0
	for angle := 0; angle < 180; angle += anglesBetween {
		p, err := short.Dynamic(radians(float64(angle)), dynamicAccuracy)
		if err != nil {
			return nil, fmt.Errorf("dynamic: %w", err)
		}
		out.Angles = append(out.Angles, Angle{AngleDeg: float64(angle), PeakA: rounded(p.Peak)})
	}
	worst, at, err := short.WorstPeak(within, dynamicAccuracy)
	if err != nil {
		return nil, fmt.Errorf("dynamic: %w", err)
	}
	out.WorstA, out.WorstDeg = rounded(worst), math.Round(float64(at)*180/math.Pi)
	return out, nil
}

func radians(deg float64) unit.Angle { return unit.Angle(deg * math.Pi / 180) }
