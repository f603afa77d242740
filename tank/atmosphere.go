package tank

import (
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Defining constants of the standard atmosphere.
//
// Source: U.S. Standard Atmosphere, 1976, table 2 and section 1.2.
const (
	earthRadius = 6356766.0 // r0 (m), at the latitude where g is g0
	seaLevelK   = 288.15    // T0 (K)
	lapseRate   = 0.0065    // L (K/m'), to 11 km geopotential
	gravity     = 9.80665   // g0 (m²/(s²·m'))
	molarMass   = 28.9644   // M (kg/kmol)
	gasConstant = 8314.32   // R* (N·m/(kmol·K)); its 1976 value
)

// Bounds of altitude.
const (
	lowest  = unit.Length(-1000)
	highest = unit.Length(11000)
)

func altitudeRange(z unit.Length) error {
	return pkg.Range("altitude", float64(z), float64(lowest), float64(highest), domain.Metre)
}

// geopotential returns H for Z, without a check.
func geopotential(z float64) float64 { return earthRadius * z / (earthRadius + z) }

// GeopotentialAltitude returns the altitude that holds the same potential
// energy under constant gravity,
//
//	H = r0·Z/(r0 + Z)
//
// where Z is the geometric altitude, above sea level, as on a map (m) and r0
// is 6 356 766 m. Valid for −1 to 11 km; otherwise err wraps [ErrDomain].
//
// Source: U.S. Standard Atmosphere, 1976, equation 18.
func GeopotentialAltitude(altitude unit.Length) (unit.Length, error) {
	if err := altitudeRange(altitude); err != nil {
		return 0, err
	}
	return unit.Length(geopotential(float64(altitude))), nil
}

// StandardTemperature returns the standard air temperature at an altitude,
//
//	T = T0 − L·H
//
// where T0 is 288.15 K, L is 6.5 K/km and H is the geopotential altitude (m).
// Valid for −1 to 11 km; otherwise err wraps [ErrDomain].
//
// Source: U.S. Standard Atmosphere, 1976, equation 23.
func StandardTemperature(altitude unit.Length) (unit.Temperature, error) {
	if err := altitudeRange(altitude); err != nil {
		return 0, err
	}
	return unit.Temperature(seaLevelK - lapseRate*geopotential(float64(altitude))), nil
}

// StandardPressure returns the absolute air pressure at an altitude in the
// standard atmosphere, for the field Atmosphere of the tanks,
//
//	P = P0·(1 − L·H/T0)^(g0·M/(R*·L))
//
// where P0 is 101 325 Pa, T0 is 288.15 K, L is 6.5 K/km, H is the geopotential
// altitude (m) and the exponent is 5.255 876. Weather moves the real pressure
// by some 3 %, and a tank's drawdown by a fifth of that, the other way.
//
// Valid for −1 to 11 km; otherwise err wraps [ErrDomain]. The tanks accept 50
// kPa or more, which is to about 5.5 km.
//
// Source: U.S. Standard Atmosphere, 1976, equation 33a.
func StandardPressure(altitude unit.Length) (unit.Pressure, error) {
	if err := altitudeRange(altitude); err != nil {
		return 0, err
	}
	h := geopotential(float64(altitude))
	const exponent = gravity * molarMass / (gasConstant * lapseRate)
	return SeaLevel * unit.Pressure(math.Pow(1-lapseRate*h/seaLevelK, exponent)), nil
}
