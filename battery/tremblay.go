package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Tremblay is the curve of one battery after Tremblay and Dessaint: a
// Shepherd curve whose polarization grows with the charge drawn, good for
// discharge and charge. K is one number in two parts: in ohms it goes with the
// current, in volts per ampere-hour with the charge. A set belongs to the size
// of battery that it was taken from. The zero value is invalid.
type Tremblay struct {
	Constant     unit.Voltage    // E0, 0.5 to 1500 V
	Resistance   unit.Resistance // R, 1 µΩ to 10 Ω
	Polarization unit.Resistance // K, 1 nΩ to 10 Ω; its number is also in V/Ah
	Capacity     unit.Charge     // Q, 0.1 Ah to 100 kAh
	Amplitude    unit.Voltage    // A of the exponential zone, 0 to E0

	// Zone is Qexp, the charge drawn over which the exponential zone falls to
	// 5 %, 1/10000 of Q to Q: B = 3/Qexp.
	Zone unit.Charge

	// Response is the time constant of the filtered current i*, up to 1 h.
	// Zero: i* is the current itself, and nothing recovers slowly after a load.
	Response unit.Time
}

func validTremblay(t *Tremblay) bool {
	return t.Constant >= leastCurveVoltage && t.Constant <= mostCurveVoltage &&
		t.Resistance >= leastResistance && t.Resistance <= mostResistance &&
		t.Polarization >= leastPolarization && t.Polarization <= mostResistance &&
		t.Capacity >= leastCurveCharge && t.Capacity <= mostCapacity &&
		t.Amplitude >= 0 && t.Amplitude <= t.Constant &&
		t.Zone >= 1e-4*t.Capacity && t.Zone <= t.Capacity &&
		t.Response >= 0 && t.Response <= Hour
}

// Validate returns everything that is wrong with the set, as an [ErrDomain],
// or nil.
//
// Definition: the bounds of [Tremblay].
func (t Tremblay) Validate() error {
	if validTremblay(&t) {
		return nil
	}
	return errors.Join(
		checkCurveVoltage("constant voltage", t.Constant),
		checkResistance("resistance", t.Resistance),
		checkPolarization(t.Polarization),
		checkCurveCapacity(t.Capacity),
		pkg.Range("amplitude of the exponential zone", float64(t.Amplitude), 0, float64(t.Constant), domain.Volt),
		pkg.Range("charge of the exponential zone", float64(t.Zone), float64(1e-4*t.Capacity), float64(t.Capacity), domain.AmpereHour),
		pkg.Range("response time", float64(t.Response), 0, float64(Hour), domain.Second),
	)
}

// ahSeconds are the seconds in the hour of an ampere-hour.
const ahSeconds = float64(AmpereHour)

// tremblayClosed returns E0 - K·Q/(Q-q)·q + A·exp(-B·q) with q in coulombs.
func tremblayClosed(t *Tremblay, q float64) float64 {
	c := float64(t.Capacity)
	return float64(t.Constant) - float64(t.Polarization)*c/(c-q)*q/ahSeconds +
		float64(t.Amplitude)*math.Exp(-3*q/float64(t.Zone))
}

func tremblayVolts(t *Tremblay, q, i float64) float64 {
	c := float64(t.Capacity)
	pole := float64(t.Polarization) * c / (c - q)
	return float64(t.Constant) - float64(t.Resistance)*i - pole*(q/ahSeconds+i) +
		float64(t.Amplitude)*math.Exp(-3*q/float64(t.Zone))
}

// Voltage returns the terminal voltage after a charge is drawn from full at a
// constant current, with the filtered current settled,
//
//	V = E0 - R·i - K·Q/(Q-q)·(q + i) + A·exp(-B·q)
//
// where q is the charge drawn (Ah), i the current (A), R and K are in Ω (K
// also in V/Ah), Q is in Ah, A in V and B = 3/Qexp (1/Ah). For lithium that is
// the model; for lead-acid it is its discharge from full, whose exponential
// zone is a state otherwise: see [Tremblay.After].
//
// Its authors found it within 5 % from 10 to 100 % of charge.
//
// Valid for charges from 0 to a billionth short of Q, 0 to 100 kA and a set
// within its bounds; otherwise err wraps [ErrDomain]. Where the curve is not
// above 0 V, err is [ErrExhausted].
//
// Source: O. Tremblay, L.-A. Dessaint, World Electric Vehicle Journal 3 (2009),
// discharge equations.
func (t Tremblay) Voltage(drawn unit.Charge, i unit.Current) (unit.Voltage, error) {
	if !validTremblay(&t) {
		return 0, t.Validate()
	}
	if err := checkDrawn(drawn, t.Capacity, i, 0); err != nil {
		return 0, err
	}
	if v := tremblayVolts(&t, float64(drawn), float64(i)); v > 0 {
		return unit.Voltage(v), nil
	}
	return 0, ErrExhausted
}

// ChargeVoltage returns the terminal voltage of a lithium battery on charge at
// a current i, counted positive, with a charge q still drawn,
//
//	V = E0 + R·i + K·Q/(q + 0.1·Q)·i - K·Q/(Q-q)·q + A·exp(-B·q)
//
// in the symbols of [Tremblay.Voltage]. The 2009 paper prints q - 0.1·Q, which
// has a pole within the range, at 90 % of charge, and drives the voltage the
// wrong way beyond it; its later documentation has the plus, which moves the
// pole to beyond full. The plus is used here. Lead-acid has the same law but
// another exponential zone on charge: use [Tremblay.After] and
// [Tremblay.Terminal].
//
// Bounds and errors as for [Tremblay.Voltage].
//
// Source: as for [Tremblay.Voltage], charge equation of lithium, with the sign
// of the later documentation.
func (t Tremblay) ChargeVoltage(drawn unit.Charge, i unit.Current) (unit.Voltage, error) {
	if !validTremblay(&t) {
		return 0, t.Validate()
	}
	if err := checkDrawn(drawn, t.Capacity, i, 0); err != nil {
		return 0, err
	}
	q, c := float64(drawn), float64(t.Capacity)
	v := tremblayClosed(&t, q) + (float64(t.Resistance)+float64(t.Polarization)*c/(q+0.1*c))*float64(i)
	if v > 0 {
		return unit.Voltage(v), nil
	}
	return 0, ErrExhausted
}

// DrawnAt returns the charge drawn from full when the voltage under a constant
// current has come down to a cut-off: the q at which [Tremblay.Voltage] is v.
// Where the voltage is at or below the cut-off from the first moment it is 0.
//
// Valid for 1 mA to 100 kA and a cut-off of 0.5 to 1500 V; otherwise err wraps
// [ErrDomain].
//
// Source: the curve of [Tremblay.Voltage], solved by Brent's method.
func (t Tremblay) DrawnAt(i unit.Current, cutOff unit.Voltage) (unit.Charge, error) {
	err := errors.Join(t.Validate(), checkCurrent("current", i), checkCurveVoltage("cut-off voltage", cutOff))
	if err != nil {
		return 0, err
	}
	v, amps := float64(cutOff), float64(i)
	return drawnWhere(func(q float64) float64 { return tremblayVolts(&t, q, amps) - v }, float64(t.Capacity)), nil
}
