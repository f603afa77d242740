package motor

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A SeriesPart is the resistor or reactor in each line that holds a start
// current down.
type SeriesPart struct {
	// Missing is [EnoughImpedance] where the motor alone draws no more than
	// the limit, else [PartNeeded].
	Missing NoPart
	// Impedance of the part (Ω), a resistance or the reactance at the supply's
	// frequency.
	Impedance unit.Resistance
	// Inductance of a reactor (H), 0 for a resistor.
	Inductance unit.Inductance
	// Voltage across the part while the rotor is held (V, rms).
	Voltage unit.Voltage
	// Power that one resistor turns to heat meanwhile (W), 0 for a reactor
	// without losses.
	Power unit.Power
	// Ratios are those of the start.
	Ratios StarterRatios
}

// SeriesResistor returns the resistor in each line that holds the current of a
// locked motor to I,
//
//	R_s = √((V/I)² − X²) − R
//
// with R + jX the impedance of one phase, line to neutral (Ω,
// [LockedRotorImpedance]), V the voltage of one phase (V, rms; line voltage
// over √3 for three phases) and I the line current (A, rms). It also takes
// the torque down, by the square of the current.
//
// Valid for 5 V to 15 kV, 0.05 A to 20 kA, resistances of 0 or more and
// impedances from 1 µΩ to 1 MΩ; outside, err wraps [ErrDomain].
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, example 5.20.
func SeriesResistor(motor complex128, phase unit.Voltage, limit unit.Current) (SeriesPart, error) {
	if err := checkSeries(motor, phase, limit); err != nil {
		return SeriesPart{}, err
	}
	z, i := float64(phase)/float64(limit), float64(limit)
	if !(z > cmplx.Abs(motor)) {
		return SeriesPart{Missing: EnoughImpedance, Ratios: StarterRatios{1, 1, 1}}, nil
	}
	r := rest(z, imag(motor)) - real(motor)
	p := seriesPart(r, z, motor, limit)
	p.Power = unit.Power(i * i * r)
	return p, nil
}

// SeriesReactor returns the reactor in each line that holds the current of a
// locked motor to I,
//
//	X_s = √((V/I)² − R²) − X    L = X_s/(2π·f)
//
// with the symbols and the validity of [SeriesResistor] and f the frequency
// (Hz), 10 to 400 Hz. Resistance of the reactor is neglected, which errs
// towards more current.
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, example 5.21.
func SeriesReactor(motor complex128, phase unit.Voltage, limit unit.Current, frequency unit.Frequency) (SeriesPart, error) {
	hz := pkg.Range("frequency", float64(frequency), leastHertz, greatestHertz, domain.Hertz)
	if err := errors.Join(checkSeries(motor, phase, limit), hz); err != nil {
		return SeriesPart{}, err
	}
	z := float64(phase) / float64(limit)
	if !(z > cmplx.Abs(motor)) {
		return SeriesPart{Missing: EnoughImpedance, Ratios: StarterRatios{1, 1, 1}}, nil
	}
	x := rest(z, real(motor)) - imag(motor)
	p := seriesPart(x, z, motor, limit)
	p.Inductance = unit.Inductance(x / (twoPi * float64(frequency)))
	return p, nil
}

// rest is √(z² − x²) without the loss of digits where the two are close.
func rest(z, x float64) float64 { return math.Sqrt((z - x) * (z + x)) }

// seriesPart fills in what both kinds have: z is the impedance of the whole.
func seriesPart(part, z float64, motor complex128, limit unit.Current) SeriesPart {
	v := cmplx.Abs(motor) / z
	return SeriesPart{
		Impedance: unit.Resistance(part), Voltage: unit.Voltage(part * float64(limit)),
		Ratios: StarterRatios{Motor: v, Line: v, Torque: v * v},
	}
}

func checkSeries(motor complex128, phase unit.Voltage, limit unit.Current) error {
	return errors.Join(
		pkg.Range("motor resistance", real(motor), 0, mostOhms, domain.Ohm),
		pkg.Range("motor reactance", imag(motor), 0, mostOhms, domain.Ohm),
		pkg.Range("motor impedance", cmplx.Abs(motor), leastOhms, mostOhms, domain.Ohm),
		pkg.Range("voltage of one phase", float64(phase), leastVolts/2, greatestVolts, domain.Volt),
		checkCurrent("start current", limit),
	)
}
