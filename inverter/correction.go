package inverter

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// A ReactivePower is what swings between source and load without doing work
// (var): positive where the load lags, as a motor does.
//
// Definition: IEC 60050-131-11-44.
type ReactivePower float64

// Var is the unit of reactive power.
const Var ReactivePower = 1

// Format prints the value with its unit, as gonum's unit types do.
func (q ReactivePower) Format(fs fmt.State, c rune) { quantity.Format(fs, c, float64(q), "var") }

// A PowerTriangle is a sinusoidal load by its three powers.
type PowerTriangle struct {
	Apparent    ApparentPower // V·I: rates inverter and wires
	Real        unit.Power    // what the battery delivers, times losses
	Reactive    ReactivePower // √(S² - P²); nobody pays for it but the current that it takes
	PowerFactor float64       // P/S
}

const leastPF, mostHertz, leastHertz = 0.05, 70, 40

// Triangle returns the triangle of a real power (W) and a power factor,
//
//	S = P/pf,  Q = √(S² - P²)
//
// Valid for 0 to 1 MW and power factors of 0.05 to 1. Distortion, as of
// rectifiers, lowers the power factor too and is no reactive power: see
// [Spectrum.Load].
//
// Definition: power triangle of sinusoidal voltage and current.
func Triangle(p unit.Power, pf float64) (PowerTriangle, error) {
	if err := errors.Join(acPower(p), pkg.Range("power factor", pf, leastPF, 1, domain.One)); err != nil {
		return PowerTriangle{}, err
	}
	return triangle(p, pf), nil
}

func triangle(p unit.Power, pf float64) PowerTriangle {
	s := float64(p) / pf
	return PowerTriangle{ApparentPower(s), p, ReactivePower(s * math.Sqrt((1-pf)*(1+pf))), pf}
}

// A Correction is a capacitor across a load, and the load before and after.
type Correction struct {
	Before, After PowerTriangle
	Capacitance   unit.Capacitance // across the load
	Rating        ReactivePower    // of the capacitor at that voltage
	Was, Is       unit.Current     // line current before and after, rms
}

// Correct returns the capacitor that brings a lagging load from one power factor
// to another,
//
//	Q_C = P·(tan φ_1 - tan φ_2),  C = Q_C/(ω·V²)
//
// for the real power P (W), the voltage V (V, rms) across load and capacitor and
// ω = 2πf. It lowers the current of wires and inverter and leaves the watts of
// the battery as they are, and it is for sinusoidal voltage: across a stepped
// wave it draws harmonic currents ([LineCapacitor]), and no start is helped by
// it. Valid for 1 W to 1 MW, 50 V to 1 kV, 40 to 70 Hz, and power factors from
// 0.05 to 1 of which the second is not below the first.
//
// Source: Alexander and Sadiku, Fundamentals of Electric Circuits, 11.8.
func Correct(p unit.Power, from, to float64, v unit.Voltage, f unit.Frequency) (Correction, error) {
	err := errors.Join(
		pkg.Range("real power", float64(p), 1, mostPower, domain.Watt),
		pkg.Range("power factor", from, leastPF, 1, domain.One),
		lineVoltage(v),
		lineFrequency(f),
	)
	if err == nil {
		err = pkg.Range("power factor wanted", to, from, 1, domain.One)
	}
	if err != nil {
		return Correction{}, err
	}
	c := Correction{Before: triangle(p, from), After: triangle(p, to)}
	c.Rating = c.Before.Reactive - c.After.Reactive
	c.Capacitance = unit.Capacitance(float64(c.Rating) / (2 * math.Pi * float64(f) * float64(v*v)))
	c.Was = unit.Current(float64(c.Before.Apparent) / float64(v))
	c.Is = unit.Current(float64(c.After.Apparent) / float64(v))
	return c, nil
}

const leastAC, mostAC = 50, 1000

func lineVoltage(v unit.Voltage) error {
	return pkg.Range("ac voltage", float64(v), leastAC, mostAC, domain.Volt)
}

func lineFrequency(f unit.Frequency) error {
	return pkg.Range("frequency", float64(f), leastHertz, mostHertz, domain.Hertz)
}
