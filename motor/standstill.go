package motor

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A StartCircuit is what stands in series with the auxiliary winding. The
// zero value is nothing at all: a plain split-phase start.
type StartCircuit struct {
	// Capacitance of the start capacitor (F), 0.1 µF to 0.1 F. Zero: there is
	// none, or it is shorted.
	Capacitance unit.Capacitance
	// Resistance in series, of a resistor or of the capacitor itself (Ω), up
	// to 1 MΩ. Zero: none.
	Resistance unit.Resistance
	// Open says that the circuit is broken and carries no current: by a
	// capacitor that failed open, by a start switch that does not close, by a
	// burnt winding.
	Open bool
}

const leastFarads = 0.1e-6

func (c StartCircuit) good() bool {
	return (c.Capacitance == 0 || within(float64(c.Capacitance), leastFarads, mostFarads)) && within(float64(c.Resistance), 0, mostSplitOhms)
}

func (c StartCircuit) faults() error {
	var err error
	if c.Capacitance != 0 {
		err = pkg.Range("capacitance", float64(c.Capacitance), leastFarads, mostFarads, domain.Farad)
	}
	return errors.Join(err, pkg.Range("resistance of the start circuit", float64(c.Resistance), 0, mostSplitOhms, domain.Ohm))
}

// A Rotation is what a motor at standstill does by itself.
type Rotation byte

// The rotations.
const (
	Hums         Rotation = iota // no starting torque: it hums and hangs until protection trips
	TurnsForward                 // towards the winding whose current lags
	TurnsBackward
)

var rotationNames = [...]string{"hums", "turns forward", "turns backward"}

// String returns the rotation in words.
//
// Definition: hums, turns forward, turns backward.
func (r Rotation) String() string {
	if int(r) < len(rotationNames) {
		return rotationNames[r]
	}
	return "unknown"
}

// A Standstill is what a single-phase motor draws while its rotor is held.
// Phasors are rms with the line voltage as reference: a negative imaginary
// part lags.
type Standstill struct {
	// Main and Auxiliary are the winding currents (A), Line is their sum.
	Main, Auxiliary, Line complex128
	// Angle is by how much Auxiliary leads Main (rad), above −π up to π; 0
	// where one of them is nil.
	Angle unit.Angle
	// Apparent is voltage times line current (VA).
	Apparent ApparentPower
	// Real is the power taken from the line (W); all of it turns to heat.
	Real unit.Power
	// PowerFactor is Real over Apparent.
	PowerFactor float64
	// TorqueIndex is I_m·I_a·sin α (A²), to which the starting torque is
	// proportional for one and the same motor. Negative is backwards.
	TorqueIndex float64
	// CapacitorVoltage is that across the start capacitor (V, rms).
	CapacitorVoltage unit.Voltage
	// Rotation is the sign of the torque. Whether it overcomes the load's
	// break-away torque is another question.
	Rotation Rotation
}

// Standstill returns what the two windings draw at the voltage V (V, rms)
// while the rotor is held,
//
//	I_m = V/Z_m    I_a = V/(Z_a + R − j/(2π·f·C))    I = I_m + I_a
//	P = V·Re I     T ~ I_m·I_a·sin α                 V_c = I_a/(2π·f·C)
//
// with Z_m and Z_a the windings (Ω), R and C the start circuit and α the angle
// by which I_a leads I_m. It is the state at the instant of switching on, and
// for as long as a motor hangs.
//
// Valid for 10 V to 15 kV and the bounds of [LockedWindings] and
// [StartCircuit]; outside, err wraps [ErrDomain].
//
// Source: C. I. Hubert, Electric Machines, 2nd edition, section 6 and examples
// 6.1 and 6.2.
func (w LockedWindings) Standstill(voltage unit.Voltage, circuit StartCircuit) (Standstill, error) {
	if !(w.good() && circuit.good() && goodVoltage(voltage)) {
		return Standstill{}, errors.Join(w.Validate(), circuit.faults(), checkVoltage(voltage))
	}
	v := complex(float64(voltage), 0)
	if circuit.Open {
		return standstill(v, v/w.Main, 0), nil
	}
	xc := 0.0
	if circuit.Capacitance != 0 {
		xc = 1 / (twoPi * float64(w.Frequency) * float64(circuit.Capacitance))
	}
	s := standstill(v, v/w.Main, v/(w.Auxiliary+complex(float64(circuit.Resistance), -xc)))
	s.CapacitorVoltage = unit.Voltage(cmplx.Abs(s.Auxiliary) * xc)
	return s, nil
}

// StandstillOf returns the same for winding currents that are given, as rms
// phasors (A) with the voltage V as reference: a current that lags by 40° is
// cmplx.Rect(6, -40*math.Pi/180).
//
// Valid for 10 V to 15 kV, a main current of 0.05 A to 20 kA, an auxiliary
// current of up to 20 kA, and for angles within 90° of the voltage, for no
// winding gives power; outside, err wraps [ErrDomain].
//
// Source: I. L. Kosow, Electric Machinery and Transformers, 2nd edition,
// examples 10-1 to 10-3.
func StandstillOf(voltage unit.Voltage, main, auxiliary complex128) (Standstill, error) {
	m, a := cmplx.Abs(main), cmplx.Abs(auxiliary)
	if !(goodVoltage(voltage) && within(m, leastAmperes, greatestAmps) && within(a, 0, greatestAmps) &&
		real(main) >= -m*1e-12 && real(auxiliary) >= -a*1e-12) {
		return Standstill{}, errors.Join(
			checkVoltage(voltage), checkCurrent("current of the main winding", unit.Current(m)),
			pkg.Range("current of the auxiliary winding", a, 0, greatestAmps, domain.Ampere),
			pkg.Range("main current in phase with the voltage", real(main), 0, greatestAmps, domain.Ampere),
			pkg.Range("auxiliary current in phase with the voltage", real(auxiliary), 0, greatestAmps, domain.Ampere),
		)
	}
	return standstill(complex(float64(voltage), 0), main, auxiliary), nil
}

// noTorque is the sine of the angle between the currents below which they are
// as good as in phase.
const noTorque = 1e-9

func standstill(v, main, auxiliary complex128) Standstill {
	s := Standstill{Main: main, Auxiliary: auxiliary, Line: main + auxiliary}
	s.Apparent = ApparentPower(real(v) * cmplx.Abs(s.Line))
	s.Real = unit.Power(real(v) * real(s.Line))
	if s.Apparent > 0 {
		s.PowerFactor = float64(s.Real) / float64(s.Apparent)
	}
	// Im(I_a·conj(I_m)) = |I_m|·|I_a|·sin α.
	product := auxiliary * cmplx.Conj(main)
	s.TorqueIndex = imag(product)
	if product != 0 {
		s.Angle = unit.Angle(cmplx.Phase(product))
	}
	switch least := noTorque * cmplx.Abs(product); {
	case s.TorqueIndex > least:
		s.Rotation = TurnsForward
	case s.TorqueIndex < -least:
		s.Rotation = TurnsBackward
	case math.Abs(s.TorqueIndex) <= least:
		s.TorqueIndex = 0
	}
	return s
}
