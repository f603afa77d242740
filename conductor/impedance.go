package conductor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An Impedance is a line or a load in series form, Z = R + jX; a positive
// reactance is inductive.
//
// As a line it holds the factor of the [Circuit]: volts lost between the
// source's terminals, line to line for three phases, per ampere of line
// current. As a load it is volts line to line over line amperes, which for
// three phases is √3 times the impedance of one phase of a star.
type Impedance struct {
	Resistance unit.Resistance // real part, never negative
	Reactance  unit.Resistance // imaginary part, positive if inductive
}

// ImpedanceOf returns the impedance whose complex value is z (Ω).
//
// Definition: Z = R + jX.
func ImpedanceOf(z complex128) Impedance {
	return Impedance{unit.Resistance(real(z)), unit.Resistance(imag(z))}
}

// Complex returns the impedance as a complex number (Ω).
//
// Definition: Z = R + jX.
func (z Impedance) Complex() complex128 {
	return complex(float64(z.Resistance), float64(z.Reactance))
}

// Modulus returns |Z| = √(R² + X²).
//
// Definition: modulus of a complex impedance.
func (z Impedance) Modulus() unit.Resistance {
	return unit.Resistance(math.Hypot(float64(z.Resistance), float64(z.Reactance)))
}

// ok reports whether z can be a line or a load. Here and below, ok is the test
// that every call makes, and check the error that few calls need.
func (z Impedance) ok() bool {
	return z.Resistance >= 0 && z.Resistance <= maxImpedance &&
		z.Reactance >= -maxImpedance && z.Reactance <= maxImpedance
}

func (z Impedance) check(name string) error {
	r, x := float64(z.Resistance), float64(z.Reactance)
	return errors.Join(
		pkg.Range(name+" resistance", r, 0, maxImpedance, domain.Ohm),
		pkg.Range(name+" reactance", x, -maxImpedance, maxImpedance, domain.Ohm),
	)
}

// A Load is a current drawn at a power factor. For direct current the power
// factor is 1.
type Load struct {
	Current unit.Current
	// PowerFactor is cos φ at the load, 0.05 to 1; zero is refused.
	PowerFactor float64
	// Leading says that the current leads the voltage, as in a motor that is
	// corrected too far. Most loads lag.
	Leading bool
}

// DC returns the load of a direct current, whose power factor is 1.
//
// Definition: direct current has no phase.
func DC(i unit.Current) Load { return Load{Current: i, PowerFactor: 1} }

func (l Load) ok() bool {
	return l.Current >= 0 && l.Current <= maxCurrent && l.PowerFactor >= minPowerFactor && l.PowerFactor <= 1
}

func (l Load) check() error {
	return errors.Join(
		pkg.Range("current", float64(l.Current), 0, maxCurrent, domain.Ampere),
		l.checkPowerFactor(),
	)
}

func (l Load) checkPowerFactor() error {
	return pkg.Range("power factor", l.PowerFactor, minPowerFactor, 1, domain.One)
}

// sincos returns cos φ and sin φ, the second negative for a leading load.
func (l Load) sincos() (sin, cos float64) {
	cos = l.PowerFactor
	sin = math.Sqrt(1 - cos*cos)
	if l.Leading {
		sin = -sin
	}
	return sin, cos
}

// LoadImpedance returns the impedance of a load that draws l at a voltage v,
//
//	Z = V/I · (cos φ + j·sin φ)
//
// with V in volts (line to line for three phases) and I in amperes. Put in the
// locked-rotor current and power factor at rated voltage to get what a motor is
// at the instant of starting: an impedance, and not the constant current of a
// running load.
//
// Valid for 1 V to 35 kV and 1 mA to 100 kA; otherwise err wraps [ErrDomain].
//
// Definition: Z = V/I.
func LoadImpedance(v unit.Voltage, l Load) (Impedance, error) {
	if err := errors.Join(checkSource(v), l.checkPowerFactor(),
		pkg.Range("current", float64(l.Current), 1e-3, maxCurrent, domain.Ampere)); err != nil {
		return Impedance{}, err
	}
	z := float64(v) / float64(l.Current)
	sin, cos := l.sincos()
	return Impedance{unit.Resistance(z * cos), unit.Resistance(z * sin)}, nil
}

func sourceOK(v unit.Voltage) bool { return v >= minSource && v <= maxSource }

func checkSource(v unit.Voltage) error {
	return pkg.Range("source voltage", float64(v), minSource, maxSource, domain.Volt)
}
