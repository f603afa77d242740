package battery

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A TremblayState is where a lead-acid battery stands in the model of
// [Tremblay]. Start from [Tremblay.Full].
type TremblayState struct {
	Drawn       unit.Charge  // from full
	Exponential unit.Voltage // Exp, the voltage of the exponential zone
	Filtered    unit.Current // i*, positive on discharge
}

// Full returns the state of a full battery at rest after charge: nothing drawn,
// the exponential zone at its amplitude, no filtered current.
//
// Source: the initial conditions of [Tremblay].
func (t Tremblay) Full() TremblayState { return TremblayState{Exponential: t.Amplitude} }

func checkTremblayState(t *Tremblay, s TremblayState) error {
	if s.Drawn >= 0 && s.Drawn <= mostDrawnShare*t.Capacity && s.Exponential >= 0 && s.Exponential <= t.Amplitude &&
		s.Filtered >= -mostCurrent && s.Filtered <= mostCurrent {
		return nil
	}
	return errors.Join(
		checkDrawn(s.Drawn, t.Capacity, s.Filtered, -mostCurrent),
		pkg.Range("voltage of the exponential zone", float64(s.Exponential), 0, float64(t.Amplitude), domain.Volt),
	)
}

// After returns the state after a time at a constant current, positive on
// discharge and negative on charge, in closed form,
//
//	q'   = q + i·t
//	Exp' = A·u + (Exp - A·u)·exp(-B·|i|·t)
//	i*'  = i + (i* - i)·exp(-t/τ)
//
// where u is 0 on discharge and 1 on charge, τ is t.Response (s) and the rest
// is as for [Tremblay.Voltage]. The first exponential solves
// dExp/dt = B·|i|·(-Exp + A·u). At rest the zone stays where it is, and i*
// dies away: that is the recovery of the voltage after a load. The hours of
// slow recovery that charts of rest voltage wait for are not in the model.
//
// Valid for times from 0 to 10000 h. A state, current or set outside its
// bounds, and a step that would end above full or at the end of the curve, is
// an [ErrDomain].
//
// Source: O. Tremblay, L.-A. Dessaint, World Electric Vehicle Journal 3 (2009),
// lead-acid model, solved over a step; the filter is taken as first order.
func (t Tremblay) After(s TremblayState, i unit.Current, time unit.Time) (TremblayState, error) {
	const most = 10000 * Hour
	if !validTremblay(&t) {
		return TremblayState{}, t.Validate()
	}
	if err := checkTremblayState(&t, s); err != nil {
		return TremblayState{}, err
	}
	if !(time >= 0 && time <= most && i >= -mostCurrent && i <= mostCurrent) {
		return TremblayState{}, errors.Join(
			pkg.Range("time", float64(time), 0, float64(most), domain.Hour),
			pkg.Range("current", float64(i), -float64(mostCurrent), float64(mostCurrent), domain.Ampere),
		)
	}
	moved := float64(i) * float64(time)
	target := 0.0
	if i < 0 {
		target = float64(t.Amplitude)
	}
	kept := 0.0
	if t.Response > 0 {
		kept = math.Exp(-float64(time / t.Response))
	}
	next := TremblayState{
		Drawn:       s.Drawn + unit.Charge(moved),
		Exponential: unit.Voltage(target + (float64(s.Exponential)-target)*math.Exp(-3*math.Abs(moved)/float64(t.Zone))),
		Filtered:    i + (s.Filtered-i)*unit.Current(kept),
	}
	if slack := 1e-12 * t.Capacity; next.Drawn < 0 && next.Drawn >= -slack {
		next.Drawn = 0 // charged to full but for the last bits
	}
	if err := checkTremblayState(&t, next); err != nil {
		return TremblayState{}, err
	}
	return next, nil
}

// Terminal returns the voltage in a state at a current, positive on discharge
// and negative on charge,
//
//	V = E0 - R·i - K·Q/(Q-q)·q - K·Q/(Q-q)·i* + Exp     (i* ≥ 0)
//	V = E0 - R·i - K·Q/(Q-q)·q - K·Q/(q+0.1·Q)·i* + Exp (i* < 0)
//
// in the symbols of [Tremblay.Voltage] and [Tremblay.After]. With t.Response
// zero i* is the current itself. For the sign of the 0.1 see
// [Tremblay.ChargeVoltage].
//
// A state, current or set outside its bounds is an [ErrDomain]; where the
// voltage is not above 0 V, err is [ErrExhausted].
//
// Source: as for [Tremblay.After].
func (t Tremblay) Terminal(s TremblayState, i unit.Current) (unit.Voltage, error) {
	if !validTremblay(&t) {
		return 0, t.Validate()
	}
	if t.Response == 0 {
		s.Filtered = i
	}
	if err := errors.Join(checkTremblayState(&t, s), checkDrawn(s.Drawn, t.Capacity, i, -mostCurrent)); err != nil {
		return 0, err
	}
	q, c, k := float64(s.Drawn), float64(t.Capacity), float64(t.Polarization)
	pole := k * c / (c - q)
	v := float64(t.Constant) - float64(t.Resistance)*float64(i) - pole*q/ahSeconds + float64(s.Exponential)
	if s.Filtered < 0 {
		pole = k * c / (q + 0.1*c)
	}
	if v -= pole * float64(s.Filtered); v > 0 {
		return unit.Voltage(v), nil
	}
	return 0, ErrExhausted
}
