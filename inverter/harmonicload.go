package inverter

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A HarmonicLoad is what a linear load takes from a voltage with harmonics.
type HarmonicLoad struct {
	Current     unit.Current  // rms, all orders
	Fundamental unit.Current  // rms of the first order
	Harmonic    unit.Current  // rms of the others together
	Real        unit.Power    // mean power of all orders
	Apparent    ApparentPower // rms voltage times rms current
	PowerFactor float64       // real over apparent
}

const leastOhm, mostOhm = 1e-6, 1e12

// Load returns what a load takes that has the impedance z(n) (Ω) at each order
// n, by superposition,
//
//	I² = Σ (V_n/|z_n|)²,  P = Σ (V_n/|z_n|)²·Re z_n
//
// with V_n rms. An induction motor is linear at a given speed, with another slip
// at each order; one without a neutral lets no triplens in, so give them a large
// impedance. A direct part of the voltage is left out. z is asked only for
// orders that have a voltage, and refused below 1 µΩ or with a negative real
// part in sum.
//
// Source: superposition; the mean of a product of two orders is 0.
func (s Spectrum) Load(z func(order int) complex128) (HarmonicLoad, error) {
	if err := s.Validate(); err != nil {
		return HarmonicLoad{}, err
	}
	if z == nil {
		return HarmonicLoad{}, pkg.Invalid("impedance of the orders", "nil", "a function")
	}
	var l HarmonicLoad
	first, rest := 0.0, 0.0
	for n := 1; n < len(s); n++ {
		if s[n] == 0 {
			continue
		}
		zn := z(n)
		size := cmplx.Abs(zn)
		if !(size >= leastOhm && size <= mostOhm) {
			return HarmonicLoad{}, pkg.Range("impedance at order "+unitless(n), size, leastOhm, mostOhm, domain.Ohm)
		}
		i := float64(s[n]) / size
		i *= i / 2
		l.Real += unit.Power(i * real(zn))
		if n == 1 {
			first = i
		} else {
			rest += i
		}
	}
	l.Fundamental = unit.Current(math.Sqrt(first))
	l.Harmonic = unit.Current(math.Sqrt(rest))
	l.Current = unit.Current(math.Sqrt(first + rest))
	l.Apparent = ApparentPower(s.rms()) * ApparentPower(l.Current)
	l.PowerFactor = float64(l.Real) / float64(l.Apparent)
	if !(l.Real >= 0) {
		return HarmonicLoad{}, pkg.Range("real power", float64(l.Real), 0, mostPower, domain.Watt)
	}
	return l, nil
}

// A LineCapacitor is a capacitor across the line: for power factor, in a motor's
// run circuit without the motor, or in a filter.
type LineCapacitor struct {
	Capacitance unit.Capacitance // C, 1 nF to 10 mF
	Frequency   unit.Frequency   // of the fundamental, 40 to 70 Hz
	Resistance  unit.Resistance  // R in series, source and leads: 0 to 1 kΩ
	Inductance  unit.Inductance  // L in series, 0 to 1 H; needs 1 mΩ or more beside it
}

// Validate returns nil if all fields are in range, and otherwise an error that
// names each fault. Inductance without resistance is refused, as nothing bounds
// a resonance then.
//
// Definition: the ranges stand beside the fields.
func (c LineCapacitor) Validate() error {
	least := 0.0
	if c.Inductance > 0 {
		least = 1e-3
	}
	return errors.Join(
		pkg.Range("capacitance", float64(c.Capacitance), 1e-9, 10e-3, domain.Farad),
		pkg.Range("frequency", float64(c.Frequency), 40, 70, domain.Hertz),
		pkg.Range("series resistance", float64(c.Resistance), least, 1e3, domain.Ohm),
		pkg.Range("series inductance", float64(c.Inductance), 0, 1, henry),
	)
}

var henry = domain.Unit{Symbol: "H", Size: 1, SI: true}

// Impedance returns R + j·(n·ω·L - 1/(n·ω·C)) (Ω) at the order n from 1 on, as
// [Spectrum.Load] asks for it.
//
// Source: circuit theory.
func (c LineCapacitor) Impedance(order int) complex128 {
	w := 2 * math.Pi * float64(c.Frequency) * float64(order)
	return complex(float64(c.Resistance), w*float64(c.Inductance)-1/(w*float64(c.Capacitance)))
}

// A CapacitorCurrent lays the current of a capacitor on a voltage with harmonics
// beside that on a sine.
type CapacitorCurrent struct {
	HarmonicLoad
	Sine  unit.Current // on a sine of the same rms, with nothing in series
	Ratio float64      // Current over Sine: losses and heating go with its square
}

// On returns the current of the capacitor on a voltage of the spectrum given.
// With nothing in series each order adds (n·ω·C·V_n)²; for a wave with steps
// all terms are of one size and the sum has no end: the current is then that of
// the orders given, and grows with the root of their number. A real step has a
// rise time and a real line an impedance; state R, or L with R, or take
// [Spectrum.Ramped]. Where R alone
// bounds the current and R·C is short beside each step, a wave with four steps
// of V a cycle drives I² = 2·f·C·V²/R; ramps of t alone leave I² = 4·f·C²·V²/t.
//
// Source: superposition, as [Spectrum.Load].
func (c LineCapacitor) On(s Spectrum) (CapacitorCurrent, error) {
	if err := errors.Join(c.Validate(), s.Validate()); err != nil {
		return CapacitorCurrent{}, err
	}
	l, err := s.Load(c.Impedance)
	if err != nil {
		return CapacitorCurrent{}, err
	}
	alternating := math.Sqrt(s.sum(1, func(int) float64 { return 1 }))
	i := unit.Current(2 * math.Pi * float64(c.Frequency) * float64(c.Capacitance) * alternating)
	return CapacitorCurrent{l, i, float64(l.Current / i)}, nil
}
