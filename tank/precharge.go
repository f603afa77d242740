package tank

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// PrechargeOffset is how far below cut-in installers set the precharge, so that
// the tank still holds a little water when the switch starts the pump.
const PrechargeOffset = 2 * PSI

// Bounds of the temperature of a tank's air.
var (
	coldest = Celsius(-40)
	hottest = Celsius(60)
)

// PrechargeFor returns the precharge for a cut-in pressure, both gauge,
//
//	Ppre = Pon − 2 psi
//
// measured with the pump off and the tank drained. Valid for 5 to 149 psi;
// otherwise err wraps [ErrDomain].
//
// Common practice: trade-journal columns and installer guides.
func PrechargeFor(cutIn unit.Pressure) (unit.Pressure, error) {
	err := pkg.Range("cut-in", float64(cutIn), float64(leastCutIn), float64(mostPressure-leastDifferential), domain.PSI)
	if err != nil {
		return 0, err
	}
	return cutIn - PrechargeOffset, nil
}

// A Charge is a precharge as measured: at which temperature of the air, and
// in which atmosphere.
type Charge struct {
	// Precharge with the tank drained, gauge, 1 to 150 psi.
	Precharge unit.Pressure
	// Temperature of the air when it was measured, −40 to 60 °C.
	Temperature unit.Temperature
	// Atmosphere is the absolute air pressure. Zero: standard, at sea level.
	Atmosphere unit.Pressure
}

// At returns the gauge precharge that the same air has at another temperature,
//
//	P2 = (P1 + Pa)·T2/T1 − Pa
//
// where P1 is c.Precharge (Pa), T1 is c.Temperature (K), T2 is the argument
// (K) and Pa is the atmosphere (Pa, absolute). Gauge pressures and degrees
// must be made absolute first: the ratio of 35 °F to 70 °F is 0.934, not a
// half. The drained tank keeps its volume, so a bladder that has not settled
// is ignored. A charge of a few psi may become a partial vacuum, below zero.
//
// Valid for −40 to 60 °C; otherwise err wraps [ErrDomain].
//
// Source: ideal gas law at constant volume (Gay-Lussac).
func (c Charge) At(t unit.Temperature) (unit.Pressure, error) {
	if c.ok() && t >= coldest && t <= hottest {
		pa := ambient(c.Atmosphere)
		return (c.Precharge+pa)*unit.Pressure(t/c.Temperature) - pa, nil
	}
	return 0, errors.Join(
		pkg.Range("precharge", float64(c.Precharge), float64(leastCharge), float64(mostPressure), domain.PSI),
		temperatureRange("temperature at measurement", c.Temperature),
		atmosphereRange(c.Atmosphere),
		temperatureRange("temperature", t),
	)
}

func (c Charge) ok() bool {
	return c.Precharge >= leastCharge && c.Precharge <= mostPressure &&
		c.Temperature >= coldest && c.Temperature <= hottest &&
		(c.Atmosphere == 0 || c.Atmosphere >= leastAtmosphere && c.Atmosphere <= mostAtmosphere)
}

func temperatureRange(quantity string, t unit.Temperature) error {
	return pkg.Range(quantity, float64(t), float64(coldest), float64(hottest), domain.Celsius)
}
