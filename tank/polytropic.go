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

// polytropic returns the air volume at cut-in and the ratio of the air volume
// at cut-out to it.
func (v Vessel) polytropic(n float64) (von, ratio float64, err error) {
	err = v.Validate()
	if err != nil || !(n >= Isothermal && n <= Adiabatic) {
		return 0, 0, errors.Join(err, pkg.Range("polytropic exponent", n, Isothermal, Adiabatic, domain.One))
	}
	pre, on, off := v.absolute()
	if pre > on {
		return 0, 0, v.prechargeError(pre, off)
	}
	return float64(v.Volume) * pre / on, math.Pow(on/off, 1/n), nil
}

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
	von, ratio, err := v.polytropic(n)
	if err != nil {
		return 0, err
	}
	return unit.Volume(von * (1 - ratio)), nil
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
	_, ratio, err := v.polytropic(n)
	if err != nil {
		return 0, err
	}
	pa := ambient(v.Atmosphere)
	return (v.CutIn+pa)/unit.Pressure(ratio) - pa, nil
}
