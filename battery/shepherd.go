package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/numeric"
)

// ErrExhausted says that a discharge curve has fallen through zero volts: so
// near its capacity, at that current, the model has no battery left.
var ErrExhausted = errors.New("battery: the discharge curve is at or below zero volts")

// A Shepherd is the discharge curve of one battery at constant current, from
// full, as Shepherd wrote it. The zero value is invalid.
type Shepherd struct {
	Constant     unit.Voltage    // Es, 0.5 to 1500 V
	Polarization unit.Resistance // K, 1 nΩ to 10 Ω
	Capacity     unit.Charge     // Q, the charge at which the curve ends, 0.5 Ah to 100 kAh
	Resistance   unit.Resistance // N, 1 µΩ to 10 Ω
	Amplitude    unit.Voltage    // A of the exponential zone, 0 to Es
	Decay        float64         // B, per capacity drawn and not per Ah, 0 to 1000
}

// Bounds of the discharge curves.
const (
	leastCurveVoltage = unit.Voltage(0.5)
	mostCurveVoltage  = unit.Voltage(1500)
	leastPolarization = unit.Resistance(1e-9)
	leastCurveCharge  = 0.1 * AmpereHour // small cells have published sets
	mostDrawnShare    = 1 - 1e-9         // how near to the pole at Q a curve is read
)

func checkCurveVoltage(name string, v unit.Voltage) error {
	return pkg.Range(name, float64(v), float64(leastCurveVoltage), float64(mostCurveVoltage), domain.Volt)
}

func checkPolarization(k unit.Resistance) error {
	return pkg.Range("polarization constant", float64(k), float64(leastPolarization), float64(mostResistance), domain.Ohm)
}

func checkCurveCapacity(q unit.Charge) error {
	return pkg.Range("capacity of the curve", float64(q), float64(leastCurveCharge), float64(mostCapacity), domain.AmpereHour)
}

// checkDrawn refuses a charge outside the curve and a current beyond any
// battery; least is the lowest current that makes sense.
func checkDrawn(drawn, q unit.Charge, i, least unit.Current) error {
	if drawn >= 0 && drawn <= mostDrawnShare*q && i >= least && i <= mostCurrent {
		return nil
	}
	return errors.Join(
		pkg.Range("charge drawn", float64(drawn), 0, float64(mostDrawnShare*q), domain.AmpereHour),
		pkg.Range("current", float64(i), float64(least), float64(mostCurrent), domain.Ampere),
	)
}

func validShepherd(s *Shepherd) bool {
	return s.Constant >= leastCurveVoltage && s.Constant <= mostCurveVoltage &&
		s.Polarization >= leastPolarization && s.Polarization <= mostResistance &&
		s.Capacity >= leastCurveCharge && s.Capacity <= mostCapacity &&
		s.Resistance >= leastResistance && s.Resistance <= mostResistance &&
		s.Amplitude >= 0 && s.Amplitude <= s.Constant && s.Decay >= 0 && s.Decay <= 1000
}

// Validate returns everything that is wrong with the set, as an [ErrDomain],
// or nil.
//
// Definition: the bounds of [Shepherd].
func (s Shepherd) Validate() error {
	if validShepherd(&s) {
		return nil
	}
	return errors.Join(
		checkCurveVoltage("constant voltage", s.Constant),
		checkPolarization(s.Polarization),
		checkCurveCapacity(s.Capacity),
		checkResistance("resistance", s.Resistance),
		pkg.Range("amplitude of the exponential zone", float64(s.Amplitude), 0, float64(s.Constant), domain.Volt),
		pkg.Range("decay of the exponential zone", s.Decay, 0, 1000, domain.One),
	)
}

func shepherdVolts(s *Shepherd, q, i float64) float64 {
	c := float64(s.Capacity)
	return float64(s.Constant) - float64(s.Polarization)*c/(c-q)*i - float64(s.Resistance)*i +
		float64(s.Amplitude)*math.Exp(-s.Decay*q/c)
}

// Voltage returns the terminal voltage after a charge is drawn from full at a
// constant current,
//
//	E = Es - K·Q/(Q-q)·i - N·i + A·exp(-B·q/Q)
//
// where q is the charge drawn (Ah), i the current (A), Es the constant voltage
// (V), K the polarization constant (Ω), Q the capacity (Ah), N the internal
// resistance (Ω), A the amplitude (V) and B the decay of the exponential zone
// (1, over the whole capacity).
//
// Valid for charges from 0 to a billionth short of Q, 0 to 100 kA and a set
// within its bounds; otherwise err wraps [ErrDomain]. Near Q the curve falls
// without end; where it is not above 0 V, err is [ErrExhausted].
//
// Source: C. M. Shepherd, J. Electrochem. Soc. 112 (1965), 657.
func (s Shepherd) Voltage(drawn unit.Charge, i unit.Current) (unit.Voltage, error) {
	if !validShepherd(&s) {
		return 0, s.Validate()
	}
	if err := checkDrawn(drawn, s.Capacity, i, 0); err != nil {
		return 0, err
	}
	if v := shepherdVolts(&s, float64(drawn), float64(i)); v > 0 {
		return unit.Voltage(v), nil
	}
	return 0, ErrExhausted
}

// DrawnAt returns the charge drawn from full when the voltage under a constant
// current has come down to a cut-off: the q at which [Shepherd.Voltage] is v.
// Where the voltage is at or below the cut-off from the first moment it is 0.
// The charge over the current is the run time.
//
// Valid for 1 mA to 100 kA and a cut-off of 0.5 to 1500 V; otherwise err wraps
// [ErrDomain].
//
// Source: the curve of [Shepherd.Voltage], solved by Brent's method.
func (s Shepherd) DrawnAt(i unit.Current, cutOff unit.Voltage) (unit.Charge, error) {
	err := errors.Join(s.Validate(), checkCurrent("current", i), checkCurveVoltage("cut-off voltage", cutOff))
	if err != nil {
		return 0, err
	}
	v, amps := float64(cutOff), float64(i)
	return drawnWhere(func(q float64) float64 { return shepherdVolts(&s, q, amps) - v }, float64(s.Capacity)), nil
}

// drawnWhere returns where a falling excess of the voltage comes to zero
// between a full battery and the pole at capacity c.
func drawnWhere(excess func(q float64) float64, c float64) unit.Charge {
	if !(excess(0) > 0) {
		return 0
	}
	end := mostDrawnShare * c
	if excess(end) > 0 {
		return unit.Charge(end) // a polarization too small to matter before the end
	}
	q, _ := numeric.Root(excess, 0, end, 0)
	return unit.Charge(q)
}
