package tank

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Exponents of the fill, P·Vⁿ constant. The quicker the fill, the less heat
// the air gives off while it is compressed.
//
// Common practice: rules of hydraulic accumulators and surge tanks; no sizing
// table of the water trade uses them.
const (
	// Isothermal is a fill so slow that the air keeps its temperature.
	Isothermal = 1.0
	// NormalFill is a cycle of minutes.
	NormalFill = 1.1
	// SurgeFill is the custom for surge tanks.
	SurgeFill = 1.2
	// RapidFill is a cycle of seconds.
	RapidFill = 1.3
	// Adiabatic is a fill with no heat given off.
	Adiabatic = 1.4
)

// polytropicFaults says why a fill with exponent n has no result.
func (v Vessel) polytropicFaults(n float64) error {
	err := errors.Join(v.faults(), pkg.Range("polytropic exponent", n, Isothermal, Adiabatic, domain.One))
	if err == nil {
		err = v.prechargeError()
	}
	return err
}

// exponentOK is the short cut of its range check.
func exponentOK(n float64) bool { return n >= Isothermal && n <= Adiabatic }

// PolytropicDrawdown returns the water that one fill stores when the air was
// at rest temperature at cut-in and is compressed with exponent n,
//
//	Vd = Von·{1 − [(Pon + Pa)/(Poff + Pa)]^(1/n)}, Von = V·(Ppre + Pa)/(Pon + Pa)
//
// in the symbols of [Vessel.Drawdown]; n is 1 ([Isothermal]) to 1.4
// ([Adiabatic]). The pump stops with less water in the tank, and the pressure
// then sags: see [Vessel.SettledPressure].
//
// Outside the ranges err wraps [ErrDomain]; with the precharge above cut-in it
// is a [PrechargeError].
//
// Source: polytropic process of an ideal gas; exponents as in hydraulic
// accumulator practice.
func (v Vessel) PolytropicDrawdown(n float64) (unit.Volume, error) {
	pre, on, off := absolute(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)
	if !(volumeOK(v.Volume) && chargeOK(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere) && exponentOK(n) && pre <= on) {
		return 0, v.polytropicFaults(n)
	}
	von := float64(v.Volume) * pre / on
	return unit.Volume(von * (1 - math.Pow(on/off, 1/n))), nil
}

// SettledPressure returns the gauge pressure to which the tank sags after a
// fill with exponent n, once the air is back at the temperature it had at
// cut-in and no water was drawn,
//
//	P = (Pon + Pa)·[(Poff + Pa)/(Pon + Pa)]^(1/n) − Pa
//
// in the symbols, with the ranges and errors of [Vessel.PolytropicDrawdown].
// A gauge that falls by itself after the pump stops is not yet a leak.
//
// Source: polytropic process of an ideal gas, then cooling at constant volume.
func (v Vessel) SettledPressure(n float64) (unit.Pressure, error) {
	pre, on, off := absolute(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere)
	if !(volumeOK(v.Volume) && chargeOK(v.Precharge, v.CutIn, v.CutOut, v.Atmosphere) && exponentOK(n) && pre <= on) {
		return 0, v.polytropicFaults(n)
	}
	return unit.Pressure(on*math.Pow(off/on, 1/n)) - ambient(v.Atmosphere), nil
}
